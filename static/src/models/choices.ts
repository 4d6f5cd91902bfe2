/** Something that can be picked. */
export interface Choice {
  id: string;
  name: string;
}

/** Somebody as a form names them: one of the book's by id, or a new one by name. */
export interface Who {
  id?: string;
  name?: string;
  role?: string;
}

export type Standing = "counted" | "assumed" | "unknown";

/** One adjuster in a grid. */
export interface Tile {
  id: string;
  name: string;
  at: string;
  standing: Standing;
}

export interface TileGroup {
  name: string;
  tiles: Tile[];
}

/** A setting of which the book tells two stories; a count settles it. */
export interface Dispute {
  adjuster: string;
  name: string;
  says: string;
  claims: { entry: string; at: string; who: string }[];
}
