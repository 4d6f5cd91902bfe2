// The setup sheet as a page: on screen in one column, in print on one sheet of
// paper. Everything on it is ready to read.
import type { Sheet, SheetChange, SheetRow, SheetSetting } from "../models/sheet";

const joined = (...parts: (string | number | undefined)[]) => parts.filter(Boolean).join(", ");
const after = (mark: string, ...parts: (string | undefined)[]) => joined(...parts) && mark + joined(...parts);

export function SheetPage(p: { sheet: Sheet }) {
  const s = p.sheet;
  return (
    <article class="setup" aria-label={`Setup sheet of ${s.bike.name}`}>
      <header class="setup-head">
        <h2>{s.bike.name}</h2>
        <p>{joined(s.bike.year, s.bike.class, s.bike.tyres)}</p>
        <p>{joined(s.rider, `sheet of ${s.made}`)}</p>
      </header>
      {s.stop && <p class="setup-stop"><strong>Stop.</strong> {s.stop}</p>}
      <div class="setup-body">
        <Settings line={s.line} settings={s.settings} />
        <Rows title="Measured" rows={s.measures} />
        <Rows title="Service, parts, falls" rows={s.history} />
        <Changes changes={s.changes} />
        <Rows title="Felt" rows={s.symptoms} />
        <Rows title="Likely causes" rows={s.causes} />
        <Rows title="Checks still to make" rows={s.checks} />
      </div>
    </article>
  );
}

function Settings(p: { line?: string | undefined; settings: SheetSetting[] }) {
  const known = p.settings.filter((x) => x.standing !== "unknown");
  const unknown = p.settings.filter((x) => x.standing === "unknown").map((x) => x.name);
  const drifted = known.some((x) => x.drift);
  return (
    <section>
      <h3>Settings</h3>
      {p.line && <p>The line: {p.line}</p>}
      <table>
        <thead><tr><th scope="col">Adjuster</th><th scope="col">Now</th>{drifted && <th scope="col">From the line</th>}</tr></thead>
        <tbody>
          {known.map((x) => (
            <tr key={x.id}>
              <th scope="row">{x.name}</th>
              <td>{x.at}{x.standing === "assumed" && " (assumed)"}</td>
              {drifted && <td>{x.drift ?? ""}</td>}
            </tr>
          ))}
        </tbody>
      </table>
      {unknown.length > 0 && <p>Not known: {unknown.join(", ")}.</p>}
    </section>
  );
}

function Rows(p: { title: string; rows?: SheetRow[] | undefined }) {
  if (!p.rows?.length) return null;
  return (
    <section>
      <h3>{p.title}</h3>
      <ul>
        {p.rows.map((r, i) => <li key={i}><strong>{r.title}</strong>{after(": ", r.says, r.when)}</li>)}
      </ul>
    </section>
  );
}

function Changes(p: { changes?: SheetChange[] | undefined }) {
  if (!p.changes?.length) return null;
  return (
    <section>
      <h3>Last changes</h3>
      <ul>
        {p.changes.map((c, i) => (
          <li key={i}>
            <strong>{c.title}</strong>{after(", ", c.when, c.verdict)}
            <span class="setup-why">{joined(c.who && `turned by ${c.who}`, c.idea && `idea of ${c.idea}`, c.why)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
