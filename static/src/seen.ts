// What the screens showed last, kept on the shelf, so that at the next start
// they are drawn at once while the core still wakes. A model is shown again
// only by the same build and only while the book has not one entry more.
import { build } from "./install";
import * as shelf from "./shelf";

/** So many views of a book are remembered, those looked at last. */
const most = 24;
/** What is asked of a view by a longer text is somebody's typing, not a place. */
const longest = 400;
/** After an entry the remembered views are asked for again when the phone has had this rest, ms. */
const rest = 2_000;

let known = new Map<string, unknown>();

const keyOf = (name: string, asked: string) => `${name} ${asked}`;

/** begin reads what is remembered of a book; to be called before its screens are drawn. */
export async function begin(book: string): Promise<void> {
  const [rows, length] = await Promise.all([shelf.seen(book), shelf.length(book)]);
  known = new Map(rows.filter((r) => r.build === build() && r.length === length).map((r) => [keyOf(r.name, r.asked), r.model]));
}

/** model is a view's model as it was last, when it still holds. */
export function model<T>(name: string, asked: string): T | undefined {
  return known.get(keyOf(name, asked)) as T | undefined;
}

/** remember keeps a view's model, computed from so many entries. */
export async function remember(book: string, name: string, asked: string, length: number, model: unknown): Promise<void> {
  if (asked.length > longest) return;
  await shelf.remember({ book, name, asked, build: build(), at: Date.now(), length, model }, most);
}

let timer: ReturnType<typeof setTimeout> | undefined;

/** Looks at a view; undefined when the core cannot say now. */
type Look = (name: string, args: unknown) => Promise<{ model?: unknown; length?: number } | undefined>;

/** renew looks again at the remembered views of a book, once the phone has had a rest. */
export function renew(book: string, look: Look): void {
  clearTimeout(timer);
  timer = setTimeout(() => void again(book, look).catch((err) => console.warn("not remembered:", err)), rest);
}

async function again(book: string, look: Look): Promise<void> {
  const length = await shelf.length(book);
  for (const r of await shelf.seen(book)) {
    if (r.length === length && r.build === build()) continue;
    const now = await look(r.name, JSON.parse(r.asked));
    if (now?.model === undefined || now.length === undefined) continue;
    await shelf.remember({ ...r, build: build(), length: now.length, model: now.model }, most);
  }
}
