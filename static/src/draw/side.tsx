// The bike from its side as it was measured, now against the line.
import type { Side } from "../models/side";
import { DataTable } from "../ui/table";
import { SceneDrawing } from "./scene";

export function SideView(p: { side: Side }) {
  const { scene, says, against, rows, missing, link, note } = p.side;
  const line = rows.some((r) => r.line);
  return (
    <>
      {scene && <SceneDrawing scene={scene} />}
      <p>{says}</p>
      {against && <p><strong>{against}</strong></p>}
      {rows.length > 0 && <DataTable name="Dimensions" head={line ? ["", "Now", "Line", "Moved"] : ["", "Now"]} rows={rows.map((r) => (line ? [r.name, r.now, r.line ?? "", r.more ?? ""] : [r.name, r.now]))} />}
      {note && <p class="hint">{note}</p>}
      <a class="button" href={link}>{missing.length > 0 ? "Measure it" : "Measure again"}</a>
    </>
  );
}
