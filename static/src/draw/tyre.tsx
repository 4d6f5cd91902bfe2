// How tyres wear, drawn to be compared with a real one: the tread from behind,
// its top away from you, grooves slanted, marks where they are found.
import type { ComponentChildren } from "preact";

/** Where across the tread, which edge, which way and what it is like; see Wear in internal/diagnosis. */
export interface Wear {
  place: string;
  edge: string;
  direction: string;
  texture: string;
}

// Across the tread, in the drawing's units: the tread is 20 to 140 wide.
const bands: Record<string, [number, number][]> = {
  centre: [[60, 100]],
  band: [[26, 58], [102, 134]],
  shoulders: [[24, 56], [104, 136]],
  left: [[24, 56]],
  right: [[104, 136]],
  "one-shoulder": [[104, 136]],
  all: [[24, 136]],
  cuts: [[24, 136]],
};

const outline = "M20 118 V32 Q20 8 80 8 Q140 8 140 32 V118";
const under = ["smooth", "flat", "blue"]; // textures that lie under the grooves

// Grooves lie where a road-race tyre may have them; they only help to see which way it turns.
const grooves = [20, 58, 96].map((y) => `M34 ${y} L66 ${y + 18} M126 ${y} L94 ${y + 18}`).join(" ");

// rows puts a mark in rows over a band.
function rows(band: [number, number], dx: number, dy: number, mark: (x: number, y: number) => string): string {
  const [from, to] = band;
  let d = "";
  for (let y = 16, row = 0; y < 116; y += dy, row++)
    for (let x = from + 4 + (row % 2) * (dx / 2); x < to - 3; x += dx) d += `${mark(Math.round(x * 10) / 10, y)} `;
  return d;
}

type Texture = (band: [number, number]) => ComponentChildren;

const fill = (band: [number, number], kind: string) => <rect class={kind} x={band[0]} y="10" width={band[1] - band[0]} height="108" />;

const textures: Record<string, Texture> = {
  smooth: (b) => fill(b, "worn"),
  flat: (b) => <>{fill(b, "worn")}<path class="edge" d={`M${b[0]} 10 V118 M${b[1]} 10 V118`} /></>,
  melted: (b) => <path class="mark" d={rows(b, 12, 12, (x, y) => `M${x} ${y} q3 -4 5 0 t5 0`)} />,
  ripped: (b) => <path class="mark rip" d={rows(b, 13, 11, (x, y) => `M${x} ${y} l5 5 l5 -5`)} />,
  lipped: () => <path class="mark rip" d={[20, 58, 96].map((y) => `M36 ${y + 6} l30 17 M124 ${y + 6} l-30 17 M40 ${y + 12} q10 10 22 12 M120 ${y + 12} q-10 10 -22 12`).join(" ")} />,
  scalloped: (b) => <path class="mark" d={rows(b, 30, 16, (x, y) => `M${x} ${y} q12 13 24 0`)} />,
  blue: (b) => <>{fill(b, "sheen")}<path class="mark thin" d={rows(b, 16, 16, (x, y) => `M${x} ${y + 8} l8 -8`)} /></>,
  patchy: () => <path class="mark rip" d={[20, 58, 96].map((y) => `M70 ${y + 20} h6 v6 h-6 z M84 ${y + 20} h6 v6 h-6 z M38 ${y + 10} h6 v6 h-6 z M118 ${y + 10} h6 v6 h-6 z`).join(" ")} />,
  unused: (b) => <path class="mark thin" d={rows(b, 9, 9, (x, y) => `M${x} ${y} h0.1`)} />,
};

interface Part {
  place: string;
  texture: string;
  /** Only a stretch of the tread, as one place on the track makes it. */
  stretch?: boolean;
}

// Readings that one wear alone does not draw.
const drawn: Record<string, Part[]> = {
  "t-two-sides": [{ place: "left", texture: "melted" }, { place: "right", texture: "ripped" }],
  "t-busy-side": [{ place: "left", texture: "smooth" }, { place: "right", texture: "flat" }],
  "t-one-shoulder": [{ place: "right", texture: "ripped" }],
  "t-band-shredded": [{ place: "shoulders", texture: "melted" }, { place: "shoulders", texture: "ripped" }],
  "t-torn-power": [{ place: "band", texture: "ripped", stretch: true }],
  "t-narrow-band": [{ place: "centre", texture: "smooth" }, { place: "shoulders", texture: "unused" }],
  "t-outer-thirds": [{ place: "shoulders", texture: "flat" }, { place: "centre", texture: "unused" }],
  "t-even": [{ place: "all", texture: "smooth" }],
};

const places: Record<string, string> = {
  centre: "in the middle", band: "in the band that works", shoulders: "on both shoulders", left: "on the left shoulder", right: "on the right shoulder",
  "one-shoulder": "on one shoulder", cuts: "beside the grooves", all: "over the whole tread",
};

const looks: Record<string, string> = {
  smooth: "smooth", flat: "worn flat with an edge", melted: "shallow waves, as if melted", ripped: "deep rips", lipped: "raised lips with a low spot behind",
  scalloped: "dips", blue: "a blue sheen", patchy: "small patches", unused: "dots of new rubber",
};

/** What the picture shows, in words. */
export function wearWords(id: string, wear: Wear): string {
  return partsOf(id, wear).map((p) => `${looks[p.texture] ?? p.texture} ${places[p.place] ?? p.place}${p.stretch ? ", on one stretch only" : ""}`).join("; ");
}

function partsOf(id: string, wear: Wear): Part[] {
  return drawn[id] ?? [{ place: wear.place, texture: wear.texture }];
}

export function TyreDrawing(p: { id: string; wear: Wear }) {
  const parts = partsOf(p.id, p.wear);
  const edge = p.wear.edge === "leading" ? "M80 100 V122 M74 115 L80 122 L86 115" : p.wear.edge === "trailing" ? "M80 122 V100 M74 107 L80 100 L86 107" : "";
  return (
    <svg class="tyre" viewBox="0 0 160 128" aria-hidden="true">
      <clipPath id={`stretch-${p.id}`}><rect x="0" y="44" width="160" height="40" /></clipPath>
      <clipPath id={`tread-${p.id}`}><path d={`${outline} Z`} /></clipPath>
      <path class="rubber" d={`${outline} Z`} />
      <g clip-path={`url(#tread-${p.id})`}>
        {parts.filter((x) => under.includes(x.texture)).map((x, i) => <g key={i}>{bands[x.place]?.map((b) => textures[x.texture]!(b))}</g>)}
        <path class="groove" d={grooves} />
        {parts.filter((x) => !under.includes(x.texture)).map((x, i) => (
          <g key={i} clip-path={x.stretch ? `url(#stretch-${p.id})` : undefined}>{(bands[x.place] ?? []).map((b) => textures[x.texture]?.(b))}</g>
        ))}
      </g>
      {edge && <path class="turn" d={edge} />}
      <path class="rim" d={outline} />
    </svg>
  );
}
