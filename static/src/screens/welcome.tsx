// The first thing seen on a phone without a book: three ways to begin.
import { useRef, useState } from "preact/hooks";
import * as books from "../book";
import { useView } from "../book";
import { newKey, uuid } from "../chance";
import * as core from "../core";
import { Emblem } from "../draw/emblem";
import { persist } from "../install";
import type { People } from "../models/amend";
import * as relay from "../relay";
import { go } from "../router";
import { BigAction, Button, RefusalFor, Sheet, TextField } from "../ui";
import { Device } from "../ui/device";

export function Welcome() {
  const [joining, setJoining] = useState(false);
  const [recovering, setRecovering] = useState(false);
  const [slow, setSlow] = useState(false);
  const begin = async () => {
    void persist();
    await books.create("My bike");
    go("/first-look", { replace: true });
  };
  const look = async () => {
    if (!core.isReady()) return setSlow(true);
    await books.example();
    go("/", { replace: true });
  };
  return (
    <>
      <Emblem />
      <p class="lead">The book of your bike: what is set, who changed it, why, and whether it helped. It lives on this phone and needs no signal.</p>
      <div class="actions">
        <BigAction icon="notebook-pen" label="Start your book" detail="A first look at your bike, about fifteen minutes" onClick={() => void begin()} main />
        <BigAction icon="book-open" label="See an example" detail="A season of somebody else's bike" onClick={() => void look()} />
        <BigAction icon="smartphone" label="Join a book" detail="With a code from your other phone" onClick={() => setJoining(true)} />
        <BigAction icon="key-round" label="I lost my phone" detail="With your recovery phrase" onClick={() => setRecovering(true)} />
      </div>
      {slow && <p role="status">The app is still starting. Try again in a moment.</p>}
      <Join open={joining} onClose={() => setJoining(false)} />
      <Recover open={recovering} onClose={() => setRecovering(false)} />
    </>
  );
}

/** A phone that has just joined a book: what it is called, and who holds it. */
export function Joined() {
  const { model: m } = useView<People>("people");
  if (!m?.book) return <p class="lead" role="status">The book is on its way. It comes as soon as there is signal.</p>;
  const done = () => {
    void books.mend({ name: m.book });
    go("/", { replace: true });
  };
  return (
    <>
      <p class="lead">This phone has joined '{m.book}'. Whatever either of you writes, both will have.</p>
      <Device m={m} title="Whose phone is this?" onDone={done} />
    </>
  );
}

function Join(p: { open: boolean; onClose: () => void }) {
  const [code, setCode] = useState("");
  const [refusals, setRefusals] = useState<core.Refusal[]>([]);
  // Kept for another try: when the answer got lost, the relay knows them.
  const self = useRef({ device: uuid(), key: newKey() });
  const join = async () => {
    void persist();
    const { device, key } = self.current;
    try {
      await books.joined(await relay.join(code.trim(), device, key), device, key);
      go("/joined", { replace: true });
    } catch (err) {
      setRefusals([why(err)]);
    }
  };
  return (
    <Sheet title="Join a book" open={p.open} onClose={p.onClose}>
      <TextField label="Code" name="code" value={code} onChange={setCode} refusals={refusals} />
      <RefusalFor refusals={refusals} field="" />
      <Button main onClick={() => void join()}>Join</Button>
    </Sheet>
  );
}

// The day the phone was lost: the phrase's key lets this phone make a join code
// for itself.
function Recover(p: { open: boolean; onClose: () => void }) {
  const [text, setText] = useState("");
  const [refusals, setRefusals] = useState<core.Refusal[]>([]);
  const self = useRef({ device: uuid(), key: newKey() });
  const recover = async () => {
    void persist();
    const read = await books.lookUp<{ key: string }>("phrase.read", { text });
    if (!read.model) return setRefusals(read.refusals);
    const { device, key } = self.current;
    try {
      const book = await relay.bookOf(read.model.key);
      const { code } = await relay.invite(book, read.model.key);
      await books.joined(await relay.join(code, device, key), device, key);
      go("/joined", { replace: true });
    } catch (err) {
      setRefusals([err instanceof relay.Refused && err.status === 403
        ? { field: "text", says: "This phrase opens no book on this server.", mend: "Is it the newest phrase, and the right server?" }
        : why(err)]);
    }
  };
  return (
    <Sheet title="Recovery phrase" open={p.open} onClose={p.onClose}>
      <TextField label="The nine words" name="text" value={text} onChange={setText} refusals={refusals} />
      <RefusalFor refusals={refusals} field="" />
      <Button main onClick={() => void recover()}>Open my book</Button>
    </Sheet>
  );
}

function why(err: unknown): core.Refusal {
  if (err instanceof relay.Refused) return { field: "code", says: "This code does not work.", mend: "Ask for a new one; codes are good for a short time." };
  return { field: "", says: "There is no way to the server now.", mend: "Try again where you have signal." };
}
