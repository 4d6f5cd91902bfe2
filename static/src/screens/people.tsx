// People and phones: who is in the book, under which name, and who writes.
import { useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { useHandIn } from "../form";
import type { People as Model, PersonLine } from "../models/amend";
import { Button, Card, Choice, Form, RefusalFor, RefusalList, Row, Rows, Sheet, TextField } from "../ui";
import { Device } from "../ui/device";

export function People() {
  const { model: m } = useView<Model>("people");
  const [opened, setOpened] = useState("");
  if (!m) return null;
  const person = m.people.find((x) => x.id === opened);
  const close = () => setOpened("");
  return (
    <>
      <Card title="People">
        <Rows>
          {m.people.map((x) => <Row key={x.id} onClick={() => setOpened(x.id)} title={x.name} says={[x.says, x.names.length > 0 && `also ${x.names.map((n) => n.name).join(", ")}`].filter(Boolean).join("; ")} />)}
        </Rows>
        <Button id="add-person" onClick={() => setOpened("+")}>Add somebody</Button>
      </Card>
      <Device m={m} />
      <Card title="Phones that write in this book">
        <ul class="plain">{m.devices.map((d, i) => <li key={i}><strong>{d.name}</strong>{d.here && " (this one)"}<br /><span class="quiet">{d.says}</span></li>)}</ul>
      </Card>
      <Sheet title={person?.name ?? "Somebody new"} open={opened !== ""} onClose={close}>
        <Edit key={opened} m={m} person={person} onDone={close} />
        {person && <Same m={m} person={person} onDone={close} />}
      </Sheet>
    </>
  );
}

function Edit(p: { m: Model; person: PersonLine | undefined; onDone: () => void }) {
  const key = `person:${p.person?.id ?? "+"}`;
  const [form, change, forget] = useDraft(key, { name: p.person?.name ?? "", role: p.person?.role ?? "friend" });
  const { refusals, send } = useHandIn("person", key, p.onDone);
  return (
    <Form onSubmit={() => send({ id: p.person?.id ?? "", ...form }, forget)}>
      <TextField label="Name, or initials" name="name" value={form.name} onChange={(name) => change({ name })} refusals={refusals} />
      <Choice legend="Who are they to you?" options={p.m.roles.map((r) => ({ value: r.id, label: r.name }))} value={form.role} onChange={(role) => change({ role })} />
      <RefusalList refusals={refusals} except={["name"]} />
      <Button main submit>Write it down</Button>
    </Form>
  );
}

/** Two names of one person: what they did is then told under one. */
function Same(p: { m: Model; person: PersonLine; onDone: () => void }) {
  const [other, setOther] = useState("");
  const { refusals, send } = useHandIn("person", undefined, p.onDone);
  const others = p.m.people.filter((x) => x.id !== p.person.id);
  return (
    <>
      {p.person.names.map((n) => <Button key={n.id} onClick={() => void send({ id: n.id, same: n.id })}>{n.name} is somebody else after all</Button>)}
      {others.length > 0 && (
        <details class="more">
          <summary>The same person as somebody else here</summary>
          <div class="flow">
            <Choice legend={`${p.person.name} is really`} options={others.map((x) => ({ value: x.id, label: x.name }))} value={other} onChange={setOther}>
              <RefusalFor refusals={refusals} field="same" />
            </Choice>
            <Button disabled={other === ""} onClick={() => void send({ id: p.person.id, same: other })}>Make them one</Button>
          </div>
        </details>
      )}
    </>
  );
}
