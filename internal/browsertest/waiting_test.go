package browsertest

import (
	"encoding/json"
	"strings"
	"testing"
)

// shelfScript reaches into what the phone keeps, past the app.
const shelfScript = `(async (work) => {
  const req = indexedDB.open("plumbline");
  const db = await new Promise((ok, no) => { req.onsuccess = () => ok(req.result); req.onerror = () => no(req.error); });
  const done = (r) => new Promise((ok, no) => { r.onsuccess = () => ok(r.result); r.onerror = () => no(r.error); });
  try { return await work((store, mode) => db.transaction(store, mode).objectStore(store), done); } finally { db.close(); }
})`

func (p *Phone) shelved(store string) []string {
	p.t.Helper()
	return Ask[[]string](p, shelfScript+`(async (store, done) => (await done(store("`+store+`", "readonly").getAll())).map((v) => typeof v === "string" ? v : JSON.stringify(v)))`)
}

// handIn leaves a form as the app does when the core is not up yet.
func (p *Phone) handIn(id, action, form string) {
	p.t.Helper()
	p.Run(shelfScript + `(async (store, done) => {
  const [b] = await done(store("books", "readonly").getAll());
  await done(store("drafts", "readwrite").put({ id: "waiting:` + id + `", book: b.id, action: "` + action + `", form: ` + form + `, now: 1782900000000 + ` + id + `, offset: 120 }));
})`)
}

func TestFormsWaitForTheCore(t *testing.T) {
	p := Open(t)
	p.Ready()
	p.Tap("Start your book")
	p.See("Backed up")
	p.handIn("1", "person", `{ name: "Nell", role: "tuner" }`)
	p.handIn("2", "no-such-action", `{ note: "rear felt loose over the bump" }`)
	p.Load("/phone")

	p.See("One form could not be written into the book")
	p.wait(shelfScript+`(async (store, done) => (await done(store("books", "readonly").getAll()))[0].sent === 1)`, "the entry at the relay")
	if lines := p.shelved("entries"); len(lines) != 1 {
		t.Fatalf("of one good form there are %d entries: %v", len(lines), lines)
	}
	if left := p.shelved("drafts"); len(left) != 1 {
		t.Fatalf("the refused form's words should be all that is left: %v", left)
	}
	p.Tap("What you wrote")
	p.See("rear felt loose over the bump")
	p.Audit()
	p.Tap("Throw it away")
	p.SeeNot("One form could not be written")
	if left := p.shelved("drafts"); len(left) != 0 {
		t.Errorf("thrown away, and still there: %v", left)
	}
}

// sleepy keeps the core from saying that it is up, in pages loaded while the
// tab's "sleepy" is set, until wake is called.
const sleepy = `{
  const awake = new Promise((ok) => { window.wake = ok; });
  if (!sessionStorage.getItem("sleepy")) wake();
  const Real = Worker;
  window.Worker = class extends Real {
    set onmessage(hear) { this.addEventListener("message", (e) => awake.then(() => hear(e))); }
  };
}`

// remembered waits until views are kept as they are with the newest entry.
func (p *Phone) remembered(names ...string) {
	p.t.Helper()
	wanted, _ := json.Marshal(names) // strings always marshal
	p.wait(shelfScript+`(async (store, done) => {
  const length = await done(store("entries", "readonly").count());
  const seen = (await done(store("seen", "readonly").getAll())).filter((s) => s.length === length);
  return `+string(wanted)+`.every((name) => seen.some((s) => s.name === name));
})`, "remembered "+strings.Join(names, ", "))
}

// TestABookIsReadBeforeTheCoreIsUp: a start shows at once what the screens
// showed last, with the newest entry told, and a form handed in then is
// written when the core wakes.
func TestABookIsReadBeforeTheCoreIsUp(t *testing.T) {
	p := NewPhone(t, NewServer(t))
	p.before(sleepy)
	p.Load("/")
	p.start("Jo", "Heron")
	p.Load("/")
	p.See("Heron")
	p.Go("/said")
	p.See("Who said it?")
	p.remembered("today", "said")
	p.count("rear.rebound", "10")
	p.remembered("today", "said")
	before := len(p.shelved("entries"))
	p.RadioOff()
	p.Run(`sessionStorage.setItem("sleepy", "yes")`)

	p.Load("/")
	p.See("Opening the book…")
	p.See("1 counted")
	p.Go("/said")
	p.Tap("Somebody")
	p.Type("what", "stand the forks up")
	p.Tap("Write it down")
	p.wait(shelfScript+`(async (store, done) => (await done(store("drafts", "readonly").getAll())).some((d) => d.id.startsWith("waiting:")))`, "the form kept")
	p.SeeNot("Nothing was turned.")
	if now := len(p.shelved("entries")); now != before {
		t.Fatalf("with the core asleep %d entries became %d", before, now)
	}
	p.Run(`wake()`)
	p.See("Nothing was turned.")
	if now := len(p.shelved("entries")); now != before+1 {
		t.Errorf("one form became %d entries", now-before)
	}
	p.SeeNot("Opening the book…")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}
