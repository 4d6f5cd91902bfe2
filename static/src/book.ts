// The open book: joins the doors core, shelf and relay for the screens.
// Writing is: keep what was typed → stamp in the core → store durably → fold →
// tell the other tabs → send soon. A form handed in before the core is up
// waits on the shelf and becomes entries when it is.
import { useEffect, useRef, useState } from "preact/hooks";
import { random, uuid } from "./chance";
import * as core from "./core";
import type { Refusal } from "./core";
import * as drafts from "./draft";
import * as seen from "./seen";
import * as shelf from "./shelf";
import type { Draft, ShelfBook } from "./shelf";
import { signal } from "./signal";
import { useSignal } from "./usesignal";

export type { Refusal } from "./core";
export type { ShelfBook } from "./shelf";

/** The open book; undefined while the shelf is read, null when there is none. */
export const current = signal<ShelfBook | null | undefined>(undefined);
/** Counts up whenever the core knows something new of the open book; 0 until it is open. */
export const edition = signal(0);
/** Forms that waited for the core and were refused then: the rider must look. */
export const comeBack = signal<{ draft: Draft; refusals: Refusal[] }[]>([]);

const written: (() => void)[] = [];
// The book that the core holds now; "" before it was opened there.
let opened = "";

/** onWritten calls fn after entries were written on this phone. */
export function onWritten(fn: () => void): void {
  written.push(fn);
}

// Tabs of one browser tell each other what they wrote. A tab that is still
// opening the book looks at the shelf once more when it is done.
const tabs = new BroadcastChannel("plumbline-entries");
let missed = false;
tabs.onmessage = (e: MessageEvent<{ book: string; lines: string[] }>) => {
  if (e.data.book !== current.get()?.id) return;
  if (opened === e.data.book) void fold(e.data.book, e.data.lines);
  else missed = true;
};

/** begin reads the shelf, starts the core, and opens the last book. */
export async function begin(): Promise<void> {
  core.start();
  try {
    const last = (await shelf.books())[0];
    if (last) await seen.begin(last.id).catch((err) => console.warn("not remembered:", err));
    current.set(last ?? null);
  } catch (err) {
    console.error("the shelf does not open:", err);
    current.set(null); // the frame says why, see shelf.trouble
  }
  core.onStart(open);
  // What is due depends on the day: look again when the rider looks again.
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible" && edition.get() > 0) edition.set(edition.get() + 1);
  });
}

// open hands the current book to a fresh core, then forms that waited for it.
async function open(): Promise<void> {
  opened = "";
  const b = current.get();
  if (!b || !core.isReady()) return;
  await core.value("open", { book: b.id, device: b.device }, await shelf.lines(b.id));
  if (current.get()?.id !== b.id) return;
  opened = b.id;
  if (missed) await fold(b.id, await shelf.lines(b.id));
  missed = false;
  comeBack.set([]);
  renewed(b.id);
  for (const d of await shelf.handedIn(b.id)) if (!inHand.has(d.id)) await late(b, d);
}

// renewed tells the screens that the core knows something new of the open book.
function renewed(book: string): void {
  edition.set(edition.get() + 1);
  document.documentElement.dataset.book = "open"; // tests see it
  seen.renew(book, look);
}

async function late(b: ShelfBook, d: Draft): Promise<void> {
  const done = await stampAndStore(b, d);
  if ("refusals" in done) comeBack.set([...comeBack.get(), { draft: d, refusals: done.refusals }]);
}

async function fold(book: string, lines: string[]): Promise<void> {
  const { added } = await core.value<{ added: number }>("take", { book }, lines);
  if (added > 0 && book === current.get()?.id) renewed(book);
}

/** take keeps entries that came from another phone, and folds them in. */
export async function take(book: string, lines: string[]): Promise<void> {
  if (lines.length === 0) return;
  await shelf.keep(lines);
  tabs.postMessage({ book, lines });
  if (book === current.get()?.id && core.isReady()) await fold(book, lines);
}

/** What became of a form: saved as entries, kept until the core is up, or refused. */
export type Done = { lines: string[] } | { kept: true } | { refusals: Refusal[] };

const underway = new Map<string, Promise<Done>>();
// The forms that this page still has an answer to give for.
const inHand = new Set<string>();
/** How long a form waits here for the core, ms; then it is left to be written later. */
const patience = 10_000;

/**
 * act hands a form in. It resolves when the words are safe on this phone,
 * whatever happens next; drop is the open form's key, removed once they are.
 * A second tap on the same form, while the first is on its way, is the first.
 */
export async function act(action: string, form: unknown, drop?: string): Promise<Done> {
  const b = current.get();
  if (!b) return { refusals: [{ field: "", says: "There is no book open.", mend: "Start a book first." }] };
  const same = JSON.stringify([b.id, action, form]);
  const first = underway.get(same);
  if (first) return first;
  const mine = handIn(b, { id: `waiting:${uuid()}`, book: b.id, action, form, ...core.moment() }, drop);
  underway.set(same, mine);
  return mine.finally(() => underway.delete(same));
}

async function handIn(b: ShelfBook, d: Draft, drop?: string): Promise<Done> {
  inHand.add(d.id);
  try {
    await shelf.putDraft(d);
    const done = await attempt(b, d);
    if ("refusals" in done) await shelf.dropDraft(d.id);
    else if (drop) await drafts.drop(formId(b.id, drop));
    return done;
  } catch (err) {
    console.error("not saved:", err);
    await shelf.dropDraft(d.id).catch(() => undefined);
    return { refusals: [{ field: "", ...shelf.why(err) }] };
  } finally {
    inHand.delete(d.id);
  }
}

async function attempt(b: ShelfBook, d: Draft): Promise<Done> {
  if (!(await opening(b.id))) return { kept: true };
  try {
    return await stampAndStore(b, d);
  } catch (err) {
    if (err instanceof core.Died) return { kept: true };
    throw err;
  }
}

// opening waits, not for ever, until the core has a book, and says whether it has.
async function opening(book: string): Promise<boolean> {
  if (opened === book) return true;
  return new Promise((resolve) => {
    const end = () => {
      clearTimeout(timer);
      stop();
      resolve(opened === book);
    };
    const timer = setTimeout(end, patience);
    const stop = edition.watch(() => opened === book && end());
  });
}

/** throwAway forgets a form that came back. */
export async function throwAway(d: Draft): Promise<void> {
  await shelf.dropDraft(d.id);
  comeBack.set(comeBack.get().filter((b) => b.draft.id !== d.id));
}

async function stampAndStore(b: ShelfBook, d: Draft): Promise<Done> {
  return locked(`book:${b.id}`, async () => {
    for (let tries = 0; ; tries++) {
      if (!(await shelf.draft(d.id))) return { lines: [] }; // another tab was faster
      await catchUp(b);
      const lines = await stamped(b, d);
      if (!Array.isArray(lines)) return lines;
      try {
        await shelf.write(lines, d.id);
      } catch (err) {
        // Without locks another tab can take the place first: stand behind it.
        if (shelf.isTaken(err) && tries < 5) continue;
        throw err;
      }
      await fold(b.id, lines);
      tabs.postMessage({ book: b.id, lines });
      for (const fn of written) fn();
      return { lines };
    }
  });
}

async function stamped(b: ShelfBook, d: Draft): Promise<string[] | Done> {
  const { action, form, now, offset } = d;
  const answer = await core.call<{ lines: string[] }>("stamp", { book: b.id, action, form, now, offset, random: random(64) });
  if ("refusals" in answer) return answer;
  if ("bug" in answer) return { refusals: [{ field: "", says: "Plumbline made a mistake here.", mend: "Your words are kept. Try again after a restart of the app." }] };
  return answer.value.lines;
}

// catchUp folds what another tab of this phone wrote under the same device.
async function catchUp(b: ShelfBook): Promise<void> {
  const have = await core.value<Record<string, number>>("vector", { book: b.id });
  const newer = await shelf.linesAfter(b.id, b.device, have[b.device] ?? 0);
  if (newer.length > 0) await fold(b.id, newer);
}

// Pages that are not secure have no locks; they have this one tab's turn.
let turn: Promise<unknown> = Promise.resolve();

/** locked lets one tab at a time work under a name. */
export async function locked<T>(name: string, work: () => Promise<T>): Promise<T> {
  if (navigator.locks) return navigator.locks.request(name, work);
  const mine = turn.then(work, work);
  turn = mine.catch(() => undefined);
  return mine;
}

/** create starts a new, empty book on this phone and opens it. */
export async function create(name: string): Promise<ShelfBook> {
  return put({ id: uuid(), name, device: uuid(), example: false, opened: Date.now() });
}

/** example puts the example season on the shelf, if it is not there, and opens it. */
export async function example(): Promise<ShelfBook> {
  const e = await core.value<{ book: string; lines: string[] }>("example", {});
  await shelf.keep(e.lines);
  const was = await shelf.book(e.book);
  return put(was ?? { id: e.book, name: "Example season", device: uuid(), example: true, opened: 0 });
}

/** joined puts a book that a code led to on the shelf, and opens it. */
export async function joined(id: string, device: string, token: string): Promise<ShelfBook> {
  const was = (await shelf.book(id)) ?? { id, name: "Joined book", device, example: false, opened: 0 };
  return put({ ...was, token, known: true });
}

/** What the core read out of a saved copy. */
export interface Copy {
  book: string;
  name: string;
  /** It is the example season, which is the same on every phone and never sent. */
  example: boolean;
  lines: string[];
}

/** imported keeps the lines of a saved copy, puts its book on the shelf, and opens it. */
export async function imported(c: Copy): Promise<ShelfBook> {
  await shelf.keep(c.lines);
  const was = await shelf.book(c.book);
  return put(was ?? { id: c.book, name: c.name || "Book from a copy", device: uuid(), example: c.example, opened: 0 });
}

/** switchTo opens another book of the shelf. */
export async function switchTo(id: string): Promise<void> {
  const b = await shelf.book(id);
  if (b) await put(b);
}

async function put(b: ShelfBook): Promise<ShelfBook> {
  const now = { ...b, opened: Date.now(), since: b.since ?? Date.now() };
  await shelf.putBook(now);
  edition.set(0);
  current.set(now);
  await open();
  return now;
}

/** mend changes what the shelf knows of the open book: its name, its key, where it is safe. */
export async function mend(with_: Partial<Pick<ShelfBook, "name" | "token" | "known" | "backedUp" | "sent" | "copied" | "copiedTo" | "links" | "proposed" | "alone">>, id = current.get()?.id): Promise<void> {
  const is = id ? await shelf.mendBook(id, with_) : undefined;
  if (is && is.id === current.get()?.id) current.set(is);
}

/** What a screen knows of its view model. */
export interface View<T> {
  model?: T;
  refusals: Refusal[];
  /** Of how many entries the model tells. */
  length?: number;
  /** The core said that this is a bug. */
  broken?: boolean;
}

/**
 * useView asks the core for a view model, and again whenever the book has
 * something new. Until the first answer comes, model is what this screen
 * showed when it was last opened so, or missing.
 */
export function useView<T>(name: string, args: unknown = {}): View<T> {
  const asked = JSON.stringify(args);
  const ed = useSignal(edition);
  const [view, set] = useState<View<T>>(() => ({ model: ed === 0 ? seen.model<T>(name, asked) : undefined, refusals: [] }));
  const first = useRef(asked);
  const newest = useRef(0);
  useEffect(() => {
    if (ed === 0) return;
    const mine = ++newest.current;
    void look<T>(name, JSON.parse(asked)).then((v) => {
      if (mine !== newest.current || !v) return;
      set(v);
      if (asked === first.current) remember(name, asked, v);
    });
  }, [name, asked, ed]);
  return view;
}

function remember(name: string, asked: string, v: View<unknown>): void {
  const book = current.get()?.id;
  if (!book || v.model === undefined || v.length === undefined) return;
  seen.remember(book, name, asked, v.length, v.model).catch((err) => console.warn("not remembered:", err)); // only the next start is slower
}

/** look asks for a view model once; undefined when the core died meanwhile. */
export async function look<T>(name: string, args: unknown = {}): Promise<View<T> | undefined> {
  if (opened !== (current.get()?.id ?? "")) return undefined;
  try {
    const book = current.get()?.id ?? "";
    const answer = await core.call<T>("view", { book, name, args, ...core.moment() });
    if ("value" in answer) return { model: answer.value, length: answer.length ?? 0, refusals: [] };
    return "refusals" in answer ? answer : { refusals: [], broken: true };
  } catch {
    return undefined;
  }
}

/** lookUp asks for a view model once, waiting until the core is up and has the open book. */
export async function lookUp<T>(name: string, args: unknown = {}): Promise<View<T>> {
  for (;;) {
    const seen = await look<T>(name, args);
    if (seen) return seen;
    await new Promise((r) => setTimeout(r, 100));
  }
}

const formId = (book: string, key: string) => `form:${book}:${key}`;

/**
 * useDraft is a form that survives: every change is kept on the shelf at once
 * under a key, and comes back when the screen is opened again. The third
 * value forgets it; act(…, key) does so too when the form became entries.
 */
export function useDraft<F extends object>(key: string, empty: F): [F, (change: Partial<F>) => void, () => void] {
  const [form, set] = useState(empty);
  const latest = useRef(form);
  const touched = useRef(false);
  const b = useSignal(current);
  const id = b ? formId(b.id, key) : "";
  useEffect(() => {
    if (!id) return;
    void drafts.recall(id).then((d) => {
      if (!d || touched.current) return;
      set((latest.current = { ...empty, ...(d.form as F) }));
    });
  }, [id]);
  const change = (part: Partial<F>) => {
    touched.current = true;
    set((latest.current = { ...latest.current, ...part }));
    if (b) drafts.keep({ id, book: b.id, action: "", form: latest.current, ...core.moment() });
  };
  const forget = () => {
    touched.current = true;
    set((latest.current = empty));
    if (id) void drafts.drop(id);
  };
  return [form, change, forget];
}
