// View models "laps", "lapsfile" and "live", as internal/screen makes them.
import type { Choice } from "./choices";

export interface Tick {
  at: number;
  label: string;
}

/** A lap as an entry keeps it: seconds to the thousandth. */
export interface LapTime {
  t: number;
  s?: number[];
  mark?: string;
  gap?: boolean;
}

export interface LapRow {
  number: number;
  time: string;
  mark: string;
  says: string;
  counts: boolean;
  overruled?: boolean;
  best?: boolean;
  gap?: boolean;
  sectors: string[];
}

export interface LapDot {
  number: number;
  at: number;
  time: string;
  mark: string;
  over?: boolean;
}

export interface LapDots {
  dots: LapDot[];
  ticks: Tick[];
  middle: number;
  says: string;
}

export interface LapsPage {
  session: string;
  title: string;
  kept: LapTime[];
  rows: LapRow[];
  dots: LapDots;
  says: string;
  source?: string;
  sectors: number;
  marks: Choice[];
  live: boolean;
}

export interface FileColumns {
  time: number;
  lap: number;
  session: number;
}

/** A track's map as the core gives and takes it; the app only carries it. */
export type TrackMap = Record<string, unknown>;

export interface LapsFile {
  kind: "table" | "gpx" | "nmea";
  says: string;
  stints: { name: string; laps: LapTime[]; best: string }[];
  bad: { where: string; text?: string; says: string }[];
  badAll: number;
  table?: { columns: FileColumns; names: string[]; sample: string[][] };
  trace?: {
    way: [number, number][];
    line?: [[number, number], [number, number]];
    lineSays: string;
    backward?: string;
    accuracy: number;
    map?: TrackMap;
    turns: string;
    length?: number;
  };
}

export interface Live {
  laps: LapTime[];
  rows: LapRow[];
  last?: string;
  best?: string;
  since: number;
  lineSays: string;
  says: string;
  accuracy?: number;
  map?: TrackMap;
  turns?: string;
  length?: number;
}
