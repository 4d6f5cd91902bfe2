import type { Choice } from "./choices";

export interface BackMove {
  adjuster: string;
  name: string;
  says: string;
  sure: string;
  sentence: string;
  to: number;
  unknown?: boolean;
}

export interface WayBack {
  bike: string;
  line: string;
  lineName: string;
  drawn?: string;
  lines: Choice[];
  moves: BackMove[];
  done: { entry: string; says: string }[];
  not: string[];
  draw: { says: string; unknown: string[]; possible: boolean };
  tracks: Choice[];
}
