import type { Choice, TileGroup } from "./choices";
import type { OnTrial } from "./today";
import type { Picked } from "./turned";

export interface Span {
  low: number;
  middle: number;
  high: number;
  edge: string;
  says: string;
}

export interface LapsSay {
  call: "keep" | "put back" | "ride more";
  title: string;
  says: string;
  even?: string;
  known: boolean;
  span?: Span;
  more?: string;
  doubts: string[];
  how: string[];
}

export interface Tick {
  at: number;
  label: string;
}

export interface TrialDot {
  along: number;
  at: number;
  counts: boolean;
  off?: boolean;
}

export interface DotRun {
  label: string;
  side: string;
  word: string;
  dots: TrialDot[];
  low: number;
  middle: number;
  high: number;
  band: boolean;
  laps: string;
  mid: string;
}

export interface TrialDots {
  says: string;
  axis: string;
  ticks: Tick[];
  runs: DotRun[];
  old?: number;
}

export interface SweepStop {
  at: number;
  label: string;
  dots: number[];
  mean?: number;
  low: number;
  high: number;
  felt: string;
  laps: string;
  mid: string;
}

export interface SweepPicture {
  says: string;
  advice: string;
  xAxis: string;
  yAxis: string;
  xTicks: Tick[];
  yTicks: Tick[];
  stops: SweepStop[];
  curve: [number, number][];
  best?: [number, number];
  choices: { to: number; name: string; best: boolean }[];
}

export interface Blind {
  sealed?: string;
  ridden: boolean;
  secret: boolean;
  friend?: { to: string; says: string };
  draws: { right: boolean; says: string }[];
  record: string;
  options: Choice[];
}

export interface TrialRun {
  session: string;
  title: string;
  side: string;
  where: string;
  laps: string;
  felt?: string;
  out?: string;
  mixed?: string;
  overruled?: boolean;
  counts: boolean;
  movable: boolean;
}

export interface Trial extends OnTrial {
  bike: string;
  adjuster: string;
  kind: "" | "back" | "sweep" | "blind";
  planSays: string;
  a: string;
  b: string;
  steps: { says: string; done: boolean }[];
  do: { act: "" | "set" | "ride" | "draw" | "say" | "judge"; says: string; sure?: string; to?: number };
  felt: string;
  ready: boolean;
  laps: LapsSay;
  dots?: TrialDots;
  sweep?: SweepPicture;
  blind?: Blind;
  runs: TrialRun[];
  sides: Choice[];
  people: Choice[];
  verdict: string;
  judged?: string;
  chosen?: string;
  plans: Choice[];
}

export interface Try {
  bike: string;
  groups: TileGroup[];
  picked?: Picked;
  known: boolean;
  plans: { id: string; name: string; says: string }[];
  stops: string[];
  outside: string;
  tells?: string;
  running?: string;
  trial?: string;
  people: Choice[];
  stop?: string;
}
