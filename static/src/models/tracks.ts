// View models "tracks", "track" and "trackfile", as internal/screen/tracks.go makes them.
import type { DayRow } from "./days";
import type { TrackMap } from "./laps";

export interface Tracks {
  tracks: { id: string; name: string; says: string; best?: string }[];
}

export interface Corner {
  number: number;
  name: string;
  felt: number;
  at?: [number, number];
  says: string;
}

/** The map in a square of 1000, y downwards. */
export interface TrackPicture {
  none?: boolean;
  way: [number, number][];
  start?: [[number, number], [number, number]];
  splits: [[number, number], [number, number]][];
  earth?: boolean;
  scale?: string;
  says: string;
}

export interface CornerForm {
  name: string;
  at: [number, number] | null;
}

export interface TrackForm {
  track: string;
  name: string;
  bumpy: string;
  way: string;
  length: number | null;
  corners: CornerForm[];
  note: string;
}

export interface TrackPage {
  id: string;
  form: TrackForm;
  corners: Corner[];
  picture: TrackPicture;
  days: DayRow[];
}

export interface TrackFile {
  map: TrackMap;
  turns: string;
  length: number;
  picture: TrackPicture;
  says: string;
}
