// Addresses: the History API, plain links, and patterns such as /bike/:id.
import { signal } from "./signal";

/** The address now: path and query. */
export const place = signal(here());

function here(): { path: string; query: URLSearchParams } {
  return { path: location.pathname, query: new URLSearchParams(location.search) };
}

/** go moves to an address of the app. */
export function go(to: string, how: { replace?: boolean } = {}): void {
  if (how.replace) history.replaceState(null, "", to);
  else history.pushState(null, "", to);
  place.set(here());
  scrollTo(0, 0);
}

/** listen makes links and the back key move within the app. */
export function listen(): void {
  addEventListener("popstate", () => place.set(here()));
  document.addEventListener("click", (e) => {
    const a = (e.target as Element).closest?.("a[href]") as HTMLAnchorElement | null;
    if (!a || e.defaultPrevented || e.button !== 0 || e.metaKey || e.ctrlKey || e.shiftKey || e.altKey) return;
    if (a.target || a.hasAttribute("download") || a.origin !== location.origin || /^\/(api|s)\//.test(a.pathname)) return;
    if (a.hash && a.pathname === location.pathname && a.search === location.search) return; // within the page
    e.preventDefault();
    go(a.pathname + a.search + a.hash);
  });
}

/** match returns what a pattern's :names stand for, or undefined. */
export function match(pattern: string, path: string): Record<string, string> | undefined {
  const want = pattern.replace(/\/$/, "").split("/");
  const is = path.replace(/\/$/, "").split("/");
  if (want.length !== is.length) return undefined;
  const params: Record<string, string> = {};
  for (const [i, w] of want.entries()) {
    if (w.startsWith(":")) params[w.slice(1)] = decodeURIComponent(is[i]!);
    else if (w !== is[i]) return undefined;
  }
  return params;
}
