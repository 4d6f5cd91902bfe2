import type { Choice } from "./choices";
import type { Counting } from "./counted";

export interface LookStep {
  id: string;
  title: string;
  done: boolean;
  answer?: string;
}

export interface LookStage {
  id: string;
  title: string;
  says: string;
  done: boolean;
  steps: LookStep[];
}

export interface StartForm {
  rider: string;
  weight?: number;
  name: string;
  year?: number;
  class?: string;
  tyres?: string;
  units?: Record<string, string>;
}

export interface FactAsk {
  fact: string;
  title: string;
  why: string;
  options: Choice[];
  when?: boolean;
  who?: boolean;
  answer?: string;
  date?: string;
  person?: string;
  note?: string;
}

export interface CheckAsk {
  check: string;
  title: string;
  why: string;
  how: string[];
  good: string;
  caution: string;
  stop: string;
  result?: string;
  says?: string;
  note?: string;
}

export interface LookNow extends LookStep {
  stage: string;
  back?: string;
  next?: string;
  start?: StartForm;
  fact?: FactAsk;
  check?: CheckAsk;
  count?: Counting;
  line?: { says: string; unknown: string[]; possible: boolean };
}

export interface FirstLook {
  bike: string;
  started: boolean;
  rider: string;
  done: number;
  total: number;
  says: string;
  stages: LookStage[];
  now?: LookNow;
  people: Choice[];
}
