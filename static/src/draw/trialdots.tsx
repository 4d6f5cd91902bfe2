// The laps of a trial: a column for each run, a dot for each lap, hollow on
// the old setting and filled on the new; the band holds a run's middle half.
import type { TrialDots } from "../models/trial";
import { DataTable } from "../ui/table";

const left = 54;
const width = 320;
const top = 10;
const height = 170;

export function TrialDotsPicture(p: { dots: TrialDots }) {
  const { runs, ticks, old, axis, says } = p.dots;
  const each = (width - left) / runs.length;
  const y = (at: number) => top + (1 - at) * height;
  return (
    <figure class="plot">
      <p class="plot-axis" aria-hidden="true">{axis}</p>
      <svg viewBox={`0 0 ${width} ${top + height + 44}`} role="img" aria-label={says}>
        {ticks.map((t) => (
          <g key={t.label}>
            <path class="plot-rule" d={`M${left} ${y(t.at)} H${width}`} />
            <text x={left - 6} y={y(t.at) + 4} text-anchor="end">{t.label}</text>
          </g>
        ))}
        {old !== undefined && <path class="plot-old" d={`M${left} ${y(old)} H${width}`} />}
        {runs.map((r, i) => (
          <g key={r.label} class={`stint stint-${r.word}`}>
            {r.band && <rect class="stint-band" x={left + i * each + 3} width={each - 6} y={y(r.high)} height={Math.max(2, y(r.low) - y(r.high))} />}
            {r.band && <path class="stint-middle" d={`M${left + i * each + 3} ${y(r.middle)} h${each - 6}`} />}
            {r.dots.map((d, j) => <Dot key={j} x={left + (i + 0.08 + 0.84 * d.along) * each} y={y(d.at)} counts={d.counts} />)}
            <text x={left + (i + 0.5) * each} y={top + height + 20} text-anchor="middle">{r.label}</text>
            <text x={left + (i + 0.5) * each} y={top + height + 37} text-anchor="middle">{r.word}</text>
          </g>
        ))}
      </svg>
      <figcaption class="plot-key">
        <span><svg viewBox="0 0 12 12" aria-hidden="true" class="stint stint-old"><circle class="lap" cx="6" cy="6" r="4" /></svg> old setting</span>
        <span><svg viewBox="0 0 12 12" aria-hidden="true"><circle class="lap" cx="6" cy="6" r="4" /></svg> new setting</span>
        <span><svg viewBox="0 0 12 12" aria-hidden="true"><path class="lap-cross" d="M3 3l6 6m0-6l-6 6" /></svg> does not count</span>
        <span>Lower is faster.</span>
      </figcaption>
      <details class="fold">
        <summary>The same as a table</summary>
        <DataTable name="Laps by run" head={["Run", "Setting", "Middle", "Laps"]} rows={runs.map((r) => [r.label, r.word, r.mid || "none", r.laps || "none"])} />
      </details>
    </figure>
  );
}

function Dot(p: { x: number; y: number; counts: boolean }) {
  if (p.counts) return <circle class="lap" cx={p.x} cy={p.y} r="4" />;
  return <path class="lap-cross" d={`M${p.x - 3} ${p.y - 3} l6 6 m0 -6 l-6 6`} />;
}
