import type { Found } from "./counted";
import type { RepeatCard } from "./whyrepeat";
import type { Plumb } from "./bike";

export interface Notice {
  title: string;
  says: string;
  href: string;
  act: string;
}

export interface OnTrial {
  entry: string;
  title: string;
  plan: string;
  since: string;
  idea?: string;
  why?: string;
  expect?: string;
  spoiled?: string;
  progress: string;
  next: string;
  undo: string;
  sure: string;
  more?: boolean;
}

export interface Today {
  plumb?: Plumb;
  hasBike: boolean;
  bike?: string;
  bikeName?: string;
  example?: boolean;
  stops: Notice[];
  due: Notice[];
  standing: { counted: number; assumed: number; unknown: number; says: string };
  drift?: { line: string; moved: number; says: string; list: string[] };
  trials: OnTrial[];
  found: Found[];
  tasks: RepeatCard[];
  advice: number;
}
