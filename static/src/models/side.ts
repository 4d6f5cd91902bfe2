import type { Scene } from "./scene";

/** The side view of a bike, and its dimensions now against the line. */
export interface Side {
  says: string;
  against?: string;
  scene?: Scene;
  rows: { name: string; now: string; line?: string; more?: string }[];
  missing: string[];
  link: string;
  note?: string;
}
