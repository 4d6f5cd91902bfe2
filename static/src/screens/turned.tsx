// Turned something: what, how far, whose idea, why.
import { useEffect } from "preact/hooks";
import { useDraft, useView } from "../book";
import { useHandIn } from "../form";
import type { Who } from "../models/choices";
import type { Turned as Model } from "../models/turned";
import { go } from "../router";
import { Card, Choice, Choices, Form, NoBike, RefusalFor, RefusalList, Save, TextField } from "../ui";
import { People } from "../ui/people";
import { Picked } from "../ui/picked";
import { Steps } from "../ui/steps";
import { Tiles } from "../ui/tiles";
import type { ScreenProps } from ".";

interface Change {
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

const empty: Change = { adjuster: "", steps: 0, turned: {}, idea: {}, why: "", words: "", trial: false, expect: "", advice: "", symptom: "", cause: "" };

/** What somebody said, what was felt, and a link to an adjuster each begin a form of their own. */
export function Turned(p: ScreenProps) {
  const asked = (name: string) => p.query.get(name) ?? "";
  const begin: Change = { ...empty, adjuster: asked("adjuster"), advice: asked("advice"), symptom: asked("symptom"), cause: asked("cause") };
  const key = ["turned", begin.advice || begin.symptom || begin.adjuster, begin.cause].filter(Boolean).join(":");
  return <Turning key={key} draft={key} begin={begin} />;
}

function Turning(p: { draft: string; begin: Change }) {
  const { advice, symptom, cause } = p.begin;
  const [form, change, forget] = useDraft<Change>(p.draft, p.begin);
  const { refusals, send } = useHandIn("turned", p.draft, () => go("/", { replace: true }));
  const { model, refusals: refused } = useView<Model>("turned", { adjuster: form.adjuster, steps: form.steps, advice: form.advice || advice, symptom, cause });
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
  if (!model) return <NoBike refusals={refused} />;
  const pick = (adjuster: string) => change({ adjuster, steps: 0, why: "" });
  const picked = form.adjuster ? model.picked : undefined;
  const reason = (
    <>
      {offered && <Card tone="quiet"><p>{offered.says}</p></Card>}
      {test && <Reason test={test} />}
    </>
  );
  if (!picked) {
    return (
      <>
        {reason}
        <p class="lead">What was turned?</p>
        <Tiles groups={model.groups} onPick={pick} />
      </>
    );
  }
  return (
    <Form onSubmit={() => send({ ...form, bike: model.bike }, forget)}>
      {reason}
      <Card>
        <Picked name={picked.name} says={picked.standing === "assumed" ? `${picked.at}, assumed` : picked.at} again="Another one" onAgain={() => pick("")} />
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
      <RefusalList refusals={refusals} except={["to", "delta", "idea", "turned", "words", "expect"]} />
      <Save disabled={form.steps === 0}>Write it down</Save>
    </Form>
  );
}

/** Why the change is worth trying, and what would prove it wrong. */
function Reason(p: { test: NonNullable<Model["try"]> }) {
  const { says, why, noTry, wrong, caution } = p.test;
  return (
    <Card tone={noTry ? "warn" : "quiet"}>
      <p><strong>{says}</strong> {why && `Because: ${why}`}</p>
      {noTry && <p>{noTry}</p>}
      {wrong && <p class="hint">It is wrong if: {wrong}</p>}
      {caution && <p class="caution"><strong>Take care:</strong> {caution}</p>}
    </Card>
  );
}
