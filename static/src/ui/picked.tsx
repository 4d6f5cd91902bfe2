// What was picked from the tiles, and the way back to them.
import { Button } from "./parts";

export function Picked(p: { name: string; says: string; again: string; onAgain: () => void }) {
  return (
    <div class="picked">
      <h2>{p.name}</h2>
      <Button onClick={p.onAgain}>{p.again}</Button>
      <p>{p.says}</p>
    </div>
  );
}
