// Small drawings of what is wrong, one for each kind of cause: what to picture,
// not how it is built. Arrows are thick, what to look at is filled, and the
// hairline is where true is.
import type { ComponentChildren } from "preact";
import { checkPictures } from "./check";

interface Picture {
  says: string;
  lines: ComponentChildren;
}

// coil is a spring from one height to another.
function coil(x: number, from: number, to: number, turns: number, half = 11): string {
  const step = (to - from) / (2 * turns);
  let d = `M${x} ${from}`;
  for (let i = 1; i <= 2 * turns; i++) d += ` L${i % 2 ? x + half : x - half} ${(from + step * (i - 0.5)).toFixed(1)}`;
  return `${d} L${x} ${to}`;
}

// up and down are arrows with their tips at y.
const up = (x: number, y: number, long = 24) => `M${x} ${y + long} V${y} M${x - 6} ${y + 7} L${x} ${y} L${x + 6} ${y + 7}`;
const down = (x: number, y: number, long = 24) => `M${x} ${y - long} V${y} M${x - 6} ${y - 7} L${x} ${y} L${x + 6} ${y - 7}`;

/** A bike from its side, nose to the right, turned by some degrees. */
function side(turned: number): ComponentChildren {
  return (
    <g transform={`rotate(${turned} 80 74)`}>
      <circle cx="38" cy="84" r="20" /><circle cx="122" cy="84" r="20" />
      <path d="M38 84 L72 76 M122 84 L104 40 M98 42 L110 38" />
      <path d="M34 56 L62 52 L78 56 L96 46 L108 50 L102 68 L90 82 H68 L64 66 Z" />
    </g>
  );
}

const ground = <path class="true" d="M8 106 H152" />;

// leg is a fork leg: tube, slider and axle.
const leg = (x: number, top = 10) => <><path d={`M${x - 5} ${top} V64 M${x + 5} ${top} V64`} /><rect x={x - 9} y="64" width="18" height="40" rx="3" /></>;

// tyre is a cross-section on the ground: how round, how flat at its foot.
const tyre = (d: string, says: string, more: ComponentChildren = null): Picture => ({ says, lines: <><path d={d} /><path d="M62 30 V16 M98 30 V16 M56 16 H104" />{ground}{more}</> });

const pictures: Record<string, Picture> = {
  twist: {
    says: "From above: the two fork legs stand turned in their clamps, the axle askew to the bars.",
    lines: <><path d="M22 30 H138" /><circle cx="54" cy="30" r="9" /><circle cx="106" cy="30" r="9" /><path class="true" d="M80 8 V116" /><g transform="rotate(12 80 84)"><rect x="66" y="60" width="28" height="50" rx="12" /><path d="M48 84 H112" /></g><path class="turn" d="M128 74 a42 42 0 0 1 -10 28 M114 94 L117 104 L127 101" /></>,
  },
  "fork-heights": {
    says: "Two fork legs, one standing higher above the upper clamp than the other.",
    lines: <>{leg(54, 6)}{leg(106, 18)}<path d="M40 34 H120 M40 52 H120" /><path class="true" d="M36 6 H124" /><path class="turn" d={up(124, 6, 12)} /></>,
  },
  bars: {
    says: "From above: one bar end stands further back than the other.",
    lines: <><path d="M80 40 L26 52" /><path class="spot" d="M80 40 L134 74" /><circle cx="80" cy="40" r="9" /><path class="true" d="M80 8 V112 M26 52 H134" /><path class="turn" d={down(134, 74, 18)} /></>,
  },
  "tube-bent": {
    says: "A fork tube that curves away from a straight edge.",
    lines: <><path class="true" d="M80 6 V114" /><path d="M74 8 Q70 60 92 112 M86 8 Q82 60 104 112" /><path class="turn" d="M112 66 H92 M99 60 L92 66 L99 72" /></>,
  },
  "fork-binding": {
    says: "From the front: the legs are pulled together at the axle and are no longer parallel.",
    lines: <><path d="M50 10 L60 96 M110 10 L100 96" /><path class="true" d="M50 10 V112 M110 10 V112" /><path d="M52 96 H108" /><path class="turn" d="M30 96 H52 M45 90 L52 96 L45 102 M130 96 H108 M115 90 L108 96 L115 102" /></>,
  },
  "chain-worn": {
    says: "A sprocket with hooked teeth; a link lifts off it.",
    lines: <><circle cx="80" cy="66" r="34" /><path class="spot" d="M80 32 l6 -12 l4 12 M108 48 l14 -4 l-6 12 M113 76 l13 6 l-13 4 M52 48 l-2 -14 l12 8" /><path class="turn" d="M128 50 q10 16 0 32" /></>,
  },
  balance: {
    says: "A wheel with a heavy spot that throws it up and down once a turn.",
    lines: <><circle cx="80" cy="60" r="46" /><circle cx="80" cy="60" r="8" /><circle class="spot" cx="112" cy="30" r="8" /><path class="turn" d={`${up(144, 30, 20)} ${down(144, 88, 20)}`} /></>,
  },
  rim: {
    says: "A wheel with a dent in its rim.",
    lines: <><path d="M34 60 a46 46 0 1 1 92 0 a46 46 0 0 1 -36 45 l-10 -9 l-10 9 a46 46 0 0 1 -36 -45" /><circle cx="80" cy="60" r="8" /><path class="spot" d="M66 104 L80 95 L94 104" /><path class="turn" d={up(80, 98, 18)} /></>,
  },
  swingarm: {
    says: "From above: the swingarm moves from side to side at its pivot.",
    lines: <><path d="M24 60 L60 34 H120 M24 60 L60 86 H120" /><circle class="spot" cx="24" cy="60" r="8" /><rect x="92" y="48" width="58" height="24" rx="10" /><path class="turn" d={`${up(70, 40, 14)} ${down(70, 80, 14)}`} /></>,
  },
  fastener: {
    says: "A wheel's axle with its nut; a spanner on it.",
    lines: <><circle cx="70" cy="64" r="44" /><path class="spot" d="M60 58 l10 -6 l10 6 v12 l-10 6 l-10 -6 z" /><path d="M82 58 L138 26 M86 68 L142 38" /><path class="turn" d="M146 54 a30 30 0 0 1 -16 28 M140 86 L130 82 L134 72" /></>,
  },
  damper: {
    says: "From above: the steering damper across the front holds the bars.",
    lines: <><path d="M24 44 H136" /><circle cx="80" cy="44" r="9" /><rect class="spot" x="48" y="70" width="48" height="16" rx="6" /><path d="M96 78 H122 M48 78 L36 92" /><path class="turn" d="M30 26 a60 60 0 0 1 100 0 M122 18 L130 26 L121 32" /></>,
  },
  disc: {
    says: "A brake disc from its edge: it is bent and touches the pads once a turn.",
    lines: <><path d="M76 8 Q92 60 76 112" /><path class="true" d="M80 6 V114" /><rect class="spot" x="56" y="44" width="16" height="30" rx="2" /><rect x="92" y="44" width="16" height="30" rx="2" /><path class="turn" d="M128 60 H104 M111 54 L104 60 L111 66" /></>,
  },
  pressure: {
    says: "A gauge on the valve of a tyre.",
    lines: <><circle cx="60" cy="64" r="44" /><circle cx="60" cy="64" r="26" /><path d="M60 90 L98 84" /><circle cx="120" cy="76" r="24" /><path class="turn" d="M120 76 L132 62" /></>,
  },
  "pressure-high": tyre("M62 30 C30 40 34 84 66 100 Q80 106 94 100 C126 84 130 40 98 30", "A tyre with too much air: round, and it stands on a narrow patch.", <path class="spot" d="M72 104 H88" />),
  "pressure-low": tyre("M62 30 C14 40 20 104 50 104 H110 C140 104 146 40 98 30", "A tyre with too little air: its walls bulge and it stands on a wide, soft patch.", <path class="spot" d="M50 104 H110" />),
  profile: tyre("M62 30 C24 42 36 92 56 102 H104 C124 92 136 42 98 30", "A tyre worn flat in its middle, with an edge where the flat ends.", <path class="spot" d="M56 102 H104" />),
  cold: { says: "A tyre and a thermometer that reads low.", lines: <><circle cx="60" cy="66" r="42" /><circle cx="60" cy="66" r="24" /><path d="M122 20 V84" /><circle class="spot" cx="122" cy="96" r="11" /><path class="turn" d="M122 96 V78" /><path d="M132 30 H140 M132 46 H140 M132 62 H140" /></> },
  hot: { says: "A tyre and a thermometer that reads high.", lines: <><circle cx="60" cy="66" r="42" /><circle cx="60" cy="66" r="24" /><path d="M122 20 V84" /><circle class="spot" cx="122" cy="96" r="11" /><path class="turn" d="M122 96 V26" /><path d="M132 30 H140 M132 46 H140 M132 62 H140" /></> },
  wet: { says: "A wheel on a wet track, spray behind it.", lines: <><circle cx="86" cy="60" r="42" />{ground}<path class="turn" d="M40 98 q-16 -4 -24 -22 M34 104 q-18 0 -28 -10" /><path d="M120 20 l-4 10 M136 34 l-4 10 M142 66 l-4 10" /></> },
  wind: { says: "A bike leant against a wind from the side.", lines: <><g transform="rotate(-14 96 104)"><rect x="88" y="70" width="16" height="34" rx="8" /><path d="M96 70 V40 M82 48 H110" /><circle cx="96" cy="28" r="10" /></g>{ground}<path class="turn" d="M16 34 H54 M47 28 L54 34 L47 40 M16 62 H60 M53 56 L60 62 L53 68" /></> },
  track: { says: "A wheel that crosses a row of bumps.", lines: <><circle cx="62" cy="56" r="32" /><path d="M6 104 H30 q10 -18 20 0 q10 -18 20 0 q10 -18 20 0 q10 -18 20 0 H154" /><path class="turn" d={`${up(118, 34, 20)} ${down(134, 60, 20)}`} /></> },
  even: { says: "A bike that stands true, and a tick.", lines: <>{side(0)}{ground}<path class="turn" d="M122 18 L132 28 L150 6" /></> },
  rider: { says: "A rider on a bike: what body and hands do.", lines: <>{side(0)}{ground}<circle class="spot" cx="80" cy="16" r="9" /><path d="M78 26 L58 50 M77 32 L98 44" /></> },
  sag: { says: "The rear of a bike sinks under its rider: the distance from axle to tail.", lines: <><circle cx="56" cy="82" r="24" /><path d="M56 82 L110 74 M40 36 L120 30" /><path class="true" d="M30 22 L124 16" /><path class="turn" d="M56 76 V40 M50 46 L56 40 L62 46 M50 70 L56 76 L62 70" /><path class="spot" d="M134 18 V32" />{ground}</> },
  "spring-soft": { says: "A spring pressed almost shut under its load.", lines: <><path d={coil(60, 62, 104, 4, 18)} /><path class="true" d="M30 22 H90" /><path d="M36 62 H84 M36 104 H84" /><path class="turn" d={down(60, 58, 40)} /><path d={coil(120, 22, 104, 5, 12)} class="faint" /></> },
  "spring-stiff": { says: "A stiff spring that hardly gives under its load.", lines: <><path d={coil(60, 30, 104, 6, 18)} /><path d="M36 30 H84 M36 104 H84" /><path class="true" d="M30 22 H120" /><path class="turn" d={down(60, 28, 20)} /></> },
  preload: { says: "A spring and the collar that winds it: in is more preload.", lines: <><path d={coil(80, 46, 104, 5, 16)} /><rect class="spot" x="56" y="34" width="48" height="12" rx="2" /><path d="M56 104 H104 M80 34 V12" /><path class="turn" d="M112 22 a34 14 0 0 1 -62 6 M54 38 L50 28 L60 26" /><path class="turn" d={down(128, 46, 20)} /></> },
  "oil-level": { says: "A fork leg cut open: the oil's level below the top of the tube.", lines: <><path d="M58 8 V104 M102 8 V104 M58 104 H102" /><rect class="oil" x="60" y="52" width="40" height="50" /><path class="true" d="M40 52 H120" /><path class="turn" d="M124 12 V50 M118 18 L124 12 L130 18 M118 44 L124 50 L130 44" /></> },
  fork: { says: "A fork leg that goes down and comes back.", lines: <>{leg(80)}<circle cx="80" cy="104" r="6" /><path class="turn" d={`${down(116, 60, 36)} ${up(136, 24, 36)}`} /><path class="spot" d="M72 10 H88" /></> },
  shock: { says: "A shock with its spring between frame and linkage.", lines: <><circle cx="60" cy="14" r="7" /><path d={coil(60, 24, 80, 5, 16)} /><path d="M60 80 V98" /><circle cx="60" cy="104" r="6" /><rect x="96" y="20" width="18" height="40" rx="8" /><path d="M68 16 Q84 10 96 28" /><path class="turn" d={`${down(136, 60, 30)}`} /></> },
  compression: { says: "A damper pressed together: compression slows the way in.", lines: <><rect x="66" y="50" width="28" height="56" rx="3" /><path d="M80 12 V72 M68 72 H92" /><path class="turn" d={down(80, 46, 36)} /><path class="turn" d="M56 92 q-16 -10 0 -24 M104 92 q16 -10 0 -24" /><circle class="spot" cx="120" cy="30" r="9" /></> },
  "compression-fast": { says: "A wheel hits a sharp edge: fast compression.", lines: <><circle cx="56" cy="62" r="34" /><path d="M6 104 H90 V88 H154" /><path class="turn" d={`${up(110, 30, 30)} ${up(126, 30, 30)}`} /><path class="spot" d="M90 88 V104" /></> },
  rebound: { says: "A damper that pulls apart: rebound slows the way back out.", lines: <><rect x="66" y="50" width="28" height="56" rx="3" /><path d="M80 8 V82 M68 82 H92" /><path class="turn" d={up(112, 14, 44)} /><circle class="spot" cx="44" cy="30" r="9" /></> },
  legs: { says: "Two fork caps whose screws stand at different clicks.", lines: <><circle cx="48" cy="60" r="32" /><circle cx="112" cy="60" r="32" /><path class="spot" d="M48 60 L48 36" /><path class="spot" d="M112 60 L131 46" /><path class="true" d="M48 60 V20 M112 60 V20" /></> },
  linkage: { says: "The rear linkage: three pivots between swingarm, shock and frame.", lines: <><path d="M12 40 L120 56" /><path d="M96 54 L84 92 L124 98 L106 56" /><circle class="spot" cx="96" cy="54" r="6" /><circle class="spot" cx="84" cy="92" r="6" /><circle class="spot" cx="124" cy="98" r="6" /><path d="M84 92 L70 20" /><circle cx="130" cy="58" r="20" /></> },
  geometry: { says: "A bike from its side with its steering line, and where it meets the ground.", lines: <>{side(0)}{ground}<path class="true" d="M98 26 L134 118" /><path class="turn" d="M122 106 H130" /></> },
  "nose-down": { says: "A bike that stands nose down: the steering is steep.", lines: <>{side(6)}{ground}<path class="true" d="M8 56 L152 72" /><path class="turn" d={`${down(140, 40, 22)} ${up(22, 24, 22)}`} /></> },
  "nose-up": { says: "A bike that stands nose up: the steering is flat.", lines: <>{side(-6)}{ground}<path class="true" d="M8 72 L152 56" /><path class="turn" d={`${up(140, 12, 22)} ${down(22, 44, 22)}`} /></> },
  gearing: { says: "Another sprocket moves the rear axle in its slot.", lines: <><circle cx="36" cy="56" r="14" /><circle cx="120" cy="62" r="30" /><path d="M36 42 L120 32 M36 70 L120 92" /><path d="M104 62 H140" /><circle class="spot" cx="116" cy="62" r="7" /><path class="turn" d="M96 110 H140 M133 104 L140 110 L133 116" /></> },
};

/**
 * CauseDrawing is a picture by its name; the pictures of the checks are among
 * them. As decor it has no name for screen readers: words beside it say the same.
 */
export function CauseDrawing(p: { name: string; decor?: boolean }) {
  const d = pictures[p.name] ?? checkPictures[p.name];
  if (!d) return null;
  if (p.decor) return <svg class="check-drawing" viewBox="0 0 160 120" aria-hidden="true">{d.lines}</svg>;
  return <svg class="check-drawing" viewBox="0 0 160 120" role="img" aria-label={d.says}>{d.lines}</svg>;
}
