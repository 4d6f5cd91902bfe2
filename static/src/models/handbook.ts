// View model "handbook", as internal/screen/handbook.go makes it.
import type { WhyCheck } from "./why";

export interface HandbookLine {
  id: string;
  title: string;
  why: string;
  stop?: boolean;
}

export interface HandbookSign {
  words: string;
  often: string;
  kind: string;
  source: number;
}

export interface HandbookPage extends HandbookLine {
  family: string;
  drawing: string;
  forbids?: string;
  signs: HandbookSign[];
  facts: HandbookSign[];
  tell: string;
  like: HandbookLine[];
  check: WhyCheck;
  remedy: { says: string; expect: string; wrong: string; side?: string; undo: string; caution?: string };
  sources: { number: number; title: string; kind: string }[];
}

export interface Handbook {
  families: { id: string; title: string; drawing: string; pages: HandbookLine[] }[];
  found: number;
  says: string;
  page?: HandbookPage;
}
