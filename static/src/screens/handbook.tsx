// Handbook: the knowledge that Why reasons with, as pages to read.
import { useState } from "preact/hooks";
import { useView } from "../book";
import { CauseDrawing } from "../draw/cause";
import type { Handbook as Model, HandbookPage, HandbookSign } from "../models/handbook";
import { Card, TextField } from "../ui";
import type { ScreenProps } from ".";

export function Handbook() {
  const [words, setWords] = useState("");
  const { model } = useView<Model>("handbook", { words });
  return (
    <>
      <p class="lead">What can be wrong, how to tell, how to check, what mends it.</p>
      <TextField label="Find" name="words" value={words} onChange={setWords} hint="A part, a fault, or what it feels like: 'chain', 'runs wide on the gas'." />
      {model && <Chapters model={model} open={words.trim() !== ""} />}
      <p class="quiet">Your machine's service manual and local rules come before anything here. When in doubt, ask a qualified technician.</p>
    </>
  );
}

function Chapters(p: { model: Model; open: boolean }) {
  const { says, families, found } = p.model;
  return (
    <>
      <p role="status">{says}.</p>
      {families.map((f) => (
        <details key={f.id} class="chapter" open={p.open}>
          <summary><CauseDrawing name={f.drawing} decor /><span><strong>{f.title}</strong><br />{f.pages.length === 1 ? "1 page" : `${f.pages.length} pages`}</span></summary>
          <ul class="pages">
            {f.pages.map((page) => (
              <li key={page.id}><a href={`/handbook/${page.id}`}><strong>{page.title}</strong>{page.stop && <span class="mark-stop">do not ride</span>}<span class="hint">{page.why}</span></a></li>
            ))}
          </ul>
        </details>
      ))}
      {found === 0 && <p>No page has these words. Try fewer, or others.</p>}
    </>
  );
}

export function HandbookCause(p: ScreenProps) {
  const { model, refusals } = useView<Model>("handbook", { cause: p.params.id });
  if (refusals.length > 0) return <p class="empty">{refusals[0]!.says} <a href="/handbook">To the list</a></p>;
  if (!model?.page) return null;
  return <Page page={model.page} />;
}

const often: Record<string, string> = { always: "always", usually: "usually", often: "often", sometimes: "sometimes", rarely: "rarely" };

function Page(p: { page: HandbookPage }) {
  const c = p.page;
  return (
    <article class="handbook">
      <p class="hint"><a href="/handbook">Handbook</a> › {c.family}</p>
      <h2 class="handbook-title">{c.title}</h2>
      {c.forbids && <Card tone="stop"><p><strong>{c.forbids}</strong></p></Card>}
      <CauseDrawing name={c.drawing} />
      <p class="lead">{c.why}</p>
      <h3>What it shows</h3>
      <Signs list={c.signs} />
      {c.facts.length > 0 && (
        <>
          <h3>What makes it likelier, or less</h3>
          <Signs list={c.facts} />
        </>
      )}
      <h3>How it is told from its look-alikes</h3>
      <p>{c.tell}</p>
      {c.like.length > 0 && <ul class="plain">{c.like.map((l) => <li key={l.id}><a href={`/handbook/${l.id}`}>{l.title}</a>: {l.why}</li>)}</ul>}
      <h3>The check that settles it</h3>
      {c.check.drawing !== c.drawing && <CauseDrawing name={c.check.drawing} />}
      <p>{c.check.how}</p>
      <p><strong>A fault is:</strong> {c.check.fault}</p>
      <p class="hint">{c.check.effort}</p>
      {c.check.measure && <p><a href={`/measure/${c.check.measure}`}>Measure it, step by step</a></p>}
      {c.check.round && <p><a href={`/checks?check=${encodeURIComponent(c.check.round)}`}>The whole check, step by step</a></p>}
      <h3>What mends it</h3>
      <p><strong>{c.remedy.says}</strong></p>
      <dl class="try">
        <div><dt>Expect</dt><dd>{c.remedy.expect}</dd></div>
        <div><dt>It is wrong if</dt><dd>{c.remedy.wrong}</dd></div>
        {c.remedy.side && !c.remedy.side.startsWith("None") && <div><dt>It also does</dt><dd>{c.remedy.side}</dd></div>}
        <div><dt>To go back</dt><dd>{c.remedy.undo}</dd></div>
      </dl>
      {c.remedy.caution && <p class="caution"><strong>Take care:</strong> {c.remedy.caution}</p>}
      <h3>Where this comes from</h3>
      <ol class="sources">{c.sources.map((s) => <li key={s.number}>{s.title}{s.kind && s.kind !== s.title && <span class="hint"> ({s.kind})</span>}</li>)}</ol>
      <a class="button" href="/why">Ask why</a>
    </article>
  );
}

function Signs(p: { list: HandbookSign[] }) {
  return (
    <ul class="signs">
      {p.list.map((s) => <li key={s.words}><span>{s.words}<sup>{s.source}</sup></span> <span class="cause-doubt">{often[s.often] ?? s.often}</span></li>)}
    </ul>
  );
}
