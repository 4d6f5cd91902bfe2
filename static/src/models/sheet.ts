// The setup sheet's view models, as internal/sheet and internal/screen make them.

export interface Sheet {
  made: string;
  bike: { name: string; year?: number; class?: string; tyres?: string };
  rider?: string;
  stop?: string;
  line?: string;
  settings: SheetSetting[];
  measures?: SheetRow[];
  history?: SheetRow[];
  changes?: SheetChange[];
  symptoms?: SheetRow[];
  causes?: SheetRow[];
  checks?: SheetRow[];
}

export interface SheetSetting {
  id: string;
  name: string;
  at: string;
  standing: string;
  drift?: string;
  n?: number;
}

export interface SheetRow {
  title: string;
  says?: string;
  when?: string;
}

export interface SheetChange {
  title: string;
  when: string;
  who?: string;
  idea?: string;
  why?: string;
  verdict?: string;
}

/** One code: a square of size modules each way, its dark ones as a path. */
export interface SheetCode {
  text: string;
  size: number;
  path: string;
}

export interface SheetCodes {
  codes: SheetCode[];
}

export interface ReadSheet {
  sheet?: Sheet;
  of: number;
  missing: number[];
}

export interface ComparedSheets {
  mine: string;
  theirs: string;
  pairs: { id: string; name: string; a: string; b: string; differs: boolean }[];
  differ: number;
}
