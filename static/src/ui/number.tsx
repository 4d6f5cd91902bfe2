// Numbers: typed, stepped, or tapped on a keypad with gloves on. A value is a
// number or null (not said); whole thousandths, as the core keeps them.
import { useEffect, useId, useState } from "preact/hooks";
import { RefusalFor, refusalId } from "./refusal";
import { Sheet } from "./sheet";
import { Icon } from "./parts";
import type { Refusal } from "../core";

interface NumberProps {
  label: string;
  /** The form's field, where refusals look for it. */
  name: string;
  unit?: string;
  value: number | null;
  onChange: (v: number | null) => void;
  refusals?: readonly Refusal[];
  hint?: string;
}

const thousandth = (v: number) => Math.round(v * 1000) / 1000;

/** readNumber reads what was typed, with point or comma; undefined when it is no number. */
function readNumber(typed: string): number | null | undefined {
  const t = typed.trim().replace(",", ".").replace("−", "-");
  if (t === "") return null;
  return /^-?(\d+\.?\d*|\.\d+)$/.test(t) ? thousandth(Number(t)) : undefined;
}

// Gauges print every place: 33.0 psi beside 33.8.
const places: Record<string, number> = { psi: 1, bar: 2 };

function written(value: number | null, unit = ""): string {
  if (value === null) return "";
  const plain = String(value);
  const least = value.toFixed(places[unit] ?? 0);
  return Number(least) === value && least.length > plain.length ? least : plain;
}

// useTyped keeps the text as typed while it means the value.
function useTyped({ value, unit, onChange }: NumberProps) {
  const [text, setText] = useState(written(value, unit));
  useEffect(() => {
    if (readNumber(text) !== value) setText(written(value, unit));
  }, [value]);
  const type = (t: string) => {
    setText(t);
    const v = readNumber(t);
    if (v !== undefined) onChange(v);
  };
  return { text, type, odd: readNumber(text) === undefined };
}

interface BoxProps extends NumberProps {
  id: string;
  typed: ReturnType<typeof useTyped>;
}

function Box(p: BoxProps) {
  const wrong = p.typed.odd || p.refusals?.some((r) => r.field === p.name);
  return (
    <span class="number-box">
      <input
        id={p.id} name={p.name} inputMode="decimal" autocomplete="off" enterkeyhint="done"
        value={p.typed.text} onInput={(e) => p.typed.type(e.currentTarget.value)}
        aria-invalid={wrong ? "true" : undefined} aria-describedby={`${p.id}-unit ${refusalId(p.name)}`}
      />
      <span id={`${p.id}-unit`} class="unit">{p.unit}</span>
    </span>
  );
}

function Below(p: { name: string; odd: boolean; refusals?: readonly Refusal[]; hint?: string }) {
  return (
    <>
      {p.hint && <p class="hint">{p.hint}</p>}
      {p.odd && <p class="refusal" role="alert">This is not a number. Use digits and one point.</p>}
      <RefusalFor refusals={p.refusals ?? []} field={p.name} />
    </>
  );
}

/** Stepper is a number with − and + of 56 px beside it. */
export function Stepper(p: NumberProps & { step: number; min?: number; max?: number; start?: number }) {
  const id = useId();
  const typed = useTyped(p);
  const low = p.min ?? -Infinity;
  const high = p.max ?? Infinity;
  const by = (d: number) => p.onChange(Math.min(high, Math.max(low, thousandth((p.value ?? p.start ?? p.min ?? 0) + d))));
  return (
    <div class="field">
      <label for={id}>{p.label}</label>
      <div class="stepper">
        <button type="button" class="step" aria-label={`${p.label}: less`} disabled={p.value !== null && p.value <= low} onClick={() => by(-p.step)}>−</button>
        <Box {...p} id={id} typed={typed} />
        <button type="button" class="step" aria-label={`${p.label}: more`} disabled={p.value !== null && p.value >= high} onClick={() => by(p.step)}>+</button>
      </div>
      <Below {...p} odd={typed.odd} />
    </div>
  );
}

/** NumberField is a number with its unit, typed or tapped on a keypad. */
export function NumberField(p: NumberProps) {
  const id = useId();
  const typed = useTyped(p);
  const [pad, setPad] = useState(false);
  return (
    <div class="field">
      <label for={id}>{p.label}</label>
      <div class="stepper">
        <Box {...p} id={id} typed={typed} />
        <button type="button" class="step" aria-label={`${p.label}: keypad`} onClick={() => setPad(true)}><Icon name="grid-3x3" /></button>
      </div>
      <Below {...p} odd={typed.odd} />
      <Sheet title={p.label} open={pad} onClose={() => setPad(false)}>
        <Keypad text={typed.text} unit={p.unit} onType={typed.type} onDone={() => setPad(false)} />
      </Sheet>
    </div>
  );
}

const keys = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", "⌫"];
const spoken: Record<string, string> = { ".": "point", "⌫": "delete" };

/** Keypad types digits with a gloved thumb. */
export function Keypad(p: { text: string; unit?: string; onType: (t: string) => void; onDone: () => void }) {
  const press = (k: string) => {
    if (k === "⌫") return p.onType(p.text.slice(0, -1));
    if (k === "." && p.text.includes(".")) return;
    p.onType(p.text + k);
  };
  const minus = () => p.onType(p.text.startsWith("-") ? p.text.slice(1) : "-" + p.text);
  return (
    <div class="keypad">
      <output class="keypad-shows">{p.text || "–"} <span class="unit">{p.unit}</span></output>
      {keys.map((k) => <button key={k} type="button" aria-label={spoken[k]} onClick={() => press(k)}>{k}</button>)}
      <button type="button" onClick={minus} aria-label="plus or minus">±</button>
      <button type="button" class="keypad-done" onClick={p.onDone}>Done</button>
    </div>
  );
}
