// Turned something: what, how far, whose idea, why.
import { useEffect, useState } from "preact/hooks";
import { act, useDraft, useView, type Refusal } from "../book";
import type { Who } from "../models/choices";
import type { Turned as Model } from "../models/turned";
import { go } from "../router";
import { Button, Card, Choice, Choices, RefusalFor, RefusalList, TextField } from "../ui";
import { People } from "../ui/people";
import { Steps } from "../ui/steps";
import { Tiles } from "../ui/tiles";
import type { ScreenProps } from ".";

interface Form {
  adjuster: string;
  steps: number;
  turned: Who;
  idea: Who;
  why: string;
  words: string;
  trial: boolean;
  expect: string;
  advice: string;
  symptom: string;
  cause: string;
}

const empty: Form = { adjuster: "", steps: 0, turned: {}, idea: {}, why: "", words: "", trial: false, expect: "", advice: "", symptom: "", cause: "" };

export function Turned(p: ScreenProps) {
  const advice = p.query.get("advice") ?? "";
  const symptom = p.query.get("symptom") ?? "";
  const cause = p.query.get("cause") ?? "";
  const key = advice ? `turned:${advice}` : symptom ? `turned:${symptom}:${cause}` : "turned";
  const asked = p.query.get("adjuster") ?? "";
  const [form, change, forget] = useDraft<Form>(key, { ...empty, adjuster: asked, advice, symptom, cause });
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const { model } = useView<Model>("turned", { adjuster: form.adjuster, steps: form.steps, advice: form.advice || advice, symptom, cause });
  const offered = model?.advice;
  useEffect(() => {
    if (!offered || form.idea.id || form.steps !== 0) return;
    change({ adjuster: offered.adjuster ?? "", steps: offered.steps ?? 0, idea: { id: offered.idea }, words: offered.why ?? "", expect: offered.expect ?? "", trial: true, advice: offered.entry });
  }, [offered?.entry]);
  const test = model?.try;
  useEffect(() => {
    if (!test?.adjuster || form.steps !== 0) return;
    change({ adjuster: test.adjuster, steps: test.steps ?? 0, idea: { id: model?.rider ?? "" }, words: test.why ?? "", expect: test.expect ?? "", trial: true, symptom, cause });
  }, [test?.symptom, test?.cause]);
  if (!model) return null;
  const pick = (adjuster: string) => change({ adjuster, steps: 0, why: "" });
  const save = async () => {
    const done = await act("turned", { ...form, bike: model.bike }, key);
    if ("refusals" in done) return setRefusals(done.refusals);
    forget();
    go("/", { replace: true });
  };
  const picked = model.picked;
  const reason = test && (
    <Card tone={test.noTry ? "warn" : "quiet"}>
      <p><strong>{test.says}</strong> {test.why && `Because: ${test.why}`}</p>
      {test.noTry && <p>{test.noTry}</p>}
      {test.wrong && <p class="hint">It is wrong if: {test.wrong}</p>}
      {test.caution && <p class="caution"><strong>Take care:</strong> {test.caution}</p>}
    </Card>
  );
  if (!picked || !form.adjuster) {
    return (
      <>
        {offered && <Card tone="quiet"><p>{offered.says}</p></Card>}
        {reason}
        <p class="lead">What was turned?</p>
        <Tiles groups={model.groups} onPick={pick} />
      </>
    );
  }
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void save(); }}>
      {offered && <Card tone="quiet"><p>{offered.says}</p></Card>}
      {reason}
      <Card>
        <div class="picked">
          <div>
            <h2>{picked.name}</h2>
            <p>{picked.at}{picked.standing === "assumed" && ", assumed"}</p>
          </div>
          <Button onClick={() => pick("")}>Another one</Button>
        </div>
        <Steps picked={picked} steps={form.steps} onChange={(steps) => change({ steps })} />
        <RefusalFor refusals={refusals} field="to" />
        <RefusalFor refusals={refusals} field="delta" />
      </Card>
      <People legend="Whose idea?" people={model.people} value={form.idea} onChange={(idea) => change({ idea })} name="idea" refusals={refusals} />
      <Choice legend="Why?" options={model.whys.map((w) => ({ value: w, label: w }))} value={form.why} onChange={(why) => change({ why })} />
      <TextField label="In your own words, if you like" name="words" value={form.words} onChange={(words) => change({ words })} refusals={refusals} />
      <Choices legend="Try it out" options={[{ value: "trial", label: "Put it on trial", detail: "Today asks whether it helped" }]} value={form.trial ? ["trial"] : []} onChange={(v) => change({ trial: v.length > 0 })} />
      {form.trial && <TextField label="What should get better?" name="expect" value={form.expect} onChange={(expect) => change({ expect })} refusals={refusals} />}
      <details class="more">
        <summary>Somebody else turned it</summary>
        <People legend="Who turned it?" people={model.people} value={form.turned.id || form.turned.name !== undefined ? form.turned : { id: model.rider }} onChange={(turned) => change({ turned })} name="turned" refusals={refusals} />
      </details>
      <RefusalList refusals={refusals.filter((r) => !["to", "delta", "idea", "turned", "words", "expect"].includes(r.field))} />
      <div class="flow-end"><Button id="save" main submit disabled={form.steps === 0}>Write it down</Button></div>
    </form>
  );
}
