// The large grid of adjusters to pick from, grouped as they sit on the bike.
import type { TileGroup } from "../models/choices";

const marks = { counted: "●", assumed: "◐", unknown: "○" };

export function Tiles(p: { groups: readonly TileGroup[]; onPick: (id: string) => void }) {
  return (
    <>
      {p.groups.map((g) => (
        <section key={g.name} class="tiles">
          <h2>{g.name}</h2>
          <div class="tile-grid">
            {g.tiles.map((t) => (
              <button key={t.id} type="button" class={`tile tile-${t.standing}`} data-adjuster={t.id} onClick={() => p.onPick(t.id)}>
                <span class="tile-name">{t.name}</span>
                <span class="tile-at"><span aria-hidden="true">{marks[t.standing]} </span>{t.at}</span>
                {t.standing !== "unknown" && <span class="tile-standing">{t.standing}</span>}
              </button>
            ))}
          </div>
        </section>
      ))}
    </>
  );
}
