// Laps out of a file: a table whose columns are confirmed, or a GPX or NMEA
// trace whose line can be put elsewhere. What could not be read is shown.
import { useState } from "preact/hooks";
import { look } from "../book";
import { TracePicture } from "../draw/track";
import type { FileColumns, LapsFile } from "../models/laps";
import { Button, Card, Choice } from "../ui";
import { DataTable } from "../ui/table";
import type { LapsDraft } from "./lapsin";

interface Opened {
  name: string;
  text: string;
  read: LapsFile;
}

interface Ask {
  columns?: FileColumns;
  at?: [number, number];
}

export function FromFile(p: { session: string; onTake: (d: Partial<LapsDraft>) => void }) {
  const [opened, setOpened] = useState<Opened>();
  const [busy, setBusy] = useState("");
  const [wrong, setWrong] = useState("");
  const read = async (name: string, text: string, ask: Ask = {}) => {
    setBusy(`Reading ${name} …`);
    const got = await look<LapsFile>("lapsfile", { session: p.session, text, ...ask });
    setBusy("");
    if (got?.model) setOpened({ name, text, read: got.model });
    setWrong(got?.model ? "" : got?.refusals.map((r) => `${r.says} ${r.mend ?? ""}`).join(" ") || "The core was restarted meanwhile. Pick the file again.");
  };
  const pick = async (file: File | undefined) => {
    if (!file) return;
    try {
      await read(file.name, await file.text());
    } catch {
      setBusy("");
      setWrong("Your phone could not open this file. Copy it to the phone first, then pick it again.");
    }
  };
  return (
    <Card title="From a file">
      <p>A table of lap times (CSV), or a trace of where you rode (GPX 1.1 or NMEA 0183). The file stays on this phone.</p>
      <div class="field">
        <label for="laps-file">The file</label>
        <input id="laps-file" type="file" accept=".csv,.txt,.tsv,.gpx,.nmea,.nma,.log,.ubx,text/*,application/gpx+xml" onChange={(e) => void pick(e.currentTarget.files?.[0])} />
      </div>
      <p role="status">{busy}</p>
      {wrong && <p class="refusal" role="alert">{wrong}</p>}
      {opened && <Read opened={opened} onTake={p.onTake} onAsk={(ask) => void read(opened.name, opened.text, ask)} />}
    </Card>
  );
}

function Read(p: { opened: Opened; onTake: (d: Partial<LapsDraft>) => void; onAsk: (a: Ask) => void }) {
  const { read } = p.opened;
  const [pick, setPick] = useState(0);
  const [keep, setKeep] = useState<"yes" | "no">("yes");
  const stint = read.stints[Math.min(pick, read.stints.length - 1)];
  const take = () => {
    if (!stint) return;
    const t = read.trace;
    const map = t?.map && keep === "yes" ? { map: t.map, way: t.turns, length: t.length ?? null } : { map: null, way: "", length: null };
    p.onTake({ laps: stint.laps, source: t ? "trace" : "table", accuracy: t?.accuracy || null, ...map });
  };
  return (
    <>
      <p><strong id="file-says">{read.says}</strong></p>
      {read.table && <Columns table={read.table} onChange={(columns) => p.onAsk({ columns })} />}
      {read.trace && (
        <>
          <TracePicture way={read.trace.way} line={read.trace.line} onTap={(at) => p.onAsk({ at })} />
          <p>{read.trace.lineSays}</p>
          {read.trace.backward && <p>{read.trace.backward}</p>}
          {read.stints.length > 0 && read.trace.accuracy > 0 && <p class="hint">By the way it was recorded, a time may be off by about {read.trace.accuracy} s; the receiver's own error comes on top.</p>}
        </>
      )}
      {read.bad.length > 0 && <Bad read={read} />}
      {read.stints.length > 1 && <Choice legend="Which run is this session?" options={read.stints.map((s, i) => ({ value: String(i), label: s.name }))} value={String(pick)} onChange={(v) => setPick(Number(v))} />}
      {read.trace?.map && stint && <Choice legend="Keep this way round as the track's map?" options={[{ value: "yes", label: "Yes, with the line" }, { value: "no", label: "No" }]} value={keep} onChange={setKeep} />}
      {stint && <Button id="take-laps" main onClick={take}>{stint.laps.length === 1 ? "Take 1 lap" : `Take these ${stint.laps.length} laps`}</Button>}
    </>
  );
}

const wanted = [["time", "Lap time"], ["lap", "Lap number"], ["session", "Session"]] as const;

function Columns(p: { table: NonNullable<LapsFile["table"]>; onChange: (c: FileColumns) => void }) {
  const { columns, names, sample } = p.table;
  return (
    <>
      <p>Are these the right columns?</p>
      {wanted.map(([key, label]) => (
        <div class="field" key={key}>
          <label for={`column-${key}`}>{label}</label>
          <select id={`column-${key}`} name={`column-${key}`} value={columns[key]} onChange={(e) => p.onChange({ ...columns, [key]: Number(e.currentTarget.value) })}>
            <option value={-1}>none</option>
            {names.map((n, i) => <option key={i} value={i}>{n || `Column ${i + 1}`}</option>)}
          </select>
        </div>
      ))}
      <DataTable name="The first lines of the file" head={names.map((n, i) => n || `Column ${i + 1}`)} rows={sample} />
    </>
  );
}

function Bad(p: { read: LapsFile }) {
  const { bad, badAll } = p.read;
  return (
    <details class="more">
      <summary>{badAll === 1 ? "1 place was not read" : `${badAll} places were not read`}</summary>
      <ul class="plain">{bad.map((b, i) => <li key={i}><strong>{b.where}</strong>{b.text && <>: <q>{b.text}</q></>}<br />{b.says}</li>)}</ul>
      {badAll > bad.length && <p class="quiet">These are the first {bad.length}.</p>}
    </details>
  );
}
