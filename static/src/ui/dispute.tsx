// A setting of which the book tells two stories, and the way to settle it.
import type { Dispute } from "../models/choices";
import { Card } from "./parts";

export function DisputeCard(p: { dispute: Dispute; here?: boolean }) {
  const d = p.dispute;
  return (
    <Card tone="warn" title={`${d.name}: which is real now?`} id={`dispute-${d.adjuster}`}>
      <ul class="plain">{d.claims.map((c) => <li key={c.entry}><strong>{c.at}</strong><br /><span class="quiet">{c.who}</span></li>)}</ul>
      <p>{d.says}</p>
      {!p.here && <a class="button" href={`/counted?adjuster=${encodeURIComponent(d.adjuster)}`}>Count it</a>}
    </Card>
  );
}
