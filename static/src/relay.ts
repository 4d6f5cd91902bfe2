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

async function ask(path: string, token: string | undefined, init: RequestInit = {}): Promise<Response> {
  const headers = new Headers(init.headers);
  if (token) headers.set("Authorization", `Bearer ${token}`);
  const answer = await fetch(path, { ...init, headers, cache: "no-store", signal: AbortSignal.timeout(patience) });
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

/** register makes the relay keep a copy of a book, and returns its token. */
export async function register(book: string, device: string): Promise<string> {
  const answer = await ask("/api/books", undefined, post({ book, device }));
  return ((await answer.json()) as { token: string }).token;
}

/** push sends entries and returns how far the relay has the book then. */
export async function push(book: string, token: string, lines: string[]): Promise<Vector> {
  const answer = await ask(at(book, "entries"), token, {
    method: "POST",
    headers: { "Content-Type": "application/x-ndjson" },
    body: lines.join("\n") + "\n",
  });
  return ((await answer.json()) as { have: Vector }).have;
}

/** pull returns the entries that a copy with this vector lacks. */
export async function pull(book: string, token: string, have: Vector): Promise<string[]> {
  const said = Object.entries(have).map(([device, seq]) => `${device}:${seq}`).join(",");
  const answer = await ask(at(book, `entries?have=${encodeURIComponent(said)}`), token);
  return (await answer.text()).split("\n").filter((l) => l !== "");
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

/** join turns a code into a book's id and this phone's token. */
export async function join(code: string, device: string): Promise<{ book: string; token: string }> {
  const answer = await ask("/api/join", undefined, post({ code, device }));
  return (await answer.json()) as { book: string; token: string };
}
