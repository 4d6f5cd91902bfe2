// Why: say what it does by tapping a drawn corner or in own words; then the
// likely causes with evidence and doubt, the check to make first, one change.
import { useState } from "preact/hooks";
import { act, useDraft, useView, type Refusal } from "../book";
import { Corner } from "../draw/corner";
import type { Why as Model, WhyCause, WhyFinding } from "../models/why";
import { Button, Card, Choice, RefusalList, TextField } from "../ui";

interface Form {
  phase: string;
  end: string;
  words: string;
  repeat: string;
  findings: Record<string, string>;
}

const empty: Form = { phase: "", end: "", words: "", repeat: "", findings: {} };

const ends = [
  { value: "front", label: "Front" },
  { value: "rear", label: "Rear" },
  { value: "whole", label: "Whole bike" },
];

const repeats = [
  { value: "once", label: "Once" },
  { value: "some", label: "Some laps" },
  { value: "every", label: "Every lap" },
  { value: "purpose", label: "I can do it on purpose" },
];

export function Why() {
  const [form, change, forget] = useDraft<Form>("why", empty);
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const [saved, setSaved] = useState("");
  const { model } = useView<Model>("why", form);
  const answer = (id: string, to: string) => {
    const { [id]: was, ...rest } = form.findings;
    change({ findings: was === to ? rest : { ...rest, [id]: to } });
  };
  const save = async () => {
    const done = await act("symptom", form, "why");
    if ("refusals" in done) return setRefusals(done.refusals);
    setRefusals([]);
    forget();
    setSaved("Written down.");
  };
  return (
    <>
      <Corner value={form.phase} onChange={(phase) => change({ phase: form.phase === phase ? "" : phase })} />
      <Choice legend="Which end?" options={ends} value={form.end as "front"} onChange={(end) => change({ end })} />
      <TextField label="Or in your own words" name="words" value={form.words} onChange={(words) => change({ words })} refusals={refusals} />
      {model && model.offers.length > 0 && <Findings title="What does it do?" list={model.offers} onAnswer={answer} />}
      {model && form.words && model.offers.length === 0 && <p role="status">Nothing here fits these words. Try others, or tap the corner.</p>}
      {model && model.chosen.length > 0 && (
        <>
          <Findings title="You said" list={model.chosen} onAnswer={answer} />
          <Choice legend="How often?" options={repeats} value={form.repeat as "once"} onChange={(repeat) => change({ repeat })} />
          <Answer model={model} onAnswer={answer} />
          <RefusalList refusals={refusals} />
          <Button id="save" main onClick={() => void save()}>Write it down</Button>
        </>
      )}
      <p role="status" class="saved">{saved}</p>
    </>
  );
}

function Findings(p: { title: string; list: WhyFinding[]; onAnswer: (id: string, to: string) => void }) {
  return (
    <section class="findings">
      <h2>{p.title}</h2>
      <ul>
        {p.list.map((f) => (
          <li key={f.id}>
            <span>{f.words}{f.denied && " (you said it does not)"}</span>
            <span class="row">
              <Mark label="Yes" name={f.words} on={f.answer === "yes"} onClick={() => p.onAnswer(f.id, "yes")} />
              <Mark label="No" name={f.words} on={f.answer === "no"} onClick={() => p.onAnswer(f.id, "no")} />
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Mark(p: { label: string; name: string; on: boolean; onClick: () => void }) {
  return (
    <button type="button" class={`button${p.on ? " button-main" : ""}`} aria-pressed={p.on} aria-label={`${p.label}: ${p.name}`} onClick={p.onClick}>
      {p.on ? `✓ ${p.label}` : p.label}
    </button>
  );
}

function Answer(p: { model: Model; onAnswer: (id: string, to: string) => void }) {
  const { stop, next, change, causes, unsure, note } = p.model;
  return (
    <>
      {stop && <Card tone="stop" title="Do not ride"><p>{stop}</p></Card>}
      {next && (
        <Card tone="warn" title="Check this first">
          <p>{next.how}</p>
          <p class="quiet">{next.why} About {next.minutes} minutes.{next.tools && ` Tools: ${next.tools}.`}</p>
          <Results finding={next.finding} onAnswer={p.onAnswer} />
        </Card>
      )}
      <section aria-label="Likely causes">
        <h2>Likely causes</h2>
        {unsure && <p>This is not enough to be sure. Say more, or make the check.</p>}
        {note && <p>{note}</p>}
        {causes.map((c) => <Cause key={c.id} cause={c} onAnswer={p.onAnswer} />)}
      </section>
      {change && !stop && (
        <Card title="One change to try">
          <p><strong>{change.words}</strong></p>
          <p>Expect: {change.expect}</p>
          <p>It is wrong if: {change.wrong}</p>
          {change.side && <p>Side effects: {change.side}</p>}
          <p>To go back: {change.undo}</p>
          {change.caution && <p><strong>Caution:</strong> {change.caution}</p>}
          {change.adjuster && <a class="button" href={`/turned?adjuster=${encodeURIComponent(change.adjuster)}`}>Turn it and write it down</a>}
        </Card>
      )}
      <p class="quiet">These are reasons, not an inspection. Follow the machine's service manual, and ask a qualified technician when in doubt.</p>
    </>
  );
}

function Results(p: { finding: string; onAnswer: (id: string, to: string) => void }) {
  return (
    <div class="row">
      <Button onClick={() => p.onAnswer(p.finding, "yes")}>Found it</Button>
      <Button onClick={() => p.onAnswer(p.finding, "no")}>It is fine</Button>
    </div>
  );
}

function Cause(p: { cause: WhyCause; onAnswer: (id: string, to: string) => void }) {
  const c = p.cause;
  return (
    <details class="cause">
      <summary>
        <span class="cause-title">{c.title}</span>
        <span>{c.doubt}</span>
        <svg class="share" viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true"><rect width={c.share} height="4" /></svg>
      </summary>
      <p>{c.why}</p>
      <Evidence title="Speaks for it" list={c.for} />
      <Evidence title="Speaks against it" list={c.against} />
      <p><strong>Told from its look-alikes:</strong> {c.tell}</p>
      <p><strong>The check:</strong> {c.check}</p>
      <Results finding={c.finding} onAnswer={p.onAnswer} />
      <p><strong>The remedy:</strong> {c.remedy}</p>
      {c.caution && <p><strong>Caution:</strong> {c.caution}</p>}
      {c.stop && <p><strong>Do not ride:</strong> {c.stop}</p>}
    </details>
  );
}

function Evidence(p: { title: string; list: string[] }) {
  if (p.list.length === 0) return null;
  return (
    <>
      <h3>{p.title}</h3>
      <ul>{p.list.map((w) => <li key={w}>{w}</li>)}</ul>
    </>
  );
}
