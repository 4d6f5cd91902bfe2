// The setup sheet of the bike: to read, to print, as a picture, as data, and
// as codes that another phone reads with no network at all.
import { useEffect, useState } from "preact/hooks";
import { useView } from "../book";
import { Code } from "../draw/code";
import { SheetPage } from "../draw/sheet";
import { picture } from "../draw/sheetpicture";
import type { Sheet as Model, SheetCodes } from "../models/sheet";
import { handOver } from "../save";
import { Button, Card, Choices, NoBike, RefusalList } from "../ui";

const extras = [
  { value: "names", label: "People's names", detail: "else initials" },
  { value: "notes", label: "My own notes" },
] as const;
type Extra = (typeof extras)[number]["value"];

export function Sheet() {
  const [shown, show] = useState<Extra[]>([]);
  const args = { names: shown.includes("names"), notes: shown.includes("notes") };
  const { model, refusals } = useView<Model>("sheet", args);
  const [coded, setCoded] = useState(false);
  const [said, say] = useState("");
  if (!model) return <NoBike refusals={refusals} />;
  const asPicture = async () => {
    say("");
    try {
      await handOver(await picture(model), "setup-sheet.png");
    } catch {
      say("The picture could not be made. Print the sheet instead.");
    }
  };
  const asData = () => handOver(new Blob([`${JSON.stringify(model, null, 1)}\n`], { type: "application/json" }), "setup-sheet.json");
  return (
    <>
      <div class="setup-tools">
        <Choices legend="Show on it" options={extras} value={shown} onChange={show} />
        <div class="row">
          <Button id="as-code" main onClick={() => setCoded(!coded)}>{coded ? "Hide the code" : "Show as a code"}</Button>
        </div>
        {coded && <Codes args={args} />}
        <div class="row">
          <Button onClick={() => print()}>Print</Button>
          <Button onClick={() => void asPicture()}>Picture</Button>
          <Button onClick={() => void asData()}>Data</Button>
        </div>
        <p role="status">{said}</p>
        <p><a href="/r">Read somebody else's sheet</a></p>
      </div>
      <SheetPage sheet={model} />
    </>
  );
}

function Codes(p: { args: { names: boolean; notes: boolean } }) {
  const { model, refusals } = useView<SheetCodes>("sheet.codes", { ...p.args, link: `${location.origin}/r#` });
  const [at, setAt] = useState(0);
  const [alone, setAlone] = useState(() => !matchMedia("(prefers-reduced-motion: reduce)").matches);
  const many = model?.codes.length ?? 0;
  useEffect(() => {
    if (!alone || many < 2) return;
    const timer = setInterval(() => setAt((n) => (n + 1) % many), 2500);
    return () => clearInterval(timer);
  }, [alone, many]);
  if (!model) return <RefusalList refusals={refusals} />;
  const i = Math.min(at, many - 1);
  const turn = (by: number) => {
    setAlone(false);
    setAt((i + by + many) % many);
  };
  return (
    <Card>
      <Code code={model.codes[i]!} label={`Code ${i + 1} of ${many} of the setup sheet`} />
      <p>{many === 1 ? "Point the other phone's camera at it." : `Code ${i + 1} of ${many}: the other phone reads all of them, in any order.`}</p>
      {many > 1 && (
        <div class="row">
          <Button onClick={() => turn(-1)}>Before</Button>
          <Button onClick={() => setAlone(!alone)}>{alone ? "Hold" : "Run"}</Button>
          <Button onClick={() => turn(1)}>Next</Button>
        </div>
      )}
      <p class="hint">No network is needed. What the code says goes from screen to camera, and to nobody else.</p>
    </Card>
  );
}
