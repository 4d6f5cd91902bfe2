// The plumb picture: the line as a hairline, every adjuster a bob beside it.
import type { Bob, Plumb } from "../models/bike";

const middle = 160;
const reach = 120;

export function PlumbPicture(p: { plumb: Plumb; href: (id: string) => string }) {
  return (
    <figure class="plumb-figure">
      <p class="plumb-ends" aria-hidden="true"><span>← less, softer, lower</span><span>more, stiffer, higher →</span></p>
      <ul class="bobs" aria-label={p.plumb.says}>
        {p.plumb.bobs.map((b) => <li key={b.id}><Row bob={b} href={p.href(b.id)} /></li>)}
      </ul>
    </figure>
  );
}

function Row(p: { bob: Bob; href: string }) {
  const b = p.bob;
  const x = middle + b.swing * reach;
  const off = b.swing !== 0;
  return (
    <a href={p.href} class={b.hollow ? "bob bob-hollow" : off ? "bob bob-off" : "bob"}>
      <span class="bob-words"><span>{b.name}</span> <span>{b.at}</span></span>{" "}
      <svg viewBox="0 0 320 24" role="img" aria-label={b.says}>
        {off && <path class="bob-string" d={`M${middle} 10 H${x}`} />}
        <path class="bob-shape" d={`M${x - 7} 4 h14 v7 l-7 9 l-7 -9 z`} />
        <text x={b.swing < 0 ? x - 12 : x + 12} y="16" text-anchor={b.swing < 0 ? "end" : "start"}>{b.mark}</text>
      </svg>
    </a>
  );
}

/** The same as the picture, in rows. */
export function PlumbTable(p: { plumb: Plumb }) {
  return (
    <details class="fold">
      <summary>The same as a table</summary>
      <table class="plumb-table">
        <thead><tr><th scope="col">Adjuster</th><th scope="col">Now</th><th scope="col">Line</th><th scope="col">Steps</th></tr></thead>
        <tbody>{p.plumb.bobs.map((b) => <tr key={b.id}><th scope="row">{b.name}</th><td>{b.at}</td><td>{b.lineAt}</td><td>{b.mark}</td></tr>)}</tbody>
      </table>
    </details>
  );
}
