// Days and sessions: what was ridden, the trend of each day, the season; and
// the page of one session, with the settings as they were then.
import { download } from "../save";
import { useState } from "preact/hooks";
import { look, useDraft, useView } from "../book";
import { LapDotsPicture } from "../draw/laps";
import { SeasonPicture } from "../draw/season";
import { useHandIn } from "../form";
import type { CameIn, CameInForm } from "../models/camein";
import type { Days as Model, Run } from "../models/days";
import { Button, Card, Choice, NoBike, RefusalList, Sheet, TextField } from "../ui";
import { Conditions, HotPressures } from "../ui/conditions";
import { DayCard } from "../ui/daycard";
import { DataTable } from "../ui/table";
import type { ScreenProps } from ".";

const page = (id: string) => `/session/${encodeURIComponent(id)}`;

export function Days() {
  const [track, setTrack] = useState("");
  const [fresh, setFresh] = useState(false);
  const { model: m, refusals } = useView<Model>("days", { track });
  if (!m) return <NoBike refusals={refusals} />;
  return (
    <>
      <div class="row">
        <a class="button" href="/came-in">Came in</a>
        <Button onClick={() => setFresh(true)}>Plan a day</Button>
        <a class="button" href="/tracks">Tracks</a>
      </div>
      {m.season.points.length > 1 && <Card title="The season"><p>{m.season.says}</p><SeasonPicture season={m.season} /></Card>}
      {m.tracks.length > 1 && <Choice legend="Track" options={[{ value: "", label: "All" }, ...m.tracks.map((t) => ({ value: t.id, label: t.name }))]} value={track} onChange={setTrack} />}
      {m.days.length === 0 && <p class="empty">No day yet. It begins with 'Came in' on Today.</p>}
      {m.days.map((d, i) => <DayCard key={`${d.id}${d.date}${d.trackId}`} day={d} open={i === 0} />)}
      {m.days.length > 0 && <SaveTables />}
      <Sheet title="A day at a track" open={fresh} onClose={() => setFresh(false)}><DayForm tracks={m.tracks} onDone={() => setFresh(false)} /></Sheet>
    </>
  );
}

// SaveTables hands the sessions and laps to a spreadsheet.
function SaveTables() {
  const [said, say] = useState("");
  const save = async () => {
    const rows = (await look<{ sessions: string; laps: string }>("rows"))?.model;
    if (!rows) return say("That did not work. Try again.");
    download(new Blob([rows.sessions], { type: "text/csv" }), "plumbline-sessions.csv");
    download(new Blob([rows.laps], { type: "text/csv" }), "plumbline-laps.csv");
    say("Saved as two tables: sessions and laps.");
  };
  return (
    <>
      <Button onClick={() => void save()}>Save as tables (CSV)</Button>
      <p role="status">{said}</p>
    </>
  );
}

const turns = [{ value: "clockwise", label: "Clockwise" }, { value: "anticlockwise", label: "Anticlockwise" }];

function DayForm(p: { tracks: { id: string; name: string }[]; onDone: () => void }) {
  const [form, change, forget] = useDraft<{ track: { id?: string; name?: string }; date: string; way: string; note: string }>("day", { track: {}, date: "", way: "", note: "" });
  const { refusals, send } = useHandIn("day", "day", p.onDone);
  const value = form.track.name !== undefined ? "+" : form.track.id ?? "";
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void send(form, forget); }}>
      <Choice legend="Where?" options={[...p.tracks.map((t) => ({ value: t.id, label: t.name })), { value: "+", label: "Another track" }]} value={value} onChange={(v) => change({ track: v === "+" ? { name: "" } : { id: v } })} />
      {form.track.name !== undefined && <TextField label="Track" name="track" value={form.track.name} onChange={(name) => change({ track: { name } })} />}
      <RefusalList refusals={refusals} />
      <div class="field"><label for="day-date">When</label><input id="day-date" name="date" type="date" value={form.date} onInput={(e) => change({ date: e.currentTarget.value })} /></div>
      <Choice legend="Which way round?" options={turns} value={form.way} onChange={(way) => change({ way })} />
      <TextField label="Note" name="note" value={form.note} onChange={(note) => change({ note })} />
      <Button main submit>Write it down</Button>
    </form>
  );
}

export function Session(p: ScreenProps) {
  const { model: m, refusals } = useView<Run>("run", { session: p.params.id === "latest" ? "" : p.params.id });
  const [mend, setMend] = useState(false);
  if (!m) return <RefusalList refusals={refusals} />;
  const unknown = m.settings.filter((s) => s.standing === "unknown" && !s.moved).map((s) => s.name).join(", ");
  return (
    <>
      <p class="lead">{m.title}</p>
      {(m.when || m.felt) && <p>{[m.when, m.felt && `felt ${m.felt}`].filter(Boolean).join(", ")}</p>}
      {m.note && <blockquote class="said">{m.note}</blockquote>}
      <Card title="Laps">
        <p>{m.dots.dots.length > 0 ? m.dots.says : "No laps of this session yet."}</p>
        <LapDotsPicture dots={m.dots} rows={m.laps} />
        {m.source && <p class="quiet">{m.source}</p>}
        <div class="row"><a class="button" href={`/laps/${encodeURIComponent(m.id)}`}>{m.laps.length > 0 ? "Change the laps" : "Put laps in"}</a></div>
      </Card>
      <Card title="Changed before it">
        {m.before.length === 0 ? <p>Nothing, as far as the book knows.</p> : <ul class="plain">{m.before.map((b) => <li key={b}>{b}</li>)}</ul>}
      </Card>
      <Card title="What was felt">
        {m.symptoms.length === 0 ? <p>Nothing was noted.</p> : <ul class="plain">{m.symptoms.map((s) => <li key={s.entry}><strong>{s.says}</strong>{(s.where || s.repeat) && <><br />{[s.where, s.repeat].filter(Boolean).join(", ")}</>}</li>)}</ul>}
        <a class="button" href="/why">Why does it do that?</a>
      </Card>
      <Card title="Conditions">
        <dl class="facts">{m.conditions.map((c) => <div key={c.name}><dt>{c.name}</dt><dd>{c.says}</dd></div>)}</dl>
        {m.pressures.length > 0 && <DataTable name="Tyre pressures" head={["Tyre", "Cold", "Hot", "Rose by"]} rows={m.pressures.map((t) => [t.tyre, t.cold, t.hot, t.rose || "–"])} />}
        <Button onClick={() => setMend(true)}>Correct or add</Button>
      </Card>
      <Card title="Settings as they were then">
        <dl class="facts">{m.settings.filter((s) => s.standing !== "unknown" || s.moved).map((s) => <div key={s.id}><dt>{s.name}</dt><dd>{s.at}{s.standing === "assumed" && " (assumed)"}{s.moved && <strong> changed before it</strong>}</dd></div>)}</dl>
        {unknown && <p class="quiet">Not known then: {unknown}.</p>}
      </Card>
      <nav class="row" aria-label="Sessions before and after">
        {m.older && <a class="button" href={page(m.older)}>Earlier session</a>}
        {m.newer && <a class="button" href={page(m.newer)}>Later session</a>}
      </nav>
      <p><a href="/days">All days</a>{m.trackId && <>, <a href={`/tracks/${encodeURIComponent(m.trackId)}`}>{m.track}</a></>}</p>
      <Sheet title="Correct this session" open={mend} onClose={() => setMend(false)}><Mend run={m} onDone={() => setMend(false)} /></Sheet>
    </>
  );
}

const feels = [{ value: "better", label: "Better" }, { value: "same", label: "Same" }, { value: "worse", label: "Worse" }];

function Mend(p: { run: Run; onDone: () => void }) {
  const key = `mend:${p.run.id}`;
  const [form, change, forget] = useDraft<CameInForm>(key, p.run.form);
  const { model: m } = useView<CameIn>("camein");
  const { refusals, send } = useHandIn("session-mend", key, p.onDone);
  if (!m) return null;
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void send(form, forget); }}>
      <Choice legend="How did it feel?" options={feels} value={form.felt} onChange={(felt) => change({ felt })} />
      <Choice legend="Where?" options={m.tracks.map((t) => ({ value: t.id, label: t.name }))} value={form.track.id ?? ""} onChange={(id) => change({ track: { id } })} />
      <HotPressures form={form} set={change} pressure={m.pressure} step={m.step} begin={m.begin} refusals={refusals} />
      <Conditions form={form} set={change} tyres={m.tyres} pressure={m.pressure} step={m.step} begin={m.begin} refusals={refusals} />
      <TextField label="Note" name="note" value={form.note} onChange={(note) => change({ note })} refusals={refusals} />
      <RefusalList refusals={refusals} />
      <Button main submit>Write the correction</Button>
      <p class="quiet">What it said before stays in the Book.</p>
    </form>
  );
}
