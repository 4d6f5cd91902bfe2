// What this phone draws by chance: names, keys, and the randomness that the
// core, which has none of its own, is handed.

/** random is n random bytes in base64. */
export function random(n: number): string {
  return btoa(String.fromCharCode(...bytes(n)));
}

/** uuid is a random UUID; unlike crypto.randomUUID it needs no secure page. */
export function uuid(): string {
  const b = bytes(16);
  b[6] = (b[6]! & 0x0f) | 0x40;
  b[8] = (b[8]! & 0x3f) | 0x80;
  const hex = [...b].map((x) => x.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

/**
 * newKey draws what opens a book, or a link, at the relay: 32 random bytes in
 * base64url. The phone draws it and keeps it before it is told to the relay, so
 * a call whose answer got lost can be made again and means the same.
 */
export function newKey(): string {
  return random(32).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

function bytes(n: number): Uint8Array {
  return crypto.getRandomValues(new Uint8Array(n));
}
