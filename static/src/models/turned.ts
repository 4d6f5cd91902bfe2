import type { Choice, Tile, TileGroup } from "./choices";

export interface Picked extends Tile {
  forth: string;
  back: string;
  forthIs?: string;
  backIs?: string;
  quick: { steps: number; label: string; name: string }[];
  says?: string;
  effect?: string;
  geometry?: string;
  geometryLink?: string;
  outside?: string;
  from: string;
}

export interface Turned {
  bike: string;
  groups: TileGroup[];
  picked?: Picked;
  people: Choice[];
  rider: string;
  whys: string[];
  advice?: { entry: string; says: string; adjuster?: string; steps?: number; idea: string; why?: string; expect?: string };
  try?: {
    symptom: string;
    cause: string;
    says: string;
    adjuster?: string;
    steps?: number;
    why?: string;
    expect?: string;
    wrong?: string;
    caution?: string;
    noTry?: string;
  };
}
