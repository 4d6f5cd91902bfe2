import type { Choice, TileGroup } from "./choices";
import type { Picked } from "./turned";

/** Advice held against what was felt last. */
export interface Weighed {
  verdict: "stop" | "check-first" | "worth-a-try" | "against" | "no-way-left" | "cannot-say";
  title: string;
  says: string;
  of?: string;
  helps: string[];
  against: string[];
  first: { cause: string; title: string; how: string; effort: string }[];
  before: string[];
}

export interface SaidLine {
  entry: string;
  title: string;
  why?: string;
  when: string;
  expect?: string;
  shared?: boolean;
  result: "open" | "tried" | "declined" | "later" | "asked";
  came: string;
  weighed?: Weighed;
  /** It names no move, so it cannot be weighed. */
  words?: boolean;
}

export interface Said {
  bike: string;
  bikeName: string;
  rider: string;
  open: SaidLine[];
  done: SaidLine[];
  records: { name: string; says: string }[];
  groups: TileGroup[];
  picked?: Picked;
  weighed?: Weighed;
  people: Choice[];
}
