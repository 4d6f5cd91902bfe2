// View model "learned", as internal/screen/learned.go makes it.
export interface Learned {
  bike: string;
  says: string;
  lines: { cause: string; title: string; finding: string; says: string; was: number; now: number }[];
  trials: string[];
  rule: string;
}
