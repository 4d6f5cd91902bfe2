// Measure: what to measure and in which order; and for each topic a guided
// page, one number at a time.
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { act, useDraft, useView, type Refusal } from "../book";
import { SceneDrawing } from "../draw/scene";
import type { Measure as List, MeasureLine, MeasureStep, Measuring as Model } from "../models/measure";
import { Button, Card, Choice, NoBike, RefusalList, TextField } from "../ui";
import { NumberKeys } from "../ui/keys";
import { refusalId } from "../ui/refusal";
import { Recorder } from "../ui/record";
import { ReadingView } from "../ui/reading";
import type { ScreenProps } from ".";

const marks = { never: "○", stale: "◐", fresh: "●" };
const states = { never: "not measured", stale: "measure again", fresh: "in date" };

export function Measure() {
  const { model: m, refusals } = useView<List>("measure");
  if (!m) return <NoBike refusals={refusals} />;
  return (
    <>
      <p>{m.says}</p>
      <p class="hint" aria-hidden="true">{Object.values(states).map((s, i) => <span key={s} class="measure-mark">{Object.values(marks)[i]} {s}</span>)}</p>
      {m.first && (
        <Card title="Measure this first">
          <p><strong>{m.first.name}</strong>: {m.first.what}.</p>
          {m.first.state === "stale" && <p class="hint">{m.first.says}</p>}
          <a class="button button-main" href={`/measure/${m.first.topic}`}>Start</a>
        </Card>
      )}
      {m.groups.map((g) => (
        <section key={g.name} class="measure-group">
          <h2>{g.name}</h2>
          <ul class="look-steps">{g.lines.map((l) => <Line key={l.topic} line={l} />)}</ul>
        </section>
      ))}
      <p><a href="/handbook">Handbook</a>: what can be wrong, how to tell, what mends it.</p>
    </>
  );
}

function Line(p: { line: MeasureLine }) {
  const l = p.line;
  return (
    <li>
      <a class="button" href={`/measure/${l.topic}`}>
        <span><span aria-hidden="true">{marks[l.state]} </span>{l.name}</span>
        <small>{l.state === "never" ? l.what : l.says}<span class="away"> ({states[l.state]})</span></small>
      </a>
    </li>
  );
}

interface Form {
  typed: Record<string, string>;
  units: Record<string, string>;
  at: string; // the symbol that is asked for; "" before the first, "=" behind the last
  note: string;
}

const empty: Form = { typed: {}, units: {}, at: "", note: "" };

export function Measuring(p: ScreenProps) {
  const topic = p.params.topic!;
  const key = `measure:${topic}`;
  const [form, change, forget] = useDraft<Form>(key, empty);
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const [saved, setSaved] = useState(false);
  const { model: m, refusals: none } = useView<Model>("measuring", { topic, ...form });
  if (!m) return none.length > 0 ? <><RefusalList refusals={none} /><a class="button" href="/measure">To the list</a></> : null;
  const to = (at: string) => {
    change({ at });
    if (at === "" || at === "=") scrollTo(0, 0);
  };
  const save = async () => {
    const done = await act("measure", { ...form, topic, bike: m.bike }, key);
    if ("refusals" in done) return setRefusals(done.refusals);
    forget();
    setRefusals([]);
    setSaved(true);
    scrollTo(0, 0);
  };
  const i = m.steps.findIndex((s) => s.symbol === form.at);
  const step = m.steps[i];
  if (step) {
    return (
      <Step
        key={step.symbol} m={m} step={step} i={i}
        onType={(v) => change({ typed: { ...form.typed, [step.symbol]: v } })}
        onUnit={(v) => change({ units: { ...form.units, [step.quantity]: v } })}
        to={to}
      />
    );
  }
  if (form.at === "=") return <End m={m} note={form.note} onNote={(note) => change({ note })} refusals={refusals} onSave={() => void save()} to={to} />;
  return <Begin m={m} saved={saved} onStart={() => { setSaved(false); to(m.steps[0]!.symbol); }} resume={Object.keys(form.typed).length > 0} />;
}

function Begin(p: { m: Model; saved: boolean; resume: boolean; onStart: () => void }) {
  const { m } = p;
  return (
    <>
      <p role="status" class="saved">{p.saved && "It is in the book."}</p>
      <Card title={m.name}>
        <SceneDrawing scene={m.scene} />
        <p>{m.what}.</p>
        <p class="hint">You need: {m.needs}</p>
        <Button main onClick={p.onStart}>{p.resume ? "Go on" : m.of ? "Measure again" : "Start"}</Button>
      </Card>
      {p.saved && m.next && <Card title="Next"><p><strong>{m.next.name}</strong>: {m.next.what}.</p><a class="button" href={`/measure/${m.next.topic}`}>{m.next.name}</a></Card>}
      {m.reading && m.of && <Card title={`Measured ${m.of}`}><ReadingView reading={m.reading} /></Card>}
      <Card title="Why this matters">{m.why.map((w) => <p key={w}>{w}</p>)}</Card>
      {m.earlier.length > 1 && <Card title="Earlier"><ul class="events">{m.earlier.slice(1).map((e) => <li key={e.entry}><strong>{e.when}</strong><br />{e.says}{e.note && ` ${e.note}`}</li>)}</ul></Card>}
      <a class="button" href="/measure">To the list</a>
    </>
  );
}

interface StepProps {
  m: Model;
  step: MeasureStep;
  i: number;
  onType: (typed: string) => void;
  onUnit: (unit: string) => void;
  to: (at: string) => void;
}

function Step(p: StepProps) {
  const { m, step: s, i } = p;
  const page = useRef<HTMLDivElement>(null);
  // The step and its keys fit on the page when its top stands at the top.
  useLayoutEffect(() => page.current?.scrollIntoView(), []);
  const next = m.steps[i + 1]?.symbol ?? "=";
  const back = m.steps[i - 1]?.symbol ?? "";
  const ready = s.value !== "" && !s.refusal;
  const again = (last: string) => {
    p.onType(last);
    p.to(next);
  };
  const unknown = () => {
    p.onType("?");
    p.to(next);
  };
  return (
    <div class="measure-step" ref={page}>
      <div class="measure-progress">
        <progress max={m.steps.length} value={i + 1} aria-label="Steps" />
        <span role="status">{i + 1} of {m.steps.length}</span>
      </div>
      <h2>{s.title}</h2>
      <SceneDrawing scene={m.scene} high={160} />
      <p class="measure-how">{s.how}</p>
      {s.kind === "number" && <NumberKeys key={s.symbol + s.unit} step={s} onType={p.onType} onUnit={p.onUnit} onNext={() => p.to(next)} onUnknown={unknown} ready={ready} />}
      {s.kind === "choice" && <Choice legend={s.title} options={s.options.map((o) => ({ value: o.id, label: o.name }))} value={s.value} onChange={p.onType} />}
      {s.kind === "bounce" && <Recorder recorded={ready} onTrace={p.onType} />}
      {s.kind === "words" && <TextField label={s.title} name={s.symbol} value={s.value} onChange={p.onType} />}
      <div class="measure-says">
        <RefusalList refusals={s.refusal ? [s.refusal] : []} id={refusalId(s.symbol)} />
        {s.caution && <p class="hint">{s.caution}</p>}
        {s.book && <p class="hint">From {s.book}.</p>}
      </div>
      {s.last && !s.book && s.kind !== "bounce" && <Button onClick={() => again(s.last!)}>Last time {s.last}: the same</Button>}
      {s.kind !== "number" && <Button main disabled={!ready} onClick={() => p.to(next)}>Next</Button>}
      <div class="row">
        <Button onClick={() => p.to(back)}>Back</Button>
        {s.kind !== "number" && <Button onClick={unknown}>{s.kind === "bounce" ? "By eye instead" : "Don't know"}</Button>}
      </div>
    </div>
  );
}

interface EndProps {
  m: Model;
  note: string;
  onNote: (v: string) => void;
  refusals: Refusal[];
  onSave: () => void;
  to: (at: string) => void;
}

function End(p: EndProps) {
  const { m } = p;
  const wrong = m.reading?.wrong ?? m.steps.flatMap((s) => s.refusal ?? []);
  const last = m.steps.at(-1)!.symbol;
  return (
    <>
      {m.missing.length > 0 && <Card tone="warn" title="Not known yet"><p>Without {m.missing.join(", ")} this cannot be worked out.</p></Card>}
      {wrong.length > 0 && <Card tone="warn" title="These numbers do not fit"><RefusalList refusals={wrong} /></Card>}
      {m.reading && wrong.length === 0 && <Card title={m.name}><ReadingView reading={m.reading} /></Card>}
      <Card title="Your readings">
        <ul class="look-steps">
          {m.steps.map((s) => (
            <li key={s.symbol}>
              <button type="button" class="button" onClick={() => p.to(s.symbol)}>
                <span>{s.title}</span>
                <small>{s.unknown || s.value === "" ? "not known" : `${label(s)}`}{s.refusal && <strong class="refusal"> {s.refusal.says}</strong>}</small>
              </button>
            </li>
          ))}
        </ul>
      </Card>
      {m.ready && <TextField label="Note, if you like" name="note" value={p.note} onChange={p.onNote} />}
      <RefusalList refusals={p.refusals} />
      {m.reading && m.of
        ? <p class="hint">All is as it was on {m.of}: there is nothing new to save. Tap a reading to measure it again.</p>
        : <div class="flow-end"><Button id="save" main disabled={!m.ready} onClick={p.onSave}>Save to the book</Button></div>}
      <div class="row"><Button onClick={() => p.to(last)}>Back</Button><a class="button" href="/measure">To the list</a></div>
    </>
  );
}

const label = (s: MeasureStep) => s.kind === "bounce" ? "recorded" : s.options.find((o) => o.id === s.value)?.name ?? `${s.value}${s.unit === "deg" ? "°" : s.unit && ` ${s.unit}`}`;
