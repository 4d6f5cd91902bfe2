// View model "camein", as internal/screen/camein.go makes it.
import type { Choice } from "./choices";

export interface CameIn {
  bike: string;
  title: string;
  tracks: Choice[];
  track: string;
  tyres: Choice[];
  set: string;
  pressure: string;
  step: number;
  last: {
    day: boolean;
    /** Both tyres' hot pressures in words; none when not known. */
    hot?: string;
    air: number | null;
    ground: number | null;
    fuel: number | null;
    wind: string;
    wet: boolean;
  };
  /** Where − and + begin. */
  begin: { front: number; rear: number; coldFront: number; coldRear: number };
  /** Ids are "track corner". */
  corners: Choice[];
  read: string[];
}

/** What the form says; everything may be left out. */
export interface CameInForm {
  session?: string;
  track: { id?: string; name?: string };
  when: string;
  felt: string;
  air: number | null;
  ground: number | null;
  wet: boolean;
  wind: string;
  fuel: number | null;
  tyres: string;
  coldFront: number | null;
  coldRear: number | null;
  front: number | null;
  rear: number | null;
  laps: string;
  words: string;
  corner: string;
  repeat: string;
  note: string;
}
