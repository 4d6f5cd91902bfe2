import type { SheetCode } from "../models/sheet";

/** Code is a QR code, always dark on white with its quiet zone, whatever the theme. */
export function Code(p: { code: SheetCode; label: string }) {
  const quiet = 4;
  const side = p.code.size + 2 * quiet;
  return (
    <svg class="qr" viewBox={`${-quiet} ${-quiet} ${side} ${side}`} role="img" aria-label={p.label} shape-rendering="crispEdges">
      <rect x={-quiet} y={-quiet} width={side} height={side} fill="#fff" />
      <path d={p.code.path} fill="#000" />
    </svg>
  );
}
