import { useId } from "preact/hooks";
import { RefusalFor, refusalId } from "./refusal";
import type { Refusal } from "../core";

interface TextProps {
  label: string;
  /** The form's field, where refusals look for it. */
  name: string;
  value: string;
  onChange: (v: string) => void;
  refusals?: readonly Refusal[];
  hint?: string;
  /** Several lines. */
  long?: boolean;
  /** Words offered while typing. */
  offers?: readonly string[];
}

/** DayField is a date as well as the rider knows it. */
export function DayField(p: Omit<TextProps, "hint" | "long" | "offers">) {
  return <TextField {...p} hint="Year, month, day: 2025-06-14. 2025-06 or 2025 will do, too." />;
}

/** TextField is a line, or several, of the rider's own words. */
export function TextField(p: TextProps) {
  const id = useId();
  const wrong = p.refusals?.some((r) => r.field === p.name) ? ("true" as const) : undefined;
  const shared = { id, name: p.name, value: p.value, "aria-invalid": wrong, "aria-describedby": refusalId(p.name) };
  return (
    <div class="field">
      <label for={id}>{p.label}</label>
      {p.long
        ? <textarea {...shared} rows={3} onInput={(e) => p.onChange(e.currentTarget.value)} />
        : <input {...shared} list={p.offers && `${id}-offers`} autocomplete="off" onInput={(e) => p.onChange(e.currentTarget.value)} />}
      {p.offers && <datalist id={`${id}-offers`}>{p.offers.map((o) => <option key={o} value={o} />)}</datalist>}
      {p.hint && <p class="hint">{p.hint}</p>}
      <RefusalFor refusals={p.refusals ?? []} field={p.name} />
    </div>
  );
}
