// View model "why", as internal/screen/why.go makes it.
import type { Choice } from "./choices";
import type { Notice } from "./today";

export type Result = "yes" | "no" | "unsure";

export interface WhyFinding {
  id: string;
  words: string;
  kind: "felt" | "tyre" | "check" | "measured";
  answer?: Result;
  denied?: boolean;
}

export interface WhyEvidence {
  words: string;
  detail?: string;
  weight: string;
  length: number;
  source?: string;
  doubt?: string;
}

export interface WhyCheck {
  finding: string;
  fault: string;
  how: string;
  effort: string;
  drawing: string;
  answer?: Result;
  round?: string;
  measure?: string;
}

export interface WhyTry {
  cause: string;
  title: string;
  adjuster?: string;
  steps?: number;
  says?: string;
  expect?: string;
  wrong?: string;
  side?: string;
  undo?: string;
  caution?: string;
  noTry?: string;
  putBack?: boolean;
  where?: string;
}

export interface WhyCause {
  id: string;
  title: string;
  family: string;
  drawing: string;
  doubt: string;
  length: number;
  why: string;
  tell: string;
  for: WhyEvidence[];
  against: WhyEvidence[];
  check: WhyCheck;
  remedy: WhyTry;
  stop?: string;
}

export interface WhyStep extends WhyCheck {
  cause: string;
  title: string;
  why: string;
  because: string;
  first: boolean;
}

export interface Why {
  bike: string;
  stops: Notice[];
  offers: WhyFinding[];
  chosen: WhyFinding[];
  booked: string[];
  causes: WhyCause[];
  stop?: { cause: string; title: string; says: string };
  next?: WhyStep;
  plan: { cause: string; title: string; how: string; effort: string }[];
  change?: WhyTry;
  refused?: string;
  pairs: string[];
  doubts: string[];
  unsure: boolean;
  note?: string;
  learned?: boolean;
  tracks: Choice[];
  track?: string;
  corners: string[];
  saved: number;
}

/** What the rider has said so far, kept as a draft. */
export interface WhyForm {
  phase: string;
  end: string;
  side: string;
  words: string;
  /** What was touched last: findings are offered by it. */
  by: "tap" | "words";
  repeat: string;
  track: string;
  corner: string;
  findings: Record<string, string>;
  ends: Record<string, string>;
  /** The entry of a symptom that says just this, once it is written down. */
  saved: string;
}

export const emptyWhy: WhyForm = { phase: "", end: "", side: "", words: "", by: "tap", repeat: "", track: "", corner: "", findings: {}, ends: {}, saved: "" };
