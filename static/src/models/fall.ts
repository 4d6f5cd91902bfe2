import type { Choice } from "./choices";
import type { CheckAsk } from "./firstlook";

export interface Fall {
  bike: string;
  stop?: string;
  last?: string;
  steps: { id: string; title: string; how: string; caution?: string }[];
  check: CheckAsk;
  also: { check: string; title: string; says: string; since: boolean }[];
  sides: Choice[];
  speeds: Choice[];
  tracks: Choice[];
}
