// How sure the laps are: no difference is the plumb line, the likeliest shift
// hangs beside it as a bob, and the bar is as wide as the doubt.
import type { Span } from "../models/trial";

const middle = 160;
const reach = 130;

export function SpanPicture(p: { span: Span }) {
  const { low, middle: at, high, edge, says } = p.span;
  const x = (v: number) => middle + v * reach;
  return (
    <figure class="plot span">
      <p class="plumb-ends" aria-hidden="true"><span>← faster</span><span>slower →</span></p>
      <svg viewBox="0 0 320 84" role="img" aria-label={says}>
        <path class="hairline" d={`M${middle} 0 V60`} />
        <path class="span-axis" d={`M${x(-1)} 56 v8 M${x(1)} 56 v8 M${x(-0.5)} 58 v4 M${x(0.5)} 58 v4 M${x(-1)} 60 H${x(1)}`} />
        <rect class="span-bar" x={x(low)} y="24" width={Math.max(2, x(high) - x(low))} height="16" />
        <path class="span-bob" d={`M${x(at) - 8} 18 h16 v12 l-8 16 l-8 -16 z`} />
        <text x={x(-1)} y="79" text-anchor="middle">{edge}</text>
        <text x={middle} y="79" text-anchor="middle">0</text>
        <text x={x(1)} y="79" text-anchor="middle">{edge}</text>
      </svg>
      <figcaption class="quiet">{says}</figcaption>
    </figure>
  );
}
