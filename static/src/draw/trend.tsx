// The trend over a day: each session's middle lap and the middle half of its
// laps, the best below it, and where something was changed.
import type { Trend } from "../models/days";
import { DataTable } from "../ui/table";
import { LevelAxis } from "./laps";

const left = 56;
const top = 26;
const width = 340;
const height = 130;

export function TrendPicture(p: { trend: Trend }) {
  const { points, ticks, says } = p.trend;
  if (points.length === 0) return <p class="quiet">{says}</p>;
  const step = (width - left) / points.length;
  const x = (i: number) => left + step * (i + 0.5);
  const y = (share: number) => top + (1 - share) * height;
  return (
    <figure class="graph">
      <svg viewBox={`0 0 ${width} ${top + height + 38}`} role="img" aria-label={`The day, lower is faster. ${says}`}>
        <LevelAxis ticks={ticks} y={y} to={width} title="min:s" />
        <path class="trend-line" d={points.map((t, i) => `${i ? "L" : "M"}${x(i)} ${y(t.middle)}`).join("")} />
        {points.map((t, i) => (
          <g key={t.id}>
            {t.changed.length > 0 && (
              <g class="trend-changed">
                <path d={`M${x(i) - step / 2} ${top - 8}V${top + height}`} />
                <path class="bob-shape" d={`M${x(i) - step / 2 - 5} ${top - 14}h10v5l-5 7l-5-7z`} />
              </g>
            )}
            <path class="trend-half" d={`M${x(i)} ${y(t.quarter)}V${y(t.three)}`} />
            <path class="trend-best" d={`M${x(i) - 8} ${y(t.best)}h16`} />
            <circle class="trend-middle" cx={x(i)} cy={y(t.middle)} r="6" />
            <text x={x(i)} y={top + height + 18} text-anchor="middle">{t.time}</text>
          </g>
        ))}
        <text class="graph-title" x={width} y={top + height + 34} text-anchor="end">time of day</text>
      </svg>
      <ul class="graph-key">
        <li><svg viewBox="0 0 20 20" aria-hidden="true"><circle class="trend-middle" cx="10" cy="10" r="6" /></svg>middle lap</li>
        <li><svg viewBox="0 0 20 20" aria-hidden="true"><path class="trend-half" d="M10 1V19" /></svg>middle half</li>
        <li><svg viewBox="0 0 20 20" aria-hidden="true"><path class="trend-best" d="M2 10h16" /></svg>best</li>
        {points.some((t) => t.changed.length > 0) && <li><svg viewBox="0 0 20 20" aria-hidden="true"><path class="bob-shape" d="M5 3h10v6l-5 8l-5-8z" /></svg>changed before it</li>}
      </ul>
      <details class="more">
        <summary>The day as a table</summary>
        <DataTable name="The day" head={["Session", "Middle", "Best", "Laps that count", "Changed before it"]} rows={points.map((t) => [t.time, ...t.says, t.changed.join("; ") || "nothing"])} />
      </details>
    </figure>
  );
}
