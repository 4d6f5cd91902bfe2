import type { Choice, Dispute, Standing } from "./choices";
import type { LookStep } from "./firstlook";
import type { MeasureLine } from "./measure";
import type { Side } from "./side";

export interface Bob {
  id: string;
  name: string;
  group: string;
  at: string;
  lineAt: string;
  standing: Standing;
  swing: number;
  hollow: boolean;
  mark: string;
  says: string;
}

export interface Plumb {
  line: string;
  name: string;
  drawn?: string;
  lines: Choice[];
  on?: string;
  says: string;
  scale: number;
  bobs: Bob[];
}

export interface BikeEvent {
  entry: string;
  title: string;
  says: string;
}

export interface BikeForm {
  bike: string;
  name: string;
  year?: number;
  class?: string;
  tyres?: string;
  rider?: number;
  note?: string;
}

export interface OwnDef {
  bike: string;
  adjuster: string;
  name: string;
  group: string;
  unit: string;
  shown: string;
  step: number;
  min: number;
  max: number;
  from: string;
  more: string;
  less: string;
  retired: boolean;
}

export interface BikePage {
  bike: BikeForm;
  rider: string;
  massUnit: string;
  stop?: string;
  disputes: Dispute[];
  plumb: Plumb;
  side: Side;
  measured: MeasureLine[];
  /** What each part of the page holds, in a few words. */
  says: { side: string; measured: string; checks: string; services: string; parts: string; falls: string; bike: string };
  due: string;
  services: BikeEvent[];
  parts: BikeEvent[];
  falls: BikeEvent[];
  checks: { check: string; title: string; result: string; says: string; note?: string; stop?: string }[];
  facts: LookStep[];
  adjusters: OwnDef[];
  people: Choice[];
  works: Choice[];
}

export interface SettingPage {
  def: OwnDef;
  at: string;
  standing: Standing;
  seen: string;
  line: string;
  geometry?: string;
  geometryLink?: string;
  disputed?: Dispute;
  marks: { entry: string; kind: string; title: string; when: string; who?: string; idea?: string; why?: string; unowned?: boolean }[];
}
