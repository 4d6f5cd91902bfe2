// Tracks: the rider's own list, and each one's page: its map, sketched by
// finger or out of a file, its corners with what was felt there, its days.
import { useState } from "preact/hooks";
import { look, useDraft, useView } from "../book";
import { SketchPad, TrackMapPicture } from "../draw/track";
import { useHandIn } from "../form";
import type { CornerForm, TrackFile, TrackForm, TrackPage, Tracks as Model } from "../models/tracks";
import { Button, Card, Choice, NumberField, RefusalList, Sheet, TextField } from "../ui";
import { DayCard } from "../ui/daycard";
import type { ScreenProps } from ".";

const unnamed: TrackForm = { track: "", name: "", bumpy: "", way: "", length: null, corners: [], note: "" };

export function Tracks() {
  const { model: m } = useView<Model>("tracks");
  const [fresh, setFresh] = useState(false);
  if (!m) return null;
  return (
    <>
      {m.tracks.length === 0 && <p class="empty">No track yet. Add the one that you ride next.</p>}
      <ul class="look-steps">
        {m.tracks.map((t) => <li key={t.id}><a class="button" href={`/tracks/${encodeURIComponent(t.id)}`}><span>{t.name}{t.best && `, best ${t.best}`}</span><small>{t.says}</small></a></li>)}
      </ul>
      <Button main onClick={() => setFresh(true)}>Add a track</Button>
      <Sheet title="A track" open={fresh} onClose={() => setFresh(false)}><Describe form={unnamed} draftKey="track" onDone={() => setFresh(false)} /></Sheet>
    </>
  );
}

type Opened = "" | "words" | "corners" | "sketch" | "file" | "lines";

export function Track(p: ScreenProps) {
  const { model: m, refusals } = useView<TrackPage>("track", { track: p.params.id });
  const [opened, setOpened] = useState<Opened>("");
  if (!m) return <RefusalList refusals={refusals} />;
  const close = () => setOpened("");
  const f = m.form;
  return (
    <>
      <Card title={f.name}>
        <p>{[f.length && `${f.length} m`, f.way, bumps.find((b) => b.value === f.bumpy)?.label.toLowerCase()].filter(Boolean).join(", ") || "Nothing else is written down of it yet."}</p>
        {f.note && <p>{f.note}</p>}
        <Button onClick={() => setOpened("words")}>Change</Button>
      </Card>
      <Card title="Map">
        {m.picture.none ? <p>{m.picture.says} Draw once round with a finger, or take it out of a GPX file.</p> : <TrackMapPicture picture={m.picture} corners={m.corners} />}
        {!m.picture.none && <p>{m.picture.says}{m.picture.earth ? " Laps can be timed at its line." : " A GPX file makes it one that laps can be timed at."}</p>}
        <div class="row"><Button onClick={() => setOpened("sketch")}>Sketch it</Button><Button onClick={() => setOpened("file")}>Out of a file</Button>{!m.picture.none && <Button onClick={() => setOpened("lines")}>Timing lines</Button>}</div>
      </Card>
      <Card title="Corners">
        {m.corners.length === 0 ? <p>None yet. Name or number those that you talk about.</p> : (
          <ol class="corners">{m.corners.map((c) => <li key={c.number}><span class="lap-number">{c.number}</span><span><strong>{c.name}</strong>{c.says && <><br />{c.says}</>}</span></li>)}</ol>
        )}
        <Button onClick={() => setOpened("corners")}>{m.corners.length > 0 ? "Change the corners" : "Name the corners"}</Button>
      </Card>
      {m.days.map((d) => <DayCard key={`${d.id}${d.date}`} day={d} />)}
      <p><a href="/tracks">All tracks</a>, <a href="/days">all days</a></p>
      <Sheet title={f.name} open={opened === "words"} onClose={close}><Describe form={f} draftKey={`track:${m.id}`} onDone={close} /></Sheet>
      <Sheet title="Corners" open={opened === "corners"} onClose={close}><Corners page={m} onDone={close} /></Sheet>
      <Sheet title="Timing lines" open={opened === "lines"} onClose={close}><Lines page={m} onDone={close} /></Sheet>
      <Sheet title="Sketch it" open={opened === "sketch"} onClose={close}><Sketch track={m.id} onDone={close} /></Sheet>
      <Sheet title="Out of a file" open={opened === "file"} onClose={close}><FromFile track={m.id} onDone={close} /></Sheet>
    </>
  );
}

const bumps = [{ value: "smooth", label: "Smooth" }, { value: "some", label: "Some bumps" }, { value: "bumpy", label: "Bumpy" }];
const turns = [{ value: "clockwise", label: "Clockwise" }, { value: "anticlockwise", label: "Anticlockwise" }];

function Describe(p: { form: TrackForm; draftKey: string; onDone: () => void }) {
  const [form, change, forget] = useDraft<TrackForm>(p.draftKey, p.form);
  const { refusals, send } = useHandIn("track", p.draftKey, p.onDone);
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void send(form, forget); }}>
      <TextField label="Name" name="name" value={form.name} onChange={(name) => change({ name })} refusals={refusals} />
      <Choice legend="Usually ridden" options={turns} value={form.way} onChange={(way) => change({ way })} />
      <Choice legend="The surface is" options={bumps} value={form.bumpy} onChange={(bumpy) => change({ bumpy })} />
      <NumberField label="Length of a lap" name="length" unit="m" value={form.length} onChange={(length) => change({ length })} refusals={refusals} />
      <TextField label="Note" name="note" value={form.note} onChange={(note) => change({ note })} />
      <RefusalList refusals={refusals.filter((r) => r.field !== "name" && r.field !== "length")} />
      <Button main submit>Write it down</Button>
    </form>
  );
}

// Corners are listed in order; the one that is picked is placed by a tap on
// the map.
function Corners(p: { page: TrackPage; onDone: () => void }) {
  const key = `corners:${p.page.id}`;
  const [form, change, forget] = useDraft<{ corners: CornerForm[] }>(key, { corners: p.page.form.corners });
  const [picked, setPicked] = useState(0);
  const { refusals, send } = useHandIn("track", key, p.onDone);
  const { corners } = form;
  const put = (i: number, part: Partial<CornerForm>) => change({ corners: corners.map((c, j) => (j === i ? { ...c, ...part } : c)) });
  const shown = corners.map((c, i) => ({ number: i + 1, name: c.name || `Turn ${i + 1}`, felt: i === picked ? 1 : 0, says: "", ...(c.at && { at: c.at }) }));
  const add = () => {
    change({ corners: [...corners, { name: "", at: null }] });
    setPicked(corners.length);
  };
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void send({ ...p.page.form, corners }, forget); }}>
      {!p.page.picture.none && (
        <>
          <p>{corners.length > 0 ? `Tap the map where turn ${picked + 1} is.` : "Add a corner, then tap the map where it is."}</p>
          <TrackMapPicture picture={p.page.picture} corners={shown} onPlace={(at) => corners[picked] && put(picked, { at })} />
        </>
      )}
      <ol class="corners">
        {corners.map((c, i) => (
          <li key={i}>
            <button type="button" class="quick corner-pick" aria-pressed={i === picked} onClick={() => setPicked(i)}>{i + 1}</button>
            <TextField label={`Turn ${i + 1}`} name={`corner-${i + 1}`} value={c.name} onChange={(name) => put(i, { name })} />
            <button type="button" class="step" aria-label={`Take turn ${i + 1} out`} onClick={() => change({ corners: corners.filter((_, j) => j !== i) })}>×</button>
          </li>
        ))}
      </ol>
      <Button onClick={add}>Add a corner</Button>
      <RefusalList refusals={refusals} />
      <Button main submit>Write them down</Button>
    </form>
  );
}

type At = [number, number];

// Lines are placed by a tap each: the start and finish, and where sectors end.
function Lines(p: { page: TrackPage; onDone: () => void }) {
  const key = `lines:${p.page.id}`;
  const [form, change, forget] = useDraft<{ start: At | null; splits: At[] }>(key, { start: null, splits: [] });
  const [what, setWhat] = useState<"start" | "split">("split");
  const { refusals, send } = useHandIn("lines", key, p.onDone);
  const spots = [...(form.start ? [{ at: form.start, words: "start" }] : []), ...form.splits.map((at, i) => ({ at, words: `sector ${i + 1}` }))];
  const place = (at: At) => (what === "start" ? change({ start: at }) : change({ splits: [...form.splits, at] }));
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void send({ track: p.page.id, ...form }, forget); }}>
      <Choice legend="What does a tap place?" options={[{ value: "split", label: "The end of a sector" }, { value: "start", label: "Start and finish" }]} value={what} onChange={setWhat} />
      <TrackMapPicture picture={p.page.picture} corners={[]} spots={spots} onPlace={place} />
      <p class="hint">The lines that you place here take the place of the ones before. The last sector ends at the finish. Lines on a sketch only show; on a map out of a file, laps and sectors are timed at them.</p>
      <RefusalList refusals={refusals} />
      <div class="row">
        <Button onClick={() => change({ start: null, splits: [] })}>Begin again</Button>
        <Button main submit>Keep these lines</Button>
      </div>
    </form>
  );
}

function Sketch(p: { track: string; onDone: () => void }) {
  const key = `sketch:${p.track}`;
  const [form, change, forget] = useDraft<{ way: [number, number][] }>(key, { way: [] });
  const { refusals, send } = useHandIn("sketch", key, p.onDone);
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void send({ track: p.track, way: form.way }, forget); }}>
      <p>With one finger, from the start and finish line once round and back to it, the way that you ride. It need not be exact. A mouse does as well; without either, take it out of a file.</p>
      <SketchPad way={form.way} onDraw={(way) => change({ way })} />
      <RefusalList refusals={refusals} />
      <Button main submit disabled={form.way.length === 0}>Keep this sketch</Button>
    </form>
  );
}

function FromFile(p: { track: string; onDone: () => void }) {
  const [read, setRead] = useState<TrackFile>();
  const [wrong, setWrong] = useState("");
  const { refusals, send } = useHandIn("sketch", undefined, p.onDone);
  const pick = async (file: File | undefined) => {
    if (!file) return;
    const text = await file.text().catch(() => undefined);
    const got = text === undefined ? undefined : await look<TrackFile>("trackfile", { track: p.track, text });
    setRead(got?.model);
    setWrong(got?.model ? "" : got?.refusals.map((r) => `${r.says} ${r.mend ?? ""}`).join(" ") || "Your phone could not open this file. Pick it again.");
  };
  return (
    <div class="flow">
      <p>A trace of one lap or more as GPX 1.1, or a log of NMEA 0183. Of several laps the quickest is drawn.</p>
      <div class="field"><label for="track-file">The file</label><input id="track-file" type="file" accept=".gpx,.nmea,.nma,.log,.txt,application/gpx+xml" onChange={(e) => void pick(e.currentTarget.files?.[0])} /></div>
      {wrong && <p class="refusal" role="alert">{wrong}</p>}
      {read && (
        <>
          <TrackMapPicture picture={read.picture} corners={[]} />
          <p>{read.says}</p>
          <RefusalList refusals={refusals} />
          <Button main onClick={() => void send({ track: p.track, way: [], map: read.map, turns: read.turns, length: read.length })}>Keep this map</Button>
        </>
      )}
    </div>
  );
}
