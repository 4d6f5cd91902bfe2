import type { Refusal } from "../core";
import type { Choice } from "./choices";
import type { Scene } from "./scene";

export interface MeasureLine {
  topic: string;
  name: string;
  what: string;
  state: "never" | "stale" | "fresh";
  says: string;
}

/** The list of what can be measured. */
export interface Measure {
  bike: string;
  first?: MeasureLine;
  says: string;
  groups: { name: string; lines: MeasureLine[] }[];
}

export interface MeasureStep {
  symbol: string;
  title: string;
  how: string;
  kind: "number" | "choice" | "words" | "bounce";
  value: string;
  quantity: string;
  unit: string;
  units: string[];
  options: Choice[];
  last?: string;
  book?: string;
  unknown: boolean;
  refusal?: Refusal;
  caution?: string;
}

/** One guided page. */
export interface Measuring {
  bike: string;
  topic: string;
  name: string;
  what: string;
  needs: string;
  why: string[];
  scene: Scene;
  steps: MeasureStep[];
  reading?: Reading;
  of?: string;
  missing: string[];
  ready: boolean;
  earlier: { entry: string; when: string; says: string; note?: string }[];
  next?: MeasureLine;
}

export interface Gauge {
  name: string;
  unit: string;
  lo: number;
  hi: number;
  from: number;
  to: number;
  at: number;
  shown: string;
  says: string;
  source?: string;
}

export interface ChartAxis {
  label: string;
  unit: string;
  lo: number;
  hi: number;
  ticks: number[];
}

export interface Chart {
  title: string;
  x: ChartAxis;
  y: ChartAxis;
  lines: { title: string; points: [number, number][] }[];
  spots: { x: number; y: number; title: string }[];
}

export interface Reading {
  says: string[];
  cautions: string[];
  values: { name: string; shown: string }[];
  gauges: Gauge[];
  charts: Chart[];
  tables: { title: string; head: string[]; rows: string[][] }[];
  scene?: Scene;
  source?: string;
  assumed: string[];
  wrong?: Refusal[];
}
