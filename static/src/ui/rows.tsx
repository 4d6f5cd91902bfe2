// Rows to go on from: each leads to a screen, or opens a sheet.
import type { ComponentChildren } from "preact";

export function Rows(p: { children: ComponentChildren }) {
  return <ul class="look-steps">{p.children}</ul>;
}

interface RowProps {
  title: string;
  says?: string | undefined;
  /** A class of its own, for a look. */
  look?: string;
  children?: ComponentChildren;
}

export function Row(p: RowProps & ({ href: string } | { onClick: () => void })) {
  const inside = (
    <>
      <span>{p.title}</span>
      {p.says && <small>{p.says}</small>}
      {p.children}
    </>
  );
  const look = p.look ? `button ${p.look}` : "button";
  return <li>{"href" in p ? <a class={look} href={p.href}>{inside}</a> : <button type="button" class={look} onClick={p.onClick}>{inside}</button>}</li>;
}
