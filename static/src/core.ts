// The only door to the Go core. One worker; requests are numbered; a worker
// that dies is replaced, and what it was asked comes back as a Died error.

/** What is wrong with a form, and how to mend it. */
export interface Refusal {
  field: string;
  says: string;
  mend?: string;
}

/** What the core answers; of a view also of how many entries it tells. */
export type Answer<T> = { value: T; length?: number } | { refusals: Refusal[] } | { bug: string };

/** The core died before it answered; the request changed nothing that lasts. */
export class Died extends Error {}

type Start = () => Promise<void> | void;

interface Waiting {
  resolve(answer: string): void;
  reject(err: Error): void;
}

let worker: Worker | undefined;
let ready = false;
let deaths = 0;
let next = 1;
const waiting = new Map<number, Waiting>();
const starts: Start[] = [];

/** start brings the core up; later calls do nothing. */
export function start(): void {
  if (worker) return;
  worker = new Worker(WORKER_URL, { name: "core" });
  worker.onmessage = (e) => hear(e.data);
  worker.onerror = (e) => died(e.message || "the worker failed");
}

/** onStart calls fn each time that a fresh, empty core is up. */
export function onStart(fn: Start): void {
  starts.push(fn);
  if (ready) void fn();
}

/** isReady says whether the core can be asked now. */
export function isReady(): boolean {
  return ready;
}

function hear(said: { ready?: true; died?: string; id?: number; answer?: string }): void {
  if (said.died) return died(said.died);
  if (said.ready) {
    ready = true;
    mark("ready");
    for (const fn of starts) void fn();
    return;
  }
  const w = waiting.get(said.id ?? 0);
  waiting.delete(said.id ?? 0);
  w?.resolve(said.answer ?? "{}");
}

// Tests and styles can see on the page whether the core is up.
function mark(state: string): void {
  document.documentElement.dataset.core = state;
}

// died replaces the worker, the longer after the last time the oftener it died.
function died(why: string): void {
  console.error("core died:", why);
  worker?.terminate();
  worker = undefined;
  ready = false;
  mark("down");
  for (const w of waiting.values()) w.reject(new Died(why));
  waiting.clear();
  setTimeout(start, Math.min(200 * 2 ** deaths++, 30_000));
}

/**
 * call asks the core. It rejects with Died when the core is not up. Lines of
 * the log go beside the argument as they are, because a book has thousands, and
 * so does a file, which the core reads piece by piece.
 */
export async function call<T>(fn: string, arg: unknown, lines: string[] = [], file?: Blob): Promise<Answer<T>> {
  const text = await new Promise<string>((resolve, reject) => {
    if (!worker || !ready) return reject(new Died("the core is not up"));
    const id = next++;
    waiting.set(id, { resolve, reject });
    worker.postMessage({ id, fn, arg: JSON.stringify(arg), lines: lines.join("\n"), file });
  });
  const answer = JSON.parse(text) as Answer<T>;
  if ("bug" in answer) console.error(answer.bug);
  return answer;
}

/** value asks the core for something that cannot be refused. */
export async function value<T>(fn: string, arg: unknown, lines?: string[]): Promise<T> {
  const answer = await call<T>(fn, arg, lines);
  if ("value" in answer) return answer.value;
  throw new Error("bug" in answer ? answer.bug : answer.refusals.map((r) => r.says).join(" "));
}

/** moment is now as the core wants it: Unix ms and minutes east of UTC. */
export function moment(): { now: number; offset: number } {
  const d = new Date();
  return { now: d.getTime(), offset: -d.getTimezoneOffset() };
}
