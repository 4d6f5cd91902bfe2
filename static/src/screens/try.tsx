// Try something: one adjuster, one plan, one expectation.
import { useState } from "preact/hooks";
import { act, useDraft, useView, type Refusal } from "../book";
import type { Try as Model } from "../models/trial";
import { go } from "../router";
import { Button, Card, Choice, NoBike, NumberField, RefusalFor, RefusalList, Stepper, TextField } from "../ui";
import { Steps } from "../ui/steps";
import { Tiles } from "../ui/tiles";

interface Form {
  adjuster: string;
  plan: string;
  steps: number;
  apart: number;
  stops: number;
  wanted: number | null;
  expect: string;
}

const empty: Form = { adjuster: "", plan: "", steps: 0, apart: 2, stops: 5, wanted: null, expect: "" };

export function Try() {
  const [form, change, forget] = useDraft<Form>("try", empty);
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const { model: m, refusals: none } = useView<Model>("try", form);
  if (!m) return <NoBike refusals={none} />;
  const save = async () => {
    const done = await act("try", { ...form, bike: m.bike }, "try");
    if ("refusals" in done) return setRefusals(done.refusals);
    forget();
    go("/", { replace: true });
  };
  const picked = m.picked;
  const head = (
    <>
      {m.stop && <Card tone="stop"><p><strong>{m.stop}</strong></p></Card>}
      {m.running && <Card tone="warn"><p>{m.running}</p><a class="button" href={`/trial/${m.trial}`}>Open that trial</a></Card>}
    </>
  );
  if (!picked) {
    return (
      <>
        {head}
        <p class="lead">One change, one question. What do you want to try?</p>
        <Tiles groups={m.groups} onPick={(adjuster) => change({ adjuster, steps: 0 })} />
      </>
    );
  }
  const says = m.plans.find((x) => x.id === form.plan)?.says;
  const sweep = form.plan === "sweep";
  const named = ["wanted", "expect", "stops", "b", "plan"];
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void save(); }}>
      {head}
      <Card>
        <div class="picked">
          <div><h2>{picked.name}</h2><p>{picked.at}</p></div>
          <Button onClick={() => change({ adjuster: "", steps: 0 })}>Another one</Button>
        </div>
        {!m.known && <p class="refusal">Where it stands is not known. <a href={`/counted?adjuster=${picked.id}`}>Count it first</a></p>}
      </Card>
      <Choice legend="How?" options={m.plans.map((x) => ({ value: x.id, label: x.name }))} value={form.plan} onChange={(plan) => change({ plan })}>
        <RefusalFor refusals={refusals} field="plan" />
      </Choice>
      {says && <p>{says}</p>}
      {form.plan && !sweep && (
        <>
          <Steps picked={picked} steps={form.steps} onChange={(steps) => change({ steps })} />
          <RefusalFor refusals={refusals} field="b" />
          <p class="quiet">Far enough to feel: a single click is rarely felt.</p>
        </>
      )}
      {sweep && (
        <>
          <Stepper label="Positions" name="stops" value={form.stops} min={3} max={9} step={2} onChange={(v) => change({ stops: v ?? 5 })} />
          <Stepper label="Steps between them" name="apart" value={form.apart} min={1} max={8} step={1} onChange={(v) => change({ apart: v ?? 1 })} />
          {m.outside ? <p class="refusal">{m.outside}</p> : <p>In this order, so that the day cannot pass for the setting: {m.stops.join("; ")}.</p>}
          <RefusalFor refusals={refusals} field="stops" />
        </>
      )}
      {form.plan === "back" && (
        <>
          <NumberField label="A difference worth having, a lap" name="wanted" unit="s" value={form.wanted} onChange={(wanted) => change({ wanted })} refusals={refusals} hint="0.3 when you leave it empty" />
          {m.tells && <p class="quiet">{m.tells}</p>}
        </>
      )}
      {form.plan && <TextField label="What should get better?" name="expect" value={form.expect} onChange={(expect) => change({ expect })} refusals={refusals} />}
      <RefusalList refusals={refusals.filter((r) => !named.includes(r.field))} />
      <div class="flow-end"><Button id="save" main submit disabled={!m.known || !form.plan || (!sweep && form.steps === 0)}>Begin the trial</Button></div>
    </form>
  );
}
