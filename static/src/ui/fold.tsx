// A part of a long screen, closed until it is asked for. An open one stands in
// the address, such as /bike#checks: going back finds it open again.
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";

interface FoldProps {
  id: string;
  title: string;
  /** What is inside, in a few words. */
  says?: string;
  children: ComponentChildren;
}

export function Fold(p: FoldProps) {
  const part = useRef<HTMLDetailsElement>(null);
  const hash = `#${p.id}`;
  useEffect(() => {
    if (location.hash !== hash || !part.current) return;
    part.current.open = true;
    part.current.scrollIntoView();
  }, [hash]);
  const remember = () => {
    if (part.current?.open) history.replaceState(null, "", hash);
    else if (location.hash === hash) history.replaceState(null, "", location.pathname + location.search);
  };
  return (
    <details ref={part} id={p.id} class="card folded" onToggle={remember}>
      <summary>
        <h2>{p.title}</h2>
        {p.says && <p class="quiet">{p.says}</p>}
      </summary>
      <div class="folded-inside">{p.children}</div>
    </details>
  );
}
