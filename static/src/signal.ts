// A value that can be watched: the smallest thing that app, doors and screens
// need to share state. Drawing from one is in usesignal.ts.

/** A watched value. */
export interface Signal<T> {
  get(): T;
  set(v: T): void;
  watch(fn: (v: T) => void): () => void;
}

/** signal is a watched value that begins as v. */
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
