// Light, dark, sun, or as the phone says. Kept in localStorage, because it is
// needed before the first drawing.
import { signal } from "./signal";

const themes = ["auto", "light", "dark", "sun"] as const;
export type Theme = (typeof themes)[number];

/** The theme the rider chose. */
export const theme = signal<Theme>(stored());

function stored(): Theme {
  try {
    const t = localStorage.getItem("theme") as Theme;
    return themes.includes(t) ? t : "auto";
  } catch {
    return "auto";
  }
}

/** choose sets the theme and keeps it. */
export function choose(t: Theme): void {
  theme.set(t);
  show();
  try {
    localStorage.setItem("theme", t);
  } catch {
    // A phone that keeps nothing still shows the theme until it is closed.
  }
}

/** show puts the theme on the page. */
export function show(): void {
  const t = theme.get();
  const dark = t === "dark" || (t === "auto" && matchMedia("(prefers-color-scheme: dark)").matches);
  document.documentElement.dataset.theme = t === "auto" ? (dark ? "dark" : "light") : t;
  const bar = document.querySelector<HTMLMetaElement>('meta[name="theme-color"]');
  if (bar) bar.content = getComputedStyle(document.documentElement).getPropertyValue("--ground").trim();
}

matchMedia("(prefers-color-scheme: dark)").addEventListener("change", show);
