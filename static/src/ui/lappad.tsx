// Big keys for laps: digits are enough, 1 5 2 4 is 1:52.4. What is written
// under the keys are the laps so far, one on each line.
import { useState } from "preact/hooks";
import { useView } from "../book";
import { Button } from "./parts";

const keys = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ":", "0", "."];
const spoken: Record<string, string> = { ".": "point", ":": "colon" };

interface LapRead {
  time: number | null;
  says: string;
}

/** LapKeys is the pad alone: a lap is handed on as it was understood. */
export function LapKeys(p: { onLap: (read: { time: number; says: string }) => void }) {
  const [typed, type] = useState("");
  const { model } = useView<{ typed: string; read: LapRead }>("lapkeyed", { typed });
  // A thumb is faster than an answer: only the reading of what stands here counts.
  const read = typed && model?.typed === typed ? model.read : undefined;
  const good = read?.time != null;
  const next = () => {
    if (read?.time == null) return;
    p.onLap({ time: read.time, says: read.says });
    type("");
  };
  return (
    <div class="keypad lap-keys">
      <output class="keypad-shows" aria-live="off">{typed || "–"}</output>
      <p role="status" class={read && !good ? "refusal lap-read" : "lap-read"} id="lap-read">{read ? (good ? `Read as ${read.says}` : read.says) : typed ? "…" : "1 5 2 4 is 1:52.4; 5 2 4 is 52.4"}</p>
      {keys.map((k) => <button key={k} type="button" aria-label={spoken[k]} onClick={() => type(typed + k)}>{k}</button>)}
      <button type="button" aria-label="delete" onClick={() => type(typed.slice(0, -1))}>⌫</button>
      <button type="button" id="next-lap" class="keypad-done" disabled={!good} onClick={next}>Next lap</button>
    </div>
  );
}

/** LapPad writes laps line by line into a text. */
export function LapPad(p: { laps: string; onChange: (laps: string) => void; onDone: () => void }) {
  const lines = p.laps.split("\n").filter((l) => l.trim() !== "");
  return (
    <>
      <p id="lap-lines">{lines.length === 0 ? "No laps yet." : lines.join(", ")}</p>
      <LapKeys onLap={(r) => p.onChange([...lines, r.says].join("\n"))} />
      {lines.length > 0 && <Button onClick={() => p.onChange(lines.slice(0, -1).join("\n"))}>Take the last one out</Button>}
      <Button main onClick={p.onDone}>Done</Button>
    </>
  );
}
