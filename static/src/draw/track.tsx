// A track's map: its line, where it starts, its corners; and the pad on which
// a finger sketches one.
import { useRef, useState } from "preact/hooks";
import type { Corner, TrackPicture } from "../models/tracks";

const side = 1000;
type At = [number, number];

const path = (way: readonly At[]) => way.map((a, i) => `${i ? "L" : "M"}${a[0]} ${a[1]}`).join("");

interface MapProps {
  picture: TrackPicture;
  corners: readonly Corner[];
  /** Places that are about to become lines, with their words. */
  spots?: readonly { at: At; words: string }[];
  /** Is told where a tap was. */
  onPlace?: (at: At) => void;
}

/** The map with its lines and corners. */
export function TrackMapPicture(p: MapProps) {
  const { way, start, splits, says, scale } = p.picture;
  const svg = useRef<SVGSVGElement>(null);
  const named = p.corners.filter((c) => c.at).map((c) => `${c.number} ${c.name}`).join(", ");
  const place = (e: MouseEvent) => svg.current && p.onPlace?.(within(svg.current, e));
  return (
    <figure class="graph">
      <svg ref={svg} class={p.onPlace ? "track-map track-placing" : "track-map"} viewBox={`0 0 ${side} ${side}`} role="img" aria-label={`${says}${named && ` Corners: ${named}.`}`} onClick={place}>
        <path class="track-way" d={`${path(way)}Z`} />
        <Arrow way={way} />
        {splits.map((l, i) => <Reach key={i} look="track-split" line={l} />)}
        {start && <Reach look="track-start" line={start} />}
        {p.corners.map((c) => c.at && (
          <g key={c.number} class={c.felt > 0 ? "track-corner track-felt" : "track-corner"}>
            <circle cx={c.at[0]} cy={c.at[1]} r="42" />
            <text x={c.at[0]} y={c.at[1] + 19} text-anchor="middle">{c.number}</text>
          </g>
        ))}
        {p.spots?.map((s) => <g key={s.words} class="track-spot"><circle cx={s.at[0]} cy={s.at[1]} r="24" /><text x={s.at[0]} y={s.at[1] - 40} text-anchor="middle">{s.words}</text></g>)}
        {scale && <g class="track-scale"><path d={`M40 ${side - 40}v20h${side / 4}v-20`} /><text x={40 + side / 8} y={side - 40} text-anchor="middle">{scale}</text></g>}
      </svg>
    </figure>
  );
}

// Arrow says which way the line goes, a little behind its start.
function Arrow(p: { way: readonly At[] }) {
  const from = Math.max(1, Math.floor(p.way.length * 0.04));
  const [a, b] = [p.way[from], p.way[from + 1]];
  if (!a || !b) return null;
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [ux, uy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const tip: At = [a[0] + ux * 60, a[1] + uy * 60];
  return <path class="track-arrow" d={`${path([tip, [a[0] - uy * 30, a[1] + ux * 30], [a[0] + uy * 30, a[1] - ux * 30]])}Z`} />;
}

function within(svg: SVGSVGElement, e: MouseEvent): At {
  const r = svg.getBoundingClientRect();
  const at = (v: number, from: number, long: number) => Math.round(Math.min(side, Math.max(0, ((v - from) / long) * side)));
  return [at(e.clientX, r.left, r.width), at(e.clientY, r.top, r.height)];
}

/** SketchPad takes a finger's line, from the start line once round. */
export function SketchPad(p: { way: At[]; onDraw: (way: At[]) => void }) {
  const svg = useRef<SVGSVGElement>(null);
  const line = useRef<At[]>([]);
  const [drawing, setDrawing] = useState<At[]>([]);
  const down = (e: PointerEvent) => {
    svg.current?.setPointerCapture(e.pointerId);
    line.current = [within(svg.current!, e)];
    setDrawing(line.current);
  };
  const move = (e: PointerEvent) => {
    if (line.current.length === 0) return;
    line.current = [...line.current, within(svg.current!, e)];
    setDrawing(line.current);
  };
  const up = () => {
    if (line.current.length > 1) p.onDraw(line.current);
    line.current = [];
    setDrawing([]);
  };
  const way = drawing.length > 0 ? drawing : p.way;
  return (
    <svg ref={svg} class="track-map track-pad" viewBox={`0 0 ${side} ${side}`} role="img" aria-label={way.length > 1 ? "Your sketch" : "An empty pad to sketch the track on with a finger"} onPointerDown={down} onPointerMove={move} onPointerUp={up} onPointerCancel={up}>
      {way.length > 1 && <path class="track-way" d={drawing.length > 0 ? path(way) : `${path(way)}Z`} />}
      {way[0] && <circle class="track-arrow" cx={way[0][0]} cy={way[0][1]} r="22" />}
    </svg>
  );
}

/** A trace with the line that it is cut at; a tap puts the line elsewhere. */
export function TracePicture(p: { way: readonly At[]; line?: readonly At[]; onTap: (at: At) => void }) {
  const svg = useRef<SVGSVGElement>(null);
  const xs = p.way.map((a) => a[0]);
  const ys = p.way.map((a) => -a[1]);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const long = Math.max(x1 - x0, y1 - y0, 1) * 1.1;
  const [ox, oy] = [(x0 + x1 - long) / 2, (y0 + y1 - long) / 2];
  const tap = (e: MouseEvent) => {
    const [x, y] = within(svg.current!, e);
    p.onTap([Math.round(ox + (x / side) * long), -Math.round(oy + (y / side) * long)]);
  };
  const place = (a: At): At => [((a[0] - ox) / long) * side, ((-a[1] - oy) / long) * side];
  return (
    <svg ref={svg} class="track-map track-placing" viewBox={`0 0 ${side} ${side}`} role="img" aria-label="The way that was ridden, seen from above, with the line that laps are cut at" onClick={tap}>
      <path class="trace-way" d={path(p.way.map(place))} />
      {p.line && <Reach look="track-start" line={[place(p.line[0]!), place(p.line[1]!)]} />}
    </svg>
  );
}

// Reach draws the timing line longer than it is, to be seen.
function Reach(p: { look: string; line: [At, At] }) {
  const [[x1, y1], [x2, y2]] = p.line;
  const long = Math.hypot(x2 - x1, y2 - y1) || 1;
  const [mx, my] = [(x1 + x2) / 2, (y1 + y2) / 2];
  const half = Math.max(45, long / 2);
  const [ux, uy] = [((x2 - x1) / long) * half, ((y2 - y1) / long) * half];
  return <path class={p.look} d={`M${mx - ux} ${my - uy}L${mx + ux} ${my + uy}`} />;
}
