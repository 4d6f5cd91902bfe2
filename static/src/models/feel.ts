export interface Witness {
  yes: number;
  of: number;
  share: number;
  low: number;
  high: number;
  says: string;
  span?: string;
}

export interface FeelMark {
  right: boolean;
  kind: "draw" | "laps";
  day: string;
  says: string;
}

export interface AdviserLine {
  name: string;
  says: string;
  worth: string;
  kept: number;
  back: number;
  low: number;
  high: number;
}

export interface Feel {
  bike: string;
  draws: Witness;
  laps: Witness;
  marks: FeelMark[];
  advisers: AdviserLine[];
  past: { entry: string; title: string; says: string }[];
}
