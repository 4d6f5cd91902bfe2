// This phone: how it looks, what it is called, whether the data is kept,
// whether it works without signal, which version it is.
import { useSignal } from "../usesignal";
import { current, useView } from "../book";
import type { People } from "../models/amend";
import * as install from "../install";
import * as sync from "../sync";
import { choose, theme, type Theme } from "../theme";
import { Card, Choice } from "../ui";
import { Device } from "../ui/device";
import { Persistence } from "../ui/persistence";

const looks: { value: Theme; label: string }[] = [
  { value: "auto", label: "As the phone" },
  { value: "light", label: "Light" },
  { value: "dark", label: "Dark" },
  { value: "sun", label: "Bright sun" },
];

export function Phone() {
  const { model: m } = useView<People>("people");
  return (
    <>
      <Card title="How it looks">
        <Choice legend="Theme" options={looks} value={useSignal(theme)} onChange={choose} />
      </Card>
      {m && <Device m={m} />}
      <Kept />
      <Offline />
      <p class="quiet">Version {install.build()}. <a href="/licences.txt" target="_blank">Licences</a></p>
    </>
  );
}

function Kept() {
  const book = useSignal(current);
  const state = useSignal(sync.state);
  return (
    <Card title="Your data">
      {book && <p>{sync.inWords(state)}</p>}
      <Persistence />
      <a class="button" href="/keep">Save a copy</a>
    </Card>
  );
}

function Offline() {
  const ready = useSignal(install.offlineReady);
  if (!install.secure) {
    return (
      <Card title="Without signal">
        <p>This page came over plain HTTP, so the browser will not keep the app. Open it over HTTPS, or on the machine that serves it.</p>
      </Card>
    );
  }
  return (
    <Card title="Without signal">
      <p id="offline">{ready ? "Ready: everything is on this phone." : "Not ready yet. Stay online for a moment."}</p>
    </Card>
  );
}
