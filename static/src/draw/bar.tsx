// Lengths for doubt and evidence, beside the words that say the same.

/** A bar of whole segments: long enough to compare, too coarse to calculate with. */
export function Bar(p: { length: number; of: number; kind?: string }) {
  return (
    <svg class={`bar ${p.kind ?? ""}`} viewBox={`0 0 ${p.of * 10} 8`} preserveAspectRatio="none" aria-hidden="true">
      {Array.from({ length: p.of }, (_, i) => <rect key={i} class={i < p.length ? "bar-full" : "bar-empty"} x={i * 10 + 0.5} width="9" height="8" />)}
    </svg>
  );
}
