// Feel: the rider as a witness, and those who give advice. Each with a record,
// and what the record is worth.
import type { ComponentChildren } from "preact";
import { useView } from "../book";
import { WitnessBar, WitnessMarks } from "../draw/witness";
import type { Feel as Model, Witness as Record } from "../models/feel";
import { Card, NoBike } from "../ui";
import { DataTable } from "../ui/table";

export function Feel() {
  const { model: m, refusals } = useView<Model>("feel");
  if (!m) return <NoBike refusals={refusals} />;
  return (
    <>
      <p class="lead">Your feel is a witness beside the clock. Here is how often it was right.</p>
      <Witness title="Blind draws" record={m.draws} marks={m.marks.filter((x) => x.kind === "draw")} none={<>A friend sets one of two, you ride and say which. <a href="/try">Try something blind</a></>} />
      <Witness title="Felt, against the laps" record={m.laps} marks={m.marks.filter((x) => x.kind === "laps")} none="Say how a trial felt before you look at its laps, and the book compares the two." />
      <Card title="Whose ideas were kept">
        {m.advisers.length === 0 && <p>Nobody's idea has been tried yet.</p>}
        <ul class="plain">
          {m.advisers.map((a) => (
            <li key={a.name}>
              <p><strong>{a.name}:</strong> {a.says}.</p>
              {a.kept + a.back > 0 && <WitnessBar low={a.low} high={a.high} share={a.kept / (a.kept + a.back)} half="half kept" says={`${a.name}: ${a.worth}`} />}
              <p class="quiet">{a.worth}</p>
            </li>
          ))}
        </ul>
      </Card>
      {m.past.length > 0 && (
        <Card title="Trials that were judged">
          <ul class="plain">{m.past.map((t) => <li key={t.entry}><a href={`/trial/${t.entry}`}>{t.title}</a><br /><span class="quiet">{t.says}</span></li>)}</ul>
        </Card>
      )}
    </>
  );
}

function Witness(p: { title: string; record: Record; marks: Model["marks"]; none: ComponentChildren }) {
  const r = p.record;
  return (
    <Card title={p.title}>
      <p>{r.says}</p>
      {r.of === 0 && <p class="quiet">{p.none}</p>}
      {r.of > 0 && (
        <>
          <WitnessBar low={r.low} high={r.high} share={r.share} half="guessing" says={r.span ?? r.says} />
          <p class="quiet">{r.span}</p>
          <WitnessMarks marks={p.marks} says={`${r.yes} of ${r.of} right, oldest first.`} />
          <details class="fold">
            <summary>The same as a table</summary>
            <DataTable name={p.title} head={["Day", "", "What"]} rows={p.marks.map((x) => [x.day, x.right ? "right" : "wrong", x.says])} />
          </details>
        </>
      )}
    </Card>
  );
}
