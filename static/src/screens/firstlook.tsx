// First look: one question at a time. What is answered is in the book at once.
import { useState } from "preact/hooks";
import { mend, useDraft, useView } from "../book";
import { useHandIn } from "../form";
import type { Choice as Named, Standing, Who } from "../models/choices";
import type { Counting } from "../models/counted";
import type { FactAsk, FirstLook as Model, LookNow, StartForm } from "../models/firstlook";
import { BigAction, Button, Card, Choice, DayField, Form, NumberField, RefusalFor, RefusalList, Row, Rows, Save, Stepper, TextField } from "../ui";
import { guess } from "../ui/device";
import { Inspect } from "../ui/inspect";
import { People } from "../ui/people";
import type { ScreenProps } from ".";

export function FirstLook(p: ScreenProps) {
  const [step, setStep] = useState(p.query.get("step") ?? "");
  const { model: m } = useView<Model>("firstlook", { step });
  if (!m) return null;
  const to = (id: string) => {
    setStep(id);
    scrollTo(0, 0);
  };
  return (
    <>
      <div class="look-progress">
        <progress max={m.total} value={m.done} aria-label="Answered" />
        <p role="status"><strong>{m.now?.stage}</strong> <span class="quiet">{m.says}</span></p>
      </div>
      {!m.started && <p class="lead">About fifteen minutes. Stop when you like: every answer is kept. "Don't know" is an answer, too.</p>}
      {m.now ? <Step key={m.now.id} m={m} now={m.now} to={to} /> : <Finished />}
      {m.started && <Parts m={m} to={to} />}
    </>
  );
}

function Finished() {
  return (
    <Card title="The first look is done">
      <p>You know what is there, and you have a line to come back to.</p>
      <BigAction icon="check" label="Go to Today" href="/" main />
      <BigAction icon="ruler" label="Measure the sag" detail="It says whether the springs suit you" href="/measure" />
    </Card>
  );
}

function Step(p: { m: Model; now: LookNow; to: (id: string) => void }) {
  const { now, m } = p;
  const done = () => p.to(now.next ?? "");
  return (
    <>
      {now.start && <Start start={now.start} started={m.started} onDone={done} />}
      {now.fact && <Fact bike={m.bike} ask={now.fact} people={m.people} onDone={done} />}
      {now.check && <Inspect bike={m.bike} ask={now.check} onDone={done} />}
      {now.count && <Count bike={m.bike} count={now.count} onDone={done} />}
      {now.line && <Line bike={m.bike} line={now.line} onDone={done} />}
      <div class="row">
        {now.back && <Button onClick={() => p.to(now.back!)}>Back</Button>}
        {m.started && now.next && <Button onClick={() => p.to(now.next!)}>Later</Button>}
      </div>
    </>
  );
}

function Parts(p: { m: Model; to: (id: string) => void }) {
  return (
    <div>
      {p.m.stages.map((g) => (
        <details key={g.id} class="fold">
          <summary>{g.title}: {g.says}</summary>
          <Rows>{g.steps.map((s) => <Row key={s.id} onClick={() => p.to(s.id)} title={`${s.done ? "✓" : "○"} ${s.title}`} says={s.answer} />)}</Rows>
        </details>
      ))}
    </div>
  );
}

const masses = [{ value: "kg", label: "kg" }, { value: "lb", label: "lb" }] as const;
const pressures = [{ value: "psi", label: "psi" }, { value: "bar", label: "bar" }, { value: "kPa", label: "kPa" }] as const;

function Start(p: { start: StartForm; started: boolean; onDone: () => void }) {
  const s = p.start;
  const [form, change, forget] = useDraft("start", {
    rider: s.rider, weight: s.weight ?? null, name: s.name, year: s.year ?? null, class: s.class ?? "", tyres: s.tyres ?? "",
    mass: (s.units?.mass ?? "kg") as "kg" | "lb", pressure: (s.units?.pressure ?? "psi") as "psi" | "bar" | "kPa",
  });
  const { refusals, send } = useHandIn("start", "start", () => {
    void mend({ name: form.name });
    p.onDone();
  });
  const save = () => {
    const { mass, pressure, year, weight, ...words } = form;
    return send({ ...words, ...(year !== null && { year }), ...(weight !== null && { weight }), device: guess(), units: { mass, pressure } }, forget);
  };
  return (
    <Form onSubmit={save}>
      <Card title="You">
        <TextField label="Your name, or initials" name="rider" value={form.rider} onChange={(rider) => change({ rider })} refusals={refusals} />
        <NumberField label="Your weight in full kit" name="weight" unit={form.mass} value={form.weight} onChange={(weight) => change({ weight })} refusals={refusals} hint="Helmet, leathers, boots. Leave it empty if you don't know." />
        <Choice legend="Weigh in" options={masses} value={form.mass} onChange={(mass) => change({ mass })} />
        <Choice legend="Tyre pressures in" options={pressures} value={form.pressure} onChange={(pressure) => change({ pressure })} />
      </Card>
      <Card title="Your bike">
        <TextField label="What you call it" name="name" value={form.name} onChange={(name) => change({ name })} refusals={refusals} />
        <TextField label="What kind of bike" name="class" value={form.class} onChange={(v) => change({ class: v })} hint="Such as: 600 sport bike" />
        <NumberField label="Model year" name="year" value={form.year} onChange={(year) => change({ year })} refusals={refusals} hint="Leave it empty if you don't know." />
        <TextField label="Tyres" name="tyres" value={form.tyres} onChange={(tyres) => change({ tyres })} />
        <RefusalList refusals={refusals} except={["rider", "weight", "name", "year"]} />
      </Card>
      <Save>{p.started ? "Write it down" : "Put it in the book"}</Save>
    </Form>
  );
}

function Fact(p: { bike: string; ask: FactAsk; people: readonly Named[]; onDone: () => void }) {
  const f = p.ask;
  const key = `fact:${f.fact}`;
  const [form, change, forget] = useDraft<{ answer: string; when: string; who: Who; note: string }>(key, { answer: f.answer ?? "", when: f.date ?? "", who: f.person ? { id: f.person } : {}, note: f.note ?? "" });
  const { refusals, send } = useHandIn("fact", key, p.onDone);
  const known = form.answer !== "" && form.answer !== "unknown" && form.answer !== "no";
  return (
    <Form onSubmit={() => send({ ...form, bike: p.bike, fact: f.fact }, forget)}>
      <Card>
        <Choice legend={f.title} options={f.options.map((o) => ({ value: o.id, label: o.name }))} value={form.answer} onChange={(answer) => change({ answer })}>
          <RefusalFor refusals={refusals} field="answer" />
        </Choice>
        <p class="hint">{f.why}</p>
        {known && f.when && <DayField label="When, as well as you know" name="when" value={form.when} onChange={(when) => change({ when })} refusals={refusals} />}
        {known && f.who && <People legend="Who did it?" people={p.people} value={form.who} onChange={(who) => change({ who })} name="who" refusals={refusals} />}
        <TextField label="Note, if you like" name="note" value={form.note} onChange={(note) => change({ note })} />
        <RefusalList refusals={refusals} except={["answer", "when"]} />
      </Card>
      <Save>Write it down</Save>
    </Form>
  );
}

function Count(p: { bike: string; count: Counting; onDone: () => void }) {
  const c = p.count;
  const key = `look-count:${c.id}`;
  const [form, change, forget] = useDraft<{ at: number | null }>(key, { at: c.value ?? null });
  const { refusals, send } = useHandIn("counted", key, p.onDone);
  const save = (standing: Standing) => send({ bike: p.bike, adjuster: c.id, standing, at: form.at }, forget);
  return (
    <Form onSubmit={() => save("counted")}>
      <Card title={c.name}>
        <p>Counted from: {c.from}. Count it and put it back where it was.</p>
        <Stepper label="Where it stands" name="at" unit={`${c.unit} ${c.way}`.trim()} value={form.at} onChange={(at) => change({ at })} step={c.step} min={c.min} max={c.max} refusals={refusals} />
        <RefusalList refusals={refusals} except={["at"]} />
        <div class="row">
          <Button onClick={() => save("assumed")}>I was told so</Button>
          <Button onClick={() => save("unknown")}>Don't know</Button>
        </div>
      </Card>
      <Save>I counted it</Save>
    </Form>
  );
}

function Line(p: { bike: string; line: NonNullable<LookNow["line"]>; onDone: () => void }) {
  const [form, change, forget] = useDraft("first-line", { name: "First line" });
  const { refusals, send } = useHandIn("baseline", "first-line", p.onDone);
  return (
    <Form onSubmit={() => send({ ...form, bike: p.bike }, forget)}>
      <Card title="Draw the first line">
        <p>A line is where the bike stands today, under a name. Whatever is turned later, you can come back to it.</p>
        <p>{p.line.says}</p>
        {p.line.unknown.length > 0 && <p class="hint">Not known, so not in it: {p.line.unknown.join(", ")}.</p>}
        <TextField label="Its name" name="name" value={form.name} onChange={(name) => change({ name })} refusals={refusals} />
        <RefusalList refusals={refusals} except={["name"]} />
      </Card>
      <Save disabled={!p.line.possible}>Draw it</Save>
    </Form>
  );
}
