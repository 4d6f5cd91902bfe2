import type { Refusal } from "../core";

/** refusalId is where the refusals of a field stand, for aria-describedby. */
export const refusalId = (field: string) => `refused-${field.replace(/[^a-z0-9-]/gi, "-")}`;

/** RefusalFor stands beside a field and says what is wrong with it. */
export function RefusalFor(p: { refusals: readonly Refusal[]; field: string }) {
  return <RefusalList refusals={p.refusals.filter((r) => r.field === p.field)} id={refusalId(p.field)} />;
}

/** RefusalList says what is wrong with a form as a whole, except what is said beside its fields. */
export function RefusalList(p: { refusals: readonly Refusal[]; except?: readonly string[]; id?: string }) {
  return (
    <div id={p.id} class="refusals" role="alert">
      {p.refusals.filter((r) => !p.except?.includes(r.field)).map((r, i) => <p key={i} class="refusal">{r.says} {r.mend}</p>)}
    </div>
  );
}
