// Small drawings of the inspections: what to look at, not how it is built.
import type { ComponentChildren } from "preact";

export const checkPictures: Record<string, { says: string; lines: ComponentChildren }> = {
  straight: {
    says: "From the front: the wheel midway between both fork legs, bars level.",
    lines: <><path d="M30 24 H130" /><path d="M58 18 V96 M102 18 V96" /><rect x="70" y="52" width="20" height="60" rx="9" /><path class="true" d="M80 6 V114" /><path class="turn" d="M59 78 H68 M92 78 H101" /></>,
  },
  "head-bearings": {
    says: "From the side: front wheel off the ground, push and pull at the axle.",
    lines: <><path d="M62 12 L98 92" /><circle cx="98" cy="92" r="22" /><circle class="spot" cx="64" cy="18" r="9" /><path class="turn" d="M78 92 H58 M64 86 L58 92 L64 98 M118 92 H138 M132 86 L138 92 L132 98" /></>,
  },
  chain: {
    says: "The lower run of the chain moves up and down between two sprockets; measure the whole way.",
    lines: <><circle cx="36" cy="60" r="12" /><circle cx="124" cy="60" r="26" /><path d="M36 48 L124 34 M36 72 Q80 92 124 86" /><path class="turn" d="M80 70 V102 M75 76 L80 70 L85 76 M75 96 L80 102 L85 96" /></>,
  },
  leaks: {
    says: "A fork leg with a ring of oil below the seal, and a drop.",
    lines: <><path d="M70 8 V62 M90 8 V62" /><rect x="62" y="62" width="36" height="50" rx="4" /><path class="spot" d="M68 56 H92" /><path class="turn" d="M112 72 q9 14 0 18 q-9 -4 0 -18" /></>,
  },
  alignment: {
    says: "From above: two strings along the rear tyre; the front wheel stands midway between them.",
    lines: <><rect x="14" y="48" width="50" height="24" rx="10" /><rect x="106" y="52" width="44" height="16" rx="8" /><path class="true" d="M6 46 H154 M6 74 H154" /><path class="turn" d="M128 47 V51 M128 69 V73" /></>,
  },
  tyres: {
    says: "A tyre with an arrow for its direction and a place to look for cuts.",
    lines: <><circle cx="80" cy="60" r="50" /><circle cx="80" cy="60" r="30" /><path class="turn" d="M50 32 A41 41 0 0 1 104 27 M95 25 L104 27 L102 36" /><path class="spot" d="M112 84 l8 8" /></>,
  },
  "wheel-bearings": {
    says: "A wheel held at top and bottom and rocked.",
    lines: <><ellipse cx="80" cy="60" rx="20" ry="50" /><circle class="spot" cx="80" cy="60" r="7" /><path class="turn" d="M106 14 H130 M124 8 L130 14 L124 20 M54 106 H30 M36 100 L30 106 L36 112" /></>,
  },
  brakes: {
    says: "A brake disc with its caliper, and a lever that is squeezed.",
    lines: <><circle cx="62" cy="64" r="44" /><circle cx="62" cy="64" r="14" /><path class="spot" d="M92 34 a44 44 0 0 1 13 22" /><path d="M112 16 H152 M116 22 Q132 34 152 32" /><path class="turn" d="M140 48 V37 M135 42 L140 37 L145 42" /></>,
  },
};

export function CheckDrawing(p: { check: string }) {
  const d = checkPictures[p.check];
  if (!d) return null;
  return <svg class="check-drawing" viewBox="0 0 160 120" role="img" aria-label={d.says}>{d.lines}</svg>;
}
