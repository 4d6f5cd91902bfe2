// When this phone and the relay talk: at start, on becoming visible, when the
// network comes back, and after each entry. A failure waits, longer each time;
// entries are safe here meanwhile, and a browser that can wakes the service
// worker to send them when every page is closed.
import * as books from "./book";
import { current, edition } from "./book";
import { newKey } from "./chance";
import * as core from "./core";
import * as install from "./install";
import type { PhotoNames } from "./models/photos";
import * as photos from "./photo";
import * as relay from "./relay";
import * as shelf from "./shelf";
import type { ShelfBook } from "./shelf";
import { signal } from "./signal";

/** What the state line says. */
interface SyncState {
  /** Entries of this phone that the relay lacks; undefined when nobody knows. */
  waiting?: number;
  /** Entries of this phone that are in no copy at all: not at the relay, in no file. */
  alone?: number;
  /** When the relay last had everything, Unix ms. */
  backedUp?: number;
  /** When a copy was last saved as a file, Unix ms. */
  copied?: number;
  /** When the book came onto this phone, Unix ms. */
  since?: number;
  /** The relay said no: its sentence. */
  refused?: string;
  /** What a long exchange is at: "Fetching entries: 312 of 1,000". */
  doing?: string;
  example?: boolean;
}

export const state = signal<SyncState>({});

// A tab that has talked to the relay tells the others, which then look again.
const tabs = new BroadcastChannel("plumbline-sync");
tabs.onmessage = () => void count();

const firstWait = 4_000;
const longestWait = 15 * 60_000;
// The relay has this book, but this phone has no key to it.
const taken = "The server has this book from another phone. Let that phone make a code, and join with it.";

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
    state.set({ ...state.get(), refused: err.status === 409 ? taken : err.message });
    wait = longestWait;
    await ifForgotten(err.status);
  }
  await count();
  await install.wakeLater();
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
  const open = current.get();
  if (!open || edition.get() === 0) return;
  const have = await core.value<relay.Vector>("vector", { book: open.id }).catch(() => ({}) as relay.Vector);
  const b = (await shelf.book(open.id).catch(() => undefined)) ?? open; // another tab may have sent
  if (current.get()?.id !== b.id) return;
  const mine = have[b.device] ?? 0;
  const { refused } = state.get();
  const waiting = Math.max(0, mine - (b.sent ?? 0));
  const alone = Math.min(waiting, Math.max(0, mine - (b.copiedTo ?? 0)));
  state.set({ ...told(b), waiting, alone, ...(refused ? { refused } : {}) });
}

function told(b: ShelfBook): SyncState {
  const { backedUp, copied, since, example } = b;
  return { ...(backedUp && { backedUp }), ...(copied && { copied }), ...(since && { since }), example };
}

/** copied notes that the whole book was saved as a file. */
export async function copied(b: ShelfBook): Promise<void> {
  const have = await core.value<relay.Vector>("vector", { book: b.id });
  await books.mend({ copied: Date.now(), copiedTo: have[b.device] ?? 0 }, b.id);
  await count();
}

async function once(): Promise<void> {
  const b = current.get();
  if (!b || edition.get() === 0) return;
  if (b.example) return state.set({ example: true });
  if (b.alone) return count();
  if (!navigator.onLine) throw new Error("offline");
  await books.locked(`sync:${b.id}`, () => exchange(b));
}

// exchange gives and takes what is new. Only one tab at a time does it, and
// looks first whether another one has got the key meanwhile.
async function exchange(b: ShelfBook): Promise<void> {
  const now = await shelf.book(b.id);
  const token = now?.known && now.token ? now.token : await register(b);
  const mine = await core.value<relay.Vector>("vector", { book: b.id });
  const theirs = await relay.vector(b.id, token);
  await fetchEntries(b, token, mine, theirs);
  const have = await send(b, token, theirs);
  await books.mend({ sent: have[b.device] ?? 0 }, b.id);
  await fetchProposals(b.id, token);
  await exchangePhotos(b.id, token);
  const done = Date.now();
  await books.mend({ backedUp: done }, b.id);
  tabs.postMessage(b.id);
  if (current.get()?.id !== b.id) return;
  state.set({ backedUp: done });
  await count();
}

// The key is on the shelf before the relay hears of it: a phone that lost the
// answer, or was closed meanwhile, tells it again and is let in.
async function register(b: ShelfBook): Promise<string> {
  const token = await shelf.keyOf(b.id, newKey);
  await relay.register(b.id, b.device, token);
  await books.mend({ token, known: true }, b.id);
  return token;
}

// fetchProposals writes what came by shared links into the book, as advice. What
// the core refuses, because its bike is gone, is not asked for again.
async function fetchProposals(id: string, token: string): Promise<void> {
  if (current.get()?.id !== id) return;
  const after = (await shelf.book(id))?.proposed ?? 0;
  for (const p of await relay.proposals(id, token, after)) {
    if (current.get()?.id !== id) return;
    const done = await books.act("proposal", p.proposal);
    if ("kept" in done) return;
    await books.mend({ proposed: p.number }, id);
  }
}

// tell says how far a long exchange is; a short one is not worth a word.
function tell(what: string, n: number, of: number, long: number): void {
  if (of < long) return;
  const count = (x: number) => x.toLocaleString("en-GB");
  state.set({ ...state.get(), doing: `${what}: ${count(n)} of ${count(of)}` });
}

const longEntries = 100;
const longPhotos = 3;

async function fetchEntries(b: ShelfBook, token: string, mine: relay.Vector, theirs: relay.Vector): Promise<void> {
  const of = Object.entries(theirs).reduce((n, [device, seq]) => n + Math.max(0, seq - (mine[device] ?? 0)), 0);
  if (of === 0) return;
  let come = 0;
  tell("Fetching entries", 0, of, longEntries);
  await relay.pull(b.id, token, mine, async (lines) => {
    await books.take(b.id, lines);
    tell("Fetching entries", (come += lines.length), Math.max(of, come), longEntries);
  });
}

// exchangePhotos sends the photos that the book names and the relay lacks, and
// fetches those that this phone lacks, after it had the relay delete those that
// were struck out. The entries are safe by then; the book counts as backed up
// only when its photos are. One that the relay refuses does not hold up others.
async function exchangePhotos(id: string, token: string): Promise<void> {
  const names = (await books.look<PhotoNames>("photonames"))?.model;
  if (current.get()?.id !== id) return;
  if (!names) throw new Error("the core is away");
  if (names.named.length + names.struck.length === 0) return;
  const here = new Set(await shelf.photoNames(id));
  const there = new Set(await relay.photos(id, token));
  for (const name of names.struck) if (there.has(name)) await relay.dropPhoto(id, token, name);
  const away = names.named.filter((name) => here.has(name) !== there.has(name));
  let refused: relay.Refused | undefined;
  for (const [i, name] of away.entries()) {
    tell(here.has(name) ? "Sending photos" : "Fetching photos", i + 1, away.length, longPhotos);
    try {
      if (here.has(name)) await sendPhoto(id, token, name);
      else await photos.keepFetched(id, name, await relay.photo(id, token, name));
    } catch (err) {
      if (!(err instanceof relay.Refused && err.status === 422)) throw err;
      refused = err;
    }
  }
  if (refused) throw refused;
}

async function sendPhoto(id: string, token: string, name: string): Promise<void> {
  const bytes = await shelf.photo(id, name);
  if (bytes) await relay.putPhoto(id, token, name, bytes);
}

async function send(b: ShelfBook, token: string, have: relay.Vector): Promise<relay.Vector> {
  const { lines } = await core.value<{ lines: string[] }>("missing", { book: b.id, have });
  const of = lines.length;
  while (lines.length > 0) {
    tell("Sending entries", of - lines.length, of, longEntries);
    have = await relay.push(b.id, token, lines.splice(0, relay.load(lines)));
  }
  return have;
}

/** words says the state in plain words. */
export function words(s: SyncState): string {
  if (s.example) return "Example book, stays on this phone";
  if (s.doing) return s.doing;
  if (s.refused) return "Not backed up: " + s.refused;
  if (s.waiting && s.backedUp) return s.waiting === 1 ? "1 entry waiting" : `${s.waiting} entries waiting`;
  if (s.backedUp) return "Backed up " + clock(s.backedUp);
  return "On this phone only";
}

/** inWords says where the book is safe, in whole sentences. */
export function inWords(s: SyncState): string {
  if (s.example) return "The example stays on this phone. It is not backed up.";
  const said: string[] = s.doing ? [`${s.doing}.`] : [];
  if (s.refused) said.push(`The server does not take it: ${s.refused}`);
  if (s.backedUp) said.push(`The server had everything ${when(s.backedUp)}.`);
  if (s.copied) said.push(`You saved a copy ${when(s.copied)}.`);
  if (!s.backedUp && !s.copied) said.push("There is no backup yet.");
  if (s.alone) said.push(`${s.alone === 1 ? "1 entry is" : `${s.alone} entries are`} on this phone only.`);
  else if (s.alone === 0) said.push("Nothing is on this phone only.");
  return said.join(" ");
}

const day = 24 * 60 * 60_000;
/** The rider is reminded after so many entries, or days, without a backup. */
const reminder = { entries: 40, days: 3 };

/** unsafe says kindly that the book lives on this phone only, "" while that is fine. */
export function unsafe(s: SyncState, now = Date.now()): string {
  if (s.example || !s.alone) return "";
  const last = Math.max(s.backedUp ?? 0, s.copied ?? 0);
  const days = Math.floor((now - (last || s.since || now)) / day);
  if (s.alone < reminder.entries && days < reminder.days) return "";
  const what = s.alone === 1 ? "1 entry is" : `${s.alone} entries are`;
  const since = last ? `The last backup was ${when(last)}.` : "There has been no backup yet.";
  return `${since} ${what} on this phone only: if it is lost, so are they.`;
}

function clock(ms: number): string {
  const d = new Date(ms);
  const time = d.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  return isToday(d) ? time : `${d.toLocaleDateString("en-GB", { day: "numeric", month: "short" })}, ${time}`;
}

function when(ms: number): string {
  return (isToday(new Date(ms)) ? "today at " : "on ") + clock(ms);
}

const isToday = (d: Date) => d.toDateString() === new Date().toDateString();
