import type { Choice, TileGroup } from "./choices";
import type { Picked } from "./turned";

export interface SaidLine {
  entry: string;
  title: string;
  why?: string;
  when: string;
  result: "open" | "tried" | "declined" | "later";
  came: string;
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
  people: Choice[];
}
