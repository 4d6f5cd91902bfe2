// Why: say what it does by tapping a drawn corner and bike or in own words;
// then the likely causes with evidence and doubt, the check to make first, one
// change to try. What was said is kept as a draft until it is written down.
import { useEffect, useState } from "preact/hooks";
import { act, useDraft, useView, type Refusal } from "../book";
import { BikeEnds, Corner } from "../draw/corner";
import { emptyWhy, type Why as Model, type WhyFinding, type WhyForm } from "../models/why";
import { go } from "../router";
import { Button, Card, Choice, NoBike, RefusalList, TextField } from "../ui";
import { Cause, CheckHow, Remedy } from "./whycause";

const sides = [
  { value: "", label: "Both alike" },
  { value: "left", label: "Lefts" },
  { value: "right", label: "Rights" },
];

const repeats = [
  { value: "once", label: "Once" },
  { value: "some", label: "Some laps" },
  { value: "every", label: "Every lap" },
  { value: "purpose", label: "I can do it on purpose" },
];

/** The id of the entry that a stamped line carries. */
const entryOf = (line: string | undefined): string => (line ? String(JSON.parse(line).id ?? "") : "");

export function Why() {
  const [form, change, forget] = useDraft<WhyForm>("why", emptyWhy);
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const [said, setSaid] = useState("");
  const heard = form.by === "words" && form.words.trim() !== "";
  const { model, refusals: none } = useView<Model>("why", { ...form, words: heard ? form.words : "" });
  const tell = (part: Partial<WhyForm>) => {
    setSaid("");
    change({ ...part, saved: "" });
  };
  const answer = (id: string, to: string) => {
    const { [id]: was, ...rest } = form.findings;
    tell({ findings: was === to ? rest : { ...rest, [id]: to } });
  };
  // write puts the symptom into the book, once, and returns its entry.
  const write = async (): Promise<string> => {
    if (form.saved) return form.saved;
    const done = await act("symptom", { ...form, bike: model?.bike, track: form.track || model?.track });
    if ("refusals" in done) {
      setRefusals(done.refusals);
      return "";
    }
    setRefusals([]);
    if (!("lines" in done)) return "";
    const id = entryOf(done.lines.at(-1));
    change({ saved: id });
    return id;
  };
  const save = async () => {
    if (await write()) setSaid("Written down.");
  };
  const tryIt = async (cause: string) => {
    const id = await write();
    if (id) go(`/turned?symptom=${encodeURIComponent(id)}&cause=${encodeURIComponent(cause)}`);
  };
  const again = () => {
    forget();
    setSaid("");
    setRefusals([]);
    scrollTo(0, 0);
  };
  if (none.length > 0) return <NoBike refusals={none} />;
  const asked = Object.keys(form.findings).length > 0;
  return (
    <>
      {model && <Stops model={model} />}
      <p class="lead">Tap where it happens, then which end.</p>
      <Corner value={form.phase} side={form.side} onChange={(phase) => tell({ phase: form.phase === phase ? "" : phase, by: "tap" })} />
      <BikeEnds value={form.end} onChange={(end) => tell({ end: form.end === end ? "" : end, by: "tap" })} />
      <Choice legend="In which corners?" options={sides} value={form.side as "left"} onChange={(side) => tell({ side })} />
      <TextField
        label="Or in your own words" name="words" value={form.words} onChange={(words) => tell({ words, by: "words" })} refusals={refusals}
        hint="Type, or speak with your keyboard's microphone. You choose what was meant."
      />
      {model && model.offers.length > 0 && <Findings title={heard ? "Did you mean this?" : "What does it do?"} list={model.offers} onAnswer={answer} />}
      {heard && model?.offers.length === 0 && <p role="status">Nothing here fits these words. Try others, or tap the corner.</p>}
      <p class="row"><a class="button" href="/why/tyre">Read the tyre</a><a class="button" href="/handbook">Handbook</a></p>
      {asked && model && (
        <div class="answer" id="answer">
          {model.chosen.length > 0 && <Findings title="You also said" list={model.chosen} onAnswer={answer} />}
          <Choice legend="How often does it come?" options={repeats} value={form.repeat as "once"} onChange={(repeat) => tell({ repeat })} />
          <Answer model={model} onResult={answer} onTry={(cause) => void tryIt(cause)} />
          <Where form={form} model={model} onChange={tell} />
          <RefusalList refusals={refusals} />
          <Button id="save" main onClick={() => void save()} disabled={form.saved !== ""}>Write it down</Button>
        </div>
      )}
      <p role="status" class="saved">{said}</p>
      {form.saved && (
        <Card title="In the book">
          {form.repeat === "once" && <p>It happened once. <a href={`/why/repeat?symptom=${encodeURIComponent(form.saved)}`}>Bring it about on purpose</a> before you turn anything.</p>}
          <Button onClick={again}>Start with something else</Button>
        </Card>
      )}
      {model && (model.saved > 0 || model.learned) && <p><a href="/why/symptoms">What it did before</a> · <a href="/why/learned">What verdicts taught</a></p>}
      {asked && model && <AnswerBar model={model} />}
    </>
  );
}

/** Stops stand above everything: what was said here, then what the book says. */
function Stops(p: { model: Model }) {
  const { stop, stops } = p.model;
  return (
    <>
      {stop && (
        <section class="card card-stop stop-first" role="alert">
          <h2>Do not ride</h2>
          <p><strong>{stop.says}</strong></p>
          <p>{stop.title} is likely enough to stop for. <a href={`#cause-${stop.cause}`}>See why</a></p>
        </section>
      )}
      {stops.map((n) => (
        <Card key={n.title} tone="stop">
          <h2>{n.title}</h2>
          <p>{n.says}</p>
          <a class="button button-danger" href={n.href}>{n.act}</a>
        </Card>
      ))}
    </>
  );
}

// AnswerBar keeps the answer in sight while findings are added above it, and
// goes when the answer itself is on the page.
function AnswerBar(p: { model: Model }) {
  const { stop, causes, next } = p.model;
  const reached = useReached("answer");
  const top = causes[0];
  if (!top || reached) return null;
  return (
    <aside class={`answer-bar${stop ? " answer-stop" : ""}`} aria-label="The answer so far">
      <a href="#answer" aria-live="polite">
        <span>{stop ? <strong>Do not ride. {stop.title}</strong> : next?.first ? <><strong>Check this first:</strong> {next.title}</> : <><strong>{top.title}</strong>, {top.doubt}</>}</span>
      </a>
    </aside>
  );
}

// useReached is whether an element has come up into the page's upper two thirds, or past them.
function useReached(id: string): boolean {
  const [reached, set] = useState(false);
  useEffect(() => {
    const watch = new IntersectionObserver((seen) => set(seen.at(-1)!.isIntersecting), { rootMargin: "99999px 0px -33% 0px" });
    watch.observe(document.getElementById(id)!);
    return () => watch.disconnect();
  }, [id]);
  return reached;
}

function Findings(p: { title: string; list: WhyFinding[]; onAnswer: (id: string, to: string) => void }) {
  return (
    <section class="findings">
      <h2>{p.title}</h2>
      <ul>
        {p.list.map((f) => (
          <li key={f.id}>
            <span>{f.words}{f.denied && " (you said it does not)"}</span>
            <span class="row">
              <Mark label="Yes" name={f.words} on={f.answer === "yes"} onClick={() => p.onAnswer(f.id, "yes")} />
              <Mark label="No" name={f.words} on={f.answer === "no"} onClick={() => p.onAnswer(f.id, "no")} />
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Mark(p: { label: string; name: string; on: boolean; onClick: () => void }) {
  return (
    <button type="button" class={`button${p.on ? " button-main" : ""}`} aria-pressed={p.on} aria-label={`${p.label}: ${p.name}`} onClick={p.onClick}>
      {p.on ? `✓ ${p.label}` : p.label}
    </button>
  );
}

function Answer(p: { model: Model; onResult: (id: string, to: string) => void; onTry: (cause: string) => void }) {
  const { stop, next, change, causes, unsure, note, refused, pairs, doubts, plan, booked } = p.model;
  return (
    <>
      {stop && change && !change.adjuster && <Card tone="stop" title="What to do"><Remedy remedy={change} onTry={p.onTry} /></Card>}
      {next && !stop && (
        <Card tone="warn" title={next.first ? "Check this first" : "The check that tells most"}>
          <p><strong>{next.title}?</strong> {next.because}</p>
          <CheckHow check={next} onResult={p.onResult} pictured />
        </Card>
      )}
      {change && !stop && (
        <Card title={change.putBack ? "Put the last change back" : change.adjuster ? "One change to try" : "What to do"}>
          <Remedy remedy={change} onTry={p.onTry} main />
        </Card>
      )}
      {refused && <Card title="No click left"><p>{refused}</p></Card>}
      <section id="answer-causes" class="causes" aria-label="Likely causes">
        <h2>Likely causes</h2>
        {unsure && <p>This is not enough to be sure. Say more, or make the check.</p>}
        {note && !next?.first && <p>{note}</p>}
        {doubts.length > 0 && <p class="hint">The sources disagree on a part of this; the evidence says where.</p>}
        {causes.map((c) => <Cause key={c.id} cause={c} open={p.model.stop?.cause === c.id} onResult={p.onResult} onTry={p.onTry} />)}
        {pairs.length > 0 && (
          <>
            <h3>Two at once?</h3>
            <ul class="plain">{pairs.map((x) => <li key={x}>{x}</li>)}</ul>
          </>
        )}
      </section>
      {plan.length > 1 && (
        <details class="fold">
          <summary>Everything worth checking, in order</summary>
          <ol class="how">{plan.map((s) => <li key={s.cause}><strong>{s.title}:</strong> {s.how} <span class="hint">{s.effort}</span></li>)}</ol>
        </details>
      )}
      {booked.length > 0 && (
        <details class="fold">
          <summary>What your book says about it</summary>
          <ul class="plain">{booked.map((b) => <li key={b}>{b}</li>)}</ul>
        </details>
      )}
      <p class="quiet">These are reasons, not an inspection. Follow the machine's service manual and local rules, and ask a qualified technician when in doubt.</p>
    </>
  );
}

function Where(p: { form: WhyForm; model: Model; onChange: (part: Partial<WhyForm>) => void }) {
  const { form, model } = p;
  const tracks = model.tracks.map((t) => ({ value: t.id, label: t.name }));
  return (
    <details class="fold">
      <summary>Where was it?</summary>
      <div class="fold-inside">
        {tracks.length > 0 && <Choice legend="Track" options={tracks} value={(form.track || model.track || "") as string} onChange={(track) => p.onChange({ track })} />}
        <TextField label="Which corner?" name="corner" value={form.corner} offers={model.corners} onChange={(corner) => p.onChange({ corner })} />
      </div>
    </details>
  );
}
