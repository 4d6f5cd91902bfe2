// Keep and share: save the whole book as a file, read one back, let another
// phone join, switch between the books on this phone.
import { useEffect, useState } from "preact/hooks";
import { signal } from "../signal";
import { useSignal } from "../usesignal";
import * as books from "../book";
import { current } from "../book";
import * as copy from "../copy";
import type * as core from "../core";
import * as relay from "../relay";
import * as shelf from "../shelf";
import * as sync from "../sync";
import { go } from "../router";
import { handOver } from "../save";
import { Button, Card, RefusalFor } from "../ui";
import { Persistence } from "../ui/persistence";

export function Keep() {
  const book = useSignal(current);
  const state = useSignal(sync.state);
  return (
    <>
      {book && (
        <Card title={book.example ? "The example" : "This book"}>
          <p id="sync-words">{sync.inWords(state)}</p>
          {!book.example && <Button id="sync-now" onClick={sync.hurry}>Ask the server now</Button>}
          <Persistence />
          <SaveCopy book={book} />
        </Card>
      )}
      {book && (
        <Card title="Setup sheet">
          <p>One page that a tuner can work from: on paper, as a picture, or as a code on your screen with no signal at all.</p>
          <a class="button" href="/sheet">Make the sheet</a>
          <a class="button" href="/share">Links, phones, recovery phrase</a>
        </Card>
      )}
      {book && !book.example && <Invite book={book} />}
      <ReadCopy />
      <Shelf open={book?.id} />
      <p><a href="/phone">This phone: look, storage, version</a></p>
    </>
  );
}

function SaveCopy(p: { book: shelf.ShelfBook }) {
  const [said, say] = useState("");
  const save = async () => {
    say("Putting it together…");
    const out = await copy.save(p.book.id);
    say("");
    if (!(await handOver(out.file, out.name))) return;
    await sync.copied(p.book);
    say(`Saved. It can be read without this app: the file says how.${lacks(out.missing, "not on this phone, and not in it")}`);
  };
  return (
    <>
      <p>Everything in the book with its photos, as one file that is yours. Keep it somewhere else than on this phone.</p>
      <Button id="save-copy" main onClick={() => void save()}>Save a copy</Button>
      <p role="status">{said}</p>
    </>
  );
}

// lacks says that some photos are not where they should be.
function lacks(photos: number, where: string): string {
  return photos === 0 ? "" : ` ${photos === 1 ? "1 photo is" : `${photos} photos are`} ${where}.`;
}

function Invite(p: { book: shelf.ShelfBook }) {
  const [code, setCode] = useState("");
  const [wrong, setWrong] = useState<core.Refusal[]>([]);
  const ask = async () => {
    if (!p.book.known || !p.book.token) return setWrong([{ field: "", says: "The server does not have this book yet.", mend: "Try again when it says 'backed up'." }]);
    try {
      setCode((await relay.invite(p.book.id, p.book.token)).code);
      setWrong([]);
    } catch {
      setWrong([{ field: "", says: "There is no way to the server now.", mend: "Try again where you have signal." }]);
    }
  };
  return (
    <Card title="Another phone">
      <p>A code lets one more phone join this book. It works once, for ten minutes.</p>
      {code && <p class="code" id="join-code" aria-live="polite">{code.slice(0, 5)} {code.slice(5)}</p>}
      <Button id="invite" onClick={() => void ask()}>{code ? "Make another code" : "Make a code"}</Button>
      <RefusalFor refusals={wrong} field="" />
    </Card>
  );
}

// What became of the file that was read: the page is drawn anew when its book opens.
const readSays = signal("");

function ReadCopy() {
  const [wrong, setWrong] = useState<core.Refusal[]>([]);
  const said = useSignal(readSays);
  const say = (words: string) => readSays.set(words);
  const read = async (file: File | undefined) => {
    if (!file) return;
    setWrong([]);
    say("Reading…");
    try {
      const got = await copy.read(file, (n, of) => say(`Photo ${n} of ${of}`));
      say("");
      if (Array.isArray(got)) return setWrong(got);
      if (got.photos + got.lines === 0) return go("/");
      say(`Read.${lacks(got.photos, "missing in the file, or altered")}${got.lines > 0 ? ` ${got.lines === 1 ? "1 line does" : `${got.lines} lines do`} not fit and stayed out.` : ""}`);
    } catch (err) {
      say("");
      setWrong([{ field: "file", ...shelf.why(err) }]);
    }
  };
  return (
    <Card title="Read a copy">
      <label class="field">
        <span>A file that 'Save a copy' made</span>
        <input id="read-copy" type="file" accept=".zip,.jsonl,application/zip" onChange={(e) => void read(e.currentTarget.files?.[0])} />
      </label>
      <p role="status">{said}</p>
      <RefusalFor refusals={wrong} field="file" />
    </Card>
  );
}

function Shelf(p: { open?: string }) {
  const [list, setList] = useState<shelf.ShelfBook[]>([]);
  useEffect(() => void shelf.books().then(setList), [p.open]);
  const others = list.filter((b) => b.id !== p.open);
  const start = async () => {
    await books.create("My bike");
    go("/first-look");
  };
  return (
    <Card title="Books on this phone">
      {others.map((b) => (
        <Button key={b.id} onClick={() => void books.switchTo(b.id).then(() => go("/"))}>Open {b.name}{b.example ? " (example)" : ""}</Button>
      ))}
      <Button onClick={() => void start()}>Start a new book</Button>
    </Card>
  );
}
