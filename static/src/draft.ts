// Drafts of open forms, kept twice: at once in localStorage, which is written
// before the next line runs, and a moment later on the shelf, which lasts. So
// a page that is reloaded, or killed, right behind the last key loses nothing.
// localStorage holds a draft only until the shelf has it.
import * as shelf from "./shelf";
import type { Draft } from "./shelf";

const prefix = "plumbline-draft:";
/** How long keys may pause before the shelf is written; it syncs to the disk. */
const pause = 300;

const unsaved = new Map<string, Draft>();
let timer: ReturnType<typeof setTimeout> | undefined;

/** keep holds on to a draft from now on, whatever becomes of the page. */
export function keep(d: Draft): void {
  unsaved.set(d.id, d);
  mirror(d);
  clearTimeout(timer);
  timer = setTimeout(() => void save(), pause);
}

/** recall is the draft with an id, as it was last kept. */
export async function recall(id: string): Promise<Draft | undefined> {
  return unsaved.get(id) ?? mirrored(id) ?? shelf.draft(id);
}

/** drop forgets a draft. */
export async function drop(id: string): Promise<void> {
  unsaved.delete(id);
  unmirror(id);
  await shelf.dropDraft(id);
}

async function save(): Promise<void> {
  for (const d of [...unsaved.values()]) {
    if (unsaved.get(d.id) !== d) continue;
    try {
      await shelf.putDraft(d);
    } catch {
      continue; // a full phone: the mirror still has it
    }
    if (unsaved.get(d.id) !== d) continue;
    unsaved.delete(d.id);
    unmirror(d.id);
  }
}

function mirror(d: Draft): void {
  try {
    localStorage.setItem(prefix + d.id, JSON.stringify(d));
  } catch {
    // No room, or no localStorage: the shelf comes soon.
  }
}

function mirrored(id: string): Draft | undefined {
  try {
    const text = localStorage.getItem(prefix + id);
    return text === null ? undefined : (JSON.parse(text) as Draft);
  } catch {
    return undefined;
  }
}

function unmirror(id: string): void {
  try {
    localStorage.removeItem(prefix + id);
  } catch {
    // Nothing was mirrored.
  }
}

addEventListener("pagehide", () => void save());
document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && void save());
