// Reading somebody's setup sheet: from the address's # part, where a camera
// put it, or with the app's own scanner. It stays on this phone.
import { useEffect, useState } from "preact/hooks";
import { current, look, lookUp, type Refusal } from "../book";
import { SheetPage } from "../draw/sheet";
import type { ComparedSheets, ReadSheet as Read, Sheet as Model } from "../models/sheet";
import { scan } from "../scan";
import { useSignal } from "../usesignal";
import { Button, Card, RefusalList } from "../ui";

// What was read so far, for the codes of a series that a camera opens one by
// one, and the sheets that were read, the newest first.
const partsKey = "sheet-parts";
const keptKey = "sheets-read";
const mostKept = 12;

const mostParts = 40;

const kept = (key: string): string[] => JSON.parse(localStorage.getItem(key) ?? "[]") as string[];
const keep = (key: string, texts: string[]) => localStorage.setItem(key, JSON.stringify(texts));

export function ReadSheet() {
  const [read, setRead] = useState<Read>();
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const [scanning, setScanning] = useState(false);
  const [sheets, setSheets] = useState(() => kept(keptKey));

  const take = async (text: string) => {
    const texts = [...kept(partsKey).filter((t) => t !== text), text].slice(-mostParts);
    const seen = await lookUp<Read>("sheet.read", { texts });
    setRefusals(seen.refusals);
    if (!seen.model) return;
    setRead(seen.model);
    keep(partsKey, seen.model.sheet ? [] : texts);
    if (!seen.model.sheet) return;
    const whole = JSON.stringify(seen.model.sheet);
    const now = [whole, ...kept(keptKey).filter((s) => s !== whole)].slice(0, mostKept);
    keep(keptKey, now);
    setSheets(now);
    setScanning(false);
  };

  useHash(take);
  return (
    <>
      <RefusalList refusals={refusals} />
      {read && !read.sheet && (
        <Card tone="warn"><p role="status">{`${read.of - read.missing.length} of ${read.of} codes read. Still to scan: ${read.missing.join(", ")}.`}</p></Card>
      )}
      {read?.sheet && <Seen sheet={read.sheet} />}
      <Button id="scan" main onClick={() => setScanning(!scanning)}>{scanning ? "Stop scanning" : "Scan a sheet"}</Button>
      {scanning && <Scanner onText={(t) => void take(t)} onWrong={(says, mend) => { setScanning(false); setRefusals([{ field: "", says, mend }]); }} />}
      {sheets.length > 0 && (
        <Card title="Sheets read on this phone" tone="quiet">
          {sheets.map((text) => {
            const s = JSON.parse(text) as Model;
            return <Button key={text} onClick={() => setRead({ sheet: s, of: 1, missing: [] })}>{`${s.bike.name}, ${s.made}`}</Button>;
          })}
          <Button danger onClick={() => { keep(keptKey, []); setSheets([]); setRead(undefined); }}>Forget them all</Button>
        </Card>
      )}
      {!read && sheets.length === 0 && <p class="hint">A rider shows a code; your camera reads it. Nothing is sent anywhere.</p>}
    </>
  );
}

// useHash hands over what stands behind the address's #, now and when it
// changes, and takes it out of the address when it is read: not before, because
// the screen is made anew when the book opens.
function useHash(take: (content: string) => Promise<void>) {
  useEffect(() => {
    const read = () => {
      const content = decodeURIComponent(location.hash.slice(1));
      if (content) void take(content).then(() => history.replaceState(null, "", location.pathname));
    };
    read();
    addEventListener("hashchange", read);
    return () => removeEventListener("hashchange", read);
  }, []);
}

function Scanner(p: { onText: (text: string) => void; onWrong: (says: string, mend: string) => void }) {
  const [video, setVideo] = useState<HTMLVideoElement | null>(null);
  useEffect(() => {
    if (!video) return;
    return scan(video, p.onText, () => p.onWrong("The camera cannot be used.", "Allow it in the browser's settings, or open the code with the phone's own camera."));
  }, [video]);
  return <video ref={setVideo} class="scanner" muted playsInline aria-label="What the camera sees" />;
}

function Seen(p: { sheet: Model }) {
  const book = useSignal(current);
  const [against, setAgainst] = useState<ComparedSheets>();
  const compare = async () => setAgainst((await look<ComparedSheets>("sheet.compare", { other: p.sheet }))?.model);
  return (
    <>
      {book && !against && <Button id="beside" onClick={() => void compare()}>Lay it beside mine</Button>}
      {against && <Beside compared={against} />}
      <SheetPage sheet={p.sheet} />
    </>
  );
}

function Beside(p: { compared: ComparedSheets }) {
  const c = p.compared;
  return (
    <Card title={c.differ === 0 ? "All settings are the same" : `${c.differ} settings differ`}>
      <table class="beside">
        <caption class="away">Mine beside theirs</caption>
        <thead><tr><th scope="col">Setting</th><th scope="col">Mine</th><th scope="col">Theirs</th></tr></thead>
        <tbody>
          {c.pairs.map((x) => (
            <tr key={x.id} class={x.differs ? "differs" : undefined}>
              <th scope="row">{x.differs && <span class="differs-mark" aria-hidden="true">≠</span>}{x.name}{x.differs && <span class="away"> differs</span>}</th>
              <td>{x.a || "–"}</td>
              <td>{x.b || "–"}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Card>
  );
}
