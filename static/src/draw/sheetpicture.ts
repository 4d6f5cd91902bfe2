// The setup sheet as one picture, for a message: A4 upright, black on white,
// two columns that fill one after the other.
import type { Sheet, SheetRow } from "../models/sheet";

const wide = 1240;
const high = 1754; // A4 at 150 dots to the inch
const edge = 60;
const gap = 40;
const column = (wide - 2 * edge - gap) / 2;
const family = '"Atkinson Hyperlegible Next", system-ui, sans-serif';

// Where in a column a setting's position begins.
const besideAt = 0.42;

interface Line {
  text: string;
  size: number;
  strong?: boolean;
  /** What stands beside the text, from the middle of the column on. */
  beside?: string;
  /** Space above, px. */
  above?: number;
}

const joined = (...parts: (string | number | false | undefined)[]) => parts.filter(Boolean).join(", ");

/** picture draws a sheet and returns it as a PNG. */
export async function picture(sheet: Sheet): Promise<Blob> {
  await document.fonts.ready;
  for (const scale of [1, 0.85, 0.72, 0.6, 0.5]) {
    const out = draw(sheet, scale);
    if (out) return blob(out);
  }
  throw new Error("the sheet does not fit a picture");
}

function blob(canvas: HTMLCanvasElement): Promise<Blob> {
  return new Promise((resolve, reject) => canvas.toBlob((b) => (b ? resolve(b) : reject(new Error("no picture"))), "image/png"));
}

// draw returns undefined when the sheet does not fit at this scale.
function draw(sheet: Sheet, scale: number): HTMLCanvasElement | undefined {
  const canvas = document.createElement("canvas");
  canvas.width = wide;
  canvas.height = high;
  const g = canvas.getContext("2d")!;
  g.fillStyle = "#fff";
  g.fillRect(0, 0, wide, high);
  g.fillStyle = "#000";
  let y = edge;
  for (const l of head(sheet)) y = put(g, l, edge, y, wide - 2 * edge, scale);
  g.fillRect(edge, (y += 16), wide - 2 * edge, 2);
  const top = y + 8;
  let x = edge;
  y = top;
  for (const block of blocks(sheet)) {
    const tall = block.reduce((sum, l) => sum + height(g, l, column, scale), 0);
    if (y + tall > high - edge) {
      if (x > edge || top + tall > high - edge) return undefined;
      x = edge + column + gap;
      y = top;
    }
    for (const l of block) y = put(g, l, x, y, column, scale);
  }
  return canvas;
}

function head(s: Sheet): Line[] {
  const out: Line[] = [
    { text: s.bike.name, size: 44, strong: true },
    { text: joined(s.bike.year, s.bike.class, s.bike.tyres), size: 24 },
    { text: joined(s.rider, `sheet of ${s.made}`), size: 24 },
  ];
  if (s.stop) out.push({ text: `STOP. ${s.stop}`, size: 26, strong: true, above: 12 });
  return out;
}

// Each block stays together in one column.
function blocks(s: Sheet): Line[][] {
  const line: Line[] = s.line ? [{ text: `The line: ${s.line}`, size: 21 }] : [];
  return [
    [title("Settings"), ...line, ...s.settings.map((x) => ({ ...body(x.name), beside: joined(x.at, x.standing === "assumed" && x.standing, x.drift && `off by ${x.drift}`) }))],
    ...rows("Measured", s.measures),
    ...rows("Service, parts, falls", s.history),
    ...(s.changes?.length
      ? [[title("Last changes")], ...s.changes.map((c) => [body(joined(c.title, c.when, c.verdict)), { text: joined(c.who && `turned by ${c.who}`, c.idea && `idea of ${c.idea}`, c.why), size: 20 }])]
      : []),
    ...rows("Felt", s.symptoms),
    ...rows("Likely causes", s.causes),
    ...rows("Checks still to make", s.checks),
  ];
}

const title = (text: string): Line => ({ text, size: 28, strong: true, above: 20 });
const body = (text: string): Line => ({ text, size: 22, above: 4 });

function rows(name: string, list?: SheetRow[]): Line[][] {
  if (!list?.length) return [];
  return [[title(name)], ...list.map((r) => [body([r.title, joined(r.says, r.when)].filter(Boolean).join(": "))])];
}

function put(g: CanvasRenderingContext2D, l: Line, x: number, y: number, room: number, scale: number): number {
  y += (l.above ?? 0) * scale;
  if (l.beside) {
    g.font = font(l, scale);
    g.fillText(l.beside, x + room * besideAt, y + l.size * scale);
  }
  for (const words of wrap(g, l, room, scale)) {
    y += l.size * 1.3 * scale;
    g.fillText(words, x, y - l.size * 0.3 * scale);
  }
  return y;
}

const font = (l: Line, scale: number) => `${l.strong ? 700 : 400} ${l.size * scale}px ${family}`;

function height(g: CanvasRenderingContext2D, l: Line, room: number, scale: number): number {
  return ((l.above ?? 0) + wrap(g, l, room, scale).length * l.size * 1.3) * scale;
}

function wrap(g: CanvasRenderingContext2D, l: Line, room: number, scale: number): string[] {
  g.font = font(l, scale);
  const out: string[] = [];
  let now = "";
  for (const word of l.text.split(/\s+/).filter(Boolean)) {
    const longer = now ? `${now} ${word}` : word;
    if (now && g.measureText(longer).width > (l.beside ? room * besideAt : room)) {
      out.push(now);
      now = word;
    } else now = longer;
  }
  if (now) out.push(now);
  return out;
}
