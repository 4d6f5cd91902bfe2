// The two witnesses: how it felt, asked first, and what the laps say. Then the
// rider's verdict.
import { useState } from "preact/hooks";
import { act, type Refusal } from "../book";
import { SpanPicture } from "../draw/span";
import { SweepDrawing } from "../draw/sweep";
import { TrialDotsPicture } from "../draw/trialdots";
import type { Trial } from "../models/trial";
import { go } from "../router";
import { Button, Card, Choice, RefusalList, Sheet } from "../ui";

const feels = [{ value: "better", label: "Better" }, { value: "same", label: "The same" }, { value: "worse", label: "Worse" }] as const;

export function RateFirst(p: { m: Trial }) {
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const say = async (felt: string) => {
    const done = await act("rate", { trial: p.m.entry, felt });
    setRefusals("refusals" in done ? done.refusals : []);
  };
  return (
    <Card title="First: how did it feel?">
      <p>Say it before you look at the laps. Your feel is a witness of its own, and the book keeps its record.</p>
      <Choice legend="With the new setting it was" options={feels} value="" onChange={(v) => void say(v)}>
        <RefusalList refusals={refusals} />
      </Choice>
    </Card>
  );
}

export function LapsCard(p: { m: Trial }) {
  const { laps, dots, sweep, felt } = p.m;
  if (sweep) {
    return (
      <Card title="What the laps say">
        {sweep.advice && <p><strong>{sweep.advice}</strong></p>}
        <SweepDrawing sweep={sweep} />
      </Card>
    );
  }
  return (
    <Card id="laps-say">
      <h2>{laps.title}</h2>
      <p>{laps.says}</p>
      {laps.more && <p><strong>Wanted:</strong> {laps.more}.</p>}
      {laps.span && <SpanPicture span={laps.span} />}
      {felt && <p>You said it felt <strong>{felt === "same" ? "the same" : felt}</strong>.</p>}
      {laps.even && <p>{laps.even}</p>}
      {laps.doubts.length > 0 && <ul class="doubts">{laps.doubts.map((d) => <li key={d}>{d}</li>)}</ul>}
      {dots && <TrialDotsPicture dots={dots} />}
      {laps.how.length > 0 && <details class="fold"><summary>How this was worked out</summary><ul>{laps.how.map((h) => <li key={h}>{h}</li>)}</ul></details>}
    </Card>
  );
}

export function Judge(p: { m: Trial }) {
  const { m } = p;
  const [back, setBack] = useState(false);
  const [chosen, setChosen] = useState("");
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const judge = async (verdict: string, more: object = {}) => {
    const done = await act("verdict", { change: m.entry, verdict, ...more });
    if ("refusals" in done) return setRefusals(done.refusals);
    go("/", { replace: true });
  };
  return (
    <Card title="Your verdict">
      {m.sweep
        ? (
          <>
            <Choice legend="Keep which position?" options={m.sweep.choices.map((c) => ({ value: String(c.to), label: c.name, ...(c.best ? { detail: "among the fastest" } : {}) }))} value={chosen} onChange={setChosen} />
            <Button main disabled={!chosen} onClick={() => void judge("keep", { chosen: Number(chosen), undo: true })}>Keep it; it is set</Button>
          </>
        )
        : <Button main onClick={() => void judge("keep", { undo: true })}>Keep {m.b}; it is set</Button>}
      <div class="row">
        <Button onClick={() => setBack(true)}>Put back</Button>
        <Button onClick={() => void judge("more")}>Ride more</Button>
      </div>
      <RefusalList refusals={refusals} />
      <Sheet title="Put it back" open={back} onClose={() => setBack(false)}>
        <p><strong>{m.undo}</strong></p>
        <p>{m.sure}</p>
        <Button main onClick={() => void judge("back", { undo: true })}>It is turned back</Button>
      </Sheet>
    </Card>
  );
}
