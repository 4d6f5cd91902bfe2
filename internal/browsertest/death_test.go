package browsertest

import (
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// rememberWorkers keeps the app's workers where the test can hurt them.
const rememberWorkers = `{ const Real = Worker; window.workers = [];
  window.Worker = class extends Real { constructor(...a) { super(...a); workers.push(this); } }; }`

func TestCoreIsReplacedWhenItDies(t *testing.T) {
	p := NewPhone(t, NewServer(t))
	if _, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: rememberWorkers}); err != nil {
		t.Fatal(err)
	}
	p.Load("/")
	p.Ready()
	p.Tap("Start your book")
	p.See("Backed up")

	p.Run(`workers.at(-1).dispatchEvent(new ErrorEvent("error", { message: "hurt by a test" }))`)
	p.wait(`workers.length === 2`, "a second worker")
	p.Ready()
	p.handIn("1", "person", `{ name: "Nell", role: "tuner" }`)
	p.Run(`workers.at(-1).dispatchEvent(new ErrorEvent("error", { message: "hurt by a test" }))`)
	p.wait(`workers.length === 3`, "a third worker")
	p.wait(shelfScript+`(async (store, done) => (await done(store("entries", "readonly").getAllKeys())).length === 1)`, "the form that waited")
	p.NoComplaints("hurt by a test")
}
