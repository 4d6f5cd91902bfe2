// The conditions of a session, for reporting and for correcting one.
import type { Refusal } from "../core";
import type { CameIn, CameInForm } from "../models/camein";
import type { Choice as Named } from "../models/choices";
import { Choice } from "./choice";
import { NumberField, Stepper } from "./number";
import { RefusalFor } from "./refusal";
import { TextField } from "./text";

const grounds = [{ value: "dry", label: "Dry" }, { value: "wet", label: "Wet" }] as const;
const winds = ["none", "light", "strong"];

interface HotProps {
  form: CameInForm;
  set: (part: Partial<CameInForm>) => void;
  pressure: string;
  step: number;
  /** Where − and + begin. */
  begin: CameIn["begin"];
  /** The last session's in words, if they are to be told. */
  last?: string | undefined;
  refusals: readonly Refusal[];
}

/** HotPressures are both tyres', right after coming in. */
export function HotPressures(p: HotProps) {
  const { form: f, set } = p;
  const shared = { unit: p.pressure, step: p.step, refusals: p.refusals };
  return (
    <fieldset class="pair">
      <legend>Hot pressures</legend>
      <Stepper {...shared} label="Front" name="front" start={p.begin.front} value={f.front} onChange={(front) => set({ front })} />
      <Stepper {...shared} label="Rear" name="rear" start={p.begin.rear} value={f.rear} onChange={(rear) => set({ rear })} />
      {p.last && <p class="hint">Last time {p.last}: − and + begin there.</p>}
    </fieldset>
  );
}

interface ConditionsProps {
  form: CameInForm;
  set: (part: Partial<CameInForm>) => void;
  tyres: readonly Named[];
  pressure: string;
  step: number;
  begin: CameIn["begin"];
  refusals: readonly Refusal[];
}

export function Conditions(p: ConditionsProps) {
  const { form: f, set, refusals } = p;
  return (
    <>
      <Choice legend="The track was" options={grounds} value={f.wet ? "wet" : "dry"} onChange={(v) => set({ wet: v === "wet" })} />
      <Stepper label="Air" name="air" unit="°C" step={1} start={20} value={f.air} onChange={(air) => set({ air })} refusals={refusals} />
      <Stepper label="Track surface" name="ground" unit="°C" step={1} start={f.air ?? 25} value={f.ground} onChange={(ground) => set({ ground })} refusals={refusals} />
      <TextField label="Wind" name="wind" value={f.wind} onChange={(wind) => set({ wind })} offers={winds} />
      {p.tyres.length > 0 && <Choice legend="Tyres" options={p.tyres.map((t) => ({ value: t.id, label: t.name }))} value={f.tyres} onChange={(tyres) => set({ tyres })} />}
      <Stepper label="Front tyre, cold" name="coldFront" unit={p.pressure} step={p.step} start={p.begin.coldFront} value={f.coldFront} onChange={(coldFront) => set({ coldFront })} refusals={refusals} />
      <Stepper label="Rear tyre, cold" name="coldRear" unit={p.pressure} step={p.step} start={p.begin.coldRear} value={f.coldRear} onChange={(coldRear) => set({ coldRear })} refusals={refusals} />
      <div class="field">
        <label for="ridden-when">When it was, if not just now</label>
        <input id="ridden-when" name="when" type="datetime-local" value={f.when} onInput={(e) => set({ when: e.currentTarget.value })} />
        <RefusalFor refusals={refusals} field="when" />
      </div>
      <NumberField label="Fuel on going out" name="fuel" unit="l" value={f.fuel} onChange={(fuel) => set({ fuel })} refusals={refusals} />
    </>
  );
}
