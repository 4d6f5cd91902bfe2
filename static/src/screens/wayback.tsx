// The way back to a line, move by move; and drawing a new line.
import { useState } from "preact/hooks";
import { act, useDraft, useView, type Refusal } from "../book";
import { useHandIn } from "../form";
import type { BackMove, WayBack as Model } from "../models/wayback";
import { go } from "../router";
import { Button, Card, Choice, Icon, NoBike, RefusalList, Sheet, TextField } from "../ui";
import type { ScreenProps } from ".";

export function WayBack(p: ScreenProps) {
  const [line, setLine] = useState(p.query.get("line") ?? "");
  const [drawing, setDrawing] = useState(p.query.has("draw"));
  const { model, refusals } = useView<Model>("wayback", { baseline: line });
  if (!model) return <NoBike refusals={refusals} />;
  const draw = <Button id="draw" main={!model.line} onClick={() => setDrawing(true)}>Draw a line here</Button>;
  return (
    <>
      {model.line
        ? <Moves model={model} onLine={setLine} />
        : <p class="lead">There is no line yet. A line is a set of positions that you can always come back to.</p>}
      {draw}
      <Sheet title="Draw a line" open={drawing} onClose={() => setDrawing(false)}>
        <Draw model={model} onDone={() => { setDrawing(false); setLine(""); go("/wayback", { replace: true }); }} />
      </Sheet>
    </>
  );
}

function Moves(p: { model: Model; onLine: (id: string) => void }) {
  const m = p.model;
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const tick = async (move: BackMove) => {
    const done = await act("turned", { bike: m.bike, adjuster: move.adjuster, to: move.to, back: m.line, why: `Back to ${m.lineName}` });
    setRefusals("refusals" in done ? done.refusals : []);
  };
  const untick = async (entry: string) => {
    const done = await act("strike", { entry, why: "Ticked by mistake" });
    setRefusals("refusals" in done ? done.refusals : []);
  };
  return (
    <>
      {m.lines.length > 1 && (
        <Choice legend="Back to which line?" options={m.lines.map((l) => ({ value: l.id, label: l.name }))} value={m.line} onChange={p.onLine} />
      )}
      <p class="lead">{m.moves.length === 0 ? `The bike is on the line '${m.lineName}'.` : `Back to '${m.lineName}', drawn ${m.drawn}. Tick each move when you have made it.`}</p>
      <RefusalList refusals={refusals} />
      <ol class="moves">
        {m.moves.map((x) => (
          <li key={x.adjuster}>
            <button type="button" class="move" data-adjuster={x.adjuster} onClick={() => void tick(x)} aria-label={`Done: ${x.sentence}`}>
              <span class="move-box" aria-hidden="true" />
              <span><strong>{x.name}</strong><br />{x.says}<br /><small>{x.sure}</small></span>
            </button>
          </li>
        ))}
      </ol>
      {m.done.length > 0 && (
        <Card title="Made today" tone="quiet">
          <ul class="ticked">
            {m.done.map((d) => (
              <li key={d.entry}><span><Icon name="check" /> {d.says}</span><Button onClick={() => void untick(d.entry)}>Not so</Button></li>
            ))}
          </ul>
        </Card>
      )}
      {m.not.length > 0 && <p class="hint">The line does not know: {m.not.join(", ")}.</p>}
    </>
  );
}

function Draw(p: { model: Model; onDone: () => void }) {
  const m = p.model;
  const [form, change, forget] = useDraft("baseline", { name: "", track: "", note: "" });
  const { refusals, send } = useHandIn("baseline", "baseline", p.onDone);
  return (
    <>
      <p>{m.draw.says}</p>
      {m.draw.unknown.length > 0 && <p class="hint">Not known, so not in it: {m.draw.unknown.join(", ")}.</p>}
      <TextField label="Name of the line" name="name" value={form.name} onChange={(name) => change({ name })} refusals={refusals} hint="For example: good in the dry" />
      {m.tracks.length > 0 && (
        <Choice legend="For one track?" options={[{ value: "any", label: "Any track" }, ...m.tracks.map((t) => ({ value: t.id, label: t.name }))]} value={form.track || "any"} onChange={(t) => change({ track: t === "any" ? "" : t })} />
      )}
      <TextField label="Note, if you like" name="note" value={form.note} onChange={(note) => change({ note })} refusals={refusals} />
      <RefusalList refusals={refusals} except={["name", "note"]} />
      <Button id="drawn" main disabled={!m.draw.possible} onClick={() => void send({ ...form, bike: m.bike }, forget)}>Draw it</Button>
    </>
  );
}
