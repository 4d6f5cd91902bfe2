// A piece of advice held against what was felt: the verdict first, the reasons
// at a tap.
import type { Weighed } from "../models/said";

export function WeighedAdvice(p: { weighed: Weighed }) {
  const w = p.weighed;
  return (
    <details class={`weighed weighed-${w.verdict}`}>
      <summary><strong>{w.title}.</strong> {w.says}</summary>
      <div class="fold-inside">
        {w.of && <p class="hint">Held against: {w.of}</p>}
        <List title="It would help" list={w.helps} none="Nothing that is likely now." />
        <List title="Speaks against it" list={w.against} none="Nothing that the book knows." />
        <List title="Check before" list={w.first.map((s) => `${s.title}: ${s.how} ${s.effort}`)} none="" />
        <List title="Tried before on this bike" list={w.before} none="Not with a trial in this book." />
        <p class="hint"><a href="/why">Say what the bike does now</a>, and it is weighed by that.</p>
      </div>
    </details>
  );
}

function List(p: { title: string; list: string[]; none: string }) {
  if (p.list.length === 0 && !p.none) return null;
  return (
    <>
      <h3>{p.title}</h3>
      {p.list.length === 0 ? <p>{p.none}</p> : <ul class="plain">{p.list.map((x) => <li key={x}>{x}</li>)}</ul>}
    </>
  );
}
