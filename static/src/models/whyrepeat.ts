// View models "repeat" and "symptoms", as internal/screen/repeat.go makes them.
import type { Choice } from "./choices";
import type { Notice } from "./today";
import type { WhyForm } from "./why";

export interface RepeatCard {
  bike: string;
  symptom: string;
  title: string;
  when: string;
  state: "" | "set" | "done" | "dropped";
  stops: Notice[];
  dont?: string;
  where: string;
  how: string;
  effort: string;
  watch: string;
  passes: number;
  stop: string;
  after: string;
  came?: string;
}

export interface SymptomLine {
  entry: string;
  title: string;
  when: string;
  where: string;
  often: string;
  findings: string[];
  tried: string[];
  task?: string;
  once?: boolean;
  form: Omit<WhyForm, "saved" | "by"> & { findings: Record<string, string> | null; ends: Record<string, string> | null };
}

export interface Symptoms {
  bike: string;
  tracks: Choice[];
  lines: SymptomLine[];
}
