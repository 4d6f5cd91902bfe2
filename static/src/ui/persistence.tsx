// Whether the browser promises to keep what is stored, in plain words.
import { useState } from "preact/hooks";
import * as install from "../install";
import { useSignal } from "../usesignal";
import { Button } from "./parts";

/** What the browser promises, and what to do when it promises nothing. */
export function Persistence() {
  const kept = useSignal(install.persisted);
  const [asked, setAsked] = useState(false);
  if (kept === true) return <p>This browser promised to keep your books.</p>;
  if (kept === undefined) return <p>This browser does not say whether it keeps your books. Save a copy now and then.</p>;
  return (
    <>
      <p id="not-kept">This browser may delete your books when the phone runs full. Install the app on your home screen, or ask the browser to keep them; and save a copy now and then.</p>
      <Button onClick={() => void install.persist().then(() => setAsked(true))}>Ask the browser to keep them</Button>
      {asked && <p role="status">It said no. Save a copy after each day, then nothing can be lost.</p>}
    </>
  );
}
