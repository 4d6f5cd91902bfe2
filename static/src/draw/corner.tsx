// A lap seen from above, with the phases of riding through a corner to tap, and
// a bike from its side, with its ends. The rider goes round against the clock,
// or with it where it comes in right-handers only.
const phases = [
  { id: "straight", label: "Straight", path: "M284 232 V176", x: 236, y: 190 },
  { id: "braking", label: "Braking", path: "M284 172 V116", x: 236, y: 144 },
  { id: "turn-in", label: "Turn in", path: "M284 112 C284 74 260 46 224 38", x: 226, y: 92 },
  { id: "mid-corner", label: "Middle", path: "M219 37 C186 30 146 30 112 40", x: 166, y: 66 },
  { id: "drive-out", label: "Drive out", path: "M107 42 C70 54 46 80 44 112", x: 108, y: 98 },
  { id: "over-bumps", label: "Bumps", path: "M44 117 q-9 7 0 14 q9 7 0 14 q-9 7 0 14", x: 88, y: 142 },
  { id: "side-to-side", label: "Side to side", path: "M44 164 C44 196 92 180 96 206 C98 226 112 238 136 239", x: 146, y: 184 },
  { id: "whole-lap", label: "Whole lap", path: "M142 239 H278", x: 200, y: 219 },
];

const width = 328;

/** Corner shows which phase is chosen; tapping one chooses it. */
export function Corner(p: { value: string; side: string; onChange: (phase: string) => void }) {
  const mirrored = p.side === "right";
  const x = (at: number) => (mirrored ? width - at : at);
  return (
    <svg class="corner" viewBox={`0 20 ${width} 236`} role="group" aria-label={`Where in the corner does it happen?${p.side ? ` Drawn as a ${p.side}-hander.` : ""}`}>
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
          <g transform={mirrored ? `matrix(-1 0 0 1 ${width} 0)` : undefined}>
            <path class="phase-reach" d={f.path} />
            <path class="phase-road" d={f.path} />
            <path class="phase-line" d={f.path} />
          </g>
          <text x={x(f.x)} y={f.y} text-anchor="middle">{p.value === f.id ? `✓ ${f.label}` : f.label}</text>
        </g>
      ))}
      <path class="phase-way" d={mirrored ? "M44 254 l0 -12 m-6 6 l6 -6 l6 6" : "M284 254 l0 -12 m-6 6 l6 -6 l6 6"} aria-hidden="true" />
    </svg>
  );
}

const parts = [
  { id: "rear", label: "Rear", x: 0, width: 118, at: 66 },
  { id: "whole", label: "Whole bike", x: 118, width: 92, at: 164 },
  { id: "front", label: "Front", x: 210, width: 118, at: 262 },
];

/** BikeEnds is the bike from its right side: which end does it? */
export function BikeEnds(p: { value: string; onChange: (end: string) => void }) {
  const on = (id: string) => (p.value === id || p.value === "whole" ? "end-on" : "");
  return (
    <svg class="bike-ends" viewBox="0 0 328 150" role="group" aria-label="Which end of the bike does it?">
      <g aria-hidden="true">
        <g class={on("rear")}>
          <circle cx="82" cy="86" r="34" /><circle cx="82" cy="86" r="6" />
          <path d="M82 86 L146 76" /><path class="end-spring" d="M122 80 l-4 -8 l9 -3 l-7 -6 l9 -3 l-7 -6 l8 -3" />
        </g>
        <g class={on("whole")}>
          <path d="M74 44 L120 38 L150 44 L188 30 L214 36 L206 60 L186 90 H142 L134 58 Z" />
        </g>
        <g class={on("front")}>
          <circle cx="246" cy="86" r="34" /><circle cx="246" cy="86" r="6" />
          <path d="M246 86 L218 22" /><path d="M206 24 L224 16" />
        </g>
        <path class="end-ground" d="M12 122 H316" />
      </g>
      {parts.map((e) => (
        <g
          key={e.id} role="button" tabIndex={0} aria-pressed={p.value === e.id} aria-label={e.label} data-end={e.id}
          class="end"
          onClick={() => p.onChange(e.id)}
          onKeyDown={(ev) => (ev.key === "Enter" || ev.key === " ") && (ev.preventDefault(), p.onChange(e.id))}
        >
          <rect x={e.x} y="0" width={e.width} height="150" />
          <text x={e.at} y="143" text-anchor="middle">{p.value === e.id ? `✓ ${e.label}` : e.label}</text>
        </g>
      ))}
    </svg>
  );
}
