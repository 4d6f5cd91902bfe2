// View model "history", as internal/screen/history.go makes it.
export interface Choice {
  id: string;
  name: string;
}

export interface HistoryLine {
  entry: string;
  kind: string;
  time: string;
  title: string;
  detail?: string;
  turned?: string;
  idea?: string;
  why?: string;
  track?: string;
  struck?: boolean;
  corrected?: boolean;
  was?: string;
  struckFor?: string;
  unowned?: boolean;
  /** How many photos belong to it: "2 photos". */
  photos?: string;
}

export interface History {
  days: { day: string; lines: HistoryLine[] }[];
  people: Choice[];
  adjusters: Choice[];
  tracks: Choice[];
  kinds: Choice[];
  more?: string;
  total: number;
}
