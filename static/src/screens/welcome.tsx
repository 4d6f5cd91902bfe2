// The first thing seen on a phone without a book: three ways to begin.
import { useRef, useState } from "preact/hooks";
import * as books from "../book";
import * as core from "../core";
import { persist } from "../install";
import * as relay from "../relay";
import { go } from "../router";
import { BigAction, Button, RefusalFor, Sheet, TextField } from "../ui";

export function Welcome() {
  const [joining, setJoining] = useState(false);
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
      <p class="lead">The book of your bike: what is set, who changed it, why, and whether it helped. It lives on this phone and needs no signal.</p>
      <div class="actions">
        <BigAction icon="notebook-pen" label="Start your book" detail="A first look at your bike, about fifteen minutes" onClick={() => void begin()} main />
        <BigAction icon="book-open" label="See an example" detail="A season of somebody else's bike" onClick={() => void look()} />
        <BigAction icon="smartphone" label="Join a book" detail="With a code from your other phone" onClick={() => setJoining(true)} />
      </div>
      {slow && <p role="status">The app is still starting. Try again in a moment.</p>}
      <Join open={joining} onClose={() => setJoining(false)} />
    </>
  );
}

function Join(p: { open: boolean; onClose: () => void }) {
  const [code, setCode] = useState("");
  const [refusals, setRefusals] = useState<core.Refusal[]>([]);
  // Kept for another try: when the answer got lost, the relay knows them.
  const self = useRef({ device: core.uuid(), key: relay.newKey() });
  const join = async () => {
    const { device, key } = self.current;
    try {
      await books.joined(await relay.join(code.trim(), device, key), device, key);
      go("/", { replace: true });
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

function why(err: unknown): core.Refusal {
  if (err instanceof relay.Refused) return { field: "code", says: "This code does not work.", mend: "Ask for a new one; codes are good for a short time." };
  return { field: "", says: "There is no way to the server now.", mend: "Try again where you have signal." };
}
