import { useId } from "preact/hooks";
import type { ComponentChildren } from "preact";

export interface Option<T extends string> {
  value: T;
  label: string;
  detail?: string;
}

interface Shared<T extends string> {
  legend: string;
  options: readonly Option<T>[];
  /** For instance a RefusalFor. */
  children?: ComponentChildren;
}

/** Choice is one of several, as chips. */
export function Choice<T extends string>(p: Shared<T> & { value: T | ""; onChange: (v: T) => void }) {
  const name = useId();
  return (
    <Chips legend={p.legend} below={p.children}>
      {p.options.map((o) => (
        <Chip key={o.value} option={o} type="radio" name={name} on={p.value === o.value} onChange={() => p.onChange(o.value)} />
      ))}
    </Chips>
  );
}

/** Choices is any number of several, as chips. */
export function Choices<T extends string>(p: Shared<T> & { value: readonly T[]; onChange: (v: T[]) => void }) {
  const name = useId();
  const flip = (v: T) => p.onChange(p.value.includes(v) ? p.value.filter((x) => x !== v) : [...p.value, v]);
  return (
    <Chips legend={p.legend} below={p.children}>
      {p.options.map((o) => (
        <Chip key={o.value} option={o} type="checkbox" name={name} on={p.value.includes(o.value)} onChange={() => flip(o.value)} />
      ))}
    </Chips>
  );
}

function Chips(p: { legend: string; children: ComponentChildren; below?: ComponentChildren }) {
  return (
    <fieldset class="choice">
      <legend>{p.legend}</legend>
      <div class="chips">{p.children}</div>
      {p.below}
    </fieldset>
  );
}

function Chip<T extends string>(p: { option: Option<T>; type: "radio" | "checkbox"; name: string; on: boolean; onChange: () => void }) {
  return (
    <label class="chip">
      <input type={p.type} name={p.name} value={p.option.value} checked={p.on} onChange={p.onChange} />
      <span>
        {p.option.label}
        {p.option.detail && <small>{p.option.detail}</small>}
      </span>
    </label>
  );
}
