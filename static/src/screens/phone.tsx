// This phone: theme, whether the data is kept, offline, version. An example of
// a screen that asks the core nothing.
import { useSignal } from "../signal";
import { current } from "../book";
import * as install from "../install";
import * as sync from "../sync";
import { choose, theme, type Theme } from "../theme";
import { Button, Card, Choice } from "../ui";

const looks: { value: Theme; label: string }[] = [
  { value: "auto", label: "As the phone" },
  { value: "light", label: "Light" },
  { value: "dark", label: "Dark" },
  { value: "sun", label: "Bright sun" },
];

export function Phone() {
  return (
    <>
      <Card title="How it looks">
        <Choice legend="Theme" options={looks} value={useSignal(theme)} onChange={choose} />
      </Card>
      <Kept />
      <Offline />
      <p class="quiet">Version {install.build()}. <a href="/licences.txt" target="_blank">Licences</a></p>
    </>
  );
}

function Kept() {
  const kept = useSignal(install.persisted);
  const book = useSignal(current);
  const state = useSignal(sync.state);
  return (
    <Card title="Your data">
      {book && <p>{sync.words(state)}.</p>}
      {kept === true && <p>This browser promised to keep your books.</p>}
      {kept === undefined && <p>This browser does not say whether it keeps your books. Export them now and then.</p>}
      {kept === false && (
        <>
          <p>This browser may delete your books when the phone runs full. Install the app, or ask it to keep them.</p>
          <Button onClick={() => void install.persist()}>Ask to keep them</Button>
        </>
      )}
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
