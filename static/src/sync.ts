// When this phone and the relay talk: at start, on becoming visible, when the
// network comes back, and after each entry. One path for all browsers. A
// failure waits, longer each time; entries are safe here meanwhile.
import * as books from "./book";
import { current, edition } from "./book";
import * as core from "./core";
import * as relay from "./relay";
import * as shelf from "./shelf";
import type { ShelfBook } from "./shelf";
import { signal } from "./signal";

/** What the state line says. */
export interface SyncState {
  /** Entries of this phone that the relay lacks; undefined when nobody knows. */
  waiting?: number;
  /** When the relay last had everything, Unix ms. */
  backedUp?: number;
  /** The relay said no: its sentence. */
  refused?: string;
  example?: boolean;
}

export const state = signal<SyncState>({});

const firstWait = 4_000;
const longestWait = 15 * 60_000;
/** A push carries at most this many entries. */
const batch = 500;

let wait = firstWait;
let timer: ReturnType<typeof setTimeout> | undefined;
let busy = false;
let again = false;

/** begin starts to sync on every occasion. */
export function begin(): void {
  addEventListener("online", hurry);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && hurry());
  books.onWritten(() => {
    void count();
    hurry();
  });
  let shown: string | undefined;
  current.watch((b) => {
    if (b?.id !== shown) state.set(b ? told(b) : {});
    shown = b?.id;
  });
  let last = 0;
  edition.watch((e) => {
    const opened = e > 0 && last === 0;
    last = e;
    if (opened) hurry();
  });
  if (edition.get() > 0) hurry();
}

/** hurry syncs now, however long the last failure told us to wait. */
export function hurry(): void {
  wait = firstWait;
  void run();
}

async function run(): Promise<void> {
  if (busy) {
    again = true;
    return;
  }
  busy = true;
  clearTimeout(timer);
  try {
    await once();
    wait = firstWait;
  } catch (err) {
    await failed(err);
  } finally {
    busy = false;
  }
  if (again) {
    again = false;
    void run();
  }
}

async function failed(err: unknown): Promise<void> {
  if (err instanceof relay.Refused && err.status < 500 && err.status !== 429) {
    state.set({ ...state.get(), refused: err.message });
    wait = longestWait;
    await ifForgotten(err.status);
  }
  await count();
  timer = setTimeout(run, wait * (0.75 + Math.random() / 2));
  wait = Math.min(wait * 2, longestWait);
}

// A relay that does not know this phone any more is told of the book afresh
// next time, with the same key.
async function ifForgotten(status: number): Promise<void> {
  const b = current.get();
  if (!b?.known || status !== 403) return;
  await books.mend({ known: false }, b.id);
  wait = firstWait;
}

// count says how many of this phone's entries are not known to be elsewhere.
async function count(): Promise<void> {
  const b = current.get();
  if (!b || edition.get() === 0) return;
  const have = await core.value<relay.Vector>("vector", { book: b.id }).catch(() => ({}) as relay.Vector);
  const mine = have[b.device] ?? 0;
  const { refused } = state.get();
  state.set({ ...told(b), waiting: Math.max(0, mine - (b.sent ?? 0)), ...(refused ? { refused } : {}) });
}

function told(b: ShelfBook): SyncState {
  return { ...(b.backedUp ? { backedUp: b.backedUp } : {}), example: b.example };
}

async function once(): Promise<void> {
  const b = current.get();
  if (!b || edition.get() === 0) return;
  if (b.example) return state.set({ example: true });
  if (!navigator.onLine) throw new Error("offline");
  const token = b.known && b.token ? b.token : await register(b);
  const mine = await core.value<relay.Vector>("vector", { book: b.id });
  await books.take(b.id, await relay.pull(b.id, token, mine));
  const have = await send(b, token, await relay.vector(b.id, token));
  const now = Date.now();
  await books.mend({ backedUp: now, sent: have[b.device] ?? 0 }, b.id);
  if (current.get()?.id !== b.id) return;
  state.set({ backedUp: now });
  await count();
}

// The key is on the shelf before the relay hears of it: a phone that lost the
// answer, or was closed meanwhile, tells it again and is let in.
async function register(b: ShelfBook): Promise<string> {
  const token = await shelf.keyOf(b.id, relay.newKey);
  await relay.register(b.id, b.device, token);
  await books.mend({ token, known: true }, b.id);
  return token;
}

async function send(b: ShelfBook, token: string, have: relay.Vector): Promise<relay.Vector> {
  const { lines } = await core.value<{ lines: string[] }>("missing", { book: b.id, have });
  for (let i = 0; i < lines.length; i += batch) {
    have = await relay.push(b.id, token, lines.slice(i, i + batch));
  }
  return have;
}

/** words says the state in plain words. */
export function words(s: SyncState): string {
  if (s.example) return "Example book, stays on this phone";
  if (s.refused) return "Not backed up: " + s.refused;
  if (s.waiting && s.backedUp) return s.waiting === 1 ? "1 entry waiting" : `${s.waiting} entries waiting`;
  if (s.backedUp) return "Backed up " + clock(s.backedUp);
  return "On this phone only";
}

function clock(ms: number): string {
  const d = new Date(ms);
  const today = d.toDateString() === new Date().toDateString();
  const time = d.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  return today ? time : `${d.toLocaleDateString("en-GB", { day: "numeric", month: "short" })}, ${time}`;
}
