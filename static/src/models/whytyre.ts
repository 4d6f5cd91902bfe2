// View model "tyrereading", as internal/screen/whytyre.go makes it.
import type { Wear } from "../draw/tyre";
import type { Choice } from "./choices";

export interface TyreReading {
  places: Choice[];
  groups: { title: string; looks: { id: string; words: string; wear?: Wear }[] }[];
  before: string;
}
