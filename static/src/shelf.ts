// The only door to what the phone keeps (IndexedDB "plumbline"):
//
//   entries  [book, device, seq] → the entry's line, exactly as it was written
//   drafts   what is typed and not yet an entry: open forms, and forms that
//            wait for the core
//   books    the books on this phone: name, this phone's device id, token
//   photos   [book, name] → the photo's bytes, a JPEG
//   seen     [book, name, asked] → what a screen showed last (see seen.ts)
//
// A write is saved when its transaction is done, strictly; only then does a
// promise here resolve. In localStorage live the theme, because it is needed
// before the first drawing, and the last keys of a draft (see draft.ts).
import { openDB, type DBSchema, type IDBPDatabase } from "idb";
import { signal } from "./signal";

/** A book on this phone. */
export interface ShelfBook {
  id: string;
  name: string;
  /** This phone's device id in this book. */
  device: string;
  /** The key that opens the book at the relay: drawn here, kept here, told to nobody else. */
  token?: string;
  /** The relay has said that it knows the book and the key. */
  known?: boolean;
  /** The example season: never sent anywhere. */
  example: boolean;
  /** When it was last opened, Unix ms; the latest is opened at start. */
  opened: number;
  /** When the relay last had everything, Unix ms. */
  backedUp?: number;
  /** This phone's highest seq that the relay is known to have. */
  sent?: number;
  /** When it came onto this phone, Unix ms. */
  since?: number;
  /** When a copy was last saved as a file, Unix ms, and this phone's seq then. */
  copied?: number;
  copiedTo?: number;
  /** The secrets of the links that this phone made, by link. */
  links?: Record<string, string>;
  /** The number of the last proposal that was fetched. */
  proposed?: number;
  /** The relay is to keep no copy: the rider had it deleted. */
  alone?: boolean;
}

/** Something typed that is not an entry yet. */
export interface Draft {
  /** "form:<key>" for an open form, "waiting:<uuid>" for one handed in. */
  id: string;
  book: string;
  action: string;
  form: unknown;
  /** When it was handed in: Unix ms and minutes east of UTC. */
  now: number;
  offset: number;
}

/** What a screen was told by the core. */
export interface Seen {
  book: string;
  /** The view, and what it was asked, as JSON. */
  name: string;
  asked: string;
  /** The app that asked, when the rider looked (Unix ms), and of how many entries the model tells. */
  build: string;
  at: number;
  length: number;
  model: unknown;
}

type PhotoKey = [book: string, name: string];
type EntryKey = [book: string, device: string, seq: number];

interface Schema extends DBSchema {
  entries: { key: EntryKey; value: string };
  drafts: { key: string; value: Draft; indexes: { book: string } };
  books: { key: string; value: ShelfBook };
  photos: { key: PhotoKey; value: ArrayBuffer };
  seen: { key: [book: string, name: string, asked: string]; value: Seen };
}

const strict = { durability: "strict" } as const;

/**
 * Why the shelf does not open, "" when it does: another page holds an older
 * form of it ("held"), a newer app has changed it ("newer"), or the browser
 * keeps nothing ("none").
 */
export const trouble = signal<"" | "held" | "newer" | "none">("");

let opening: Promise<IDBPDatabase<Schema>> | undefined;

/** How long the shelf may take to open before the rider is told. */
const patience = 4_000;

function db(): Promise<IDBPDatabase<Schema>> {
  opening ??= opened();
  return opening;
}

async function opened(): Promise<IDBPDatabase<Schema>> {
  const slow = setTimeout(() => trouble.set("held"), patience);
  try {
    const d = await openDB<Schema>("plumbline", 3, {
      upgrade(d, was) {
        if (was < 1) {
          d.createObjectStore("entries");
          d.createObjectStore("drafts", { keyPath: "id" }).createIndex("book", "book");
          d.createObjectStore("books", { keyPath: "id" });
        }
        if (was < 2) d.createObjectStore("photos");
        if (was < 3) d.createObjectStore("seen", { keyPath: ["book", "name", "asked"] });
      },
      blocked: () => trouble.set("held"),
      blocking(_was, wanted, e) {
        // Another page changes the shelf's form, or deletes it: let it, and
        // ask again for what comes after.
        (e.target as IDBDatabase).close();
        opening = undefined;
        if (wanted !== null) trouble.set("newer");
      },
      terminated() {
        opening = undefined;
      },
    });
    trouble.set("");
    return d;
  } catch (err) {
    opening = undefined;
    trouble.set(named(err) === "VersionError" ? "newer" : "none");
    throw err;
  } finally {
    clearTimeout(slow);
  }
}

function named(err: unknown): string {
  return (err as { name?: string } | undefined)?.name ?? "";
}

/** isTaken says that an entry's place was taken already: another tab wrote there. */
export function isTaken(err: unknown): boolean {
  return named(err) === "ConstraintError";
}

/** why says in the rider's words why something was not saved, and what to do. */
export function why(err: unknown): { says: string; mend: string } {
  switch (named(err)) {
    case "QuotaExceededError":
      return { says: "This phone is full: nothing was written.", mend: "Your words stay here. Delete some pictures or apps, then tap again." };
    case "VersionError":
      return { says: "A newer Plumbline has opened this book: nothing was written here.", mend: "Your words stay here. Reload the page, then tap again." };
  }
  return { says: "Your phone did not save this.", mend: "Your words stay here. Make some space on it and try again." };
}

function placeOf(line: string): EntryKey {
  const e = JSON.parse(line) as { book: string; device: string; seq: number };
  return [e.book, e.device, e.seq];
}

// after ranges over a device's entries behind a seq; arrays sort behind numbers.
function after(book: string, device: string, seq: number): IDBKeyRange {
  return IDBKeyRange.bound([book, device, seq], [book, device, []], true, true);
}

// done waits until a transaction is on the disk. When it fails, its own error
// says why; a request's may only say that it was aborted.
async function done(tx: { done: Promise<void> }, requests: Promise<unknown>[]): Promise<void> {
  const all = Promise.allSettled(requests);
  await tx.done;
  for (const r of await all) if (r.status === "rejected") throw r.reason;
}

const allOf = (book: string) => IDBKeyRange.bound([book], [book, []]);

/** lines are all entries of a book. */
export async function lines(book: string): Promise<string[]> {
  return (await db()).getAll("entries", allOf(book));
}

/** length is how many entries a book has. */
export async function length(book: string): Promise<number> {
  return (await db()).count("entries", allOf(book));
}

/** linesAfter are a device's entries behind a seq. */
export async function linesAfter(book: string, device: string, seq: number): Promise<string[]> {
  return (await db()).getAll("entries", after(book, device, seq));
}

/** write adds fresh entries; it fails, and keeps none, when one is there already. */
export async function write(fresh: string[], from?: string): Promise<void> {
  const tx = (await db()).transaction(["entries", "drafts"], "readwrite", strict);
  const all: Promise<unknown>[] = fresh.map((l) => tx.objectStore("entries").add(l, placeOf(l)));
  if (from) all.push(tx.objectStore("drafts").delete(from));
  await done(tx, all);
}

/** keep adds entries that came from elsewhere and are not here yet. */
export async function keep(come: string[]): Promise<void> {
  const tx = (await db()).transaction("entries", "readwrite", strict);
  const one = async (l: string) => {
    const key = placeOf(l);
    if ((await tx.store.getKey(key)) === undefined) await tx.store.add(l, key);
  };
  await done(tx, come.map(one));
}

/** books are the books on this phone, the last opened first. */
export async function books(): Promise<ShelfBook[]> {
  return (await (await db()).getAll("books")).sort((a, b) => b.opened - a.opened);
}

export async function book(id: string): Promise<ShelfBook | undefined> {
  return (await db()).get("books", id);
}

/** putBook adds a book or puts it in the place of itself. */
export async function putBook(b: ShelfBook): Promise<void> {
  const tx = (await db()).transaction("books", "readwrite", strict);
  await done(tx, [tx.store.put(b)]);
}

/** mendBook changes some of what the shelf knows of a book, in one step. */
export async function mendBook(id: string, with_: Partial<ShelfBook>): Promise<ShelfBook | undefined> {
  const tx = (await db()).transaction("books", "readwrite", strict);
  const was = await tx.store.get(id);
  const is = was && { ...was, ...with_, id };
  if (is) await tx.store.put(is);
  await tx.done;
  return is;
}

/** keyOf returns the book's key for the relay; one is drawn, once for all tabs, when there is none. */
export async function keyOf(id: string, draw: () => string): Promise<string> {
  const tx = (await db()).transaction("books", "readwrite", strict);
  const was = await tx.store.get(id);
  const token = was?.token ?? draw();
  if (was && !was.token) await tx.store.put({ ...was, token });
  await tx.done;
  return token;
}

/** forget removes a book and everything of it from this phone. */
export async function forget(id: string): Promise<void> {
  const tx = (await db()).transaction(["entries", "drafts", "books", "photos", "seen"], "readwrite", strict);
  for (const name of ["entries", "photos", "seen"] as const) await tx.objectStore(name).delete(allOf(id));
  for (const d of await tx.objectStore("drafts").index("book").getAllKeys(id)) await tx.objectStore("drafts").delete(d);
  await tx.objectStore("books").delete(id);
  await tx.done;
}

/** keepPhoto keeps a photo's bytes under its name. */
export async function keepPhoto(book: string, name: string, bytes: ArrayBuffer): Promise<void> {
  const tx = (await db()).transaction("photos", "readwrite", strict);
  await done(tx, [tx.store.put(bytes, [book, name])]);
}

/** photo is a photo's bytes, when they are on this phone. */
export async function photo(book: string, name: string): Promise<ArrayBuffer | undefined> {
  return (await db()).get("photos", [book, name]);
}

/** dropPhotos deletes photos' bytes. */
export async function dropPhotos(book: string, names: string[]): Promise<void> {
  const tx = (await db()).transaction("photos", "readwrite", strict);
  await done(tx, names.map((name) => tx.store.delete([book, name])));
}

/** photoNames are the names of a book's photos on this phone. */
export async function photoNames(book: string): Promise<string[]> {
  return (await (await db()).getAllKeys("photos", allOf(book))).map(([, name]) => name);
}

/** seen is what a book's screens showed. */
export async function seen(book: string): Promise<Seen[]> {
  return (await db()).getAll("seen", allOf(book));
}

/** remember keeps what a screen showed, and of a book only the most looked at last. */
export async function remember(s: Seen, most: number): Promise<void> {
  const tx = (await db()).transaction("seen", "readwrite");
  await tx.store.put(s);
  if ((await tx.store.count(allOf(s.book))) > most) {
    const all = await tx.store.getAll(allOf(s.book));
    const old = all.sort((a, b) => b.at - a.at).slice(most);
    for (const o of old) await tx.store.delete([o.book, o.name, o.asked]);
  }
  await tx.done;
}

export async function putDraft(d: Draft): Promise<void> {
  const tx = (await db()).transaction("drafts", "readwrite", strict);
  await done(tx, [tx.store.put(d)]);
}

export async function draft(id: string): Promise<Draft | undefined> {
  return (await db()).get("drafts", id);
}

export async function dropDraft(id: string): Promise<void> {
  const tx = (await db()).transaction("drafts", "readwrite", strict);
  await done(tx, [tx.store.delete(id)]);
}

/** handedIn are the forms of a book that wait to become entries, oldest first. */
export async function handedIn(book: string): Promise<Draft[]> {
  const all = await (await db()).getAllFromIndex("drafts", "book", book);
  return all.filter((d) => d.id.startsWith("waiting:")).sort((a, b) => a.now - b.now);
}
