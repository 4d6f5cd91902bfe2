// How far a witness can be trusted: the share that was right as a bob, the
// stretch in which it may lie in the long run as a bar, guessing as the line.
const left = 12;
const width = 296;

export function WitnessBar(p: { low: number; high: number; share?: number; says: string; half: string }) {
  const x = (v: number) => left + v * width;
  return (
    <svg class="witness" viewBox="0 0 320 64" role="img" aria-label={p.says}>
      <path class="hairline" d={`M${x(0.5)} 0 V42`} />
      <path class="span-axis" d={`M${x(0)} 40 v6 M${x(0.5)} 40 v6 M${x(1)} 40 v6 M${x(0)} 43 H${x(1)}`} />
      <rect class="span-bar" x={x(p.low)} width={Math.max(2, x(p.high) - x(p.low))} y="16" height="14" />
      {p.share !== undefined && <path class="span-bob" d={`M${x(p.share) - 7} 10 h14 v11 l-7 14 l-7 -14 z`} />}
      <text x={x(0)} y="60">0</text>
      <text x={x(0.5)} y="60" text-anchor="middle">{p.half}</text>
      <text x={x(1)} y="60" text-anchor="end">all</text>
    </svg>
  );
}

/** Marks are the single tests, oldest first: filled when right, a cross when wrong. */
export function WitnessMarks(p: { marks: readonly { right: boolean }[]; says: string }) {
  const each = Math.min(18, width / Math.max(1, p.marks.length));
  return (
    <svg class="witness" viewBox="0 0 320 20" role="img" aria-label={p.says}>
      {p.marks.map((m, i) => {
        const x = left + (i + 0.5) * each;
        return m.right ? <circle key={i} class="lap" cx={x} cy="10" r="5" /> : <path key={i} class="lap-cross witness-wrong" d={`M${x - 4} 6 l8 8 m0 -8 l-8 8`} />;
      })}
    </svg>
  );
}
