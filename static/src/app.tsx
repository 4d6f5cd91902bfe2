// The frame that screens stand in: header with the state line, the screen,
// the five places within reach of the thumb.
import { render, type RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";
import * as books from "./book";
import { comeBack, current, edition } from "./book";
import * as install from "./install";
import * as photos from "./photo";
import * as router from "./router";
import { screens, type Screen } from "./screens";
import { Welcome } from "./screens/welcome";
import * as shelf from "./shelf";
import { useSignal } from "./usesignal";
import * as sync from "./sync";
import * as theme from "./theme";
import { Button, Icon, RefusalList } from "./ui";
import "./styles/index.css";

// The five places; one that has no screen yet is not shown.
const places = [
  { id: "today", path: "/", label: "Today", icon: "calendar-check" },
  { id: "bike", path: "/bike", label: "Bike", icon: "plumb" },
  { id: "why", path: "/why", label: "Why", icon: "message-circle-question-mark" },
  { id: "measure", path: "/measure", label: "Measure", icon: "ruler" },
  { id: "book", path: "/book", label: "Book", icon: "book-open" },
].filter((x) => screens.some((s) => s.path === x.path));

function find(path: string): { screen: Screen; params: Record<string, string> } | undefined {
  for (const screen of screens) {
    const params = router.match(screen.path, path);
    if (params) return { screen, params };
  }
  return undefined;
}

function App() {
  const here = useSignal(router.place);
  const book = useSignal(current);
  const found = find(here.path);
  const welcome = book === null && !found?.screen.withoutBook;
  const title = welcome ? "Plumbline" : (found?.screen.title ?? "Nothing here");
  const heading = useHeading(title, here.path);
  return (
    <>
      <a class="skip" href="#main">Skip to the page</a>
      <Header title={title} heading={heading} />
      <Notices />
      <main id="main" tabIndex={-1} key={`${book?.id}${here.path}`}>
        {welcome ? <Welcome /> : found ? <found.screen.view params={found.params} query={here.query} /> : <Nothing />}
      </main>
      {!welcome && <Places place={found?.screen.place} />}
    </>
  );
}

// useHeading names the page, and moves focus to the heading when the place changed.
function useHeading(title: string, path: string) {
  const heading = useRef<HTMLHeadingElement>(null);
  const first = useRef(true);
  useEffect(() => {
    document.title = title === "Plumbline" ? title : `${title} · Plumbline`;
    if (first.current) first.current = false;
    else heading.current?.focus({ preventScroll: true });
  }, [title, path]);
  return heading;
}

function Header(p: { title: string; heading: RefObject<HTMLHeadingElement | null> }) {
  const state = useSignal(sync.state);
  const book = useSignal(current);
  const open = useSignal(edition) > 0;
  return (
    <header class="top">
      <svg class="plumb" viewBox="0 0 16 64" aria-hidden="true" preserveAspectRatio="xMidYMax meet">
        <path class="plumb-line" d="M8 0V46" />
        <path class="plumb-bob" d="M4.5 46h7v6L8 62 4.500 52z" />
      </svg>
      <div class="top-words">
        <h1 ref={p.heading} tabIndex={-1}>{p.title}</h1>
        {book && <p class="state" role="status">{open ? sync.words(state) : "Opening the book…"}</p>}
      </div>
      <a class="top-link" href="/phone" aria-label="This phone: theme, storage, version"><Icon name="settings-2" /></a>
    </header>
  );
}

const troubles = {
  held: "Plumbline is open in another tab or window that holds on to your book. Close the others; then it opens here.",
  newer: "A newer Plumbline has opened your book. Reload this page to go on; what you typed is kept.",
  none: "This browser keeps nothing, so there is no place for your book. Open Plumbline in an ordinary window, not a private one, and look whether the phone is full.",
};

function Notices() {
  const ready = useSignal(install.updateReady);
  const back = useSignal(comeBack);
  const trouble = useSignal(shelf.trouble);
  return (
    <>
      {trouble && (
        <aside class="notice" aria-label="This phone's storage">
          <p role="alert">{troubles[trouble]}</p>
          <button type="button" class="button" onClick={() => location.reload()}>Reload</button>
        </aside>
      )}
      {ready && (
        <aside class="notice" aria-label="New version">
          <p>A new version is ready. What you typed is kept.</p>
          <button type="button" class="button" onClick={install.update}>Use it now</button>
        </aside>
      )}
      {back.length > 0 && (
        <aside class="notice" aria-label="Forms to look at">
          <p>{back.length === 1 ? "One form" : `${back.length} forms`} could not be written into the book. Your words are kept.</p>
          {back.map((b) => (
            <div key={b.draft.id}>
              <RefusalList refusals={b.refusals} />
              <details>
                <summary>What you wrote</summary>
                <ul class="words">{written(b.draft.form).map((line) => <li key={line}>{line}</li>)}</ul>
              </details>
              <Button onClick={() => void books.throwAway(b.draft)}>Throw it away</Button>
            </div>
          ))}
        </aside>
      )}
    </>
  );
}

// written is what a form holds, field by field, for the rider to read.
function written(form: unknown): string[] {
  const text = (v: unknown): string => (v && typeof v === "object" ? Object.values(v).map(text).filter(Boolean).join(", ") : String(v ?? ""));
  return Object.entries(form as object).filter(([, v]) => text(v) !== "" && v !== 0 && v !== false).map(([field, v]) => `${field}: ${text(v)}`);
}

function Places(p: { place?: string | undefined }) {
  return (
    <nav class="places" aria-label="Places">
      {places.map((x) => (
        <a key={x.id} href={x.path} aria-current={p.place === x.id ? "page" : undefined}>
          <Icon name={x.icon} />
          <span>{x.label}</span>
        </a>
      ))}
    </nav>
  );
}

function Nothing() {
  return (
    <p class="empty">
      There is nothing at this address. <a href="/">Go to Today</a>
    </p>
  );
}

theme.show();
router.listen();
void books.begin(); // the shelf and the core wake while the frame is drawn
render(<App />, document.getElementById("app")!);
photos.begin();
sync.begin();
void install.begin();
