// Book: who changed what, by person, adjuster, track and kind; and the ways to
// keep and share the whole of it.
import { useEffect, useState } from "preact/hooks";
import { look, useView } from "../book";
import type { Choice, History as Model, HistoryLine } from "../models/history";
import { Button, Icon } from "../ui";

interface Filter {
  person: string;
  adjuster: string;
  track: string;
  kind: string;
}

const chapters = [
  { icon: "timer", label: "Days and sessions", href: "/days" },
  { icon: "check", label: "What worked where", href: "/worked" },
  { icon: "message-square-quote", label: "Your feel, their advice", href: "/feel" },
  { icon: "users", label: "People and phones", href: "/people" },
  { icon: "smartphone", label: "Keep and share", href: "/keep" },
];

const all: Filter = { person: "", adjuster: "", track: "", kind: "" };

export function History() {
  const [filter, setFilter] = useState(all);
  const { model } = useView<Model>("history", filter);
  const [older, setOlder] = useState<Model[]>([]);
  useEffect(() => setOlder([]), [model]);
  if (!model) return null;
  const change = (part: Partial<Filter>) => setFilter({ ...filter, ...part });
  const last = older.at(-1) ?? model;
  const more = async () => {
    const next = (await look<Model>("history", { ...filter, before: last.more }))?.model;
    if (next) setOlder([...older, next]);
  };
  return (
    <>
      <nav class="chapters" aria-label="The whole book">
        {chapters.map((c) => <a key={c.href} class="button" href={c.href}><Icon name={c.icon} />{c.label}</a>)}
      </nav>
      <h2>Who changed what</h2>
      <form class="filters" aria-label="Show only">
        <Pick label="Person" value={filter.person} from={model.people} onChange={(person) => change({ person })} />
        <Pick label="Adjuster" value={filter.adjuster} from={model.adjusters} onChange={(adjuster) => change({ adjuster })} />
        <Pick label="Track" value={filter.track} from={model.tracks} onChange={(track) => change({ track })} />
        <Pick label="What" value={filter.kind} from={model.kinds} onChange={(kind) => change({ kind })} />
      </form>
      <p role="status" class="quiet" id="total">{count(model.total)}</p>
      {[model, ...older].flatMap((m) => m.days).map((d, i) => (
        <section key={`${d.day}${i}`} class="day">
          <h3>{d.day}</h3>
          <ol class="lines">{d.lines.map((l) => <Line key={l.entry} line={l} />)}</ol>
        </section>
      ))}
      {last.more && <Button id="more" onClick={() => void more()}>Show older lines</Button>}
    </>
  );
}

function count(n: number): string {
  if (n === 0) return "No lines match. Choose 'any' somewhere.";
  return n === 1 ? "1 line" : `${n} lines`;
}

function Pick(p: { label: string; value: string; from: Choice[]; onChange: (v: string) => void }) {
  return (
    <label class="pick">
      <span>{p.label}</span>
      <select name={p.label.toLowerCase()} value={p.value} onChange={(e) => p.onChange(e.currentTarget.value)}>
        <option value="">any</option>
        {p.from.map((c) => <option key={c.id} value={c.id}>{c.name}</option>)}
      </select>
    </label>
  );
}

function Line(p: { line: HistoryLine }) {
  const l = p.line;
  return (
    <li class={`line line-${l.kind}${l.struck ? " line-struck" : ""}`}>
      <span class="line-time">{l.time}</span>
      <div>
        <p class="line-title"><a href={`/line/${l.entry}`}>{l.struck ? <s>{l.title}</s> : l.title}</a></p>
        {l.unowned && <p class="line-unowned">Nobody has owned up to this yet.</p>}
        {l.why && <p>Because: {l.why}</p>}
        <Who line={l} />
        {l.detail && <p class="quiet">{l.detail}</p>}
        {l.photos && <p class="quiet"><Icon name="camera" /> {l.photos}</p>}
        {l.struck && <p class="quiet">Struck out later{l.struckFor && `: ${l.struckFor}`}.</p>}
        {l.corrected && <p class="quiet">Corrected later{l.was && <>; it said: <s>{l.was}</s></>}.</p>}
      </div>
    </li>
  );
}

function Who(p: { line: HistoryLine }) {
  const { turned, idea, track } = p.line;
  const parts = [turned && `by ${turned}`, idea && `${idea}'s idea`, track && `at ${track}`].filter(Boolean);
  return parts.length > 0 ? <p class="quiet">{parts.join(", ")}</p> : null;
}
