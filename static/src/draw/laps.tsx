// Laps as dots: lower is faster. Each mark has its own shape, so that colour
// says nothing alone.
import type { LapDots, LapRow, Tick } from "../models/laps";
import { DataTable } from "../ui/table";

const left = 56;
const top = 26;
const width = 340;
const height = 150;

/** What the shapes mean, in the order of the key. */
const meanings: readonly [mark: string, says: string][] = [
  ["counts", "counts"], ["slow", "held up or a slip"], ["out", "out lap"], ["in", "in lap"], ["cruising", "cruising"], ["short", "too short"],
];

export function LapDotsPicture(p: { dots: LapDots; rows?: readonly LapRow[] }) {
  const { dots, ticks, middle, says } = p.dots;
  if (dots.length === 0) return null;
  const across = (width - left - 14) / Math.max(1, dots.length - 1);
  const x = (i: number) => (dots.length === 1 ? (left + width) / 2 : left + 6 + i * across);
  const y = (share: number) => top + (1 - share) * height;
  const every = Math.ceil(dots.length / 12);
  return (
    <figure class="graph">
      <svg viewBox={`0 0 ${width} ${top + height + 38}`} role="img" aria-label={`Lap times, lower is faster. ${says}`}>
        <LevelAxis ticks={ticks} y={y} to={width} title="min:s" />
        {middle > 0 && <path class="graph-middle" d={`M${left} ${y(middle)}H${width}`} />}
        {dots.map((d, i) => (
          <g key={d.number} class={`lap-dot lap-${d.mark}`}>
            <LapShape mark={d.mark} x={x(i)} y={y(d.at)} />
            {d.over && <text x={x(i)} y={y(1) - 9} text-anchor="middle">↑</text>}
            {i % every === 0 && <text x={x(i)} y={top + height + 18} text-anchor="middle">{d.number}</text>}
          </g>
        ))}
        <text class="graph-title" x={width} y={top + height + 34} text-anchor="end">lap</text>
      </svg>
      <LapKey marks={dots.map((d) => d.mark)} over={dots.some((d) => d.over)} />
      {p.rows && <LapTable rows={p.rows} />}
    </figure>
  );
}

/** LevelAxis is an axis of times: hairlines with their words on the left. */
export function LevelAxis(p: { ticks: readonly Tick[]; y: (share: number) => number; to: number; title: string }) {
  return (
    <g class="graph-axis">
      <text class="graph-title" x="0" y="12">{p.title}</text>
      {p.ticks.map((t) => (
        <g key={t.at}>
          <path d={`M${left - 6} ${p.y(t.at)}H${p.to}`} />
          <text x={left - 10} y={p.y(t.at) + 4} text-anchor="end">{t.label}</text>
        </g>
      ))}
    </g>
  );
}

function LapShape(p: { mark: string; x: number; y: number }) {
  const { x, y } = p;
  switch (p.mark) {
    case "counts": return <circle cx={x} cy={y} r="5.5" />;
    case "slow": return <path d={`M${x} ${y - 7}l7 12h-14z`} />;
    case "out": return <path d={`M${x - 5} ${y - 6}l10 6l-10 6z`} />;
    case "in": return <path d={`M${x + 5} ${y - 6}l-10 6l10 6z`} />;
    case "cruising": return <path d={`M${x} ${y - 7}l7 7l-7 7l-7-7z`} />;
    default: return <path d={`M${x - 5} ${y - 5}l10 10m0-10l-10 10`} />;
  }
}

function LapKey(p: { marks: readonly string[]; over: boolean }) {
  const used = meanings.filter(([mark]) => p.marks.includes(mark));
  if (used.length < 2) return null;
  return (
    <ul class="graph-key">
      {used.map(([mark, says]) => (
        <li key={mark}><svg viewBox="0 0 20 20" aria-hidden="true" class={`lap-dot lap-${mark}`}><LapShape mark={mark} x={10} y={10} /></svg>{says}</li>
      ))}
      {p.over && <li>↑ slower than the edge</li>}
    </ul>
  );
}

/** The laps in rows. */
export function LapTable(p: { rows: readonly LapRow[] }) {
  const sectors = Math.max(0, ...p.rows.map((r) => r.sectors.length));
  const head = ["Lap", "Time", "", ...Array.from({ length: sectors }, (_, i) => `Sector ${i + 1}`)];
  const rows = p.rows.map((r) => [
    String(r.number), r.time, [r.best ? "best" : r.says, r.overruled && "your word", r.gap && "a gap in the trace"].filter(Boolean).join(", "),
    ...Array.from({ length: sectors }, (_, i) => r.sectors[i] ?? "–"),
  ]);
  return (
    <details class="more">
      <summary>The laps as a table</summary>
      <DataTable name="Laps" head={head} rows={rows} />
    </details>
  );
}
