// What is due: services by track days, hours, km or date, each with whose word
// its limits are; tyre sets; what the meters read.
import { useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { useHandIn } from "../form";
import type { Due as Model, DueRow, IntervalForm, TyresForm } from "../models/due";
import type { Who } from "../models/choices";
import { Button, Card, Choice, DayField, Form, NoBike, NumberField, RefusalList, Row, Rows, Sheet, Stepper, TextField } from "../ui";
import { People } from "../ui/people";

type Opened = { kind: "done" | "interval"; row: DueRow } | { kind: "tyres"; form: TyresForm } | { kind: "meter" } | undefined;

const tones = { over: "warn", soon: "warn", unknown: undefined, good: "quiet" } as const;
const words = { over: "Due", soon: "Soon", unknown: "Not known", good: "Good" } as const;

export function Due() {
  const { model: m, refusals } = useView<Model>("due");
  const [opened, setOpened] = useState<Opened>();
  if (!m) return <NoBike refusals={refusals} />;
  const close = () => setOpened(undefined);
  const newSet: TyresForm = { bike: m.bike, set: "", name: `Set ${m.tyres.length + 1}`, front: "", rear: "", fitted: "", cycles: 0, gone: false, note: "" };
  return (
    <>
      <p class="lead" role="status">{m.says}</p>
      <p>The machine's service manual is the authority. Where nothing of it is typed in, common practice stands in its place, and says so.</p>
      {m.rows.map((r) => <Service key={r.what} row={r} open={setOpened} />)}
      <Card title="Tyres">
        {m.tyres.length === 0 ? <p>No set in the book.</p> : (
          <Rows>{m.tyres.map((t) => <Row key={t.form.set} onClick={() => setOpened({ kind: "tyres", form: t.form })} title={t.form.name} says={t.says} />)}</Rows>
        )}
        <p class="hint">Each session on a set counts as one heat cycle.</p>
        <Button onClick={() => setOpened({ kind: "tyres", form: newSet })}>Add a set</Button>
      </Card>
      <Card title="Meters">
        <p>{m.meter.km === null && m.meter.hours === null ? "Without a reading, hours and km are counted from the laps in the book: the least that was ridden." : [m.meter.km !== null && `${m.meter.km} km`, m.meter.hours !== null && `${m.meter.hours} h`].filter(Boolean).join(", ")}</p>
        <Button onClick={() => setOpened({ kind: "meter" })}>Read the meter</Button>
      </Card>
      {m.off.length > 0 && <Card title="No word wanted of"><div class="row">{m.off.map((r) => <Button key={r.what} onClick={() => setOpened({ kind: "interval", row: r })}>{r.title}</Button>)}</div></Card>}
      <Sheet title={opened && "row" in opened ? `${opened.row.title}, done` : ""} open={opened?.kind === "done"} onClose={close}>{opened?.kind === "done" && <Done m={m} row={opened.row} onDone={close} />}</Sheet>
      <Sheet title={opened && "row" in opened ? `${opened.row.title}: how often` : ""} open={opened?.kind === "interval"} onClose={close}>{opened?.kind === "interval" && <Interval form={opened.row.form} onDone={close} />}</Sheet>
      <Sheet title="A set of tyres" open={opened?.kind === "tyres"} onClose={close}>{opened?.kind === "tyres" && <Tyres form={opened.form} onDone={close} />}</Sheet>
      <Sheet title="The meter reads" open={opened?.kind === "meter"} onClose={close}><Meter m={m} onDone={close} /></Sheet>
    </>
  );
}

function Service(p: { row: DueRow; open: (o: Opened) => void }) {
  const r = p.row;
  return (
    <Card id={`due-${r.what}`} tone={tones[r.state]}>
      <h2>{r.title} <span class={`mark due-${r.state}`}>{words[r.state]}</span></h2>
      <p><strong>{r.says}</strong> {r.last}</p>
      {r.uses.map((u) => (
        <div key={u.says} class="use">
          <svg viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true"><rect class="use-all" width="100" height="6" /><rect class={u.share >= 1 ? "use-over" : "use-part"} width={Math.min(100, 100 * u.share)} height="6" /></svg>
          <span>{u.says}</span>
        </div>
      ))}
      <p class="quiet">{r.why} {r.limits[0]?.toUpperCase()}{r.limits.slice(1)}: {r.source}.</p>
      <div class="row">
        <Button onClick={() => p.open({ kind: "done", row: r })}>It is done</Button>
        <Button onClick={() => p.open({ kind: "interval", row: r })}>How often</Button>
      </div>
    </Card>
  );
}

function Done(p: { m: Model; row: DueRow; onDone: () => void }) {
  const key = `done:${p.row.what}`;
  const [form, change, forget] = useDraft<{ when: string; km: number | null; hours: number | null; note: string; done: Who }>(key, { when: "", km: null, hours: null, note: "", done: {} });
  const { refusals, send } = useHandIn("service", key, p.onDone);
  return (
    <Form onSubmit={() => send({ ...form, bike: p.m.bike, what: p.row.what }, forget)}>
      <DayField label="When, if not today" name="when" value={form.when} onChange={(when) => change({ when })} refusals={refusals} />
      <People legend="Who did it?" people={p.m.people} value={form.done} onChange={(done) => change({ done })} name="done" refusals={refusals} />
      <NumberField label="The meter read" name="km" unit="km" value={form.km} onChange={(km) => change({ km })} refusals={refusals} />
      <NumberField label="The hour meter read" name="hours" unit="h" value={form.hours} onChange={(hours) => change({ hours })} refusals={refusals} />
      <TextField label="Note" name="note" value={form.note} onChange={(note) => change({ note })} />
      <RefusalList refusals={refusals} except={["when", "km", "hours", "done"]} />
      <Button main submit>Write it down</Button>
    </Form>
  );
}

const sources = [{ value: "manual", label: "The service manual" }, { value: "own", label: "Me" }];

function Interval(p: { form: IntervalForm; onDone: () => void }) {
  const key = `interval:${p.form.what}`;
  const [form, change, forget] = useDraft<IntervalForm>(key, { ...p.form, source: p.form.source || "manual" });
  const { refusals, send } = useHandIn("interval", key, p.onDone);
  const limit = (field: "days" | "hours" | "km" | "months", label: string, step: number) => (
    <Stepper label={label} name={field} step={step} min={0} value={form[field] || null} onChange={(v) => change({ [field]: Math.round(v ?? 0) })} refusals={refusals} />
  );
  return (
    <Form onSubmit={() => send(form, forget)}>
      <p>Whichever comes first. Leave out what does not apply.</p>
      <Choice legend="Who says so?" options={sources} value={form.source} onChange={(source) => change({ source })} />
      {limit("days", "Track days", 1)}
      {limit("months", "Months", 1)}
      {limit("km", "Kilometres", 100)}
      {limit("hours", "Hours", 1)}
      <Choice legend="Remind me?" options={[{ value: "yes", label: "Yes" }, { value: "no", label: "No, this bike does not have it, or I look after it myself" }]} value={form.off ? "no" : "yes"} onChange={(v) => change({ off: v === "no" })} />
      <RefusalList refusals={refusals} except={["days", "months", "km", "hours"]} />
      <Button main submit>Write it down</Button>
    </Form>
  );
}

function Tyres(p: { form: TyresForm; onDone: () => void }) {
  const key = `tyres:${p.form.set}`;
  const [form, change, forget] = useDraft<TyresForm>(key, p.form);
  const { refusals, send } = useHandIn("tyres", key, p.onDone);
  return (
    <Form onSubmit={() => send(form, forget)}>
      <TextField label="What you call it" name="name" value={form.name} onChange={(name) => change({ name })} refusals={refusals} />
      <TextField label="Front: size and compound" name="front" value={form.front} onChange={(front) => change({ front })} />
      <TextField label="Rear: size and compound" name="rear" value={form.rear} onChange={(rear) => change({ rear })} />
      <DayField label="Fitted" name="fitted" value={form.fitted} onChange={(fitted) => change({ fitted })} refusals={refusals} />
      <Stepper label="Heat cycles before it came into the book" name="cycles" step={1} min={0} value={form.cycles} onChange={(v) => change({ cycles: Math.round(v ?? 0) })} refusals={refusals} />
      <Choice legend="Still in use?" options={[{ value: "yes", label: "Yes" }, { value: "no", label: "No" }]} value={form.gone ? "no" : "yes"} onChange={(v) => change({ gone: v === "no" })} />
      <RefusalList refusals={refusals} except={["name", "fitted", "cycles"]} />
      <Button main submit>Write it down</Button>
    </Form>
  );
}

function Meter(p: { m: Model; onDone: () => void }) {
  const [form, change, forget] = useDraft<{ km: number | null; hours: number | null }>("meter", { km: p.m.meter.km, hours: p.m.meter.hours });
  const { refusals, send } = useHandIn("meter", "meter", p.onDone);
  return (
    <Form onSubmit={() => send({ ...form, bike: p.m.bike }, forget)}>
      <NumberField label="Kilometres" name="km" unit="km" value={form.km} onChange={(km) => change({ km })} refusals={refusals} />
      <NumberField label="Hours" name="hours" unit="h" value={form.hours} onChange={(hours) => change({ hours })} refusals={refusals} />
      <RefusalList refusals={refusals} except={["km", "hours"]} />
      <Button main submit>Write it down</Button>
    </Form>
  );
}
