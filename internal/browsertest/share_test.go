package browsertest

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// withoutScript turns scripts off, as a careful tuner's browser does.
func (p *Phone) withoutScript() {
	p.t.Helper()
	if _, err := chromedp.Call(p.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		p.t.Fatal(err)
	}
}

// enter sends a form with the key of that name, as nothing else of the page
// answers without script to the harness.
func (p *Phone) enter(field string) {
	p.t.Helper()
	p.do(chromedp.SendKeys(chromedp.CSS(`[name="`+field+`"]`), "\r"))
}

// openLink opens a shared link's page, which has no app in it.
func (p *Phone) openLink(url string) {
	p.t.Helper()
	p.do(chromedp.Navigate(url))
	p.wait(`document.querySelector("main h1") !== null`, "the link's page")
}

// makeLink makes a link with a choice and returns its address.
func (p *Phone) makeLink(may string) string {
	p.t.Helper()
	p.Load("/share")
	p.Tap("Make a link")
	p.Tap(may)
	p.Tap("Make it")
	p.Tap("Show")
	p.SeeElement(".shared .words")
	p.SeeElement(".shared svg.qr")
	return Ask[string](p, `document.querySelector(".shared .words").innerText`)
}

// TestAProposalFromLinkToVerdict: a rider's two phones and a tuner who installs
// nothing, with the server gone at the ugly moments.
func TestAProposalFromLinkToVerdict(t *testing.T) {
	p := Open(t)
	p.start("Jo Marsh", "Heron")
	p.count("rear.rebound", "10")
	p.synced()
	link := p.makeLink("Look and propose")
	fit(t, p, "share")
	second := p.join()

	tuner := NewPhone(t, p.Server)
	tuner.openLink(link)
	tuner.See("10 clicks out")
	tuner.See("J. M.")
	tuner.SeeNot("Jo Marsh")
	tuner.Picture("link")
	tuner.Audit()
	tuner.Type("name", "Tess Okoro")
	tuner.choose("adjuster", "rear.rebound")
	tuner.Tap("in")
	tuner.Type("steps", "40")
	tuner.Type("why", "it wallows on the drive out")
	tuner.Type("expect", "calmer rear on the way out")
	tuner.withoutScript()
	tuner.enter("steps")
	tuner.See("There is not that much room")
	tuner.Type("steps", "2")
	tuner.enter("steps")
	tuner.See("Not yet seen by the rider.")

	p.Load("/")
	p.lookUp()
	p.See("1 piece of advice is open")
	second.lookUp()
	second.synced()
	second.Load("/said")
	second.See("Tess Okoro said: Rear rebound 2 clicks in")
	p.synced()

	p.RadioOff()
	p.Load("/said")
	p.See("Expected: calmer rear on the way out")
	p.See("by your link")
	p.Picture("said-shared")
	p.Audit()
	p.Tap("Ask back")
	p.TapElement("[name^=note-]")
	p.Run(`document.querySelector("[name^=note-]").focus()`)
	p.do(chromedp.SendKeys(chromedp.CSS("[name^=note-]"), "On worn tyres too?"))
	p.Tap("Ask")
	p.See("You asked back, On worn tyres too?")
	p.Server.Start()
	p.lookUp()
	p.synced()
	tuner.openLink(link)
	tuner.See("The rider asks: On worn tyres too?")

	p.RadioOff()
	p.Load("/said")
	p.Tap("Turn it now")
	p.See("2 clicks in")
	p.Tap("Write it down")
	p.SeeElement("#came-in")
	p.Server.Start()
	p.lookUp()
	p.synced()
	tuner.openLink(link)
	tuner.See("Tried, no verdict yet")
	p.Load("/")
	p.See("On trial")
	ridesIn(p, "Better", fastLaps...)
	p.Tap("Open the trial")
	p.Tap("Better")
	p.Tap("Keep 8 clicks out")
	p.wait(`location.pathname === "/"`, "Today after the verdict")
	p.SeeNot("On trial")
	p.lookUp()
	p.synced()
	tuner.openLink(link)
	tuner.See("Tried and kept.")

	p.Load("/share")
	p.Tap("Take back")
	p.SeeNot("Look and propose, until")
	tuner.openLink(link)
	tuner.See("It has expired, or its rider has taken it back.")
}

func TestTheDayThePhoneIsLost(t *testing.T) {
	p := Open(t)
	p.start("Jo Marsh", "Heron")
	p.count("rear.rebound", "7")
	p.synced()
	p.Load("/share")
	p.Tap("Make a phrase")
	p.SeeElement(".phrase")
	phrase := strings.Join(Ask[[]string](p, `[...document.querySelectorAll(".phrase li")].map((x) => x.innerText)`), " ")
	if n := len(strings.Fields(phrase)); n != 9 {
		t.Fatalf("the phrase is %q", phrase)
	}
	fresh := NewPhone(t, p.Server)
	fresh.Load("/")
	fresh.Ready()
	fresh.Tap("I lost my phone")
	fresh.Type("text", strings.Replace(phrase, phrase[:5], "zuzuz", 1))
	fresh.Tap("Open my book")
	fresh.See("These words do not belong together.")
	fresh.Type("text", strings.ToUpper(phrase))
	fresh.Tap("Open my book")
	fresh.See("You have joined")
	fresh.Load("/bike/setting/rear.rebound")
	fresh.See("7 clicks out")

	fresh.Load("/share")
	fresh.See("Recovery phrase")
	name := Ask[string](fresh, `[...document.querySelectorAll("button")].map((b) => b.innerText).find((w) => w.startsWith("Shut out") && !w.includes("Recovery"))`)
	fresh.Tap(name)
	fresh.Tap("Shut it out")
	fresh.SeeNot(name)
	p.count("rear.rebound", "6")
	p.lookUp()
	p.See("Not backed up")
}

func TestTheServersCopyIsDeletedForGood(t *testing.T) {
	p := Open(t)
	p.start("Jo Marsh", "Heron")
	p.synced()
	p.Load("/share")
	p.Run(`(() => { const was = URL.createObjectURL; URL.createObjectURL = (b) => { window.saved = b; return was(b); }; })()`)
	p.Tap("Delete the server's copy")
	p.Tap("Delete it for good")
	p.See("You had the copy at the server deleted.")
	if receipt := Ask[string](p, `window.saved.text()`); !strings.Contains(receipt, `"deleted"`) {
		t.Errorf("the receipt says %s", receipt)
	}
	p.count("rear.rebound", "7")
	p.See("On this phone only")
}
