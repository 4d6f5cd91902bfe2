// View model "why", as internal/screen/why.go makes it.
export interface WhyFinding {
  id: string;
  words: string;
  answer?: string;
  denied?: boolean;
}

export interface WhyCause {
  id: string;
  title: string;
  doubt: string;
  share: number;
  why: string;
  tell: string;
  for: string[];
  against: string[];
  check: string;
  finding: string;
  remedy: string;
  caution?: string;
  stop?: string;
}

export interface Why {
  offers: WhyFinding[];
  chosen: WhyFinding[];
  causes: WhyCause[];
  stop?: string;
  next?: { finding: string; how: string; why: string; minutes: number; tools?: string };
  change?: { adjuster?: string; words: string; expect: string; wrong: string; side?: string; undo: string; caution?: string };
  unsure: boolean;
  note?: string;
}
