// Came in: report a session in half a minute. Everything can be left out.
import { useState } from "preact/hooks";
import { act, useDraft, useView, type Refusal } from "../book";
import type { CameIn as Model } from "../models/camein";
import { go } from "../router";
import { Button, Choice, NumberField, RefusalList, TextField } from "../ui";

interface Form {
  track: { id?: string; name?: string };
  felt: string;
  front: number | null;
  rear: number | null;
  air: number | null;
  wet: boolean;
  laps: string;
  note: string;
}

const empty: Form = { track: {}, felt: "", front: null, rear: null, air: null, wet: false, laps: "", note: "" };
const another = "+";
const feels = [{ value: "better", label: "Better" }, { value: "same", label: "Same" }, { value: "worse", label: "Worse" }];
const grounds = [{ value: "dry", label: "Dry" }, { value: "wet", label: "Wet" }];

export function CameIn() {
  const [form, change, forget] = useDraft<Form>("camein", empty);
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const { model } = useView<Model>("camein", { laps: form.laps });
  if (!model) return null;
  const track = form.track.name !== undefined ? another : form.track.id ?? model.track;
  const save = async () => {
    const done = await act("session", { ...form, track: form.track.name === undefined ? { id: track } : form.track }, "camein");
    if ("refusals" in done) return setRefusals(done.refusals);
    forget();
    go("/why");
  };
  const tracks = [...model.tracks.map((t) => ({ value: t.id, label: t.name })), { value: another, label: "Another track" }];
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void save(); }}>
      <Choice legend="How did it feel?" options={feels} value={form.felt} onChange={(felt) => change({ felt })} />
      <Choice legend="Where?" options={tracks} value={track} onChange={(v) => change({ track: v === another ? { name: "" } : { id: v } })} />
      {form.track.name !== undefined && <TextField label="Track" name="track" value={form.track.name} onChange={(name) => change({ track: { name } })} refusals={refusals} />}
      <Choice legend="The track was" options={grounds} value={form.wet ? "wet" : "dry"} onChange={(v) => change({ wet: v === "wet" })} />
      <NumberField label="Front tyre, hot" name="front" unit={model.pressure} value={form.front} onChange={(front) => change({ front })} refusals={refusals} />
      <NumberField label="Rear tyre, hot" name="rear" unit={model.pressure} value={form.rear} onChange={(rear) => change({ rear })} refusals={refusals} />
      <NumberField label="Air" name="air" unit="°C" value={form.air} onChange={(air) => change({ air })} refusals={refusals} />
      <TextField label="Laps, one on each line" name="laps" long value={form.laps} onChange={(laps) => change({ laps })} refusals={refusals} hint="1:52.4 or 112.4" />
      {model.read.length > 0 && <p role="status" class="quiet">Read as {model.read.join(", ")}</p>}
      <TextField label="In your own words" name="note" value={form.note} onChange={(note) => change({ note })} refusals={refusals} />
      <RefusalList refusals={refusals.filter((r) => !["front", "rear", "air", "laps", "note", "track"].includes(r.field))} />
      <Button id="save" main submit>Write it down</Button>
      <p class="quiet">Next you can say what the bike does.</p>
    </form>
  );
}
