// One trial: how far it is, the next thing to do, what the laps say, and the
// verdict, which is the rider's.
import { useState } from "preact/hooks";
import { act, useDraft, useView, type Refusal } from "../book";
import type { Trial as Model, TrialRun } from "../models/trial";
import { Button, Card, RefusalList } from "../ui";
import { BlindCard } from "./trialblind";
import { Judge, LapsCard, RateFirst } from "./trialverdict";
import type { ScreenProps } from ".";

export interface Secret {
  chance: string;
  peek: boolean;
}

export function Trial(p: ScreenProps) {
  const trial = p.params.id!;
  const [secret, change, forget] = useDraft<Secret>(`draw:${trial}`, { chance: "", peek: false });
  const { model: m, refusals } = useView<Model>("trial", { trial, ...secret });
  if (!m) return <RefusalList refusals={refusals} />;
  return (
    <>
      <Card>
        <h2>{m.title}</h2>
        <p class="quiet">{m.plan}, since {m.since}{m.idea && `; ${m.idea}'s idea`}.</p>
        {m.why && <p><strong>Because:</strong> {m.why}</p>}
        {m.expect && <p><strong>Expected:</strong> {m.expect}</p>}
        <details class="fold"><summary>Why ride it like this?</summary><p>{m.planSays}</p></details>
        {m.spoiled && <p class="caution">{m.spoiled}</p>}
        {m.judged && <p><strong>Verdict:</strong> {m.judged}.{m.chosen && ` Chosen: ${m.chosen}.`}</p>}
        <p>{m.progress}</p>
        {m.steps.length > 0 && <Steps steps={m.steps} />}
      </Card>
      {!m.blind?.friend && <Next m={m} />}
      {m.blind && <BlindCard m={m} blind={m.blind} secret={secret} change={change} forget={forget} />}
      {m.ready && m.do.act && !m.felt && m.kind !== "sweep" && !m.blind?.sealed && <RateFirst m={m} />}
      {(m.ready || !m.do.act) && (m.felt || m.kind === "sweep" || !m.do.act) && <LapsCard m={m} />}
      {m.ready && m.do.act && !m.blind?.sealed && <Judge m={m} />}
      <Runs m={m} />
    </>
  );
}

function Steps(p: { steps: Model["steps"] }) {
  return (
    <ol class="trial-steps">
      {p.steps.map((s, i) => (
        <li key={i} class={s.done ? "trial-step trial-done" : "trial-step"}>
          <span aria-hidden="true">{s.done ? "✓" : "○"}</span> {s.says}<span class="away">{s.done ? ", done" : ", still to do"}</span>
        </li>
      ))}
    </ol>
  );
}

function Next(p: { m: Model }) {
  const { m } = p;
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const send = async (name: string, form: object) => {
    const done = await act(name, form);
    setRefusals("refusals" in done ? done.refusals : []);
  };
  if (!m.do.act || m.do.act === "draw" || m.do.act === "say") return null;
  return (
    <Card title="Next">
      <p><strong>{m.do.says}</strong></p>
      {m.do.sure && <p>{m.do.sure}</p>}
      {m.do.act === "set" && <Button main id="is-set" onClick={() => void send("turned", { bike: m.bike, adjuster: m.adjuster, to: m.do.to, why: "For the trial" })}>It is set</Button>}
      {m.do.act === "ride" && <a class="button button-main" href="/came-in">Came in</a>}
      {m.plans.map((x) => <Button key={x.id} onClick={() => void send("plan", { trial: m.entry, plan: x.id })}>{x.name}</Button>)}
      <RefusalList refusals={refusals} />
    </Card>
  );
}

/** Runs says which run belongs to which side; the rider's word overrules it. */
function Runs(p: { m: Model }) {
  const { m } = p;
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const place = async (session: string, side: string) => {
    const done = await act("side", { trial: m.entry, session, side });
    setRefusals("refusals" in done ? done.refusals : []);
  };
  if (m.runs.length === 0) return null;
  return (
    <Card title="Runs">
      <ul class="plain">{m.runs.map((r) => <Run key={r.session} run={r} />)}</ul>
      <details class="fold">
        <summary>One is in the wrong place?</summary>
        <p class="quiet">Which setting a run was ridden on follows from what was turned, and when. Your word overrules it.</p>
        {m.runs.filter((r) => r.movable).map((r) => (
          <label key={r.session} class="pick">
            <span>{r.title}</span>
            <select value={r.overruled ? (r.counts ? r.side || "at" : "out") : ""} onChange={(e) => void place(r.session, e.currentTarget.value)}>
              <option value="">As it was worked out</option>
              {m.sides.map((s) => <option key={s.id} value={s.id}>{s.name}</option>)}
            </select>
          </label>
        ))}
      </details>
      <RefusalList refusals={refusals} />
    </Card>
  );
}

function Run(p: { run: TrialRun }) {
  const r = p.run;
  return (
    <li class={r.counts ? "trial-run" : "trial-run trial-out"}>
      <p><strong>{r.title}:</strong> {r.where}{r.overruled && " (placed by you)"}</p>
      <p class="quiet">{r.laps}{r.felt && `; felt ${r.felt}`}.{r.out && ` Left out: ${r.out}.`}{r.mixed && ` Other settings than at the start: ${r.mixed}.`}</p>
    </li>
  );
}
