// Photos of the bike and of single lines: a card that takes one and shows what
// is there. What is picked is made small and kept at once; only its words wait
// for a tap.
import { useEffect, useState } from "preact/hooks";
import { act, current, useDraft, useView, type Refusal } from "../book";
import type { PhotoForm, PhotoLine, PhotosPage } from "../models/photos";
import { arrived, NoPicture, take } from "../photo";
import * as shelf from "../shelf";
import { useSignal } from "../usesignal";
import { Button, Card } from "./parts";
import { Choice } from "./choice";
import { RefusalFor, RefusalList } from "./refusal";
import { Sheet } from "./sheet";
import { TextField } from "./text";

/** PhotoCard shows a bike's photos, and adds one. With what given, those of that tyre only. */
export function PhotoCard(p: { what?: string }) {
  const { model: m } = useView<PhotosPage>("photos", { what: p.what ?? "" });
  if (!m) return null;
  return (
    <Card title={p.what ? "Photos of this tyre" : "Photos"} id="photos">
      {m.photos.length === 0 ? <p>None in the book.</p> : <Photos list={m.photos} />}
      <Add m={m} draft={`photo:${p.what ?? ""}`} ask={!p.what} />
    </Card>
  );
}

/** LinePhotos shows the photos that belong to a line of the book, and adds one. */
export function LinePhotos(p: { entry: string }) {
  const { model: m } = useView<PhotosPage>("photos", { about: p.entry });
  if (!m || (!m.more && m.photos.length === 0)) return null;
  return (
    <Card title={m.photos.length > 0 ? "Photos" : undefined} id="photos">
      {m.photos.length > 0 && <Photos list={m.photos} here={p.entry} />}
      {m.more && (
        <details class="fold">
          <summary>{m.photos.length > 0 ? "Add another photo" : "Add a photo to this line"}</summary>
          <div class="fold-inside"><Add m={m} draft={`photo:${p.entry}`} about={p.entry} ask /></div>
        </details>
      )}
    </Card>
  );
}

function Photos(p: { list: PhotoLine[]; here?: string }) {
  return <ul class="photos">{p.list.map((l) => <li key={l.entry}><Photo line={l} here={p.here === l.entry} /></li>)}</ul>;
}

function Photo(p: { line: PhotoLine; here: boolean }) {
  const { line: l } = p;
  const url = usePhoto(l.photo);
  const [large, setLarge] = useState(false);
  return (
    <figure class="photo">
      {url ? <button type="button" class="photo-open" onClick={() => setLarge(true)}><img src={url} alt={l.alt} /></button> : <p class="photo-away">Not on this phone. It comes with the next backup, if the server or another of your phones has it.</p>}
      <figcaption>{p.here ? l.says : <a href={`/line/${l.entry}`}>{l.says}</a>}{l.note && <><br />{l.note}</>}</figcaption>
      <Sheet title={l.says} open={large} onClose={() => setLarge(false)}><img class="photo-large" src={url} alt={l.alt} />{l.note && <p>{l.note}</p>}</Sheet>
    </figure>
  );
}

// usePhoto is an address of a photo's bytes on this phone, while it is shown.
function usePhoto(name: string): string | undefined {
  const [url, set] = useState<string>();
  const book = useSignal(current)?.id;
  const n = useSignal(arrived);
  useEffect(() => {
    if (!book || url) return;
    void shelf.photo(book, name).then((bytes) => bytes && set(URL.createObjectURL(new Blob([bytes], { type: "image/jpeg" }))));
  }, [book, name, n, url]);
  useEffect(() => () => { if (url) URL.revokeObjectURL(url); }, [url]);
  return url;
}

// Add takes a photo. Where ask is set, the rider says what it shows.
function Add(p: { m: PhotosPage; draft: string; about?: string; ask?: boolean }) {
  const [form, change, forget] = useDraft<PhotoForm>(p.draft, { bike: "", photo: "", what: p.m.what ?? "", about: p.about ?? "", note: "" });
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const [busy, setBusy] = useState(false);
  const [saved, setSaved] = useState(0); // a fresh field after each
  const pick = async (file: File | undefined) => {
    const book = current.get()?.id;
    if (!file || !book) return;
    setBusy(true);
    setRefusals([]);
    try {
      change({ photo: await take(book, file) });
    } catch (err) {
      const says = err instanceof NoPicture ? { says: "This is no picture that your phone can read.", mend: "Take another one, or pick a JPEG." } : shelf.why(err);
      setRefusals([{ field: "photo", ...says }]);
    }
    setBusy(false);
  };
  const save = async () => {
    const book = current.get()?.id ?? "";
    if (!(await shelf.photo(book, form.photo))) { // swept away: it was struck out before
      change({ photo: "" });
      return setRefusals([{ field: "photo", says: "This picture is not on your phone any more.", mend: "Take it again." }]);
    }
    const done = await act("photo", { ...form, bike: p.m.bike }, p.draft);
    if ("refusals" in done) return setRefusals(done.refusals);
    forget();
    setSaved(saved + 1);
    setRefusals([]);
  };
  return (
    <form class="flow" onSubmit={(e) => { e.preventDefault(); void save(); }}>
      <div class="field">
        <label for="photo-file">{form.photo ? "Take another instead" : "Add a photo"}</label>
        <input id="photo-file" key={saved} type="file" accept="image/*" capture="environment" disabled={busy} onChange={(e) => void pick(e.currentTarget.files?.[0])} />
        <p class="hint">Made small on your phone; the place where you took it is left out. Only your own phones get it, and a link where you tick photos.</p>
      </div>
      <p role="status">{busy ? "Making it small…" : ""}</p>
      {form.photo && (
        <>
          <Taken key={form.photo} name={form.photo} />
          {p.ask && (
            <Choice legend="What does it show?" options={p.m.whats.map((w) => ({ value: w.id, label: w.name }))} value={form.what} onChange={(what) => change({ what })}>
              <RefusalFor refusals={refusals} field="what" />
            </Choice>
          )}
          <TextField label="Note, if you like" name="photo-note" value={form.note} onChange={(note) => change({ note })} />
        </>
      )}
      <RefusalList refusals={refusals.filter((r) => r.field !== "what")} />
      {form.photo && <Button main submit id="photo-save">Put it in the book</Button>}
    </form>
  );
}

function Taken(p: { name: string }) {
  const url = usePhoto(p.name);
  return url ? <img class="photo-taken" src={url} alt="The photo that you picked" /> : null;
}
