// Charts: lines over axes with units, and a bar with the range to aim for.
// Lines are told apart by their dashes and their names, not by colour alone.
import type { Chart as Model, ChartAxis, Gauge as Bar } from "../models/measure";
import { DataTable } from "../ui/table";

const wide = 320;
const high = 210;
const left = 46;
const low = 172; // y of the lower edge
const top = 12;
const right = wide - 12;

const place = (a: ChartAxis, v: number, from: number, to: number) => from + ((v - a.lo) / (a.hi - a.lo)) * (to - from);
const rounded = (v: number) => String(Number(v.toPrecision(4)));

export function Chart(p: { chart: Model }) {
  const { x, y, lines, spots, title } = p.chart;
  const px = (v: number) => place(x, v, left, right);
  const py = (v: number) => place(y, v, low, top);
  const zero = y.lo < 0 && y.hi > 0;
  return (
    <figure class="chart">
      <figcaption>{title}</figcaption>
      <svg viewBox={`0 0 ${wide} ${high}`} role="img" aria-label={`${title}. ${axisName(x)} from ${x.lo} to ${x.hi}, ${axisName(y)} from ${y.lo} to ${y.hi}. The numbers are in the table below.`}>
        {y.ticks.map((t) => <g key={t}><path class="chart-grid" d={`M${left} ${py(t)}H${right}`} /><text x={left - 5} y={py(t) + 4} text-anchor="end">{t}</text></g>)}
        {x.ticks.map((t) => <g key={t}><path class="chart-grid" d={`M${px(t)} ${top}V${low}`} /><text x={px(t)} y={low + 15} text-anchor="middle">{t}</text></g>)}
        <path class="chart-axis" d={`M${left} ${top}V${low}H${right}${zero ? `M${left} ${py(0)}H${right}` : ""}`} />
        <text class="chart-unit" x={right} y={low + 32} text-anchor="end">{axisName(x)}</text>
        <text class="chart-unit" x={left + 5} y={top + 8}>{axisName(y)}</text>
        {lines.map((l, i) => <path key={i} class={`chart-line chart-line-${i % 6}`} d={"M" + l.points.map(([a, b]) => `${px(a).toFixed(1)} ${py(b).toFixed(1)}`).join("L")} />)}
        {spots.map((s, i) => <g key={i}><circle class="chart-spot" cx={px(s.x)} cy={py(s.y)} r="5" /><text x={px(s.x)} y={py(s.y) - 9} text-anchor="middle">{s.title}</text></g>)}
      </svg>
      {lines.length > 1 && <ul class="chart-names">{lines.map((l, i) => <li key={i}><svg viewBox="0 0 40 8" aria-hidden="true"><path class={`chart-line chart-line-${i % 6}`} d="M0 4H40" /></svg>{l.title}</li>)}</ul>}
      <Numbers chart={p.chart} />
    </figure>
  );
}

const axisName = (a: ChartAxis) => (a.unit ? `${a.label}, ${a.unit === "deg" ? "°" : a.unit}` : a.label);

// Numbers are the chart as a table: some twelve rows where lines share their x.
function Numbers(p: { chart: Model }) {
  const { x, y, lines } = p.chart;
  const first = lines[0]!.points;
  const shared = lines.every((l) => l.points.length === first.length && l.points.every((q, i) => q[0] === first[i]![0]));
  const step = Math.max(1, Math.ceil(first.length / 12));
  const rows = shared
    ? first.map((q, i) => [rounded(q[0]), ...lines.map((l) => rounded(l.points[i]![1]))]).filter((_, i) => i % step === 0 || i === first.length - 1)
    : lines.flatMap((l) => l.points.filter((_, i) => i % Math.max(1, Math.ceil(l.points.length / 8)) === 0).map((q) => [rounded(q[0]), rounded(q[1]), l.title]));
  const head = shared ? [axisName(x), ...lines.map((l) => (lines.length > 1 ? l.title : axisName(y)))] : [axisName(x), axisName(y), "Line"];
  return (
    <details class="fold">
      <summary>The same as a table</summary>
      <DataTable name={p.chart.title} head={head} rows={rows} />
    </details>
  );
}

/** A bar with the range to aim for, and where the reading stands. */
export function Gauge(p: { gauge: Bar }) {
  const g = p.gauge;
  const at = (v: number) => 8 + ((Math.min(Math.max(v, g.lo), g.hi) - g.lo) / (g.hi - g.lo || 1)) * 304;
  const ranged = g.to > g.from;
  return (
    <figure class="gauge">
      <svg viewBox="0 0 320 62" role="img" aria-label={g.says}>
        <rect class="gauge-bar" x="8" y="26" width="304" height="14" />
        {ranged && <rect class="gauge-range" x={at(g.from)} y="22" width={at(g.to) - at(g.from)} height="22" />}
        {ranged && <><text x={at(g.from)} y="58" text-anchor="end">{g.from}</text><text x={at(g.to)} y="58">{g.to} {g.unit}</text></>}
        {!ranged && <><text x="8" y="58">{g.lo}</text><text x="312" y="58" text-anchor="end">{g.hi} {g.unit}</text></>}
        <path class="gauge-at" d={`M${at(g.at)} 46l-8 -28h16z`} />
        <text class="gauge-shown" x={Math.min(Math.max(at(g.at), 30), 290)} y="13" text-anchor="middle">{g.shown}</text>
      </svg>
      <figcaption>{g.says}{g.source && <small> Source: {g.source}. Your manual wins.</small>}</figcaption>
    </figure>
  );
}
