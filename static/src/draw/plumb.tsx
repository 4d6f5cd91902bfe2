// The plumb picture: the line as a hairline, every adjuster a bob beside it.
import type { Plumb } from "../models/bike";

const row = 54; // 48 px or more at 360 px
const middle = 160;
const reach = 120;

export function PlumbPicture(p: { plumb: Plumb; href: (id: string) => string }) {
  const { bobs, says } = p.plumb;
  const height = bobs.length * row + 8;
  return (
    <figure class="plumb-figure">
      <p class="plumb-ends" aria-hidden="true"><span>← less, softer, lower</span><span>more, stiffer, higher →</span></p>
      <svg class="plumb-picture" viewBox={`0 0 320 ${height}`} role="group" aria-label={says}>
        <path class="hairline" d={`M${middle} 0 V${height}`} />
        {bobs.map((b, i) => {
          const x = middle + b.swing * reach;
          const y = i * row + 36;
          const off = b.swing !== 0;
          return (
            <a key={b.id} href={p.href(b.id)} class={b.hollow ? "bob bob-hollow" : off ? "bob bob-off" : "bob"}>
              <rect class="bob-touch" x="0" y={i * row} width="320" height={row} />
              <text class="bob-name" x="4" y={y - 18}>{b.name}</text>{" "}
              <text class="bob-at" x="316" y={y - 18} text-anchor="end">{b.at}</text>{" "}
              {off && <path class="bob-string" d={`M${middle} ${y} H${x}`} />}
              <path class="bob-shape" d={`M${x - 7} ${y - 7} h14 v7 l-7 9 l-7 -9 z`} />
              <text class="bob-mark" x={b.swing < 0 ? x - 12 : x + 12} y={y + 5} text-anchor={b.swing < 0 ? "end" : "start"}>{b.mark}</text>
            </a>
          );
        })}
      </svg>
    </figure>
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
