import type { Choice, Dispute, Tile, TileGroup } from "./choices";

export interface Found {
  entry: string;
  adjuster: string;
  name: string;
  title: string;
  window: string;
  when: string;
}

export interface Counting extends Tile {
  unit: string;
  way: string;
  from: string;
  step: number;
  min: number;
  max: number;
  value?: number;
  seen?: string;
  disputed?: Dispute;
  next?: string;
}

export interface Counted {
  bike: string;
  groups: TileGroup[];
  picked?: Counting;
  found: Found[];
  people: Choice[];
}
