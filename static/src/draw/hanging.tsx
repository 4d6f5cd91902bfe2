// The whole bike at a glance: every adjuster a bob on its own string. What is
// on the line hangs straight; what has drifted swings less or more.
import type { Plumb } from "../models/bike";

const length = 44;
const widest = 15; // degrees at the end of the scale: neighbours never cross

export function Hanging(p: { plumb: Plumb }) {
  const { bobs, says } = p.plumb;
  const pitch = 304 / Math.max(1, bobs.length);
  return (
    <svg class="hanging" viewBox="0 0 320 66" role="img" aria-label={says}>
      <path class="hanging-rail" d="M4 3 H316" />
      {bobs.map((b, i) => {
        const off = b.swing !== 0 && !b.hollow;
        const turn = off ? Math.sign(-b.swing) * Math.max(5, Math.abs(b.swing) * widest) : 0;
        return (
          <g key={b.id} class={b.hollow ? "hang hang-hollow" : off ? "hang hang-off" : "hang"} transform={`translate(${8 + pitch * (i + 0.5)} 3) rotate(${turn})`}>
            <path class="hang-string" d={`M0 0 V${length}`} />
            <path class="hang-bob" d={`M-4.5 ${length} h9 v6 l-4.5 8 l-4.5 -8 z`} />
          </g>
        );
      })}
    </svg>
  );
}
