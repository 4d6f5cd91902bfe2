// One line of the book, opened again: correct it, or strike it out. Nothing is
// lost by either; the book keeps what it said before, and why.
import { useState } from "preact/hooks";
import { useDraft, useView, type Refusal } from "../book";
import { useHandIn } from "../form";
import type { Amend, AmendField } from "../models/amend";
import type { Choice as Named, Who } from "../models/choices";
import { go } from "../router";
import { Button, Card, Choice, DayField, Form, RefusalFor, RefusalList, Sheet, Stepper, TextField } from "../ui";
import { People } from "../ui/people";
import { LinePhotos } from "../ui/photos";
import type { ScreenProps } from ".";

export function Line(p: ScreenProps) {
  const entry = p.params.id!;
  const { model: m, refusals } = useView<Amend>("amend", { entry });
  const [striking, setStriking] = useState(false);
  if (!m) return <RefusalList refusals={refusals} />;
  const l = m.line;
  return (
    <>
      <Card>
        <p class="quiet">{m.day}</p>
        <h2>{l.struck ? <s>{l.title}</s> : l.title}</h2>
        {l.why && <p>Because: {l.why}</p>}
        {(l.turned || l.idea) && <p class="quiet">{[l.turned && `by ${l.turned}`, l.idea && `${l.idea}'s idea`].filter(Boolean).join(", ")}</p>}
        {l.detail && <p class="quiet">{l.detail}</p>}
      </Card>
      <LinePhotos entry={entry} />
      {m.struck
        ? <Struck struck={m.struck} photo={l.kind === "photo"} />
        : (
          <>
            {m.page && <a class="button button-main" href={m.page}>Correct it</a>}
            {m.fields.length > 0 && <Correct key={m.changes[0]?.entry} entry={entry} m={m} />}
            <Button danger id="strike" onClick={() => setStriking(true)}>Strike it out</Button>
          </>
        )}
      {m.changes.length > 0 && (
        <Card title="What it said before" tone="quiet">
          <ul class="plain">
            {m.changes.map((c) => <li key={c.entry}>{c.was}<br /><span class="quiet">until {c.when}{c.why && `; corrected because: ${c.why}`}</span></li>)}
          </ul>
        </Card>
      )}
      <a class="button" href="/book">Back to the book</a>
      <Sheet title="Strike it out" open={striking} onClose={() => setStriking(false)}>
        <Strike entry={entry} photo={l.kind === "photo"} onDone={() => { setStriking(false); go("/book", { replace: true }); }} />
      </Sheet>
    </>
  );
}

interface Filled {
  texts: Record<string, string>;
  numbers: Record<string, number | null>;
  whos: Record<string, Who>;
  why: string;
}

function filled(fields: AmendField[]): Filled {
  const form: Filled = { texts: {}, numbers: {}, whos: {}, why: "" };
  for (const f of fields) {
    if (f.kind === "number") form.numbers[f.name] = f.number ?? null;
    else if (f.kind === "who") form.whos[f.name] = { id: f.who ?? "" };
    else form.texts[f.name] = f.text ?? "";
  }
  return form;
}

function Correct(p: { entry: string; m: Amend }) {
  const key = `line:${p.entry}:${p.m.changes[0]?.entry ?? ""}`;
  const [form, change, forget] = useDraft<Filled>(key, filled(p.m.fields));
  const { refusals, send } = useHandIn("amend", key, () => go("/book", { replace: true }));
  const save = () => {
    const numbers = Object.fromEntries(Object.entries(form.numbers).filter(([, n]) => n !== null));
    return send({ ...form, numbers, entry: p.entry }, forget);
  };
  const names = p.m.fields.map((f) => f.name);
  return (
    <Form onSubmit={save}>
      <Card title="Correct it">
        {p.m.fields.map((f) => <Field key={f.name} field={f} people={p.m.people} form={form} change={change} refusals={refusals} />)}
        <TextField label="What was wrong with it, if you like" name="why-corrected" value={form.why} onChange={(why) => change({ why })} />
        <RefusalList refusals={refusals} except={names} />
        <Button id="save" main submit>Correct it</Button>
      </Card>
    </Form>
  );
}

interface FieldProps {
  field: AmendField;
  people: readonly Named[];
  form: Filled;
  change: (part: Partial<Filled>) => void;
  refusals: Refusal[];
}

function Field(p: FieldProps) {
  const { field: f, form, change, refusals } = p;
  const say = (v: string) => change({ texts: { ...form.texts, [f.name]: v } });
  switch (f.kind) {
    case "number":
      return (
        <Stepper
          label={f.label} name={f.name} unit={f.unit ?? ""} step={f.step ?? 1} min={f.min} max={f.max} refusals={refusals}
          value={form.numbers[f.name] ?? null} onChange={(n) => change({ numbers: { ...form.numbers, [f.name]: n } })}
        />
      );
    case "who":
      return <People legend={f.label} people={p.people} value={form.whos[f.name] ?? {}} onChange={(w) => change({ whos: { ...form.whos, [f.name]: w } })} name={f.name} refusals={refusals} />;
    case "one":
      return (
        <Choice legend={f.label} options={(f.options ?? []).map((o) => ({ value: o.id, label: o.name }))} value={form.texts[f.name] ?? ""} onChange={say}>
          <RefusalFor refusals={refusals} field={f.name} />
        </Choice>
      );
  }
  const text = { label: f.label, name: f.name, value: form.texts[f.name] ?? "", onChange: say, refusals };
  return f.kind === "day" ? <DayField {...text} /> : <TextField {...text} long={f.kind === "long"} />;
}

const asChoices = (words: string[]) => words.map((w) => ({ value: w, label: w }));
const reasons = asChoices(["Written twice", "It never happened", "Wrong bike"]);
const photoReasons = asChoices(["Not meant for the book", "Not sharp", "Wrong bike"]);

function Strike(p: { entry: string; photo: boolean; onDone: () => void }) {
  const [why, setWhy] = useState("");
  const { refusals, send } = useHandIn("strike", undefined, p.onDone);
  return (
    <>
      {p.photo
        ? <p>The picture is deleted for good: here now, from the server and your other phones when they next sync. The history keeps the line, struck through: that there was a photo.</p>
        : <p>The book goes on without it. It stays in the history, struck through, and you can take that back.</p>}
      <Choice legend="Why?" options={p.photo ? photoReasons : reasons} value={why} onChange={setWhy} />
      <TextField label="Or in your own words" name="why" value={why} onChange={setWhy} refusals={refusals} />
      <RefusalList refusals={refusals} except={["why"]} />
      <Button main onClick={() => void send({ entry: p.entry, why })}>Strike it out</Button>
    </>
  );
}

function Struck(p: { struck: NonNullable<Amend["struck"]>; photo: boolean }) {
  const { refusals, send } = useHandIn("strike", undefined, () => undefined);
  return (
    <Card tone="warn" title="Struck out">
      <p>{p.struck.when}{p.struck.why && `, because: ${p.struck.why}`}. The book goes on without it.</p>
      {p.photo
        ? <p>Its picture is deleted.</p>
        : <Button id="unstrike" onClick={() => void send({ entry: p.struck.entry, why: "Taken back" })}>Put it back in</Button>}
      <RefusalList refusals={refusals} />
    </Card>
  );
}
