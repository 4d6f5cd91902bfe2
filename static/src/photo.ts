// Photos on their way into the book: made small on the phone, freed of what the
// camera wrote beside the picture (the place above all), named by their bytes.
import * as books from "./book";
import type { PhotoNames } from "./models/photos";
import * as shelf from "./shelf";
import { signal } from "./signal";

/** Counts up whenever this phone has a photo more. */
export const arrived = signal(0);

const longest = 1600; // pixels of the longer side
const most = 400 * 1024; // bytes
const qualities = [0.82, 0.7, 0.55, 0.4];

/** The picked file is no picture that this browser can read. */
export class NoPicture extends Error {}

/** shrink makes a JPEG of at most 1600 pixels and, in steps of quality and size, about 400 KB. */
export async function shrink(file: Blob): Promise<ArrayBuffer> {
  const picture = await createImageBitmap(file).catch(() => {
    throw new NoPicture();
  });
  try {
    for (let side = longest; ; side = Math.round(side * 0.7)) {
      const canvas = drawn(picture, side);
      for (const quality of qualities) {
        const bytes = bare(await encoded(canvas, quality));
        if (bytes.byteLength <= most || side < 400) return bytes;
      }
    }
  } finally {
    picture.close();
  }
}

function drawn(picture: ImageBitmap, side: number): HTMLCanvasElement {
  const scale = Math.min(1, side / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext("2d")!.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return canvas;
}

async function encoded(canvas: HTMLCanvasElement, quality: number): Promise<ArrayBuffer> {
  const blob = await new Promise<Blob | null>((ok) => canvas.toBlob(ok, "image/jpeg", quality));
  if (!blob) throw new NoPicture();
  return blob.arrayBuffer();
}

/**
 * bare takes the segments out of a JPEG that hold no picture and no colours:
 * APP1 (Exif, XMP), APP3 to APP13, APP15 and comments. Some browsers write Exif
 * of their own when they encode.
 */
export function bare(jpeg: ArrayBuffer): ArrayBuffer {
  const from = new Uint8Array(jpeg);
  const parts: Uint8Array[] = [from.subarray(0, 2)];
  let at = 2;
  while (at + 4 <= from.length && from[at] === 0xff && from[at + 1] !== 0xda) {
    const marker = from[at + 1]!;
    const end = at + 2 + from[at + 2]! * 256 + from[at + 3]!;
    const kept = marker < 0xe0 || [0xe0, 0xe2, 0xee].includes(marker);
    if (kept) parts.push(from.subarray(at, end));
    at = end;
  }
  parts.push(from.subarray(at));
  const out = new Uint8Array(parts.reduce((n, p) => n + p.length, 0));
  let to = 0;
  for (const p of parts) {
    out.set(p, to);
    to += p.length;
  }
  return out.buffer;
}

/** nameOf is a photo's name. Pages that are not secure have no crypto.subtle: there the core hashes. */
async function nameOf(bytes: ArrayBuffer): Promise<string> {
  if (crypto.subtle) {
    const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
    return Array.from(sum, (b) => b.toString(16).padStart(2, "0")).join("");
  }
  let raw = "";
  for (const b of new Uint8Array(bytes)) raw += String.fromCharCode(b);
  return (await books.lookUp<string>("photoname", { bytes: btoa(raw) })).model!;
}

/** take shrinks a picked picture, keeps it on this phone, and returns its name. */
export async function take(book: string, file: Blob): Promise<string> {
  const bytes = await shrink(file);
  const name = await nameOf(bytes);
  taken.add(name);
  await keep(book, name, bytes);
  return name;
}

// A photo may be taken again that was struck out before: it is not swept away
// while its words are typed.
const taken = new Set<string>();

/** begin deletes photos from this phone as soon as it knows that their lines were struck out. */
export function begin(): void {
  books.edition.watch((e) => void (e > 0 && sweep()));
}

async function sweep(): Promise<void> {
  const book = books.current.get()?.id;
  if (!book) return;
  const here = await shelf.photoNames(book);
  if (here.length === 0) return;
  const names = (await books.look<PhotoNames>("photonames"))?.model;
  if (!names || books.current.get()?.id !== book) return;
  const gone = here.filter((name) => names.struck.includes(name) && !taken.has(name));
  if (gone.length > 0) await shelf.dropPhotos(book, gone);
}

/** keepFetched keeps a photo that came from elsewhere, if it is what it is called, and says whether it is. */
export async function keepFetched(book: string, name: string, bytes: ArrayBuffer): Promise<boolean> {
  if ((await nameOf(bytes)) !== name) return false;
  await keep(book, name, bytes);
  return true;
}

async function keep(book: string, name: string, bytes: ArrayBuffer): Promise<void> {
  await shelf.keepPhoto(book, name, bytes);
  arrived.set(arrived.get() + 1);
}
