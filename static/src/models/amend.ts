// View models "amend" and "people", as internal/screen makes them.
import type { Choice, Who } from "./choices";
import type { HistoryLine } from "./history";

export interface AmendField {
  name: string;
  kind: "text" | "long" | "day" | "number" | "one" | "who";
  label: string;
  text?: string;
  number?: number;
  who?: string;
  options?: Choice[];
  unit?: string;
  step?: number;
  min?: number;
  max?: number;
}

export interface AmendPast {
  entry: string;
  when: string;
  was?: string;
  why?: string;
}

export interface Amend {
  line: HistoryLine;
  day: string;
  fields: AmendField[];
  /** Where a line is corrected that has a page of its own. */
  page?: string;
  people: Choice[];
  struck?: AmendPast;
  changes: AmendPast[];
}

export interface PersonLine {
  id: string;
  name: string;
  role: string;
  says: string;
  rider?: boolean;
  names: Choice[];
}

export interface People {
  book: string;
  people: PersonLine[];
  roles: Choice[];
  devices: { id: string; name: string; says: string; here?: boolean }[];
  here: { name: string; holder: Who };
  holders: Choice[];
}
