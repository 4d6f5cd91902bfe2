// The hook beside signal.ts, which itself must not need the drawing library:
// the service worker uses it too.
import { useEffect, useState } from "preact/hooks";
import type { Signal } from "./signal";

/** useSignal draws a component anew when the value changes. */
export function useSignal<T>(s: Signal<T>): T {
  const [v, set] = useState(() => ({ v: s.get() }));
  useEffect(() => {
    set({ v: s.get() });
    return s.watch((next) => set({ v: next }));
  }, [s]);
  return v.v;
}
