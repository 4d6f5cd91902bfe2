// Parts of Why: a cause that opens, the check that settles it, what to try.
import { Bar } from "../draw/bar";
import { CauseDrawing } from "../draw/cause";
import type { Result, WhyCause, WhyCheck, WhyEvidence, WhyTry } from "../models/why";
import { Button } from "../ui";

type OnResult = (finding: string, result: Result) => void;

const results: { value: Result; label: string }[] = [
  { value: "no", label: "Good" },
  { value: "yes", label: "Fault" },
  { value: "unsure", label: "Not sure" },
];

/** What the check found; it is told to the reasoning at once. */
export function CheckResult(p: { check: WhyCheck; onResult: OnResult }) {
  const c = p.check;
  return (
    <>
      <div class="row results" role="group" aria-label={`What did you find? ${c.how}`}>
        {results.map((r) => (
          <button
            key={r.value} type="button" class={`button${c.answer === r.value ? " button-main" : ""}`} aria-pressed={c.answer === r.value}
            data-result={r.value} data-finding={c.finding} onClick={() => p.onResult(c.finding, r.value)}
          >
            {c.answer === r.value ? `✓ ${r.label}` : r.label}
          </button>
        ))}
      </div>
      {c.answer === "unsure" && <p class="hint">Not sure counts as not checked. Look again, or ask somebody who knows.</p>}
    </>
  );
}

export function CheckHow(p: { check: WhyCheck; onResult: OnResult; pictured?: boolean }) {
  const c = p.check;
  return (
    <>
      {p.pictured && <CauseDrawing name={c.drawing} />}
      <p>{c.how}</p>
      <p><strong>A fault is:</strong> {c.fault}</p>
      <p class="hint">{c.effort}</p>
      <CheckResult check={c} onResult={p.onResult} />
      {c.measure && <p class="hint"><a href={`/measure/${c.measure}`}>Measure it, step by step</a>; Why then counts the number.</p>}
      {c.round && <p class="hint"><a href={`/checks?check=${encodeURIComponent(c.round)}`}>The whole check, step by step</a>, written into the book.</p>}
    </>
  );
}

export function Cause(p: { cause: WhyCause; open: boolean; onResult: OnResult; onTry: (cause: string) => void }) {
  const c = p.cause;
  return (
    <details class="cause" id={`cause-${c.id}`} open={p.open}>
      <summary>
        <span class="cause-title">{c.title}</span>
        <span class="cause-doubt">{c.doubt}</span>
        <Bar length={c.length} of={10} />
      </summary>
      <div class="cause-inside">
        {c.stop && <p class="stop-line"><strong>If it is this: {c.stop}</strong></p>}
        <CauseDrawing name={c.drawing} />
        <p>{c.why}</p>
        <Evidence title="Speaks for it" list={c.for} />
        <Evidence title="Speaks against it" list={c.against} />
        <h3>How it is told from its look-alikes</h3>
        <p>{c.tell}</p>
        <h3>The check that settles it</h3>
        <CheckHow check={c.check} onResult={p.onResult} pictured={c.check.drawing !== c.drawing} />
        <h3>What mends it</h3>
        <Remedy remedy={c.remedy} onTry={p.onTry} />
        <p><a href={`/handbook/${c.id}`}>Its page in the handbook</a></p>
      </div>
    </details>
  );
}

function Evidence(p: { title: string; list: WhyEvidence[] }) {
  if (p.list.length === 0) return null;
  return (
    <>
      <h3>{p.title}</h3>
      <ul class="evidence">
        {p.list.map((e) => (
          <li key={e.words + e.weight}>
            <span>{e.words}</span>
            <span class="evidence-weight">{e.weight}</span>
            <Bar length={e.length} of={4} />
            {e.detail && <span class="hint">{e.detail}</span>}
            {e.doubt && <span class="hint">The sources disagree: {e.doubt}</span>}
          </li>
        ))}
      </ul>
    </>
  );
}

/** One change to put on trial, or a job, and how to know. */
export function Remedy(p: { remedy: WhyTry; onTry: (cause: string) => void; main?: boolean }) {
  const r = p.remedy;
  return (
    <>
      <p><strong>{r.title}{r.adjuster && "."}</strong>{r.says && ` This gives ${r.says}.`}</p>
      <dl class="try">
        {r.expect && <div><dt>Expect</dt><dd>{r.expect}{r.where && ` Feel for it ${r.where}.`}</dd></div>}
        {r.wrong && <div><dt>It is wrong if</dt><dd>{r.wrong}</dd></div>}
        {r.side && !r.side.startsWith("None") && <div><dt>It also does</dt><dd>{r.side}</dd></div>}
        {r.undo && <div><dt>To go back</dt><dd>{r.undo}</dd></div>}
      </dl>
      {r.caution && <p class="caution"><strong>Take care:</strong> {r.caution}</p>}
      {r.noTry && <p class="hint">{r.noTry}</p>}
      {r.adjuster && !r.noTry && <Button main={p.main === true} onClick={() => p.onTry(r.cause)}>{r.putBack ? "Put it back" : "Try this"}</Button>}
    </>
  );
}
