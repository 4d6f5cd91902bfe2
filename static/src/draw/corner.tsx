// A corner seen from above, with the phases of riding through it to tap. The
// rider comes in at the bottom right and leaves at the bottom left.
const phases = [
  { id: "straight", label: "Straight", path: "M290 178 V140", x: 252, y: 166 },
  { id: "braking", label: "Braking", path: "M290 136 V96", x: 246, y: 120 },
  { id: "turn-in", label: "Turn in", path: "M290 92 C290 66 270 44 240 36", x: 228, y: 72 },
  { id: "mid-corner", label: "Middle", path: "M234 34 C190 24 130 24 96 38", x: 166, y: 58 },
  { id: "drive-out", label: "Drive out", path: "M90 41 C60 56 40 86 36 120", x: 96, y: 96 },
  { id: "over-bumps", label: "Bumps", path: "M36 126 q-6 6 0 12 q6 6 0 12 q-6 6 0 12 V178", x: 72, y: 158 },
];

/** The phases that the drawing shows, in the order of riding. */
export const cornerPhases = phases.map(({ id, label }) => ({ value: id, label }));

/** Corner shows which phase is chosen; tapping one chooses it. */
export function Corner(p: { value: string; onChange: (phase: string) => void }) {
  return (
    <svg class="corner" viewBox="0 0 326 190" role="group" aria-label="Where in the corner does it happen?">
      {phases.map((f) => (
        <g
          key={f.id}
          role="button"
          tabIndex={0}
          aria-pressed={p.value === f.id}
          aria-label={f.label}
          class={`phase${p.value === f.id ? " phase-on" : ""}`}
          data-phase={f.id}
          onClick={() => p.onChange(f.id)}
          onKeyDown={(e) => (e.key === "Enter" || e.key === " ") && (e.preventDefault(), p.onChange(f.id))}
        >
          <path class="phase-reach" d={f.path} />
          <path class="phase-road" d={f.path} />
          <text x={f.x} y={f.y} text-anchor="middle">{f.label}</text>
        </g>
      ))}
    </svg>
  );
}
