import type { ComponentChildren } from "preact";

/** Icon is a picture of the sprite. Without a label it is decoration. */
export function Icon(p: { name: string; label?: string }) {
  return (
    <svg class="icon" role={p.label ? "img" : undefined} aria-label={p.label} aria-hidden={p.label ? undefined : "true"}>
      <use href={`${ICONS_URL}#${p.name}`} />
    </svg>
  );
}

interface ButtonProps {
  children: ComponentChildren;
  onClick?: () => void;
  /** The one action of a form: filled, 56 px. */
  main?: boolean;
  danger?: boolean;
  disabled?: boolean;
  submit?: boolean;
  id?: string;
  /** A fuller name for those who hear the page: it begins with what is read. */
  label?: string;
}

export function Button(p: ButtonProps) {
  const kind = p.main ? " button-main" : p.danger ? " button-danger" : "";
  return (
    <button id={p.id} aria-label={p.label} type={p.submit ? "submit" : "button"} class={`button${kind}`} onClick={p.onClick} disabled={p.disabled}>
      {p.children}
    </button>
  );
}

interface BigActionProps {
  icon: string;
  label: string;
  detail?: string;
  href?: string;
  onClick?: () => void;
  main?: boolean;
  id?: string;
}

/** BigAction is one of a screen's few large actions: a link or a button. */
export function BigAction(p: BigActionProps) {
  const inside = (
    <>
      <Icon name={p.icon} />
      <span class="big-words">
        <span class="big-label">{p.label}</span>
        {p.detail && <span class="big-detail">{p.detail}</span>}
      </span>
    </>
  );
  const look = `big${p.main ? " big-main" : ""}`;
  if (p.href) return <a id={p.id} class={look} href={p.href}>{inside}</a>;
  return <button id={p.id} type="button" class={look} onClick={p.onClick}>{inside}</button>;
}

/** NoBike is what a screen about the bike shows when the core refused it; nothing while the core is asked. */
export function NoBike(p: { refusals: readonly unknown[] }) {
  if (p.refusals.length === 0) return null;
  return <p class="empty">There is no bike in this book yet. <a href="/first-look">Take the first look</a></p>;
}

interface CardProps {
  title?: string;
  /** "stop" is a safety stop, "warn" wants a look, "quiet" stands back. */
  tone?: "stop" | "warn" | "quiet";
  children: ComponentChildren;
  id?: string;
}

export function Card(p: CardProps) {
  return (
    <section id={p.id} class={`card${p.tone ? ` card-${p.tone}` : ""}`}>
      {p.title && <h2>{p.title}</h2>}
      {p.children}
    </section>
  );
}
