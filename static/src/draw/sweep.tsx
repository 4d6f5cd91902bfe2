// A sweep: lap times over the positions of one adjuster, the mean of each with
// its doubt, the curve where the laps make one, and where the fastest place
// may lie.
import type { SweepPicture } from "../models/trial";
import { DataTable } from "../ui/table";

const left = 54;
const width = 320;
const top = 28;
const height = 170;
const feels: Record<string, string> = { better: "+", same: "=", worse: "−" };

export function SweepDrawing(p: { sweep: SweepPicture }) {
  const s = p.sweep;
  const x = (at: number) => left + at * (width - left);
  const y = (at: number) => top + (1 - at) * height;
  return (
    <figure class="plot">
      <p class="plot-axis" aria-hidden="true">{s.yAxis}</p>
      <svg viewBox={`0 0 ${width} ${top + height + 46}`} role="img" aria-label={s.says}>
        {s.best && <rect class="sweep-best" x={x(s.best[0])} width={Math.max(4, x(s.best[1]) - x(s.best[0]))} y={top} height={height} />}
        {s.yTicks.map((t) => (
          <g key={t.label}>
            <path class="plot-rule" d={`M${left} ${y(t.at)} H${width}`} />
            <text x={left - 6} y={y(t.at) + 4} text-anchor="end">{t.label}</text>
          </g>
        ))}
        {s.curve.length > 1 && <path class="sweep-curve" d={s.curve.map(([a, b], i) => `${i ? "L" : "M"}${x(a)} ${y(b)}`).join(" ")} />}
        {s.stops.map((stop, i) => (
          <g key={i}>
            {stop.mean !== undefined && <path class="sweep-doubt" d={`M${x(stop.at) - 5} ${y(stop.low)} h10 M${x(stop.at)} ${y(stop.low)} V${y(stop.high)} M${x(stop.at) - 5} ${y(stop.high)} h10`} />}
            {stop.dots.map((d, j) => <circle key={j} class="lap lap-old" cx={x(stop.at) + (j - (stop.dots.length - 1) / 2) * 7} cy={y(d)} r="4" />)}
            {stop.mean !== undefined && <circle class="lap" cx={x(stop.at)} cy={y(stop.mean)} r="5" />}
            {feels[stop.felt] && <text class="sweep-felt" x={x(stop.at)} y={top - 10} text-anchor="middle">{feels[stop.felt]}</text>}
          </g>
        ))}
        {s.xTicks.map((t) => <text key={t.label} x={x(t.at)} y={top + height + 20} text-anchor="middle">{t.label}</text>)}
        <text x={(left + width) / 2} y={top + height + 40} text-anchor="middle">{s.xAxis}</text>
      </svg>
      <figcaption class="plot-key">
        <span>Rings are laps, dots their mean, whiskers its doubt.</span>
        <span>+ felt better, = the same, − worse.</span>
        <span>Lower is faster.</span>
      </figcaption>
      <details class="fold">
        <summary>The same as a table</summary>
        <DataTable name="Laps by position" head={["Position", "Mean", "Laps", "Felt"]} rows={s.stops.map((t) => [t.label, t.mid, t.laps, t.felt || "not said"])} />
      </details>
    </figure>
  );
}
