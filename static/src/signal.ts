// A value that can be watched: the smallest thing that app, doors and screens
// need to share state.
import { useEffect, useState } from "preact/hooks";

/** A watched value. */
export interface Signal<T> {
  get(): T;
  set(v: T): void;
  watch(fn: (v: T) => void): () => void;
}

export function signal<T>(v: T): Signal<T> {
  const watchers = new Set<(v: T) => void>();
  return {
    get: () => v,
    set(next) {
      v = next;
      for (const fn of [...watchers]) fn(v);
    },
    watch(fn) {
      watchers.add(fn);
      return () => watchers.delete(fn);
    },
  };
}

/** useSignal draws a component anew when the value changes. */
export function useSignal<T>(s: Signal<T>): T {
  const [v, set] = useState(() => ({ v: s.get() }));
  useEffect(() => {
    set({ v: s.get() });
    return s.watch((next) => set({ v: next }));
  }, [s]);
  return v.v;
}
