// Came in: report a session in half a minute. Everything can be left out, and
// what hardly changes within a day is filled in from the last session.
import { useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { useHandIn } from "../form";
import type { CameIn as Model, CameInForm } from "../models/camein";
import { go } from "../router";
import { Button, Card, Choice, NoBike, RefusalList, Sheet, TextField } from "../ui";
import { Conditions, HotPressures } from "../ui/conditions";
import { LapPad } from "../ui/lappad";

const empty: CameInForm = {
  track: {}, when: "", felt: "", air: null, ground: null, wet: false, wind: "", fuel: null, tyres: "", coldFront: null, coldRear: null,
  front: null, rear: null, laps: "", words: "", corner: "", repeat: "", note: "",
};
const another = "+";
const feels = [{ value: "better", label: "Better" }, { value: "same", label: "Same" }, { value: "worse", label: "Worse" }];
const repeats = [{ value: "once", label: "Once" }, { value: "some", label: "Some laps" }, { value: "every", label: "Every lap" }, { value: "purpose", label: "On purpose" }];
const beside = ["front", "rear", "air", "ground", "fuel", "coldFront", "coldRear", "laps", "note", "track", "when"];

export function CameIn() {
  const [form, change, forget] = useDraft<CameInForm>("camein", empty);
  const [touched, setTouched] = useDraft("camein-filled", { on: false });
  const { model: m, refusals: refused } = useView<Model>("camein", { laps: form.laps });
  const [pad, setPad] = useState(false);
  const { refusals, send } = useHandIn("session", "camein", () => {
    forget();
    setTouched({ on: false });
    go(form.felt === "worse" || form.words ? "/why" : "/session/latest");
  });
  if (!m) return <NoBike refusals={refused} />;
  const track = form.track.name !== undefined ? another : form.track.id ?? m.track;
  // What the last session of today says stands until the rider says otherwise.
  const whole: CameInForm = touched.on || !m.last.day
    ? { ...form, tyres: form.tyres || m.set }
    : { ...form, tyres: form.tyres || m.set, air: form.air ?? m.last.air, ground: form.ground ?? m.last.ground, wind: form.wind || m.last.wind, wet: form.wet || m.last.wet };
  const set = (part: Partial<CameInForm>) => change(part);
  const setDay = (part: Partial<CameInForm>) => {
    change({ ...whole, ...part, track: form.track });
    setTouched({ on: true });
  };
  const save = () => send({ ...whole, track: form.track.name === undefined ? { id: track } : form.track });
  const tracks = [...m.tracks.map((t) => ({ value: t.id, label: t.name })), { value: another, label: "Another track" }];
  const corners = m.corners.filter((c) => c.id.startsWith(`${track} `)).map((c) => ({ value: c.name, label: c.name }));
  return (
    <form class="flow camein" onSubmit={(e) => { e.preventDefault(); void save(); }}>
      <p class="lead">{m.title}. Leave out what you like.</p>
      <Choice legend="How did it feel?" options={feels} value={form.felt} onChange={(felt) => set({ felt })} />
      <Choice legend="Where?" options={tracks} value={track} onChange={(v) => set({ track: v === another ? { name: "" } : { id: v }, corner: "" })} />
      {form.track.name !== undefined && <TextField label="Track" name="track" value={form.track.name} onChange={(name) => set({ track: { name } })} refusals={refusals} />}
      <HotPressures form={form} set={set} pressure={m.pressure} step={m.step} begin={m.begin} last={m.last.hot} refusals={refusals} />
      <div class="field">
        <TextField label="Laps, one on each line" name="laps" long value={form.laps} onChange={(laps) => set({ laps })} refusals={refusals} hint="1:52.4, 52.4, or as you would say it" />
        {m.read.length > 0 && <p role="status" class="quiet">Read as {m.read.join(", ")}</p>}
        <Button id="lap-pad" onClick={() => setPad(true)}>Big keys</Button>
        <Sheet title="Laps" open={pad} onClose={() => setPad(false)}>
          <LapPad laps={form.laps} onChange={(laps) => set({ laps })} onDone={() => setPad(false)} />
        </Sheet>
      </div>
      <TextField label="What did it do?" name="words" value={form.words} onChange={(words) => set({ words })} refusals={refusals} hint="In your own words. 'Why' helps you further, if you like." />
      {form.words && corners.length > 0 && <Choice legend="Which corner?" options={corners} value={form.corner} onChange={(corner) => set({ corner: corner === form.corner ? "" : corner })} />}
      {form.words && <Choice legend="How often?" options={repeats} value={form.repeat} onChange={(repeat) => set({ repeat })} />}
      <details class="more">
        <summary>Weather, tyres, fuel, cold pressures</summary>
        <Card>
          <Conditions form={whole} set={setDay} tyres={m.tyres} pressure={m.pressure} step={m.step} begin={m.begin} refusals={refusals} />
        </Card>
      </details>
      <TextField label="Note" name="note" value={form.note} onChange={(note) => set({ note })} refusals={refusals} />
      <RefusalList refusals={refusals.filter((r) => !beside.includes(r.field))} />
      <div class="flow-end"><Button id="save" main submit>Write it down</Button></div>
    </form>
  );
}
