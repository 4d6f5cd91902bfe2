// Today: may it be ridden, what is due, what is on trial, how it stands.
import { useView } from "../book";
import { Hanging } from "../draw/hanging";
import * as install from "../install";
import type { OnTrial, Today as Model } from "../models/today";
import { useSignal } from "../usesignal";
import * as sync from "../sync";
import { BigAction, Card } from "../ui";

export function Today() {
  const { model: m } = useView<Model>("today");
  if (!m) return null;
  if (!m.hasBike) {
    return (
      <>
        <p class="lead">There is no bike in this book yet.</p>
        <BigAction icon="notebook-pen" label="Take the first look" detail="About fifteen minutes; you can stop and go on" href="/first-look" main />
      </>
    );
  }
  return (
    <>
      <p class="today-bike">{m.bikeName}{m.example && <span class="mark">Example</span>}</p>
      {m.stops.map((n) => (
        <Card key={n.title} tone="stop">
          <h2>{n.title}</h2>
          <p>{n.says}</p>
          <a class="button button-danger" href={n.href}>{n.act}</a>
        </Card>
      ))}
      <div class="actions today-actions">
        <BigAction id="came-in" icon="timer" label="Came in" href="/came-in" />
        <BigAction id="turned" icon="wrench" label="Turned something" href="/turned" />
        <BigAction id="counted" icon="list-checks" label="Counted it" href="/counted" />
        <BigAction id="said" icon="message-square-quote" label="Somebody said" href="/said" />
      </div>
      {m.tasks.map((t) => (
        <Card key={t.symptom} title="For the next session">
          <p><strong>{t.title}</strong></p>
          <p>{t.dont ?? `Bring it about on purpose: ${t.where}, ${t.passes} passes.`}</p>
          <a class="button" href={`/why/repeat?symptom=${encodeURIComponent(t.symptom)}`}>{t.dont ? "See why not" : "Open the card"}</a>
        </Card>
      ))}
      {m.trials.map((t) => <Trial key={t.entry} trial={t} />)}
      {m.trials.length === 0 && <a class="button" id="try" href="/try">Try something, and find out if it helps</a>}
      {m.due.length > 0 && (
        <Card title="Before riding">
          <ul class="due">
            {m.due.map((n) => (
              <li key={n.title}>
                <a class="due-row" href={n.href}><strong>{n.title}</strong><span class="due-says">{n.says}</span><span class="due-act">{n.act} <span aria-hidden="true">›</span></span></a>
              </li>
            ))}
          </ul>
        </Card>
      )}
      {m.found.length > 0 && (
        <Card tone="warn" title="Moved, and nobody said so">
          <ul class="plain">{m.found.map((f) => <li key={f.entry}>{f.title}. {f.window}.</li>)}</ul>
          <a class="button" href="/counted">Look at it</a>
        </Card>
      )}
      <Stands m={m} />
      <Unsafe />
    </>
  );
}

/** A kind word when the book lives on this phone only, and what to do. */
function Unsafe() {
  const says = sync.unsafe(useSignal(sync.state));
  const kept = useSignal(install.persisted);
  if (!says) return null;
  return (
    <Card tone="warn" title="Keep your book safe" id="unsafe">
      <p>{says}</p>
      {kept === false && <p>And this browser may clear them when the phone runs full.</p>}
      <a class="button" href="/keep">Save a copy</a>
    </Card>
  );
}

function Stands(p: { m: Model }) {
  const { standing, drift, advice } = p.m;
  return (
    <Card title="How it stands">
      {p.m.plumb && <a class="hanging-link" href="/bike" aria-label="The bike against its line"><Hanging plumb={p.m.plumb} /></a>}
      <p>Settings: {standing.says}.</p>
      {drift && <p>Line '{drift.line}': {drift.says}</p>}
      {drift && drift.list.length > 0 && <ul class="drift">{drift.list.map((x) => <li key={x}>{x}</li>)}</ul>}
      <div class="row">
        {drift
          ? <a class="button" id="wayback" href="/wayback">{drift.moved > 0 ? "Way back" : "Lines"}</a>
          : <a class="button" id="wayback" href="/wayback?draw">Draw the first line</a>}
        <a class="button" id="worked" href="/worked">What worked here</a>
      </div>
      {advice > 0 && <p><a href="/said">{advice === 1 ? "1 piece of advice is open" : `${advice} pieces of advice are open`}</a></p>}
    </Card>
  );
}

function Trial(p: { trial: OnTrial }) {
  const t = p.trial;
  return (
    <Card id={`trial-${t.entry}`}>
      <h2>On trial</h2>
      <p><strong>{t.title}</strong></p>
      <p>{t.plan}, since {t.since}{t.idea && `; ${t.idea}'s idea`}{t.why && `; because: ${t.why}`}.</p>
      {t.expect && <p>Expected: {t.expect}.</p>}
      <p>{t.progress}</p>
      {t.spoiled && <p class="hint">{t.spoiled}</p>}
      {t.more && <p class="hint">You wanted to ride more first.</p>}
      <p><strong>Next:</strong> {t.next}</p>
      <a class="button button-main" href={`/trial/${t.entry}`}>Open the trial</a>
    </Card>
  );
}
