// Somebody said: advice is written down instead of turned, and the book
// remembers what came of it. The paddock card says so kindly to everybody.
import { useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { useHandIn } from "../form";
import type { Who } from "../models/choices";
import type { Said as Model, SaidLine } from "../models/said";
import { Button, Card, Form, NoBike, RefusalFor, RefusalList, Sheet, TextField } from "../ui";
import { People } from "../ui/people";
import { Picked } from "../ui/picked";
import { Steps } from "../ui/steps";
import { Tiles } from "../ui/tiles";
import { WeighedAdvice } from "../ui/weighed";

interface Advice {
  from: Who;
  adjuster: string;
  steps: number;
  what: string;
  why: string;
}

const empty: Advice = { from: {}, adjuster: "", steps: 0, what: "", why: "" };

export function Said() {
  const [form, change, forget] = useDraft<Advice>("said", empty);
  const [picking, setPicking] = useState(false);
  const [saved, setSaved] = useState("");
  const { refusals, send } = useHandIn("advice", "said", () => setSaved("Written down. Nothing was turned."));
  const { model, refusals: refused } = useView<Model>("said", { adjuster: form.adjuster, steps: form.steps });
  if (!model) return <NoBike refusals={refused} />;
  const picked = model.picked;
  return (
    <>
      <p class="lead">Write it down instead of turning it. You decide later. <a href="/card">Show the paddock card</a></p>
      <p role="status" class="saved">{saved}</p>
      <Form onSubmit={() => send({ ...form, bike: model.bike }, forget)}>
        <People legend="Who said it?" people={model.people} value={form.from} onChange={(from) => change({ from })} name="from" refusals={refusals} />
        {picked && form.adjuster
          ? (
            <Card>
              <Picked name={picked.name} says={picked.at} again="Not this" onAgain={() => change({ adjuster: "", steps: 0 })} />
              <Steps picked={picked} steps={form.steps} onChange={(steps) => change({ steps })} />
              {model.weighed && <WeighedAdvice weighed={model.weighed} />}
            </Card>
          )
          : <Button id="pick" onClick={() => setPicking(true)}>Pick what they would change</Button>}
        <TextField label="What they would change, in words" name="what" value={form.what} onChange={(what) => change({ what })} refusals={refusals} />
        <TextField label="Why" name="why" value={form.why} onChange={(why) => change({ why })} refusals={refusals} />
        <RefusalList refusals={refusals} except={["from", "what", "why"]} />
        <Button id="save" main submit>Write it down</Button>
      </Form>
      <Sheet title="What would they change?" open={picking} onClose={() => setPicking(false)}>
        <Tiles groups={model.groups} onPick={(adjuster) => { setPicking(false); change({ adjuster, steps: 0 }); }} />
      </Sheet>
      {model.open.length > 0 && <h2>Still open</h2>}
      {model.open.map((l) => <Open key={l.entry} line={l} />)}
      {model.done.length > 0 && <h2>What came of it</h2>}
      {model.done.map((l) => (
        <Card key={l.entry} tone="quiet">
          <p><strong>{l.title}</strong></p>
          <p>{l.came}. {l.when}</p>
        </Card>
      ))}
      {model.records.length > 0 && (
        <Card title="Who has said what so far">
          <dl class="records">
            {model.records.map((r) => <div key={r.name}><dt>{r.name}</dt><dd>{r.says}</dd></div>)}
          </dl>
        </Card>
      )}
    </>
  );
}

function Open(p: { line: SaidLine }) {
  const l = p.line;
  const [asking, setAsking] = useState(false);
  const [note, setNote] = useState("");
  const { refusals, send } = useHandIn("outcome", undefined, () => {
    setAsking(false);
    setNote("");
  });
  const come = (result: string) => void send({ advice: l.entry, result, note });
  return (
    <Card>
      <p><strong>{l.title}</strong></p>
      {l.why && <p>Because: {l.why}</p>}
      {l.expect && <p>Expected: {l.expect}</p>}
      <p class="hint">{l.when}{l.shared && ", by your link"}. {l.came}.</p>
      {l.weighed && <WeighedAdvice weighed={l.weighed} />}
      {l.words && <Meant advice={l.entry} />}
      <a class="button" href={`/turned?advice=${encodeURIComponent(l.entry)}`}>Turn it now</a>
      <div class="row">
        {l.result !== "later" && <Button onClick={() => come("later")}>Later</Button>}
        {l.shared && <Button onClick={() => setAsking(!asking)}>Ask back</Button>}
        <Button onClick={() => come("declined")}>Decline</Button>
      </div>
      {l.shared && (
        <TextField label={asking ? "Your question" : "A word back, if you like"} name={`note-${l.entry}`} value={note} onChange={setNote} refusals={refusals.map((r) => (r.field === "note" ? { ...r, field: `note-${l.entry}` } : r))} />
      )}
      {asking && <Button main onClick={() => come("asked")}>Ask</Button>}
      <RefusalFor refusals={refusals} field="result" />
    </Card>
  );
}

// Meant lets the rider say which move words mean, so that they can be weighed.
function Meant(p: { advice: string }) {
  const [open, setOpen] = useState(false);
  const [move, setMove] = useState({ adjuster: "", steps: 0 });
  const { model } = useView<Model>("said", move);
  const { refusals, send } = useHandIn("meant", undefined, () => setOpen(false));
  const picked = move.adjuster && model?.picked;
  return (
    <>
      <p class="hint">Words alone cannot be weighed. Say which move they mean, and the book weighs it.</p>
      <Button onClick={() => setOpen(true)}>Which move is it?</Button>
      <Sheet title="Which move do they mean?" open={open} onClose={() => setOpen(false)}>
        {!picked && model && <Tiles groups={model.groups} onPick={(adjuster) => setMove({ adjuster, steps: 0 })} />}
        {picked && (
          <>
            <Picked name={picked.name} says={picked.at} again="Not this" onAgain={() => setMove({ adjuster: "", steps: 0 })} />
            <Steps picked={picked} steps={move.steps} onChange={(steps) => setMove({ ...move, steps })} />
            <RefusalList refusals={refusals} />
            <Button main disabled={move.steps === 0} onClick={() => void send({ advice: p.advice, ...move })}>That is meant</Button>
          </>
        )}
      </Sheet>
    </>
  );
}

/** The paddock card: fills the screen, to stand on the bike's seat. */
export function PaddockCard() {
  const { model, refusals } = useView<Model>("said");
  if (!model) return <NoBike refusals={refusals} />;
  return (
    <div class="paddock">
      <svg class="paddock-plumb" viewBox="0 0 16 160" preserveAspectRatio="xMinYMax slice" aria-hidden="true">
        <path class="plumb-line" d="M8 0V142" />
        <path class="plumb-bob" d="M4.5 142h7v6L8 158 4.500 148z" />
      </svg>
      <p class="paddock-main">This bike keeps a book.</p>
      <p class="paddock-main">Tell me, do not turn it.</p>
      <p>{model.bikeName}{model.rider && `, ${model.rider}`}. I write down what you say, and try it with your name beside it. Thank you.</p>
      <div class="row">
        <a class="button" href="/said">Write it down</a>
        <a class="button" href="/">Put it away</a>
      </div>
    </div>
  );
}
