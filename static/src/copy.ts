// A copy of the whole book as one file, and back. The core decides what is in
// it and where; only this module touches the photos, one at a time, and puts
// them in by reference: a book has hundreds, and a phone little memory.
import * as books from "./book";
import * as core from "./core";
import * as photos from "./photo";
import * as shelf from "./shelf";

/** A saved copy. */
export interface Saved {
  name: string;
  file: Blob;
  /** Photos that the book tells of and this phone does not have. */
  missing: number;
}

/** A stretch of the file: bytes in base64, or a photo. */
type Part = { bytes: string } | { photo: string };

/** save puts a book and its photos into one file. */
export async function save(book: string): Promise<Saved> {
  const here = new Map<string, Blob>();
  const onHand: { name: string; size: number; crc32: number }[] = [];
  for (const name of await shelf.photoNames(book)) {
    const bytes = await shelf.photo(book, name);
    if (!bytes) continue;
    here.set(name, new Blob([bytes]));
    onHand.push({ name, size: bytes.byteLength, crc32: crc32(new Uint8Array(bytes)) });
  }
  const out = await core.value<{ name: string; parts: Part[]; missing: number }>("export", { book, photos: onHand });
  const parts = out.parts.map((p) => ("photo" in p ? here.get(p.photo)! : Uint8Array.from(atob(p.bytes), (c) => c.charCodeAt(0))));
  return { name: out.name, file: new Blob(parts, { type: "application/zip" }), missing: out.missing };
}

/** What the core read out of a saved copy. */
interface Read extends books.Copy {
  photos: { name: string; from: number; size: number; packed?: boolean }[];
  missing: number;
  findings: unknown[];
}

/** What was wrong with a file that was read all the same. */
export interface Lacking {
  photos: number;
  lines: number;
}

/** read brings a saved copy onto this phone and opens its book. */
export async function read(file: Blob, onPhoto: (n: number, of: number) => void): Promise<Lacking | core.Refusal[]> {
  const answer = await core.call<Read>("import", {}, [], file);
  if ("refusals" in answer) return answer.refusals;
  if ("bug" in answer) return [{ field: "file", says: "This file cannot be read.", mend: "Pick the zip that 'Save a copy' made." }];
  const copy = answer.value;
  let lost = copy.missing;
  for (const [i, p] of copy.photos.entries()) {
    onPhoto(i + 1, copy.photos.length);
    const stored = file.slice(p.from, p.from + p.size);
    const bytes = p.packed ? await inflated(stored) : await stored.arrayBuffer();
    if (!bytes || !(await photos.keepFetched(copy.book, p.name, bytes))) lost++;
  }
  await books.imported(copy);
  return { photos: lost, lines: copy.findings.length };
}

const largest = 1 << 20; // bytes of a photo; the core's archive.MaxPhoto

// inflated unpacks a photo of an archive that somebody has packed anew;
// undefined when it is none of ours.
async function inflated(packed: Blob): Promise<ArrayBuffer | undefined> {
  const reader = packed.stream().pipeThrough(new DecompressionStream("deflate-raw")).getReader();
  const parts: BlobPart[] = [];
  let size = 0;
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return await new Blob(parts).arrayBuffer();
      parts.push(value);
      if ((size += value.byteLength) > largest) break;
    }
  } catch {
    return undefined; // not whole
  }
  await reader.cancel();
  return undefined;
}

// crc32 is the checksum that a zip wants beside its files (ISO 3309, as in
// PKWARE's APPNOTE 6.3.10, 4.4.7).
function crc32(bytes: Uint8Array): number {
  let crc = ~0;
  for (const b of bytes) crc = (crc >>> 8) ^ remainders[(crc ^ b) & 0xff]!;
  return ~crc >>> 0;
}

const remainders = Int32Array.from({ length: 256 }, (_, n) => {
  for (let bit = 0; bit < 8; bit++) n = n & 1 ? (n >>> 1) ^ 0xedb88320 : n >>> 1;
  return n;
});
