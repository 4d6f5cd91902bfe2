// Counted it: what a position is, seen with own eyes, told, or not known. A
// difference that a count finds is shown at once, and can be owned up to.
import { useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { useHandIn } from "../form";
import type { Choice as Named, Standing, Who } from "../models/choices";
import type { Counted as Model, Counting, Found } from "../models/counted";
import { Button, Card, Choice, Form, NoBike, RefusalList, Save, Sheet, Stepper, TextField } from "../ui";
import { DisputeCard } from "../ui/dispute";
import { People } from "../ui/people";
import { Picked } from "../ui/picked";
import { Tiles } from "../ui/tiles";
import type { ScreenProps } from ".";

export function Counted(p: ScreenProps) {
  const [adjuster, setAdjuster] = useState(p.query.get("adjuster") ?? "");
  const [saved, setSaved] = useState("");
  const { model, refusals } = useView<Model>("counted", { adjuster });
  if (!model) return <NoBike refusals={refusals} />;
  const picked = model.picked?.id === adjuster ? model.picked : undefined;
  const done = (c: Counting) => {
    setSaved(`${c.name} is in the book.`);
    setAdjuster(c.next ?? "");
    scrollTo(0, 0);
  };
  const found = model.found.filter((f) => !picked || saved || f.adjuster === adjuster).map((f) => <FoundCard key={f.entry} found={f} people={model.people} />);
  return (
    <>
      <p role="status" class="saved">{saved}</p>
      {picked
        ? (
          <>
            <Count key={picked.id} bike={model.bike} picked={picked} onDone={() => done(picked)} onLeave={() => setAdjuster("")} />
            {found}
          </>
        )
        : (
          <>
            {found}
            <p class="lead">What did you count? Count it, do not turn it.</p>
            <Tiles groups={model.groups} onPick={(id) => { setSaved(""); setAdjuster(id); }} />
          </>
        )}
    </>
  );
}

interface CountForm {
  standing: Standing;
  at: number | null;
  note: string;
}

const standings = [
  { value: "counted", label: "Counted", detail: "I saw it myself" },
  { value: "assumed", label: "Assumed", detail: "Told, or read" },
  { value: "unknown", label: "Don't know" },
] as const;

function Count(p: { bike: string; picked: Counting; onDone: () => void; onLeave: () => void }) {
  const c = p.picked;
  const key = `counted:${c.id}`;
  const [form, change, forget] = useDraft<CountForm>(key, { standing: "counted", at: c.value ?? null, note: "" });
  const { refusals, send } = useHandIn("counted", key, p.onDone);
  return (
    <Form onSubmit={() => send({ ...form, bike: p.bike, adjuster: c.id }, forget)}>
      {c.disputed && <DisputeCard dispute={c.disputed} here />}
      <Card>
        <Picked name={c.name} says={`The book says ${c.at}${c.seen ? `, ${c.seen}` : ""}.`} again="Another one" onAgain={p.onLeave} />
        {form.standing !== "unknown" && (
          <Stepper label="Where it stands" name="at" unit={`${c.unit} ${c.way}`.trim()} value={form.at} onChange={(at) => change({ at })} step={c.step} min={c.min} max={c.max} refusals={refusals} hint={`From: ${c.from}.`} />
        )}
        <Choice legend="How sure are you?" options={standings} value={form.standing} onChange={(standing) => change({ standing })} />
        <TextField label="Note, if you like" name="note" value={form.note} onChange={(note) => change({ note })} refusals={refusals} />
        <RefusalList refusals={refusals} except={["at", "note"]} />
      </Card>
      <Save>Write it down</Save>
    </Form>
  );
}

/** A difference without an author, and the way to give it one. */
export function FoundCard(p: { found: Found; people: readonly Named[] }) {
  const [owning, setOwning] = useState(false);
  return (
    <Card tone="warn" id={`found-${p.found.entry}`}>
      <h2>{p.found.title}</h2>
      <p>{p.found.window}. Nobody has owned up to it.</p>
      <Button onClick={() => setOwning(true)} label={`I know who it was: ${p.found.name}`}>I know who it was</Button>
      <Sheet title="Who turned it?" open={owning} onClose={() => setOwning(false)}>
        <Own found={p.found} people={p.people} onDone={() => setOwning(false)} />
      </Sheet>
    </Card>
  );
}

function Own(p: { found: Found; people: readonly Named[]; onDone: () => void }) {
  const key = `owned:${p.found.entry}`;
  const [form, change] = useDraft<{ turned: Who; why: string }>(key, { turned: {}, why: "" });
  const { refusals, send } = useHandIn("owned", key, p.onDone);
  return (
    <>
      <p>{p.found.title}.</p>
      <People legend="It was" people={p.people} value={form.turned} onChange={(turned) => change({ turned })} name="turned" refusals={refusals} />
      <TextField label="Why, if they said" name="why" value={form.why} onChange={(why) => change({ why })} refusals={refusals} />
      <RefusalList refusals={refusals} except={["turned", "why"]} />
      <Button main onClick={() => void send({ ...form, found: p.found.entry })}>Write it down</Button>
    </>
  );
}
