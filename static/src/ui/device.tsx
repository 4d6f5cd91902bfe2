// What this phone is called in the book, and who holds it.
import { useState } from "preact/hooks";
import { useDraft } from "../book";
import { useHandIn } from "../form";
import type { People as Model } from "../models/amend";
import type { Who } from "../models/choices";
import { Form } from "./form";
import { Button, Card } from "./parts";
import { People } from "./people";
import { RefusalList } from "./refusal";
import { TextField } from "./text";

export function Device(p: { m: Model; title?: string; onDone?: () => void }) {
  const { here, holders } = p.m;
  const [form, change, forget] = useDraft<{ name: string; holder: Who }>("device", { ...here, name: here.name || guess() });
  const [saved, setSaved] = useState(false);
  const { refusals, send } = useHandIn("device", "device", p.onDone ?? (() => setSaved(true)));
  return (
    <Form onSubmit={() => send(form, p.onDone && forget)}>
      <Card title={p.title ?? "This phone"}>
        <TextField label="What this phone is called" name="device-name" value={form.name} onChange={(name) => { setSaved(false); change({ name }); }} refusals={refusals} />
        <People legend="Who holds it?" people={holders} value={form.holder} onChange={(holder) => { setSaved(false); change({ holder }); }} name="holder" refusals={refusals} />
        <p class="hint">What is turned here is put down to whoever holds the phone, unless you say otherwise.</p>
        <RefusalList refusals={refusals} except={["device-name"]} />
        <Button id="save-device" main={p.onDone !== undefined} submit>Write it down</Button>
        <p role="status" class="saved">{saved && "It is in the book."}</p>
      </Card>
    </Form>
  );
}

/** guess is a first name for this phone, out of what its browser says. */
export function guess(): string {
  const it = navigator.userAgent;
  if (it.includes("iPhone")) return "iPhone";
  if (it.includes("Android")) return it.includes("Mobile") ? "Android phone" : "Android tablet";
  return "Computer";
}
