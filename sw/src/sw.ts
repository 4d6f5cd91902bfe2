// The service worker: keeps the app's files, by revision, and answers with
// them; never for /api/ or for shared links. Woken, it sends what waits.
import { sendWaiting } from "./background";

/** A file of the app: its address, and its SHA-256 as integrity wants it. */
interface File {
  url: string;
  integrity: string;
}

/** Written in by cmd/build: the build's name and every file of the app. */
declare const MANIFEST: { build: string; files: File[] };
declare const self: ServiceWorkerGlobalScope;

const prefix = "plumbline-app-";
const name = prefix + MANIFEST.build;
const page = "/index.html";
const known = new Map(MANIFEST.files.map((f) => [f.url, f]));
/** Says, in a cache, what a stored file's integrity was. */
const mark = "X-Plumbline-Integrity";

// Nothing is skipped at install: the old version keeps running until the
// rider says so, or until every page of it is closed.
self.addEventListener("install", (e) => e.waitUntil(fill()));

self.addEventListener("activate", (e) => e.waitUntil(tidy()));

self.addEventListener("message", (e) => {
  if (e.data === "take over") void self.skipWaiting();
  if (e.data === "verify") e.waitUntil(fill().then(() => e.source?.postMessage("complete")));
});

// A failure is the browser's to repeat.
self.addEventListener("sync", (e) => (e as ExtendableEvent).waitUntil(sendWaiting()));

self.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (["/api/", "/s/"].some((own) => url.pathname.startsWith(own))) return; // the server answers these
  const want = known.has(url.pathname) ? url.pathname : e.request.mode === "navigate" && isRoute(url.pathname) ? page : "";
  if (want) e.respondWith(answer(want, e.request));
});

// A route of the app is no file, and files all lie at the top: the dot in
// /bike/setting/rear.rebound is a name's.
function isRoute(path: string): boolean {
  return !/^\/[^/]+\.[a-z0-9]+$/i.test(path);
}

// fill puts every file that is missing into this version's cache; what did not
// change is copied from an older one.
async function fill(): Promise<void> {
  const cache = await caches.open(name);
  const older = (await caches.keys()).filter((k) => k.startsWith(prefix) && k !== name);
  await Promise.all(MANIFEST.files.map((f) => put(cache, older, f)));
}

async function put(cache: Cache, older: string[], f: File): Promise<void> {
  if (await cache.match(f.url)) return;
  for (const o of older) {
    const was = await (await caches.open(o)).match(f.url);
    if (was?.headers.get(mark) === f.integrity) return cache.put(f.url, was);
  }
  await cache.put(f.url, await fetched(f));
}

async function fetched(f: File): Promise<Response> {
  const got = await fetch(f.url, { integrity: f.integrity, cache: "no-cache", credentials: "omit" });
  if (!got.ok) throw new Error(`${f.url}: ${got.status}`);
  const headers = new Headers(got.headers);
  headers.delete("Content-Encoding");
  headers.delete("Content-Length");
  headers.set(mark, f.integrity);
  return new Response(got.body, { status: 200, headers });
}

async function tidy(): Promise<void> {
  const old = (await caches.keys()).filter((k) => k.startsWith(prefix) && k !== name);
  await Promise.all(old.map((k) => caches.delete(k)));
  await self.clients.claim();
}

async function answer(path: string, request: Request): Promise<Response> {
  const kept = await (await caches.open(name)).match(path);
  if (!kept) return path === page ? fetch(page) : fetch(request);
  const range = request.headers.get("Range");
  return range ? part(kept, range) : kept;
}

// part answers a request for a range of bytes (RFC 9110, section 14).
async function part(whole: Response, range: string): Promise<Response> {
  const bytes = await whole.arrayBuffer();
  const [, from = "", to = ""] = /^bytes=(\d*)-(\d*)$/.exec(range) ?? [];
  if (from === "" && to === "") return new Response(bytes, { headers: whole.headers });
  const size = bytes.byteLength;
  const first = from === "" ? Math.max(0, size - Number(to)) : Number(from);
  const last = from === "" || to === "" ? size - 1 : Math.min(Number(to), size - 1);
  if (first > last) return new Response(null, { status: 416, headers: { "Content-Range": `bytes */${size}` } });
  const headers = new Headers(whole.headers);
  headers.set("Content-Range", `bytes ${first}-${last}/${size}`);
  return new Response(bytes.slice(first, last + 1), { status: 206, headers });
}
