// View model "camein", as internal/screen/camein.go makes it.
import type { Choice } from "./choices";

export interface CameIn {
  bike: string;
  tracks: Choice[];
  track: string;
  pressure: string;
  read: string[];
}
