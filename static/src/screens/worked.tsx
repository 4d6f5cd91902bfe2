// What worked here: the best-supported settings of a track in one condition,
// each with its evidence; a line through them at one tap.
import { useState } from "preact/hooks";
import { act, useDraft, useView, type Refusal } from "../book";
import type { Worked as Model, WorkedHot, WorkedSetting } from "../models/worked";
import { go } from "../router";
import { Button, Card, Choice, NoBike, NumberField, RefusalList } from "../ui";
import { DataTable } from "../ui/table";
import type { ScreenProps } from ".";

interface Form {
  wet: boolean;
  front: number | null;
  rear: number | null;
  air: number | null;
}

const grounds = [{ value: "dry", label: "Dry" }, { value: "wet", label: "Wet" }] as const;

export function Worked(p: ScreenProps) {
  const [track, setTrack] = useState(p.query.get("track") ?? "");
  const [form, change] = useDraft<Form>("worked", { wet: false, front: null, rear: null, air: null });
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const { model: m, refusals: refused } = useView<Model>("worked", { track, ...form });
  if (!m) return <NoBike refusals={refused} />;
  const draw = async () => {
    const done = await act("worked", { bike: m.bike, track: m.track, wet: m.wet });
    if ("refusals" in done) return setRefusals(done.refusals);
    go("/wayback");
  };
  return (
    <>
      <Choice legend="Where?" options={m.tracks.map((t) => ({ value: t.id, label: t.name }))} value={m.track} onChange={setTrack} />
      <Choice legend="The track is" options={grounds} value={m.wet ? "wet" : "dry"} onChange={(v) => change({ wet: v === "wet" })} />
      <p>{m.says}</p>
      {m.settings.length > 0 && (
        <Card title="Settings to begin with">
          <Moved list={m.settings.filter((s) => s.moved)} />
          <Standing list={m.settings.filter((s) => !s.moved)} />
          <p class="quiet">Where no trial is named, it is as in the best run.</p>
          <p>{m.moves === 0 ? "The bike stands like this already." : `${m.moves} of them stand elsewhere now.`} Nothing is turned until you turn it.</p>
          <Button main id="draw-worked" onClick={() => void draw()}>Draw a line through these</Button>
          <RefusalList refusals={refusals} />
        </Card>
      )}
      {m.pressures.some((x) => x.rows.length > 0) && (
        <Card title="Tyre pressures">
          {m.pressures.map((x) => <Hot key={x.field} hot={x} unit={m.unit} />)}
          <details class="fold">
            <summary>Other pressures or weather</summary>
            <NumberField label="Front tyre, hot, as wanted" name="front" unit={m.unit} value={form.front} onChange={(front) => change({ front })} />
            <NumberField label="Rear tyre, hot, as wanted" name="rear" unit={m.unit} value={form.rear} onChange={(rear) => change({ rear })} />
            <NumberField label="Air today" name="air" unit="°C" value={form.air} onChange={(air) => change({ air })} />
          </details>
          <p class="quiet">The tyre's maker says which hot pressure is right, and never less than it allows. Set it cold; do not bleed a hot tyre to a cold figure.</p>
        </Card>
      )}
      {m.corners.length > 0 && (
        <Card title="Felt here, by corner">
          <ul class="plain">{m.corners.map((c) => <li key={c.corner}><strong>{c.corner}</strong><ul>{c.felt.map((f) => <li key={f}>{f}</li>)}</ul></li>)}</ul>
          <a class="button" href={`/tracks/${encodeURIComponent(m.track)}`}>On the map</a>
        </Card>
      )}
      {m.compare && (
        <Card title="Tracks compared">
          {m.compare.rows.length > 0
            ? <DataTable name="What worked at each track" head={m.compare.head} rows={m.compare.rows} />
            : <p>What worked is the same at all of them.</p>}
        </Card>
      )}
    </>
  );
}

function Moved(p: { list: WorkedSetting[] }) {
  if (p.list.length === 0) return null;
  return (
    <>
      <h3>Stand elsewhere now</h3>
      <ul class="plain">
        {p.list.map((s) => (
          <li key={s.adjuster}>
            <p><strong>{s.name}: {s.at}</strong>, now {s.now}</p>
            {s.evidence && <p class="quiet">{s.evidence}</p>}
          </li>
        ))}
      </ul>
    </>
  );
}

function Standing(p: { list: WorkedSetting[] }) {
  if (p.list.length === 0) return null;
  return (
    <>
      <h3>Stand there already</h3>
      <dl class="facts">{p.list.map((s) => <div key={s.adjuster}><dt>{s.name}</dt><dd>{s.at}</dd>{s.evidence && <dd class="facts-more quiet">{s.evidence}</dd>}</div>)}</dl>
    </>
  );
}

function Hot(p: { hot: WorkedHot; unit: string }) {
  const h = p.hot;
  return (
    <div>
      <h3>{h.tyre}</h3>
      <p>{h.says}</p>
      {h.rows.length > 0 && (
        <details class="fold">
          <summary>The runs it is from</summary>
          <DataTable name={`${h.tyre}, pressures in ${p.unit}`} head={["Run", "Cold", "Hot", "Air", "Felt"]} rows={h.rows} />
        </details>
      )}
    </div>
  );
}
