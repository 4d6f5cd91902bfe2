// What a measurement says: the sentence to remember, then pictures and numbers.
import { Chart, Gauge } from "../draw/chart";
import { SceneDrawing } from "../draw/scene";
import type { Reading } from "../models/measure";
import { DataTable } from "./table";

export function ReadingView(p: { reading: Reading }) {
  const r = p.reading;
  const [first, ...more] = r.says;
  return (
    <div class="reading">
      {first && <p class="lead"><strong>{first}</strong></p>}
      {r.scene && <SceneDrawing scene={r.scene} />}
      {r.gauges.map((g) => <Gauge key={g.name} gauge={g} />)}
      {more.map((s) => <p key={s}>{s}</p>)}
      {r.charts.map((c) => <Chart key={c.title} chart={c} />)}
      {r.tables.map((t) => <div key={t.title}><h3>{t.title}</h3><DataTable name={t.title} head={t.head} rows={t.rows} /></div>)}
      {r.cautions.map((c) => <p key={c} class="caution">{c}</p>)}
      {r.values.length > 0 && (
        <details class="fold">
          <summary>All numbers</summary>
          <DataTable name="All numbers" head={["", "Reading"]} rows={r.values.map((v) => [v.name, v.shown])} />
        </details>
      )}
      {r.assumed.length > 0 && <p class="hint">Taken without measuring: {r.assumed.join("; ")}.</p>}
      {r.source && <p class="hint">Source: {r.source}</p>}
    </div>
  );
}
