// A fall: write it down, get the front end straight, and only then ride.
import { useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { useHandIn } from "../form";
import type { Fall as Model } from "../models/fall";
import type { FirstLook } from "../models/firstlook";
import { go } from "../router";
import { Button, Card, Choice, DayField, Form, NoBike, RefusalList, Row, Rows, Save, TextField } from "../ui";
import { Inspect } from "../ui/inspect";
import type { ScreenProps } from ".";

export function Fall() {
  const { model: m, refusals } = useView<Model>("fall");
  const [cleared, setCleared] = useState(false);
  if (!m) return <NoBike refusals={refusals} />;
  if (!m.stop) {
    return (
      <>
        {cleared && <Card><p role="status"><strong>The book has it as straight again.</strong> Ride the first lap slowly and feel whether it goes straight.</p></Card>}
        <Fell m={m} />
      </>
    );
  }
  return (
    <>
      <Card tone="stop" id="stop"><p><strong>{m.stop}</strong></p><p>{m.last}</p></Card>
      <Straighten m={m} />
      <Inspect bike={m.bike} ask={m.check} onDone={() => setCleared(true)} />
      <Card title="Look at these, too">
        <Rows>{m.also.map((c) => <Row key={c.check} href={`/checks?check=${c.check}`} title={`${c.since ? "✓" : "○"} ${c.title}`} says={c.says} />)}</Rows>
      </Card>
    </>
  );
}

function Straighten(p: { m: Model }) {
  const [form, change] = useDraft<{ ticked: string[] }>(`straighten:${p.m.last}`, { ticked: [] });
  const flip = (id: string) => change({ ticked: form.ticked.includes(id) ? form.ticked.filter((x) => x !== id) : [...form.ticked, id] });
  return (
    <Card title="Get it straight">
      <ol class="straighten">
        {p.m.steps.map((s) => (
          <li key={s.id}>
            <label class="chip"><input type="checkbox" checked={form.ticked.includes(s.id)} onChange={() => flip(s.id)} /><span>{s.title}</span></label>
            <p>{s.how}</p>
            {s.caution && <p class="caution"><strong>Take care:</strong> {s.caution}</p>}
          </li>
        ))}
      </ol>
    </Card>
  );
}

function Fell(p: { m: Model }) {
  const [form, change, forget] = useDraft("fell", { side: "", speed: "", track: "", when: "", note: "" });
  const { refusals, send } = useHandIn("fell", "fell", () => scrollTo(0, 0));
  const named = (list: Model["sides"]) => list.map((c) => ({ value: c.id, label: c.name }));
  return (
    <Form onSubmit={() => send({ ...form, bike: p.m.bike }, forget)}>
      <Card title="It fell over">
        <p>Are you hurt? See to yourself first. A tip-over on the stand counts as well.</p>
        <Choice legend="Which side?" options={named(p.m.sides)} value={form.side} onChange={(side) => change({ side })} />
        <Choice legend="How fast?" options={named(p.m.speeds)} value={form.speed} onChange={(speed) => change({ speed })} />
        {p.m.tracks.length > 0 && <Choice legend="Where?" options={named(p.m.tracks)} value={form.track} onChange={(track) => change({ track })} />}
        <DayField label="When, if not today" name="when" value={form.when} onChange={(when) => change({ when })} refusals={refusals} />
        <TextField label="What happened" name="note" long value={form.note} onChange={(note) => change({ note })} />
        <RefusalList refusals={refusals} except={["when"]} />
      </Card>
      <Save>Write the fall down</Save>
    </Form>
  );
}

/** One check by itself: /checks?check=chain. */
export function Check(p: ScreenProps) {
  const { model: m } = useView<FirstLook>("firstlook", { step: `check:${p.query.get("check") ?? "straight"}` });
  if (!m?.now?.check) return m ? <p class="empty">There is no such check. <a href="/bike">Go to the bike</a></p> : null;
  return <Inspect key={m.now.id} bike={m.bike} ask={m.now.check} onDone={() => go("/bike#checks")} />;
}
