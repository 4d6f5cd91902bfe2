// What waits is sent when the network comes back, even with every page closed,
// in browsers that wake the worker for it (Background Sync). Only this phone's
// own entries go: what others wrote, and photos, need the core, and wait for a
// page.
import * as relay from "../../static/src/relay";
import * as shelf from "../../static/src/shelf";
import type { ShelfBook } from "../../static/src/shelf";

/** sendWaiting sends what the relay lacks of this phone's entries, book by book. */
export async function sendWaiting(): Promise<void> {
  for (const b of await shelf.books()) {
    if (b.example || b.alone || !b.known || !b.token) continue; // a page registers a book
    const token = b.token;
    await navigator.locks.request(`sync:${b.id}`, () => send(b, token));
  }
}

async function send(b: ShelfBook, token: string): Promise<void> {
  let sent = (await relay.vector(b.id, token))[b.device] ?? 0;
  for (const waiting = await shelf.linesAfter(b.id, b.device, sent); waiting.length > 0; ) {
    const some = waiting.splice(0, relay.load(waiting));
    sent = (await relay.push(b.id, token, some))[b.device] ?? 0;
  }
  await shelf.mendBook(b.id, { sent });
}
