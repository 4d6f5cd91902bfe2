package browsertest

import (
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// TestWhyInThreeTaps goes from a drawn corner to causes, makes the check, and
// puts the change on trial.
func TestWhyInThreeTaps(t *testing.T) {
	p := WithExampleOffline(t)
	p.Go("/why")
	p.See("Tap where it happens")
	fit(t, p, "why-empty")
	p.TapElement(`[data-phase="drive-out"] text`) // 1
	p.TapElement(`[data-end="rear"] text`)        // 2
	p.See("What does it do?")
	p.Picture("why-offers")
	p.Tap("Yes: The rear sits down a lot on the throttle.") // 3
	p.See("Likely causes")
	p.SeeElement(".cause")
	p.wait(`(() => { scrollTo(0, 0); const r = document.querySelector(".answer-bar").getBoundingClientRect(); return r.top > 0 && r.bottom <= innerHeight; })()`, "the answer in sight without scrolling")
	p.Tap("Every lap")
	p.Picture("why-answer")
	p.Run(`document.querySelector(".cause").open = true`)
	p.See("Speaks for it")
	p.See("The check that settles it")
	fit(t, p, "why-cause")
}

// TestCameInThenWhy reports a session and asks why in own words.
func TestCameInThenWhy(t *testing.T) {
	p := WithExampleOffline(t)
	p.Go("/why")
	p.Type("words", "turns easier left than right")
	p.Tap("Yes: It turns in harder one way than the other.")
	p.See("Likely causes")
	p.Tap("Every lap")
	fit(t, p, "why")
	p.Tap("Write it down")
	p.See("Written down.")

	p.Load("/book")
	p.See("Felt: turns easier left than right")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// TestTyreReading picks wear from drawings and takes it along.
func TestTyreReading(t *testing.T) {
	p := WithExampleOffline(t)
	p.Go("/why/tyre")
	p.SeeElement(`[data-look="t-cold-tear"]`)
	fit(t, p, "tyre")
	p.TapElement(`[data-look="t-cold-tear"]`)
	p.See("Back to Why with 1 picked")
	p.Tap("Back to Why")
	p.See("The tyre has deep rips that a nail can lift.")
	p.See("Likely causes")
}

// TestHandbookReads finds a page and reads it, and looks at every page's
// picture.
func TestHandbookReads(t *testing.T) {
	p := WithExampleOffline(t)
	p.Go("/handbook")
	p.See("After a fall: straightness")
	fit(t, p, "handbook")
	p.Type("words", "chain")
	p.Tap("Chain too tight")
	p.See("How it is told from its look-alikes")
	fit(t, p, "handbook-page")
}

// TestTryThisOpensATrial judges what runs, asks why, and puts what is
// suggested on trial with all of it filled in.
func TestTryThisOpensATrial(t *testing.T) {
	p := WithExampleOffline(t)
	p.Tap("Open the trial")
	p.Tap("Better")
	p.Tap("it is set")
	p.See("Before riding")
	p.SeeNot("On trial")
	p.Go("/why")
	p.Type("words", "the rear wallows")
	p.Tap("Yes: The rear wallows.")
	p.See("Likely causes")
	p.Tap("Every lap")
	p.Run(`document.querySelector("#cause-shock-rebound-low").open = true`)
	p.TapElement(`#cause-shock-rebound-low [data-result="yes"]`)
	p.See("✓ Fault")
	p.Run(`document.querySelector("#cause-shock-rebound-low").open = true`)
	p.Picture("why-checked")
	p.Run(`[...document.querySelectorAll("#cause-shock-rebound-low .button")].find((b) => /Try this|Put it back/.test(b.innerText)).click()`)
	p.See("To test: Too little shock rebound.")
	p.See("What should get better?")
	p.wait(`document.querySelector("[name=expect]")?.value.length > 5`, "the expectation")
	p.wait(`document.querySelector("[name=words]")?.value === "the rear wallows"`, "the symptom")
	fit(t, p, "why-turned")
	p.Tap("Write it down")
	p.See("Before riding")
	p.See("Rear rebound: ")
	p.Go("/why/symptoms")
	p.See("Tried because of it")
	fit(t, p, "symptoms")
}

// TestRepeatOnPurpose takes a symptom that came once to the next session.
func TestRepeatOnPurpose(t *testing.T) {
	p := WithExampleOffline(t)
	p.Go("/why")
	p.Type("words", "the rear wallows")
	p.Tap("Yes: The rear wallows.")
	p.Tap("Once")
	p.Tap("Write it down")
	p.Tap("Bring it about on purpose")
	p.See("In the next session")
	p.Tap("Make it my next task")
	p.See("How did it go?")
	p.Go("/")
	p.See("For the next session")
	p.Picture("today-task")
	p.Tap("Open the card")
	p.Type("came", "2")
	fit(t, p, "repeat")
	p.Tap("Write it down")
	p.See("It came in 2 of 3 passes")
	p.Go("/why/symptoms")
	p.See("some laps")
}

// TestStopIsUnmistakable finds twisted forks and is told so before all else.
func TestStopIsUnmistakable(t *testing.T) {
	p := WithExampleOffline(t)
	p.Go("/why")
	p.Type("words", "turns easier left than right")
	p.Tap("Yes: It turns in harder one way than the other.")
	p.Tap("Every lap")
	p.SeeElement(`[data-finding="found-forks-twisted"]`)
	p.Run(`document.querySelector('[data-finding="found-forks-twisted"][data-result="yes"]').click()`)
	p.SeeElement(".stop-first")
	if top := Ask[string](p, `document.querySelector("main > *").className`); top != "card card-stop stop-first" {
		t.Errorf("the page begins with %q, not with the stop", top)
	}
	fit(t, p, "why-stop")
	p.Tap("Write it down")
	p.See("Written down.")
	p.Go("/")
	p.See("Do not ride until the front is straight")
}

// TestVerdictsTeach keeps a trial, looks at what it taught and forgets it.
func TestVerdictsTeach(t *testing.T) {
	p := WithExampleOffline(t)
	p.Go("/why/learned")
	p.See("The books")
	fit(t, p, "learned")
	p.TapElement("#forget")
	p.Tap("Forget it")
	p.See("No verdict has taught anything yet")
}

// TestAdviceIsWeighed writes advice down and sees what speaks for and against.
func TestAdviceIsWeighed(t *testing.T) {
	p := WithExampleOffline(t)
	p.Go("/said")
	p.Tap("Pick what they would change")
	p.SeeElement(`dialog [data-adjuster="rear.rebound"]`)
	p.Run(`document.querySelector('dialog [data-adjuster="rear.rebound"]').click()`)
	p.Tap("2 clicks out")
	p.SeeElement(".weighed")
	p.Run(`document.querySelector(".weighed").open = true`)
	p.See("Speaks against it")
	fit(t, p, "said-weighed")
}

// BenchmarkWhyInThePhoneCore measures the whole answer of Why in the phone's
// core: twelve findings that are there, the example season's facts, and the
// way to the worker and back.
func BenchmarkWhyInThePhoneCore(b *testing.B) {
	p := NewPhone(b, NewServer(b))
	if _, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: rememberWorkers}); err != nil {
		b.Fatal(err)
	}
	p.Load("/")
	p.OpenExample()
	for b.Loop() {
		p.Run(askedTwelve)
	}
	b.ReportMetric(Ask[float64](p, `took.sort((x, y) => x - y)[took.length >> 1]`), "ms-median/answer")
	b.ReportMetric(Ask[float64](p, `took.at(-1)`), "ms-worst/answer")
}

// askedTwelve asks why twenty times over and keeps how long each took.
const askedTwelve = `(async () => {
  const yes = ["rear-wallow", "rear-squats", "rear-greasy", "rear-kicks", "rear-packs", "front-dives", "front-packs", "turn-heavy", "runs-wide-drive", "drifts-apex", "one-side-heavier", "t-cold-tear"];
  const core = workers.at(-1);
  const book = "019621f0-0000-7000-8000-0000000e7a01";
  const arg = JSON.stringify({ book, name: "why", args: { findings: Object.fromEntries(yes.map((f) => [f, "yes"])), repeat: "every" }, now: Date.now(), offset: 0 });
  window.took ??= [];
  for (let i = 0; i < 20; i++) {
    const began = performance.now();
    await new Promise((done) => {
      const id = 1e9 + took.length;
      const hear = (e) => { if (e.data.id !== id) return; core.removeEventListener("message", hear); if (!e.data.answer.includes('"causes":[{')) throw new Error(e.data.answer.slice(0, 200)); done(); };
      core.addEventListener("message", hear);
      core.postMessage({ id, fn: "view", arg, lines: "" });
    });
    took.push(performance.now() - began);
  }
})()`
