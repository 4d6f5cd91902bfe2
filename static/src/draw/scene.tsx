// Draws a scene: shapes in millimetres, to scale. It knows no bike.
import type { Scene, Shape } from "../models/scene";

/** The scene as a picture with a name. Words and tape ends keep one size on the page. */
export function SceneDrawing(p: { scene: Scene; high?: 160 | 200 }) {
  const { box, shapes, says } = p.scene;
  const edge = 14;
  // One px of the page in mm, where the page is 328 px wide.
  const px = Math.max(box[2] / (328 - 2 * edge), box[3] / ((p.high ?? 200) - 2 * edge));
  const pad = edge * px;
  return (
    <svg class="scene" viewBox={`${box[0] - pad} ${box[1] - pad} ${box[2] + 2 * pad} ${box[3] + 2 * pad}`} role="img" aria-label={says} font-size={13 * px}>
      {shapes.map((s, i) => <Part key={i} shape={s} px={px} />)}
    </svg>
  );
}

const path = (at: [number, number][]) => "M" + at.map((a) => a.join(" ")).join("L");

function Part(p: { shape: Shape; px: number }) {
  const { kind, role, at, r, words } = p.shape;
  const look = `scene-${role}`;
  const [x, y] = at[0]!;
  if (kind === "circle") return <circle class={look} cx={x} cy={y} r={r} />;
  if (kind === "words") return <text class={look} x={x} y={y} text-anchor="middle">{words}</text>;
  if (kind === "dim") return <Dim {...p} />;
  return <path class={kind === "area" ? `${look} scene-area` : look} d={path(at) + (kind === "area" ? "Z" : "")} />;
}

// Dim is a tape: a line with a stroke across each end and its words beside it.
function Dim(p: { shape: Shape; px: number }) {
  const [[x1, y1], [x2, y2]] = p.shape.at as [[number, number], [number, number]];
  const long = Math.hypot(x2 - x1, y2 - y1) || 1;
  const [nx, ny] = [-(y2 - y1) / long, (x2 - x1) / long];
  const end = 6 * p.px;
  const tick = (x: number, y: number) => `M${x - nx * end} ${y - ny * end}L${x + nx * end} ${y + ny * end}`;
  const upright = Math.abs(y2 - y1) > Math.abs(x2 - x1);
  const gap = 7 * p.px;
  const [mx, my] = [(x1 + x2) / 2, (y1 + y2) / 2];
  return (
    <g class={`scene-${p.shape.role} scene-dim`}>
      <path d={`M${x1} ${y1}L${x2} ${y2}${tick(x1, y1)}${tick(x2, y2)}`} />
      <text x={upright ? mx + gap : mx} y={upright ? my + 4 * p.px : my - gap * 0.7} text-anchor={upright ? "start" : "middle"}>{p.shape.words}</text>
    </g>
  );
}
