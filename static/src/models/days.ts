// View models "days" and "run", as internal/screen/days.go and season.go make them.
import type { CameInForm } from "./camein";
import type { Choice, Standing } from "./choices";
import type { LapDots, LapRow, Tick } from "./laps";

export interface TrendPoint {
  id: string;
  time: string;
  middle: number;
  best: number;
  quarter: number;
  three: number;
  /** Middle, best, how many count. */
  says: [string, string, string];
  changed: string[];
}

export interface Trend {
  points: TrendPoint[];
  ticks: Tick[];
  says: string;
}

export interface RunRow {
  id: string;
  name: string;
  time: string;
  felt?: string;
  says: string;
  before: string[];
  wet?: boolean;
}

export interface DayRow {
  id?: string;
  date: string;
  day: string;
  track: string;
  trackId?: string;
  way?: string;
  note?: string;
  best?: string;
  sessions: RunRow[];
  trend: Trend;
}

export interface SeasonPoint {
  id: string;
  at: number;
  behind: number;
  track: string;
  day: string;
  says: string;
}

export interface SeasonMark {
  at: number;
  kind: "change" | "service" | "fall" | "part" | "line";
  day: string;
  says: string;
}

export interface Season {
  points: SeasonPoint[];
  marks: SeasonMark[];
  months: Tick[];
  ticks: Tick[];
  says: string;
}

export interface Days {
  bike: string;
  days: DayRow[];
  tracks: Choice[];
  season: Season;
}

export interface Run {
  id: string;
  entry: string;
  title: string;
  when: string;
  felt?: string;
  note?: string;
  track?: string;
  trackId?: string;
  conditions: { name: string; says: string }[];
  pressures: { tyre: string; cold: string; hot: string; rose: string }[];
  before: string[];
  settings: { id: string; name: string; at: string; standing: Standing; moved?: boolean }[];
  laps: LapRow[];
  sectors: number;
  dots: LapDots;
  source?: string;
  symptoms: { entry: string; says: string; where?: string; repeat?: string }[];
  older?: string;
  newer?: string;
  form: CameInForm;
}
