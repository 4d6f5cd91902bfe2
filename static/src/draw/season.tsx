// The season: each session against the best at its own track, and on the
// hairline below it what was done to the bike.
import type { Season } from "../models/days";
import { DataTable } from "../ui/table";
import { LevelAxis } from "./laps";

const left = 56;
const top = 26;
const width = 340;
const height = 130;
const line = top + height + 30;

export function SeasonPicture(p: { season: Season }) {
  const { points, marks, months, ticks, says } = p.season;
  if (points.length === 0) return <p class="quiet">{says}</p>;
  const tracks = [...new Set(points.map((s) => s.track))];
  const x = (share: number) => left + share * (width - left - 8);
  const y = (share: number) => top + (1 - share) * height;
  return (
    <figure class="graph">
      <svg viewBox={`0 0 ${width} ${line + 34}`} role="img" aria-label={`The season: seconds behind the best middle lap at the same track, lower is faster. ${says}`}>
        <LevelAxis ticks={ticks} y={y} to={width} title="behind this track's best" />
        {months.map((m) => <text key={m.at} x={x(m.at)} y={line + 28} text-anchor="middle">{m.label}</text>)}
        <path class="hairline" d={`M${left} ${line}H${width}`} />
        {marks.map((m, i) => <g key={i} class={`season-mark season-${m.kind}`}><MarkShape kind={m.kind} x={x(m.at)} y={line} /></g>)}
        {points.map((s) => <g key={s.id} class={`season-point season-track-${tracks.indexOf(s.track) % 4}`}><TrackShape n={tracks.indexOf(s.track) % 4} x={x(s.at)} y={y(s.behind)} /></g>)}
      </svg>
      <ul class="graph-key">
        {tracks.map((t, n) => <li key={t}><svg viewBox="0 0 20 20" aria-hidden="true" class={`season-point season-track-${n % 4}`}><TrackShape n={n % 4} x={10} y={10} /></svg>{t}</li>)}
        {kinds.filter(([kind]) => marks.some((m) => m.kind === kind)).map(([kind, words]) => <li key={kind}><svg viewBox="0 0 20 20" aria-hidden="true" class={`season-mark season-${kind}`}><MarkShape kind={kind} x={10} y={10} /></svg>{words}</li>)}
      </ul>
      <details class="more">
        <summary>The season as a table</summary>
        <DataTable name="Sessions" head={["When", "Track", "Against its best"]} rows={points.map((s) => [s.day, s.track, s.says])} />
        <DataTable name="Changes" head={["When", "What was done"]} rows={marks.map((m) => [m.day, m.says])} />
      </details>
    </figure>
  );
}

const kinds: readonly [kind: string, words: string][] = [["change", "a change"], ["line", "a line drawn"], ["service", "a service"], ["part", "a part"], ["fall", "a fall"]];

function TrackShape(p: { n: number; x: number; y: number }) {
  const { x, y } = p;
  if (p.n === 0) return <circle cx={x} cy={y} r="5" />;
  if (p.n === 1) return <path d={`M${x - 5} ${y - 5}h10v10h-10z`} />;
  if (p.n === 2) return <path d={`M${x} ${y - 6}l6 11h-12z`} />;
  return <path d={`M${x} ${y - 7}l6 7l-6 7l-6-7z`} />;
}

function MarkShape(p: { kind: string; x: number; y: number }) {
  const { x, y } = p;
  switch (p.kind) {
    case "change": return <path d={`M${x - 4} ${y - 6}h8v5l-4 7l-4-7z`} />;
    case "line": return <path d={`M${x} ${y - 10}v20`} />;
    case "fall": return <path d={`M${x - 6} ${y - 6}l12 12m0-12l-12 12`} />;
    case "service": return <circle cx={x} cy={y} r="6" />;
    default: return <path d={`M${x - 5} ${y - 5}h10v10h-10z`} />;
  }
}
