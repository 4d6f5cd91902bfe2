// One number with big keys under the thumb; a real keyboard works as well.
import { useRef, useState } from "preact/hooks";
import { refusalId } from "./refusal";
import type { MeasureStep } from "../models/measure";

const keys = ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "±"];
const spoken: Record<string, string> = { ".": "point", "±": "plus or minus" };

/** NumberKeys shows the number and types into it. What is typed is handed on with its unit. */
export function NumberKeys(p: { step: MeasureStep; ready: boolean; onType: (typed: string) => void; onUnit: (unit: string) => void; onNext: () => void; onUnknown: () => void }) {
  const { step: s } = p;
  const [text, setText] = useState(s.value);
  const now = useRef(text); // keys may come faster than the page is drawn
  const fresh = useRef(true); // the first key replaces what was filled in
  const type = (t: string) => {
    fresh.current = false;
    setText((now.current = t));
    p.onType(t === "" ? "" : /\d$/.test(t) && s.unit ? `${t} ${s.unit}` : t);
  };
  const other = s.units.length > 1 ? s.units[(s.units.indexOf(s.unit) + 1) % s.units.length] : undefined;
  const press = (k: string) => {
    const was = fresh.current && k !== "±" ? "" : now.current;
    if (k === "±") return type(was.startsWith("-") ? was.slice(1) : `-${was}`);
    if (k === "." && was.includes(".")) return;
    type(was + k);
  };
  return (
    <div class="keys">
      <div class="keys-shows">
        <input
          name={s.symbol} value={text} inputMode="none" autocomplete="off" aria-label={`${s.title}, in ${s.unit || "plain numbers"}`}
          aria-invalid={s.refusal ? "true" : undefined} aria-describedby={refusalId(s.symbol)}
          onInput={(e) => type(e.currentTarget.value)} onKeyDown={(e) => e.key === "Enter" && p.ready && p.onNext()}
        />
        {other ? <button type="button" class="unit-key" onClick={() => p.onUnit(other)}>{s.unit} <small>⇄<span class="away"> change to</span> {other}</small></button> : <span class="unit">{s.unit === "deg" ? "°" : s.unit}</span>}
      </div>
      <div class="keys-grid">
        {keys.map((k) => <button key={k} type="button" class="key" aria-label={spoken[k]} onClick={() => press(k)}>{k}</button>)}
        <button type="button" class="key key-delete" aria-label="delete" onClick={() => type(now.current.slice(0, -1))}>⌫</button>
        <button type="button" class="key key-unknown" onClick={p.onUnknown}>Don't know</button>
        <button type="button" class="key key-next" disabled={!p.ready} onClick={p.onNext}>Next</button>
      </div>
    </div>
  );
}
