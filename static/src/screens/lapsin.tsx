// Laps in: tapped on big keys, out of a file, or timed by this phone; then the
// list with its marks, which the rider may overrule, and the words to write it.
import { useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { LapDotsPicture } from "../draw/laps";
import { useHandIn } from "../form";
import type { LapsPage, LapTime, TrackMap } from "../models/laps";
import { go } from "../router";
import { Button, Card, Choice, RefusalList, Sheet, TextField } from "../ui";
import { LapKeys } from "../ui/lappad";
import { FromFile } from "./lapsfile";
import { LiveTiming } from "./live";
import type { ScreenProps } from ".";

/** What is about to be written down; null laps are the book's own. */
export interface LapsDraft {
  laps: LapTime[] | null;
  source: string;
  accuracy: number | null;
  map: TrackMap | null;
  way: string;
  length: number | null;
}

const empty: LapsDraft = { laps: null, source: "hand", accuracy: null, map: null, way: "", length: null };
const ways = [{ value: "keys", label: "By hand" }, { value: "file", label: "A file" }, { value: "live", label: "Live" }] as const;
type Way = (typeof ways)[number]["value"];

export function LapsIn(p: ScreenProps) {
  const session = p.params.session ?? "";
  const key = `laps:${session}`;
  const [way, setWay] = useState<Way>(p.query.has("live") ? "live" : p.query.has("file") ? "file" : "keys");
  const [draft, change, forget] = useDraft<LapsDraft>(key, empty);
  const { model: m, refusals: lost } = useView<LapsPage>("laps", { session, laps: draft.laps ?? [], given: draft.laps !== null });
  const done = () => go(`/session/${encodeURIComponent(session)}`);
  const { refusals, send } = useHandIn("laps", key, done);
  if (!m) return <RefusalList refusals={lost} />;
  const laps = draft.laps ?? m.kept;
  const set = (next: LapTime[], source = draft.source) => change({ laps: next, source });
  const write = () => send({ session: m.session, laps, source: draft.source, accuracy: draft.accuracy, map: draft.map, way: draft.way, length: draft.length }, forget);
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void write(); }}>
      <p class="lead">{m.title}</p>
      <Choice legend="How do the laps come in?" options={ways} value={way} onChange={setWay} />
      {way === "keys" && <Keys onLap={(t) => set([...laps, { t }], "hand")} onMany={(ts) => set([...laps, ...ts.map((t) => ({ t }))], "hand")} />}
      {way === "file" && <FromFile session={m.session} onTake={(taken) => change(taken)} />}
      {way === "live" && <LiveTiming session={m.session} onTake={(taken) => change(taken)} />}
      {laps.length > 0 && (
        <Card title={draft.laps ? "To be written down" : "In the book"}>
          <p role="status" id="laps-says">{m.says}</p>
          <LapDotsPicture dots={m.dots} />
          <LapList m={m} laps={laps} onChange={(next) => set(next)} />
          {!draft.laps && m.source && <p class="quiet">{m.source}</p>}
          {draft.map && <p class="quiet">The track's map and line come with them.</p>}
        </Card>
      )}
      <RefusalList refusals={refusals} />
      {draft.laps && (
        <div class="flow-end row">
          <Button onClick={() => { forget(); change(empty); }}>Leave it</Button>
          <Button id="save" main submit>Write it down</Button>
        </div>
      )}
    </form>
  );
}

// Keys are a lap at a time with a gloved thumb.
function Keys(p: { onLap: (t: number) => void; onMany: (ts: number[]) => void }) {
  const [many, setMany] = useState(false);
  return (
    <Card>
      <LapKeys onLap={(r) => p.onLap(r.time)} />
      <Button onClick={() => setMany(true)}>Type or say many</Button>
      <Sheet title="Many laps" open={many} onClose={() => setMany(false)}><Many onMany={(ts) => { p.onMany(ts); setMany(false); }} /></Sheet>
    </Card>
  );
}

// Many reads a list: typed, pasted, or spoken into the keyboard.
function Many(p: { onMany: (ts: number[]) => void }) {
  const [form, change, forget] = useDraft("laps-many", { text: "" });
  const { model } = useView<{ rows: { typed: string; time: number | null; says: string }[] }>("lapsread", { text: form.text });
  const good = (model?.rows ?? []).flatMap((r) => (r.time === null ? [] : [r.time]));
  return (
    <>
      <TextField label="Laps, one on each line" name="many" long value={form.text} onChange={(text) => change({ text })} hint="1:52.4, 52.4, 1 52 4 or 'one fifty two four'" />
      <ul class="plain">{model?.rows.map((r, i) => <li key={i}>{r.typed}: {r.time === null ? <strong class="refusal">{r.says}</strong> : <strong>{r.says}</strong>}</li>)}</ul>
      <Button main disabled={good.length === 0} onClick={() => { p.onMany(good); forget(); }}>{good.length === 1 ? "Take 1 lap" : `Take ${good.length} laps`}</Button>
    </>
  );
}

// LapList is every lap with its mark; a tap opens what can be done with it.
function LapList(p: { m: LapsPage; laps: LapTime[]; onChange: (laps: LapTime[]) => void }) {
  const [open, setOpen] = useState(-1);
  const row = p.m.rows[open];
  const lap = p.laps[open];
  const put = (part: Partial<LapTime>) => p.onChange(p.laps.map((l, i) => (i === open ? { ...l, ...part } : l)));
  return (
    <>
      <ol class="lap-list">
        {p.m.rows.map((r, i) => (
          <li key={r.number}>
            <button type="button" class={r.counts ? "lap-row" : "lap-row lap-off"} onClick={() => setOpen(i)}>
              <span class="lap-number">{r.number}</span>
              <span class="lap-time">{r.time}</span>
              <span class="lap-says">{[r.best ? "best" : r.counts ? "" : r.says, r.overruled && "your word", r.gap && "gap"].filter(Boolean).join(", ")}</span>
            </button>
          </li>
        ))}
      </ol>
      <p class="hint">Tap a lap to say that it counts, or does not.</p>
      <Sheet title={row ? `Lap ${row.number}: ${row.time}` : ""} open={row !== undefined && lap !== undefined} onClose={() => setOpen(-1)}>
        {row && lap && (
          <>
            <p>{row.counts ? "It counts" : `It does not count: ${row.says}`}{row.overruled ? ", by your word." : ", as the rule says."}</p>
            {row.gap && <p>The receiver was silent or jumped on this lap, so it may be two.</p>}
            <Choice legend="What was it?" options={p.m.marks.map((c) => ({ value: c.id, label: c.name }))} value={lap.mark ?? ""} onChange={(mark) => put({ mark })} />
            <div class="row">
              <Button danger onClick={() => { p.onChange(p.laps.filter((_, i) => i !== open)); setOpen(-1); }}>Take it out</Button>
              <Button main onClick={() => setOpen(-1)}>Done</Button>
            </div>
          </>
        )}
      </Sheet>
    </>
  );
}
