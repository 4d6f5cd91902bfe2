// Who else may see or keep this book: links to the sheet, phones, the recovery
// phrase, and the end of the copy at the server.
import { useEffect, useState } from "preact/hooks";
import * as books from "../book";
import { current, lookUp, useView, type Refusal, type ShelfBook } from "../book";
import { newKey, random, uuid } from "../chance";
import { Code } from "../draw/code";
import type { People } from "../models/amend";
import type { BikePage } from "../models/bike";
import type { SheetCode } from "../models/sheet";
import * as relay from "../relay";
import { handOver } from "../save";
import { useSignal } from "../usesignal";
import { Button, Card, Choice, Choices, RefusalList, Sheet } from "../ui";

/** A book that the server has, and the key to it. */
type Kept = ShelfBook & { token: string };

export function Share() {
  const book = useSignal(current);
  if (!book) return null;
  if (book.example) return <p class="lead">The example stays on this phone, so there is nothing to share. Its <a href="/sheet">sheet</a> can be shown as a code.</p>;
  if (book.alone) return <p class="lead">You had the copy at the server deleted. This book is on this phone only: <a href="/keep">save a copy</a> now and then.</p>;
  if (!book.known || !book.token) return <p class="lead" role="status">The server does not have this book yet. Come back when it says 'backed up'. With no network, <a href="/sheet">show the sheet as a code</a>.</p>;
  const kept = { ...book, token: book.token };
  return (
    <>
      <Links book={kept} />
      <Phones book={kept} />
      <Recovery book={kept} />
      <Remove book={kept} />
    </>
  );
}

const noWay: Refusal = { field: "", says: "There is no way to the server now.", mend: "Try again where you have signal." };
const refusedBy = (err: unknown): Refusal[] => [err instanceof relay.Refused ? { field: "", says: `${err.message}.` } : noWay];

const lives = [{ value: "7", label: "A week" }, { value: "31", label: "A month" }, { value: "365", label: "A year" }] as const;
const mays = [{ value: "look", label: "Look" }, { value: "propose", label: "Look and propose", detail: "nothing is turned until you say so" }] as const;
const extras = [{ value: "names", label: "People's names", detail: "else initials" }, { value: "notes", label: "My own notes" }, { value: "photos", label: "Photos of the bike", detail: "the newest twelve" }] as const;

function Links(p: { book: Kept }) {
  const [list, setList] = useState<relay.Link[]>();
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const [making, setMaking] = useState(false);
  const read = () => relay.links(p.book.id, p.book.token).then(setList, (err) => setRefusals(refusedBy(err)));
  useEffect(() => void read(), [p.book.id]);
  const revoke = async (id: string) => {
    try {
      await relay.revokeLink(p.book.id, p.book.token, id);
      setRefusals([]);
    } catch (err) {
      setRefusals(refusedBy(err));
    }
    await read();
  };
  return (
    <Card title="Links to your sheet">
      <p>Whoever has a link sees the sheet as it is when they open it, on any phone, with nothing to install.</p>
      {list?.map((l) => <OneLink key={l.id} link={l} secret={p.book.links?.[l.id]} onRevoke={() => void revoke(l.id)} />)}
      <RefusalList refusals={refusals} />
      <Button id="make-link" main onClick={() => setMaking(true)}>Make a link</Button>
      <Sheet title="Make a link" open={making} onClose={() => setMaking(false)}>
        <MakeLink book={p.book} onDone={() => { setMaking(false); void read(); }} />
      </Sheet>
    </Card>
  );
}

const date = (iso: string) => new Date(iso).toLocaleDateString("en-GB", { day: "numeric", month: "short", year: "numeric" });

function OneLink(p: { link: relay.Link; secret?: string | undefined; onRevoke: () => void }) {
  const l = p.link;
  const over = new Date(l.expires).getTime() < Date.now();
  const [shown, show] = useState(false);
  const [said, say] = useState("");
  const url = p.secret && `${location.origin}/s/${p.secret}`;
  const send = async () => {
    try {
      if (navigator.share) await navigator.share({ url: url! });
      else await navigator.clipboard.writeText(url!).then(() => say("Copied."));
    } catch {
      show(true);
    }
  };
  return (
    <section class="shared" data-link={l.id}>
      <p><strong>{l.may === "propose" ? "Look and propose" : "Look"}</strong>, {over ? "ended" : "until"} {date(l.expires)}, opened {l.opened === 1 ? "once" : `${l.opened} times`}</p>
      {url
        ? (
          <div class="row">
            <Button onClick={() => void send()}>Send</Button>
            <Button onClick={() => show(!shown)}>{shown ? "Hide" : "Show"}</Button>
            <Button danger onClick={p.onRevoke}>Take back</Button>
          </div>
        )
        : <div class="row"><span class="hint">Made on another phone.</span><Button danger onClick={p.onRevoke}>Take back</Button></div>}
      <p role="status">{said}</p>
      {shown && url && <Address url={url} />}
    </section>
  );
}

// The link as words and as a code for a camera.
function Address(p: { url: string }) {
  const { model } = useView<SheetCode>("code", { text: p.url });
  return (
    <>
      {model && <Code code={model} label="Code of the link" />}
      <p class="words">{p.url}</p>
    </>
  );
}

function MakeLink(p: { book: Kept; onDone: () => void }) {
  const { model } = useView<BikePage>("bike", {});
  const [may, setMay] = useState<(typeof mays)[number]["value"]>("look");
  const [days, setDays] = useState<(typeof lives)[number]["value"]>("7");
  const [shown, setShown] = useState<(typeof extras)[number]["value"][]>([]);
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  if (!model) return null;
  const make = async () => {
    const id = uuid();
    const secret = newKey();
    const link = { id, secret, may, bike: model.bike.bike, names: shown.includes("names"), notes: shown.includes("notes"), photos: shown.includes("photos"), expires: new Date(Date.now() + Number(days) * 86_400_000).toISOString() };
    try {
      await books.mend({ links: { ...current.get()?.links, [id]: secret } }); // kept before it is told, or nobody could send it
      await relay.makeLink(p.book.id, p.book.token, link);
      p.onDone();
    } catch (err) {
      setRefusals(refusedBy(err));
    }
  };
  return (
    <>
      <Choice legend="What may they do?" options={mays} value={may} onChange={setMay} />
      <Choice legend="For how long?" options={lives} value={days} onChange={setDays} />
      <Choices legend="Show on it" options={extras} value={shown} onChange={setShown} />
      <RefusalList refusals={refusals} />
      <Button id="made-link" main onClick={() => void make()}>Make it</Button>
    </>
  );
}

function Phones(p: { book: Kept }) {
  const { model } = useView<People>("people");
  const [list, setList] = useState<{ device: string; since: string }[]>();
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const [sure, setSure] = useState("");
  const read = () => relay.devices(p.book.id, p.book.token).then(setList, (err) => setRefusals(refusedBy(err)));
  useEffect(() => void read(), [p.book.id]);
  const revoke = async (device: string) => {
    setSure("");
    await relay.revokeDevice(p.book.id, p.book.token, device).catch((err) => setRefusals(refusedBy(err)));
    await read();
  };
  const name = (id: string) => (id === "recovery" ? "Recovery phrase" : (model?.devices.find((d) => d.id === id)?.name ?? "A phone"));
  return (
    <Card title="Phones that keep this book">
      <ul class="plain">
        {list?.map((d) => (
          <li key={d.device}>
            <strong>{name(d.device)}</strong>{d.device === p.book.device && " (this one)"}, since {date(d.since)}
            {d.device !== p.book.device && (sure === d.device
              ? (
                <div class="row">
                  <Button danger onClick={() => void revoke(d.device)}>Shut it out</Button>
                  <Button onClick={() => setSure("")}>Leave it</Button>
                </div>
              )
              : <div class="row"><Button onClick={() => setSure(d.device)}>Shut out {name(d.device)}</Button></div>)}
          </li>
        ))}
      </ul>
      <RefusalList refusals={refusals} />
      <p class="hint">A phone that is shut out keeps what it has, but gets nothing new and changes nothing here. <a href="/keep">Let another phone join</a></p>
    </Card>
  );
}

function Recovery(p: { book: Kept }) {
  const [words, setWords] = useState("");
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const make = async () => {
    const made = await lookUp<{ words: string; key: string }>("phrase.new", { random: random(16) });
    if (!made.model) return setRefusals(made.refusals);
    try {
      await relay.keepRecovery(p.book.id, p.book.token, made.model.key);
      setWords(made.model.words);
      setRefusals([]);
    } catch (err) {
      setRefusals(refusedBy(err));
    }
  };
  return (
    <Card title="The day the phone is lost">
      <p>Nine words that open this book on a new phone. Write them on paper; who has them has your book. A new phrase ends the old one.</p>
      {words && (
        <>
          <div class="phrase-paper">
            <p class="phrase-head"><strong>The recovery phrase of '{p.book.name}'</strong>, made on {date(new Date().toISOString())}. On a new phone open {location.host}, tap 'I lost my phone', and type these nine words.</p>
            <ol class="phrase" aria-label="Recovery phrase">{words.split(" ").map((w, i) => <li key={i}>{w}</li>)}</ol>
            <p class="phrase-head">Who has these words has the book. Keep them where you keep the bike's papers, not with the phone.</p>
          </div>
          <p class="hint">They are shown once. Plumbline does not keep them.</p>
          <Button onClick={() => print()}>Print</Button>
        </>
      )}
      <RefusalList refusals={refusals} />
      <Button id="make-phrase" onClick={() => void make()}>{words ? "Make another phrase" : "Make a phrase"}</Button>
    </Card>
  );
}

function Remove(p: { book: Kept }) {
  const [sure, setSure] = useState(false);
  const [refusals, setRefusals] = useState<Refusal[]>([]);
  const remove = async () => {
    try {
      const receipt = await relay.remove(p.book.id, p.book.token);
      await handOver(new Blob([`${JSON.stringify(receipt, null, 1)}\n`], { type: "application/json" }), "deletion-receipt.json");
      await books.mend({ alone: true, known: false, links: {}, backedUp: 0, sent: 0 }, p.book.id);
    } catch (err) {
      setRefusals(refusedBy(err));
    }
  };
  return (
    <Card title="Delete the server's copy" tone="quiet">
      <p>For good, with its links and proposals. This phone keeps the book; this server will not take it again, from any phone. You get a receipt.</p>
      <RefusalList refusals={refusals} />
      {sure
        ? (
          <div class="row">
            <Button danger id="removed" onClick={() => void remove()}>Delete it for good</Button>
            <Button onClick={() => setSure(false)}>Leave it</Button>
          </div>
        )
        : <Button danger onClick={() => setSure(true)}>Delete the server's copy</Button>}
    </Card>
  );
}
