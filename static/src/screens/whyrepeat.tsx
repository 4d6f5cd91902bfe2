// Repeat it on purpose: a card for the next session, and what came of it.
import { useState } from "preact/hooks";
import { act, useDraft, useView, type Refusal } from "../book";
import type { RepeatCard as Model } from "../models/whyrepeat";
import { Button, Card, Choice, RefusalList, Stepper, TextField } from "../ui";
import type { ScreenProps } from ".";

interface Form {
  passes: number | null;
  came: number | null;
  away: "" | "yes" | "no";
  note: string;
}

const empty: Form = { passes: null, came: null, away: "", note: "" };

export function Repeat(p: ScreenProps) {
  const symptom = p.query.get("symptom") ?? "";
  const key = `repeat:${symptom}`;
  const [form, change, forget] = useDraft<Form>(key, empty);
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const { model: m, refusals: none } = useView<Model>("repeat", { symptom });
  if (none.length > 0) return <p class="empty">{none[0]!.says} <a href="/why/symptoms">What it did before</a></p>;
  if (!m) return null;
  const passes = form.passes ?? m.passes;
  const tell = async (what: "take" | "done" | "drop") => {
    const sent = { bike: m.bike, symptom, do: what, passes, came: form.came ?? 0, away: form.away === "yes", note: form.note };
    const done = await act("repeat", sent, what === "done" ? key : undefined);
    if ("refusals" in done) return setRefusals(done.refusals);
    setRefusals([]);
    if (what === "done") forget();
  };
  return (
    <>
      <p class="lead">{m.title}</p>
      <p class="hint">Felt {m.when}.</p>
      {m.stops.map((n) => (
        <Card key={n.title} tone="stop"><h2>{n.title}</h2><p>{n.says}</p><a class="button button-danger" href={n.href}>{n.act}</a></Card>
      ))}
      {m.dont
        ? <Card tone="stop" title="Do not bring this about on purpose"><p><strong>{m.dont}</strong></p><p>{m.how}</p><a class="button" href="/why">Ask why</a></Card>
        : (
          <Card title="In the next session">
            <dl class="try">
              <div><dt>Where</dt><dd>{m.where}</dd></div>
              <div><dt>How</dt><dd>{m.how}</dd></div>
              <div><dt>How hard</dt><dd>{m.effort}</dd></div>
              <div><dt>What to notice</dt><dd>{m.watch}</dd></div>
              <div><dt>How often</dt><dd>{passes} passes. {m.after}</dd></div>
            </dl>
            <p class="caution"><strong>Take care:</strong> {m.stop}</p>
          </Card>
        )}
      {m.came && <p role="status"><strong>{m.came}</strong></p>}
      {m.state === "" && !m.dont && m.stops.length === 0 && <Button id="take" main onClick={() => void tell("take")}>Make it my next task</Button>}
      {m.state === "dropped" && <p>You dropped it. <Button onClick={() => void tell("take")}>Take it up again</Button></p>}
      {m.state === "set" && (
        <form class="flow" onSubmit={(e) => { e.preventDefault(); void tell("done"); }}>
          <h2>How did it go?</h2>
          <Stepper label="Passes" name="passes" value={passes} step={1} min={1} max={100} onChange={(v) => change({ passes: v })} refusals={refusals} />
          <Stepper label="It came in" name="came" unit={`of ${passes}`} value={form.came} step={1} min={0} max={passes} start={0} onChange={(came) => change({ came })} refusals={refusals} />
          {form.came !== null && form.came === passes && (
            <Choice legend="Did it go away when you did the opposite?" options={[{ value: "yes", label: "Yes" }, { value: "no", label: "No, or not tried" }]} value={form.away} onChange={(away) => change({ away })} />
          )}
          <TextField label="Note, if you like" name="note" value={form.note} onChange={(note) => change({ note })} refusals={refusals} />
          <div class="flow-end"><Button id="save" main submit disabled={form.came === null}>Write it down</Button></div>
          <Button onClick={() => void tell("drop")}>Drop the task</Button>
        </form>
      )}
      <RefusalList refusals={refusals.filter((r) => !["passes", "came", "note"].includes(r.field))} />
      <p><a href="/why/symptoms">What it did before</a></p>
    </>
  );
}
