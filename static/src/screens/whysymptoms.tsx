// What it did before: the sheet of symptoms, with where and when, and what was
// turned because of them.
import { useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { emptyWhy, type WhyForm } from "../models/why";
import type { SymptomLine, Symptoms as Model } from "../models/whyrepeat";
import { go } from "../router";
import { Button, Card, Choice, NoBike } from "../ui";

export function Symptoms() {
  const [track, setTrack] = useState("");
  const [, change] = useDraft<WhyForm>("why", emptyWhy);
  const { model, refusals } = useView<Model>("symptoms", { track });
  if (!model) return <NoBike refusals={refusals} />;
  const again = (l: SymptomLine) => {
    const findings = l.form.findings ?? {};
    const by = Object.keys(findings).length > 0 ? "tap" : "words"; // words alone still have to be put into findings
    change({ ...emptyWhy, ...l.form, by, findings, ends: l.form.ends ?? {}, saved: by === "tap" ? l.entry : "" });
    go("/why");
  };
  const tracks = [{ value: "", label: "All tracks" }, ...model.tracks.map((t) => ({ value: t.id, label: t.name }))];
  return (
    <>
      {model.tracks.length > 1 && <Choice legend="Where?" options={tracks} value={track as "all"} onChange={setTrack} />}
      {model.lines.length === 0 && <p class="empty">Nothing is written down yet. <a href="/why">Say what it does</a></p>}
      {model.lines.map((l) => (
        <Card key={l.entry}>
          <h2>{l.title}</h2>
          <p>{[l.when, l.where, l.often].filter(Boolean).join(", ")}</p>
          {l.findings.length > 0 && <ul class="plain">{l.findings.map((f) => <li key={f}>{f}</li>)}</ul>}
          {l.tried.length > 0 && (
            <>
              <h3>Tried because of it</h3>
              <ul class="plain">{l.tried.map((t) => <li key={t}>{t}</li>)}</ul>
            </>
          )}
          {l.task && <p>{l.task} <a href={`/why/repeat?symptom=${encodeURIComponent(l.entry)}`}>The card</a></p>}
          <div class="row">
            <Button onClick={() => again(l)}>Why?</Button>
            {l.once && <a class="button" href={`/why/repeat?symptom=${encodeURIComponent(l.entry)}`}>Repeat it on purpose</a>}
          </div>
        </Card>
      ))}
    </>
  );
}
