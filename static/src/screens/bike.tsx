// Bike: the plumb picture, and what happened to the bike.
import { useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { useHandIn } from "../form";
import { PlumbPicture, PlumbTable } from "../draw/plumb";
import { SideView } from "../draw/side";
import type { BikeEvent, BikeForm, BikePage, OwnDef, SettingPage } from "../models/bike";
import type { Who } from "../models/choices";
import { Button, Card, Choice, DayField, Fold, Form, NoBike, NumberField, RefusalFor, RefusalList, Row, Rows, Sheet, TextField } from "../ui";
import { DisputeCard } from "../ui/dispute";
import { People } from "../ui/people";
import { PhotoCard } from "../ui/photos";
import type { ScreenProps } from ".";

type Opened = "" | "service" | "part" | "bike" | "adjuster";

export function Bike() {
  const [line, setLine] = useState("");
  const [on, setOn] = useState("");
  const [opened, setOpened] = useState<Opened>("");
  const { model: m, refusals } = useView<BikePage>("bike", { line, on });
  if (!m) return <NoBike refusals={refusals} />;
  const close = () => setOpened("");
  const { plumb, says } = m;
  return (
    <>
      {m.stop && <Card tone="stop"><p><strong>{m.stop}</strong></p><a class="button button-danger" href="/fall">Get it straight</a></Card>}
      {m.disputes.map((d) => <DisputeCard key={d.adjuster} dispute={d} />)}
      <p class="today-bike">{m.bike.name}</p>
      <Card title={plumb.line ? `Against '${plumb.name}'` : "No line drawn yet"}>
        <PlumbPicture plumb={plumb} href={(id) => `/bike/setting/${encodeURIComponent(id)}`} />
        <p>{plumb.says}</p>
        <p class="hint">The edge is {plumb.scale} steps from the line. Hollow: not known, or not in the line. Tap one to see who, whose idea and why.</p>
        <PlumbTable plumb={plumb} />
        <details class="fold">
          <summary>Another line, or another day</summary>
          <div class="flow">
            {plumb.lines.length > 1 && <Choice legend="Line" options={plumb.lines.map((l) => ({ value: l.id, label: l.name }))} value={plumb.line} onChange={setLine} />}
            <div class="field"><label for="bike-on">As it stood on</label><input id="bike-on" type="date" value={on} onInput={(e) => setOn(e.currentTarget.value)} /></div>
          </div>
        </details>
        <div class="row"><a class="button" href="/wayback">Way back</a><Button onClick={() => setOpened("adjuster")}>Add adjuster</Button></div>
      </Card>
      <Fold id="side" title="From the side" says={says.side}><SideView side={m.side} /></Fold>
      <Fold id="measured" title="Measured" says={says.measured}>
        <Rows>{m.measured.map((l) => <Row key={l.topic} look={`measure-${l.state}`} href={`/measure/${l.topic}`} title={l.name} says={l.says} />)}</Rows>
        <a class="button" href="/measure">Measure</a>
      </Fold>
      <Fold id="checks" title="Checks" says={says.checks}>
        <Rows>
          {m.checks.map((c) => (
            <Row key={c.check} href={`/checks?check=${c.check}`} title={c.title} says={c.note ? `${c.says}, ${c.note}` : c.says}>
              {c.stop && <strong class="refusal">{c.stop}</strong>}
            </Row>
          ))}
        </Rows>
      </Fold>
      <Card title="What is due"><p>{m.due}</p><a class="button" href="/due">Services, tyres, meters</a></Card>
      <Fold id="services" title="Services" says={says.services}>
        <Events list={m.services} />
        <Button onClick={() => setOpened("service")}>Add a service</Button>
      </Fold>
      <Fold id="parts" title="Parts" says={says.parts}>
        <Events list={m.parts} />
        <Button onClick={() => setOpened("part")}>Add a part</Button>
      </Fold>
      <Fold id="falls" title="Falls" says={says.falls}>
        <Events list={m.falls} />
        <a class="button" href="/fall">It fell</a>
      </Fold>
      <Fold id="bike" title="The bike and its rider" says={says.bike}>
        <Rows>{m.facts.map((f) => <Row key={f.id} href={`/first-look?step=${f.id}`} title={f.title} says={f.answer || "not answered"} />)}</Rows>
        <div class="row"><Button onClick={() => setOpened("bike")}>Change its name, tyres, rider</Button><a class="button" href="/first-look">First look</a></div>
      </Fold>
      <PhotoCard />
      <Sheet title="A service" open={opened === "service"} onClose={close}><Work m={m} action="service" onDone={close} /></Sheet>
      <Sheet title="A part" open={opened === "part"} onClose={close}><Work m={m} action="part" onDone={close} /></Sheet>
      <Sheet title="Your bike" open={opened === "bike"} onClose={close}><Describe bike={m.bike} mass={m.massUnit} onDone={close} /></Sheet>
      <Sheet title="An adjuster of your own" open={opened === "adjuster"} onClose={close}>
        <Define def={{ bike: m.bike.bike, adjuster: "", name: "", group: "own", unit: "mm", shown: "", step: 1, min: 0, max: 20, from: "", more: "more", less: "less", retired: false }} onDone={close} />
        {m.adjusters.some((d) => d.retired) && <p>Not on the bike: {m.adjusters.filter((d) => d.retired).map((d) => <a key={d.adjuster} class="button" href={`/bike/setting/${encodeURIComponent(d.adjuster)}`}>{d.name}</a>)}</p>}
      </Sheet>
    </>
  );
}

function Events(p: { list: BikeEvent[] }) {
  return <Rows>{p.list.map((e) => <Row key={e.entry} href={`/line/${e.entry}`} title={e.title} says={e.says} />)}</Rows>;
}

function Work(p: { m: BikePage; action: "service" | "part"; onDone: () => void }) {
  const key = `bike:${p.action}`;
  const [form, change, forget] = useDraft<{ what: string; part: string; when: string; done: Who; note: string }>(key, { what: "", part: "", when: "", done: {}, note: "" });
  const { refusals, send } = useHandIn(p.action, key, p.onDone);
  return (
    <Form onSubmit={() => send({ ...form, bike: p.m.bike.bike }, forget)}>
      {p.action === "service"
        ? <Choice legend="What was done?" options={p.m.works.map((w) => ({ value: w.id, label: w.name }))} value={form.what} onChange={(what) => change({ what })}><RefusalFor refusals={refusals} field="what" /></Choice>
        : <TextField label="What was fitted?" name="part" value={form.part} onChange={(part) => change({ part })} refusals={refusals} />}
      <DayField label="When, if not today" name="when" value={form.when} onChange={(when) => change({ when })} refusals={refusals} />
      <People legend="Who did it?" people={p.m.people} value={form.done} onChange={(done) => change({ done })} name="done" refusals={refusals} />
      <TextField label="Note" name="note" value={form.note} onChange={(note) => change({ note })} refusals={refusals} />
      <Button main submit>Write it down</Button>
    </Form>
  );
}

function Describe(p: { bike: BikeForm; mass: string; onDone: () => void }) {
  const [form, change, forget] = useDraft<BikeForm>("bike:describe", p.bike);
  const { refusals, send } = useHandIn("bike", "bike:describe", p.onDone);
  return (
    <Form onSubmit={() => send(form, forget)}>
      <TextField label="What you call it" name="name" value={form.name} onChange={(name) => change({ name })} refusals={refusals} />
      <TextField label="What kind of bike" name="class" value={form.class ?? ""} onChange={(v) => change({ class: v })} />
      <NumberField label="Model year" name="year" value={form.year ?? null} onChange={(v) => change({ year: v ?? 0 })} refusals={refusals} />
      <TextField label="Tyres" name="tyres" value={form.tyres ?? ""} onChange={(tyres) => change({ tyres })} />
      <NumberField label="Rider in full kit" name="rider" unit={p.mass} value={form.rider ?? null} onChange={(v) => change(v === null ? {} : { rider: v })} refusals={refusals} />
      <Button main submit>Write it down</Button>
    </Form>
  );
}

const units = [{ value: "mm", label: "mm" }, { value: "click", label: "clicks" }, { value: "turn", label: "turns" }, { value: "tooth", label: "teeth" }] as const;

function Define(p: { def: OwnDef; onDone: () => void }) {
  const key = `adjuster:${p.def.adjuster}`;
  const [form, change, forget] = useDraft<OwnDef>(key, p.def);
  const { refusals, send } = useHandIn("adjuster", key, p.onDone);
  return (
    <Form onSubmit={() => send(form, forget)}>
      <TextField label="Name" name="name" value={form.name} onChange={(name) => change({ name })} refusals={refusals} />
      {p.def.adjuster === "" && <Choice legend="Counted in" options={units} value={form.unit as "mm"} onChange={(unit) => change({ unit })} />}
      <TextField label="Where counting starts" name="from" value={form.from} onChange={(from) => change({ from })} />
      <NumberField label="One step" name="step" unit={form.shown} value={form.step} onChange={(v) => change({ step: v ?? 0 })} refusals={refusals} />
      <NumberField label="Lowest" name="min" unit={form.shown} value={form.min} onChange={(v) => change({ min: v ?? 0 })} refusals={refusals} />
      <NumberField label="Highest" name="max" unit={form.shown} value={form.max} onChange={(v) => change({ max: v ?? 0 })} refusals={refusals} />
      {p.def.adjuster !== "" && <Choice legend="On the bike?" options={[{ value: "yes", label: "Yes" }, { value: "no", label: "No" }]} value={form.retired ? "no" : "yes"} onChange={(v) => change({ retired: v === "no" })} />}
      <RefusalList refusals={refusals} except={["name", "step", "min", "max"]} />
      <Button main submit>Write it down</Button>
    </Form>
  );
}

/** One adjuster's full line: /bike/setting/:id. */
export function Setting(p: ScreenProps) {
  const [editing, setEditing] = useState(false);
  const { model: m, refusals } = useView<SettingPage>("setting", { adjuster: p.params.id });
  if (!m) return <RefusalList refusals={refusals} />;
  const q = encodeURIComponent(m.def.adjuster);
  return (
    <>
      {m.disputed && <DisputeCard dispute={m.disputed} />}
      <Card title={m.def.name}>
        <p class="setting-at">{m.at}</p>
        <p>{m.seen || "Never counted"}. {m.line}</p>
        {m.geometry && <p>{m.geometryLink ? <a href={m.geometryLink}>{m.geometry}</a> : m.geometry}</p>}
        {!m.def.retired && <div class="row"><a class="button" href={`/turned?adjuster=${q}`}>Turned it</a><a class="button" href={`/counted?adjuster=${q}`}>Counted it</a></div>}
        <p class="hint">Counted from: {m.def.from || "not said"}. More: {m.def.more}. Less: {m.def.less}.</p>
        <Button onClick={() => setEditing(true)}>Range and name</Button>
      </Card>
      <Card title="Its line">
        {m.marks.length === 0 && <p>Nothing in the book yet.</p>}
        <Rows>
          {m.marks.map((k) => {
            const says = [k.when, k.who && `turned by ${k.who}`, k.idea && `${k.idea}'s idea`, k.why && `because: ${k.why}`, k.unowned && "nobody has owned up to it"];
            return <Row key={k.entry} href={`/line/${k.entry}`} title={k.title} says={says.filter(Boolean).join("; ")} />;
          })}
        </Rows>
        {m.marks.some((k) => k.unowned) && <a class="button" href="/counted">I know who it was</a>}
      </Card>
      <a class="button" href="/bike">Back to the bike</a>
      <Sheet title={m.def.name} open={editing} onClose={() => setEditing(false)}><Define def={m.def} onDone={() => setEditing(false)} /></Sheet>
    </>
  );
}
