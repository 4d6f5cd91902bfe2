package browsertest

import (
	"fmt"
	"strings"
	"testing"
)

// ridesIn reports a session with laps, in the order ridden.
func ridesIn(p *Phone, felt string, laps ...string) {
	p.t.Helper()
	p.Go("/came-in")
	p.SeeElement(`[name=laps]`)
	if felt != "" {
		p.Tap(felt)
	}
	p.Type("laps", strings.Join(laps, "\n")+"\n")
	p.See(laps[len(laps)-1])
	p.wait(`document.querySelector("[name=laps]")?.value.trim().split("\n").length === `+fmt.Sprint(len(laps)), "all laps")
	p.Tap("Write it down")
	p.wait(`location.pathname !== "/came-in"`, "the form to be gone")
	p.Go("/")
	p.See("On trial")
}

// judgeRunning puts the example's own running trial back, so that the stage is
// free.
func judgeRunning(p *Phone) {
	p.t.Helper()
	p.Tap("Open the trial")
	p.See("Rear compression: 2 clicks in")
	p.Tap("Better")
	p.Tap("Put back")
	p.See("Rear compression: 2 clicks out, from 10 to 12 out")
	p.Picture("trial-putback")
	p.Tap("It is turned back")
	p.SeeNot("On trial")
}

// begin picks an adjuster and a plan on an idle bike.
func begin(p *Phone, adjuster, plan string) {
	p.t.Helper()
	p.Tap("Try something")
	p.TapElement(`[data-adjuster="` + adjuster + `"]`)
	p.See("Another one")
	p.Tap(plan)
}

var (
	slowLaps = []string{"1:48.0", "1:38.1", "1:38.3", "1:38.0", "1:38.4", "1:38.2", "1:38.1", "1:52.0"}
	fastLaps = []string{"1:47.0", "1:36.6", "1:36.8", "1:36.5", "1:36.9", "1:36.7", "1:36.6", "1:51.0"}
)

// TestATrialThereAndBackToAKeptChange rides a trial with the server stopped:
// the old setting, the new one, the old one again, the verdict.
func TestATrialThereAndBackToAKeptChange(t *testing.T) {
	p := WithExampleOffline(t)
	judgeRunning(p)

	begin(p, "rear.rebound", "There and back")
	p.Tap("2 clicks in")
	p.Type("expect", "less pumping")
	p.See("Your laps vary by about")
	fit(t, p, "try")
	p.Tap("Begin the trial")
	p.See("Old setting: not ridden yet")
	p.See("Ride on the old setting")

	ridesIn(p, "Same", slowLaps...)
	p.Tap("Open the trial")
	p.See("Rear rebound: 2 clicks in, from 10 to 8 out")
	p.See("Ride on the old setting, 10 clicks out")
	fit(t, p, "trial-running")
	p.Tap("It is set")
	p.See("Ride on the new setting, the same pace")
	ridesIn(p, "Better", fastLaps...)
	p.Tap("Open the trial")
	p.See("First: how did it feel?")
	p.SeeNot("The laps say")
	p.Tap("Better")
	p.See("You never went back")
	fit(t, p, "trial-once")
	p.See("Rear rebound: 2 clicks out, from 8 to 10 out")
	p.Tap("It is set")
	ridesIn(p, "Worse", slowLaps...)

	p.Tap("Open the trial")
	p.See("Keep it: you are")
	p.See("faster with it")
	p.See("You said it felt better")
	fit(t, p, "trial-verdict")
	if bare := Ask[bool](p, `/\bp\s*[=<]\s*0?\.\d|p-value/i.test(document.body.innerText)`); bare {
		t.Error("a bare p-value is on the screen")
	}

	// A run can be placed by hand, and back.
	p.Tap("One is in the wrong place?")
	p.Run(`(() => { const s = document.querySelectorAll(".pick select")[0]; s.value = "out"; s.dispatchEvent(new Event("change", { bubbles: true })); })()`)
	p.See("Left out: you left it out")
	p.Run(`(() => { const s = document.querySelectorAll(".pick select")[0]; s.value = ""; s.dispatchEvent(new Event("change", { bubbles: true })); })()`)
	p.SeeNot("Left out: you left it out")

	p.Tap("Keep 8 clicks out")
	p.SeeNot("On trial")
	p.Go("/book")
	p.See("Verdict: keep it")
	p.See("the laps said: keep")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// TestABlindTrial: a friend draws, the rider rides and says which; the book
// opens the seal and keeps count.
func TestABlindTrial(t *testing.T) {
	p := WithExampleOffline(t)
	judgeRunning(p)
	begin(p, "front.rebound", "Blind")
	p.Tap("3 clicks in")
	p.Tap("Begin the trial")
	p.Tap("Open the trial")
	for i := range 3 {
		p.See("Give the phone away")
		p.Tap("Ivo")
		if i == 0 {
			fit(t, p, "blind-draw")
		}
		p.Tap("I am the friend: draw")
		p.See("For your friend's eyes only")
		isNew := Ask[bool](p, `document.body.innerText.includes("set it to 7 clicks out")`)
		if i == 0 {
			fit(t, p, "blind-friend")
		}
		p.Tap("It is set; hide this")
		p.SeeNot("set it to")
		p.See("Do not count the clicks")
		if i == 0 {
			p.Load(Ask[string](p, "location.pathname")) // the secret survives a restart
			p.See("Do not count the clicks")
		}
		ridesIn(p, "", slowLaps...)
		p.Tap("Open the trial")
		p.See("Which one was it?")
		if i == 0 {
			fit(t, p, "blind-which")
		}
		if isNew {
			p.Tap("The new one")
		} else {
			p.Tap("The old one")
		}
		p.See(fmt.Sprintf("You named %d of %d draw", i+1, i+1))
	}
	p.See("Too few to tell")
	fit(t, p, "blind-record")
	p.Go("/book")
	p.See("Blind draw opened: right")
	p.See("Blind draw, sealed")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// TestASweep steps one adjuster through its range and keeps a position.
func TestASweep(t *testing.T) {
	p := WithExampleOffline(t)
	judgeRunning(p)
	begin(p, "front.compression", "A sweep")
	p.See("In this order")
	fit(t, p, "sweep-begin")
	p.Tap("Begin the trial")
	for i, felt := range []string{"Same", "Worse", "Worse", "Better", "Same"} {
		p.Tap("Open the trial")
		if i > 0 {
			p.Tap("It is set")
		}
		p.See("Ride a lap or two there")
		pace := []float64{38.0, 39.1, 38.9, 37.8, 38.1}[i]
		lap := func(d float64) string { return fmt.Sprintf("1:%.1f", pace+d) }
		ridesIn(p, felt, "1:49.0", lap(0.1), lap(0), lap(0.2), "1:52.0")
	}
	p.See("5 of 5 positions ridden")
	p.Tap("Open the trial")
	p.See("among the fastest")
	fit(t, p, "sweep-choose")
	p.Tap("9 clicks out")
	p.Tap("Keep it; it is set")
	p.SeeNot("On trial")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// TestWitnessesAndWhatWorked: the records of feel and advice, and a line drawn
// through what worked at a track.
func TestWitnessesAndWhatWorked(t *testing.T) {
	p := WithExample(t)
	p.Go("/feel")
	p.See("Right in 2 of 3 draws")
	p.See("said 1, tried 2, kept 1, put back 1")
	fit(t, p, "feel")
	p.Go("/worked?track=fenwick-moor")
	p.See("Settings to begin with")
	p.See("kept after a trial")
	p.Tap("The runs it is from")
	fit(t, p, "worked")
	p.Tap("Draw a line through these")
	p.See("Fenwick Moor, dry: what worked")
	p.NoComplaints()
}
