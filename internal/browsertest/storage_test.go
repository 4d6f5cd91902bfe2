package browsertest

import (
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// before runs a script in every page before the app.
func (p *Phone) before(script string) {
	p.t.Helper()
	if _, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script}); err != nil {
		p.t.Fatal(err)
	}
}

// refuses makes the database answer as it does on a full phone, while
// window.full is set: the write fails with a QuotaExceededError.
const refuses = `for (const name of ["put", "add"]) {
  const real = IDBObjectStore.prototype[name];
  IDBObjectStore.prototype[name] = function (...all) {
    if (window.full) throw new DOMException("The phone is full.", "QuotaExceededError");
    return real.apply(this, all);
  };
}`

// TestAFullPhoneSaysSo hands a form in while nothing can be stored: it is not
// acknowledged, the words stay in the form, and once there is room one tap
// writes them, once.
func TestAFullPhoneSaysSo(t *testing.T) {
	p := NewPhone(t, NewServer(t))
	p.before(refuses)
	p.Load("/")
	p.start("Jo", "Heron")
	p.count("rear.rebound", "10")
	had := len(p.shelved("entries"))
	p.Load("/turned?adjuster=rear.rebound")
	p.Tap("2 clicks in")
	p.Run(`window.full = true`)
	p.Type("words", "it wallows on the drive out")
	p.Tap("Write it down")
	p.See("This phone is full: nothing was written.")
	p.See("Your words stay here.")
	p.Picture("full")
	p.wait(`location.pathname === "/turned" && document.querySelector("[name=words]").value === "it wallows on the drive out"`, "the words in the form")
	if now := len(p.shelved("entries")); now != had {
		t.Errorf("nothing was to be written, and there are %d entries instead of %d", now, had)
	}
	p.Load("/turned?adjuster=rear.rebound")
	p.wait(`document.querySelector("[name=words]")?.value === "it wallows on the drive out"`, "the words after a reload, though the shelf never had them")
	p.Tap("Write it down")
	p.SeeElement("#came-in")
	if now := len(p.shelved("entries")); now != had+1 {
		t.Errorf("one change makes %d entries of %d", now, had)
	}
	p.Load("/book")
	p.See("it wallows on the drive out")
	p.NoComplaints("not saved:", "QuotaExceeded")
}

// TestTooManyWordsAreRefusedKindly hands in more than a line of the book takes.
func TestTooManyWordsAreRefusedKindly(t *testing.T) {
	p := Open(t)
	p.start("Jo", "Heron")
	p.count("rear.rebound", "10")
	p.Load("/turned?adjuster=rear.rebound")
	p.Tap("2 clicks in")
	p.fill("words", `"it wallows ".repeat(40_000)`)
	p.Tap("Write it down")
	p.See("This is more than one line of the book takes.")
	p.NoComplaints()
}

// fill puts the value of an expression into a field in one go.
func (p *Phone) fill(field, expression string) {
	p.t.Helper()
	p.SeeElement(`[name="` + field + `"]`)
	p.Run(`{ const el = document.querySelector('[name="` + field + `"]'); el.value = ` + expression + `; el.dispatchEvent(new InputEvent("input", { bubbles: true })); }`)
}

// TestLastKeysSurviveAReload reloads the page in the same breath as the last key.
func TestLastKeysSurviveAReload(t *testing.T) {
	p := Open(t)
	p.start("Jo", "Heron")
	p.Load("/said")
	p.SeeElement("[name=why]")
	p.Run(`{ const el = document.querySelector("[name=why]"); el.value = "it looks lively"; el.dispatchEvent(new InputEvent("input", { bubbles: true })); location.reload(); }`)
	p.wait(`document.querySelector("[name=why]")?.value === "it looks lively"`, "the words that were typed right before the reload")
	p.wait(`Object.keys(localStorage).filter((k) => k.startsWith("plumbline-draft:")).length <= 1`, "a tidy localStorage")
	p.Tap("Somebody")
	p.Type("what", "more preload")
	p.Tap("Write it down")
	p.See("Nothing was turned")
	p.Load("/said")
	p.See("more preload")
	p.wait(`document.querySelector("[name=why]")?.value === ""`, "an empty form")
	p.NoComplaints()
}

// holdAt opens the app's database in a version, and keeps it.
func holdAt(version string) string {
	return `new Promise((ok, no) => { const r = indexedDB.open("plumbline", ` + version + `);
  r.onsuccess = () => { window.held = r.result; ok(); }; r.onerror = () => no(r.error); })`
}

// TestAHeldShelfIsToldAndThenOpens: another page holds on to the database
// while it is to be changed; the rider is told, and it opens when that lets go.
func TestAHeldShelfIsToldAndThenOpens(t *testing.T) {
	a := NewPhone(t, NewServer(t))
	a.raw()
	a.Run(holdAt("1"))
	b := a.Tab()
	b.Run(`void indexedDB.deleteDatabase("plumbline")`)
	c := a.Tab()
	c.Load("/")
	c.See("Close the others; then it opens here.")
	c.Picture("held")
	a.Run(`held.close()`)
	c.SeeNot("Close the others")
	c.Tap("Start your book")
	c.See("What you call it")
}

// TestANewerAppTakesTheShelf: a newer version changes the database under an
// open page, which then says so and writes nothing.
func TestANewerAppTakesTheShelf(t *testing.T) {
	a := Open(t)
	a.start("Jo", "Heron")
	a.Load("/said")
	a.Ready()
	a.Type("what", "more preload")
	b := a.Tab()
	b.Run(holdAt("99"))
	a.See("A newer Plumbline has opened your book")
	a.Tap("Somebody")
	a.Tap("Write it down")
	a.See("nothing was written here")
	a.wait(`document.querySelector("[name=what]").value === "more preload"`, "the words in the form")
	a.NoComplaints("not saved:", "VersionError")
}

// TestABookOnOnePhoneIsRemindedOf: after days without a backup Today says so
// kindly, the browser's "no" is told, and a saved copy settles it.
func TestABookOnOnePhoneIsRemindedOf(t *testing.T) {
	p := NewPhone(t, NewServer(t))
	p.before(`navigator.storage.persist = navigator.storage.persisted = async () => false`)
	p.Load("/")
	p.RadioOff()
	p.start("Jo", "Heron")
	p.Load("/")
	p.SeeElement("#came-in")
	p.SeeNot("Keep your book safe")
	p.Run(shelfScript + `(async (store, done) => {
  const [b] = await done(store("books", "readonly").getAll());
  await done(store("books", "readwrite").put({ ...b, since: Date.now() - 5 * 86400000 }));
})`)
	p.Load("/")
	p.See("Keep your book safe")
	p.See("There has been no backup yet")
	p.See("may clear them when the phone runs full")
	fit(t, p, "unsafe")
	p.TapElement("#unsafe a")
	p.See("are on this phone only")
	p.Tap("Ask the browser to keep them")
	p.See("It said no.")
	fit(t, p, "keep-unsafe")
	p.Tap("Save a copy")
	p.See("You saved a copy today")
	p.See("Nothing is on this phone only")
	p.Load("/")
	p.SeeElement("#came-in")
	p.SeeNot("Keep your book safe")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}
