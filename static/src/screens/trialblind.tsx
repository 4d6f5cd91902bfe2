// A blind trial: the friend's turn with the phone, then the rider's guess.
// What was drawn stays sealed in the book until the rider has said which.
import { useState } from "preact/hooks";
import { act, type Refusal } from "../book";
import { random } from "../chance";
import type { Who } from "../models/choices";
import type { Blind, Trial } from "../models/trial";
import { Button, Card, Choice, RefusalList } from "../ui";
import { People } from "../ui/people";
import type { Secret } from "./trial";

interface Props {
  m: Trial;
  blind: Blind;
  secret: Secret;
  change: (part: Partial<Secret>) => void;
  forget: () => void;
}

// As many random bytes as a draw takes: one for the side, sixteen for its seal.
const drawBytes = 17;

export function BlindCard(p: Props) {
  const { m, blind } = p;
  const [by, setBy] = useState<Who>({});
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const draw = async () => {
    const chance = random(drawBytes);
    p.change({ chance, peek: true });
    const done = await act("draw", { trial: m.entry, chance, by });
    if ("refusals" in done) p.forget();
    setRefusals("refusals" in done ? done.refusals : []);
  };
  const say = async (said: string) => {
    const done = await act("reveal", { trial: m.entry, draw: blind.sealed, said, chance: p.secret.chance });
    if ("refusals" in done) return setRefusals(done.refusals);
    p.forget();
  };
  const giveUp = async () => {
    const done = await act("strike", { entry: blind.sealed, why: "The draw was given up" });
    if ("refusals" in done) return setRefusals(done.refusals);
    p.forget();
  };
  return (
    <>
      {blind.friend && (
        <Card tone="warn" title="For your friend's eyes only">
          <p class="lead"><strong>{blind.friend.to}</strong></p>
          <p>{blind.friend.says}</p>
          <Button main onClick={() => p.change({ peek: false })}>It is set; hide this</Button>
        </Card>
      )}
      {!blind.friend && m.do.act === "draw" && (
        <Card title="Next">
          <p><strong>{m.do.says}</strong></p>
          <People legend="Who sets it?" people={m.people.filter((x) => x.name !== "Me")} value={by} onChange={setBy} name="by" refusals={refusals} />
          <p>Give the phone away and look the other way. The phone draws; what it drew is sealed in the book and opened after you have said which.</p>
          <Button main onClick={() => void draw()}>I am the friend: draw</Button>
          <RefusalList refusals={refusals.filter((r) => r.field !== "by")} />
        </Card>
      )}
      {!blind.friend && blind.sealed && blind.ridden && (
        <Card title="Which one was it?">
          {blind.secret
            ? <Choice legend="If you cannot tell, guess" options={blind.options.map((o) => ({ value: o.id, label: o.name }))} value="" onChange={(v) => void say(v)}><RefusalList refusals={refusals} /></Choice>
            : <p>Another phone made this draw. Open the trial there to say which it was.</p>}
        </Card>
      )}
      {!blind.friend && blind.sealed && (
        <details class="fold">
          <summary>Something went wrong?</summary>
          <p>If nobody knows any more what was set, give the draw up. It stays in the book, struck out; then count the adjuster.</p>
          <Button onClick={() => void giveUp()}>Give this draw up</Button>
        </details>
      )}
      {blind.draws.length > 0 && (
        <Card title="So far">
          <ol class="draws">{blind.draws.map((d, i) => <li key={i}><span aria-hidden="true">{d.right ? "✓" : "✗"}</span> {d.says}.</li>)}</ol>
          <p>{blind.record}</p>
        </Card>
      )}
    </>
  );
}
