// A day at a track with its sessions and its trend.
import { TrendPicture } from "../draw/trend";
import type { DayRow } from "../models/days";
import { Card } from "./parts";

/** A day with its sessions; the picture opens. */
export function DayCard(p: { day: DayRow; open?: boolean }) {
  const d = p.day;
  return (
    <Card title={`${d.day}, ${d.track}`}>
      {(d.way || d.note || d.best) && <p class="quiet">{[d.best && `best ${d.best}`, d.way, d.note].filter(Boolean).join(", ")}</p>}
      {d.sessions.length === 0 && <p>No session yet.</p>}
      {d.trend.points.length > 1 && (
        <details class="more" open={p.open}>
          <summary>The trend of the day</summary>
          <p>{d.trend.says}</p>
          <TrendPicture trend={d.trend} />
        </details>
      )}
      <ol class="runs">
        {d.sessions.map((s) => (
          <li key={s.id}>
            {s.before.map((b) => <p key={b} class="run-before">{b}</p>)}
            <a class="run" href={`/session/${encodeURIComponent(s.id)}`}>
              <strong>{s.name}{s.time && `, ${s.time}`}</strong>
              <span>{[s.says, s.felt && `felt ${s.felt}`, s.wet && "wet"].filter(Boolean).join("; ")}</span>
            </a>
          </li>
        ))}
      </ol>
    </Card>
  );
}
