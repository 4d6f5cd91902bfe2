// View model "due", as internal/screen/due.go makes it.
import type { Choice } from "./choices";

export interface IntervalForm {
  bike: string;
  what: string;
  days: number;
  hours: number;
  km: number;
  months: number;
  source: string;
  off: boolean;
  note: string;
}

export interface DueRow {
  what: string;
  title: string;
  why: string;
  state: "over" | "soon" | "good" | "unknown";
  says: string;
  last: string;
  limits: string;
  source: string;
  uses: { says: string; share: number }[];
  form: IntervalForm;
}

export interface TyresForm {
  bike: string;
  set: string;
  name: string;
  front: string;
  rear: string;
  fitted: string;
  cycles: number;
  gone: boolean;
  note: string;
}

export interface Due {
  bike: string;
  rows: DueRow[];
  off: DueRow[];
  meter: { bike: string; km: number | null; hours: number | null };
  says: string;
  people: Choice[];
  tyres: { form: TyresForm; says: string }[];
}
