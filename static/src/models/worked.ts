import type { Choice } from "./choices";

export interface WorkedSetting {
  adjuster: string;
  name: string;
  at: string;
  now: string;
  moved: boolean;
  /** Of the trial that decided it. */
  evidence?: string;
}

export interface WorkedHot {
  tyre: string;
  field: "front" | "rear";
  wanted: string;
  says: string;
  rows: string[][];
}

export interface Worked {
  bike: string;
  track: string;
  tracks: Choice[];
  wet: boolean;
  says: string;
  name: string;
  settings: WorkedSetting[];
  moves: number;
  pressures: WorkedHot[];
  unit: string;
  corners: { corner: string; felt: string[] }[];
  compare?: { head: string[]; rows: string[][] };
}
