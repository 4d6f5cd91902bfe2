// Picking a person: the book's people as chips, or a new one by name.
import { useState } from "preact/hooks";
import { Choice } from "./choice";
import { RefusalFor } from "./refusal";
import { TextField } from "./text";
import type { Refusal } from "../core";
import type { Choice as Named, Who } from "../models/choices";

const another = "+";

interface PeopleProps {
  legend: string;
  people: readonly Named[];
  value: Who;
  onChange: (w: Who) => void;
  /** The form's field, where refusals look for it. */
  name: string;
  refusals?: readonly Refusal[];
}

export function People(p: PeopleProps) {
  const [typing, setTyping] = useState(false);
  const open = typing || (!p.value.id && p.value.name !== undefined);
  const pick = (v: string) => {
    setTyping(v === another);
    p.onChange(v === another ? { name: "", role: "friend" } : { id: v });
  };
  const options = [...p.people.map((x) => ({ value: x.id, label: x.name })), { value: another, label: "Someone new" }];
  return (
    <>
      <Choice legend={p.legend} options={options} value={open ? another : (p.value.id ?? "")} onChange={pick}>
        <RefusalFor refusals={p.refusals ?? []} field={p.name} />
      </Choice>
      {open && <TextField label="Their name" name={`${p.name}-name`} value={p.value.name ?? ""} onChange={(name) => p.onChange({ name, role: "friend" })} />}
    </>
  );
}
