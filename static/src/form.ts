// Handing a form in: what was refused stays beside it, what was taken is gone.
import { useState } from "preact/hooks";
import { act, type Refusal } from "./book";

/** useHandIn hands a form in under its draft's key, and keeps what was refused. */
export function useHandIn(action: string, key: string | undefined, onDone: () => void) {
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const send = async (form: unknown, forget?: () => void) => {
    const done = await act(action, form, key);
    if ("refusals" in done) return setRefusals(done.refusals);
    setRefusals([]);
    forget?.();
    onDone();
  };
  return { refusals, send };
}
