// One inspection: what to look at, what is good, and the rider's answer.
import { useDraft } from "../book";
import { CheckDrawing } from "../draw/check";
import { useHandIn } from "../form";
import type { CheckAsk } from "../models/firstlook";
import { Choice } from "./choice";
import { Form, Save } from "./form";
import { Card } from "./parts";
import { RefusalFor, RefusalList } from "./refusal";
import { TextField } from "./text";

const results = [{ value: "good", label: "Good" }, { value: "fault", label: "Fault" }, { value: "unsure", label: "Not sure" }] as const;

export function Inspect(p: { bike: string; ask: CheckAsk; onDone: () => void }) {
  const c = p.ask;
  const key = `check:${c.check}`;
  const [form, change, forget] = useDraft<{ result: "" | "good" | "fault" | "unsure"; note: string }>(key, { result: "", note: "" });
  const { refusals, send } = useHandIn("check", key, p.onDone);
  return (
    <Form onSubmit={() => send({ ...form, bike: p.bike, check: c.check }, forget)}>
      <Card title={c.title}>
        <CheckDrawing check={c.check} />
        <p>{c.why}</p>
        <ol class="how">{c.how.map((h) => <li key={h}>{h}</li>)}</ol>
        <p><strong>Good is:</strong> {c.good}</p>
        <p class="caution"><strong>Take care:</strong> {c.caution}</p>
        {c.says && <p class="hint">Last time: {c.says}{c.note && `, ${c.note}`}</p>}
        <Choice legend="What did you find?" options={results} value={form.result} onChange={(result) => change({ result })}>
          <RefusalFor refusals={refusals} field="result" />
        </Choice>
        <TextField label="Note, if you like" name="note" value={form.note} onChange={(note) => change({ note })} refusals={refusals} />
        <RefusalList refusals={refusals} except={["result", "note"]} />
      </Card>
      {form.result === "fault" && <Card tone="stop"><p><strong>{c.stop}</strong></p></Card>}
      <Save>Write it down</Save>
    </Form>
  );
}
