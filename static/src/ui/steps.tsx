// How far something was turned: the common moves in one tap, more by one step.
import { Button } from "./parts";
import type { Picked } from "../models/turned";

export function Steps(p: { picked: Picked; steps: number; onChange: (steps: number) => void }) {
  const { quick, forth, forthIs, back, backIs } = p.picked;
  const rows = [
    { way: forth, is: forthIs, moves: quick.filter((q) => q.steps > 0) },
    { way: back, is: backIs, moves: quick.filter((q) => q.steps < 0) },
  ];
  return (
    <div class="steps" role="group" aria-label="How far">
      {rows.map((row, i) => (
        <div key={i} class="steps-way">
          {row.is && <p class="quiet"><strong>{row.way}</strong>: {row.is}</p>}
          <div class="steps-row">
            {row.moves.map((q) => (
              <button key={q.steps} type="button" class="quick" data-steps={q.steps} aria-pressed={p.steps === q.steps ? "true" : "false"} onClick={() => p.onChange(q.steps)}>
                {q.name}
              </button>
            ))}
          </div>
        </div>
      ))}
      <div class="steps-more">
        <Button onClick={() => p.onChange(p.steps + 1)}>One more {forth}</Button>
        <Button onClick={() => p.onChange(p.steps - 1)}>One more {back}</Button>
      </div>
      <output class="steps-says">
        {p.steps !== 0 && p.picked.says && <strong>{p.picked.says}.</strong>}
        {p.steps !== 0 && p.picked.effect && <span> For the bike: {p.picked.effect}.</span>}
        {p.steps !== 0 && p.picked.geometry && <span> {p.picked.geometryLink ? <a href={p.picked.geometryLink}>{p.picked.geometry}</a> : `${p.picked.geometry}.`}</span>}
        {p.steps !== 0 && p.picked.outside && <span class="refusal">{p.picked.outside}</span>}
      </output>
    </div>
  );
}
