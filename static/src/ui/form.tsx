// A screen's form: its questions, and the bar with its one action.
import type { ComponentChildren } from "preact";
import { Button } from "./parts";

/** Form is handed in by its main button, or by Enter. */
export function Form(p: { onSubmit: () => unknown; children: ComponentChildren }) {
  const submit = (e: Event) => {
    e.preventDefault();
    p.onSubmit();
  };
  return <form class="flow" onSubmit={submit}>{p.children}</form>;
}

/** Save is a form's one action; it stays in reach of the thumb. */
export function Save(p: { children: ComponentChildren; disabled?: boolean }) {
  return (
    <div class="flow-end">
      <Button id="save" main submit disabled={p.disabled}>{p.children}</Button>
    </div>
  );
}
