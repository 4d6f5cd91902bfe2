import { useId, useLayoutEffect, useRef } from "preact/hooks";
import type { ComponentChildren } from "preact";

/** Sheet comes up from below, holds the focus, and goes at Escape, Close or a tap beside it. */
export function Sheet(p: { title: string; open: boolean; onClose: () => void; children: ComponentChildren }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const title = useId();
  // Before the next drawing: a thumb is never faster than the sheet.
  useLayoutEffect(() => {
    const d = dialog.current;
    if (p.open && d && !d.open) d.showModal();
    if (!p.open && d?.open) d.close();
  }, [p.open]);
  return (
    <dialog ref={dialog} class="sheet" aria-labelledby={title} onClose={p.onClose} onClick={(e) => e.target === dialog.current && p.onClose()}>
      {p.open && (
        <div class="sheet-inside">
          <div class="sheet-top">
            <h2 id={title}>{p.title}</h2>
            <button type="button" class="button" onClick={p.onClose}>Close</button>
          </div>
          {p.children}
        </div>
      )}
    </dialog>
  );
}
