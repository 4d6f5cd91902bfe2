// The app on the phone: its service worker, the new version, and whether the
// browser promises to keep what is stored.
import { signal } from "./signal";

/** A new version is here and waits for the rider's word. */
export const updateReady = signal(false);
/** Everything the app needs is on the phone. */
export const offlineReady = signal(false);
/** Whether the browser promised to keep the data; undefined when it cannot say. */
export const persisted = signal<boolean | undefined>(undefined);
/** Whether this page may keep an app offline at all: false over plain HTTP. */
export const secure = isSecureContext && "serviceWorker" in navigator;

let registration: ServiceWorkerRegistration | undefined;

/** begin registers the service worker and watches for new versions. */
export async function begin(): Promise<void> {
  await askPersisted();
  if (!secure) return;
  navigator.serviceWorker.addEventListener("controllerchange", reloadOnce);
  navigator.serviceWorker.addEventListener("message", (e) => {
    if (e.data !== "complete") return;
    offlineReady.set(true);
    document.documentElement.dataset.offline = "ready";
  });
  registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
  watch(registration);
  void navigator.serviceWorker.ready.then((r) => r.active?.postMessage("verify"));
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void registration?.update().catch(() => undefined);
  });
}

function watch(r: ServiceWorkerRegistration): void {
  if (r.waiting && navigator.serviceWorker.controller) updateReady.set(true);
  r.addEventListener("updatefound", () => {
    const fresh = r.installing;
    fresh?.addEventListener("statechange", () => {
      if (fresh.state === "installed" && navigator.serviceWorker.controller) updateReady.set(true);
    });
  });
}

let asked = false;
let controlled = secure && navigator.serviceWorker.controller !== null;

// Another tab may have let the new version in: then this one asks too.
function reloadOnce(): void {
  if (asked) location.reload();
  else if (controlled) updateReady.set(true);
  controlled = true;
}

/** build is this build's short name: a hash over all its files. */
export function build(): string {
  return document.querySelector<HTMLMetaElement>('meta[name="build"]')?.content ?? "";
}

/** update lets the new version take over, and reloads. Open forms are kept as drafts. */
export function update(): void {
  asked = true;
  if (registration?.waiting) registration.waiting.postMessage("take over");
  else location.reload();
}

/** wakeLater asks the browser to wake the service worker once there is a network, to send what waits. */
export async function wakeLater(): Promise<void> {
  const sync = (registration as { sync?: { register(tag: string): Promise<void> } } | undefined)?.sync;
  await sync?.register("send").catch(() => undefined); // not allowed: the next page sends
}

async function askPersisted(): Promise<void> {
  if (!navigator.storage?.persisted) return;
  persisted.set(await navigator.storage.persisted());
}

/** persist asks the browser to promise to keep the data. */
export async function persist(): Promise<void> {
  if (!navigator.storage?.persist) return;
  persisted.set(await navigator.storage.persist());
}
