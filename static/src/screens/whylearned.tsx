// What verdicts taught: the links that this bike has moved, and forgetting them.
import { useState } from "preact/hooks";
import { act, useView, type Refusal } from "../book";
import { Bar } from "../draw/bar";
import type { Learned as Model } from "../models/whylearned";
import { Button, Card, NoBike, RefusalList, Sheet } from "../ui";

export function WhatVerdictsTaught() {
  const [asking, setAsking] = useState(false);
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const { model: m, refusals: none } = useView<Model>("learned");
  if (!m) return <NoBike refusals={none} />;
  const forget = async () => {
    const done = await act("forget", { bike: m.bike });
    setRefusals("refusals" in done ? done.refusals : []);
    setAsking(false);
  };
  return (
    <>
      <p class="lead">{m.says}</p>
      {m.lines.map((l) => (
        <Card key={l.cause + l.finding}>
          <h2>{l.title}</h2>
          <p>{l.says} <a href={`/handbook/${l.cause}`}>Its page in the handbook</a></p>
          <dl class="learned">
            <div><dt>The books</dt><dd><Bar length={l.was} of={50} kind="bar-was" /></dd></div>
            <div><dt>This bike</dt><dd><Bar length={l.now} of={50} /></dd></div>
          </dl>
        </Card>
      ))}
      {m.trials.length > 0 && (
        <Card title="It rests on these verdicts">
          <ul class="plain">{m.trials.map((t) => <li key={t}>{t}</li>)}</ul>
        </Card>
      )}
      <p class="hint">{m.rule}</p>
      {m.trials.length > 0 && <Button id="forget" danger onClick={() => setAsking(true)}>Forget what was learned</Button>}
      <RefusalList refusals={refusals} />
      <Sheet title="Forget what was learned?" open={asking} onClose={() => setAsking(false)}>
        <p>Why then reasons as the books do. Your trials and verdicts stay in the book.</p>
        <Button main onClick={() => void forget()}>Forget it</Button>
      </Sheet>
    </>
  );
}
