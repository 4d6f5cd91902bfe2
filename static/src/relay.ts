// The only door to the network: the relay's few addresses. It knows lines and
// vectors; when to call is sync.ts' business.

/** How far a copy has each device: device id → highest unbroken seq. */
export type Vector = Record<string, number>;

/** The relay said no: status, and its sentence for the rider. */
export class Refused extends Error {
  constructor(readonly status: number, says: string) {
    super(says);
  }
}

const patience = 20_000;
/** A photo is large, and the network of a paddock small. */
const photoPatience = 120_000;

async function ask(path: string, token: string | undefined, init: RequestInit = {}): Promise<Response> {
  const headers = new Headers(init.headers);
  if (token) headers.set("Authorization", `Bearer ${token}`);
  const answer = await fetch(path, { signal: AbortSignal.timeout(patience), ...init, headers, cache: "no-store" });
  if (answer.ok) return answer;
  throw new Refused(answer.status, await reason(answer));
}

async function reason(answer: Response): Promise<string> {
  try {
    const p = (await answer.json()) as { detail?: string; title?: string };
    return p.detail ?? p.title ?? answer.statusText;
  } catch {
    return answer.statusText;
  }
}

function post(body: unknown): RequestInit {
  return { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) };
}

function at(book: string, rest: string): string {
  return `/api/books/${encodeURIComponent(book)}/${rest}`;
}

/** register makes the relay keep a copy of a book, opened by a key. Doing so again is no harm. */
export async function register(book: string, device: string, key: string): Promise<void> {
  await ask("/api/books", undefined, post({ book, device, key }));
}

// packed is a body of entries, in gzip where the browser can.
async function packed(text: string): Promise<RequestInit> {
  const headers = { "Content-Type": "application/x-ndjson" };
  if (!("CompressionStream" in globalThis)) return { headers, body: text };
  const small = new Blob([text]).stream().pipeThrough(new CompressionStream("gzip"));
  return { headers: { ...headers, "Content-Encoding": "gzip" }, body: await new Response(small).arrayBuffer() };
}

/** So many entries go, and are taken, at a time. */
const batch = 500;
const heaviest = 1 << 20; // characters, at most three bytes each; the relay takes 4 MiB

/** load is how many of the lines one push carries: at least one. */
export function load(lines: string[]): number {
  let n = 0;
  for (let weight = 0; n < Math.min(lines.length, batch); n++) {
    weight += lines[n]!.length;
    if (weight > heaviest && n > 0) break;
  }
  return n;
}

/** push sends entries and returns how far the relay has the book then. */
export async function push(book: string, token: string, lines: string[]): Promise<Vector> {
  const answer = await ask(at(book, "entries"), token, { method: "POST", ...(await packed(lines.join("\n") + "\n")) });
  return ((await answer.json()) as { have: Vector }).have;
}

/**
 * pull hands on the entries that a copy with this vector lacks, some at a time
 * as they come, so that a network that goes away takes only the rest with it.
 * It gives up when nothing more comes for a while, however long the whole takes.
 */
export async function pull(book: string, token: string, have: Vector, take: (lines: string[]) => Promise<void>): Promise<void> {
  const said = Object.entries(have).map(([device, seq]) => `${device}:${seq}`).join(",");
  const silence = new AbortController();
  const giveUp = () => silence.abort(new DOMException("nothing more came", "TimeoutError"));
  let timer = setTimeout(giveUp, patience);
  try {
    const answer = await ask(at(book, `entries?have=${encodeURIComponent(said)}`), token, { signal: silence.signal });
    const reader = answer.body!.pipeThrough(new TextDecoderStream()).getReader();
    let begun = "";
    let lines: string[] = [];
    for (;;) {
      const { done, value } = await reader.read();
      clearTimeout(timer);
      if (done) break;
      const come = (begun + value).split("\n");
      begun = come.pop()!;
      lines.push(...come.filter((l) => l !== ""));
      if (lines.length >= batch) {
        await take(lines);
        lines = [];
      }
      timer = setTimeout(giveUp, patience);
    }
    await take(lines);
  } finally {
    clearTimeout(timer);
  }
}

/** vector returns how far the relay has a book. */
export async function vector(book: string, token: string): Promise<Vector> {
  const answer = await ask(at(book, "vector"), token);
  return ((await answer.json()) as { have: Vector }).have;
}

/** invite returns a code with which one more phone can join a book. */
export async function invite(book: string, token: string): Promise<{ code: string; expires: string }> {
  const answer = await ask(at(book, "invitations"), token, { method: "POST" });
  return (await answer.json()) as { code: string; expires: string };
}

/** join lets this phone and its key into the book that a code is for, and returns the book's id. */
export async function join(code: string, device: string, key: string): Promise<string> {
  const answer = await ask("/api/join", undefined, post({ code, device, key }));
  return ((await answer.json()) as { book: string }).book;
}

/** A shared link as the relay keeps it; its secret is on the phone that made it. */
export interface Link {
  id: string;
  may: "look" | "propose";
  bike: string;
  names: boolean;
  notes: boolean;
  photos: boolean;
  made: string;
  expires: string;
  opened: number;
}

/** makeLink lets whoever has the secret see a bike's sheet, and propose if they may. */
export async function makeLink(book: string, token: string, link: Omit<Link, "made" | "opened"> & { secret: string }): Promise<void> {
  await ask(at(book, "links"), token, post(link));
}

/** links are a book's shared links, the newest first. */
export async function links(book: string, token: string): Promise<Link[]> {
  return ((await (await ask(at(book, "links"), token)).json()) as { links: Link[] }).links;
}

/** revokeLink ends a link at once. */
export async function revokeLink(book: string, token: string, id: string): Promise<void> {
  await ask(at(book, `links/${encodeURIComponent(id)}`), token, { method: "DELETE" });
}

/** A proposal that came by a link; what it says is for the core. */
interface Proposed {
  number: number;
  link: string;
  proposal: unknown;
}

/** proposals are what was proposed for a book after a number. */
export async function proposals(book: string, token: string, after: number): Promise<Proposed[]> {
  return ((await (await ask(at(book, `proposals?after=${after}`), token)).json()) as { proposals: Proposed[] }).proposals;
}

/** devices are the phones that may read and write a book at the relay. */
export async function devices(book: string, token: string): Promise<{ device: string; since: string }[]> {
  return ((await (await ask(at(book, "devices"), token)).json()) as { devices: { device: string; since: string }[] }).devices;
}

/** revokeDevice takes a phone's key away. */
export async function revokeDevice(book: string, token: string, device: string): Promise<void> {
  await ask(at(book, `devices/${encodeURIComponent(device)}`), token, { method: "DELETE" });
}

/** keepRecovery lets the key of a recovery phrase open the book. */
export async function keepRecovery(book: string, token: string, key: string): Promise<void> {
  await ask(at(book, "recovery"), token, { ...post({ key }), method: "PUT" });
}

/** bookOf is the book that a key opens. */
export async function bookOf(key: string): Promise<string> {
  return ((await (await ask("/api/key", key)).json()) as { book: string }).book;
}

/** What the relay had when it deleted a book. */
interface Receipt {
  book: string;
  deleted: string;
  had: Vector;
}

/** remove deletes a book from the relay for good. */
export async function remove(book: string, token: string): Promise<Receipt> {
  return (await (await ask(`/api/books/${encodeURIComponent(book)}`, token, { method: "DELETE" })).json()) as Receipt;
}

/** photos are the names of the photos that the relay has of a book. */
export async function photos(book: string, token: string): Promise<string[]> {
  return ((await (await ask(at(book, "photos"), token)).json()) as { photos: string[] }).photos;
}

/** photo is one photo's bytes. */
export async function photo(book: string, token: string, name: string): Promise<ArrayBuffer> {
  return (await ask(at(book, `photos/${name}`), token, { signal: AbortSignal.timeout(photoPatience) })).arrayBuffer();
}

/** putPhoto hands in a photo. Doing so again is no harm. */
export async function putPhoto(book: string, token: string, name: string, bytes: ArrayBuffer): Promise<void> {
  await ask(at(book, `photos/${name}`), token, { method: "PUT", headers: { "Content-Type": "image/jpeg" }, body: bytes, signal: AbortSignal.timeout(photoPatience) });
}

/** dropPhoto has the relay delete a photo. Doing so again is no harm. */
export async function dropPhoto(book: string, token: string, name: string): Promise<void> {
  await ask(at(book, `photos/${name}`), token, { method: "DELETE" });
}
