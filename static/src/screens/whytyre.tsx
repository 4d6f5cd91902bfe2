// Tyre reading: compare the tyre with drawings and pick what is there. What is
// picked joins what was said on Why.
import { useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { TyreDrawing, wearWords } from "../draw/tyre";
import { emptyWhy, type WhyForm } from "../models/why";
import type { TyreReading as Model } from "../models/whytyre";
import { Choice } from "../ui";
import { PhotoCard } from "../ui/photos";

const ends = [{ value: "rear", label: "Rear tyre" }, { value: "front", label: "Front tyre" }];

export function TyreReading() {
  const [form, change] = useDraft<WhyForm>("why", emptyWhy);
  const [end, setEnd] = useState("rear");
  const [place, setPlace] = useState("");
  const { model } = useView<Model>("tyrereading", { end, place });
  if (!model) return null;
  const on = (id: string) => form.findings[id] === "yes" && (form.ends[id] ?? end) === end;
  const flip = (id: string) => {
    const { [id]: _, ...findings } = form.findings;
    const { [id]: __, ...others } = form.ends;
    change(on(id) ? { findings, ends: others, saved: "" } : { findings: { ...findings, [id]: "yes" }, ends: { ...others, [id]: end }, saved: "" });
  };
  const picked = model.groups.flatMap((g) => g.looks).filter((l) => on(l.id)).length;
  return (
    <>
      <p class="lead">Pick what your tyre looks like.</p>
      <p class="hint">{model.before}</p>
      <Choice legend="Which tyre?" options={ends} value={end as "rear"} onChange={setEnd} />
      <Choice legend="Where across the tread?" options={model.places.map((x) => ({ value: x.id, label: x.name }))} value={place} onChange={setPlace} />
      {model.groups.map((g) => (
        <section key={g.title} class="fold-inside">
          <h2>{g.title}</h2>
          <div class="looks">
            {g.looks.map((l) => (
              <button key={l.id} type="button" class="look" data-look={l.id} aria-pressed={on(l.id)} onClick={() => flip(l.id)}>
                {l.wear && <TyreDrawing id={l.id} wear={l.wear} />}
                <span>{on(l.id) ? `✓ ${l.words}` : l.words}</span>
                {l.wear && <small>Drawn: {wearWords(l.id, l.wear)}.</small>}
              </button>
            ))}
          </div>
        </section>
      ))}
      <PhotoCard key={end} what={`tyre-${end}`} />
      <div class="flow-end"><a class="button button-main" href="/why">{picked > 0 ? `Back to Why with ${picked} picked` : "Back to Why"}</a></div>
    </>
  );
}
