package browsertest

import "testing"

// offlineExample opens the example season on a phone that has no signal any
// more: the server is stopped.
func offlineExample(t *testing.T) *Phone {
	t.Helper()
	p := Open(t)
	p.OfflineReady()
	p.OpenExample()
	p.See("Came in")
	p.Server.Stop()
	return p
}

// TestWhyInThreeTaps goes from a drawn corner to causes, makes the check, and
// puts the change on trial.
func TestWhyInThreeTaps(t *testing.T) {
	p := offlineExample(t)
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
	p.Tap("Every lap")
	p.Picture("why-answer")
	p.Run(`document.querySelector(".cause").open = true`)
	p.See("Speaks for it")
	p.See("The check that settles it")
	fit(t, p, "why-cause")
}

// TestCameInThenWhy reports a session and asks why in own words.
func TestCameInThenWhy(t *testing.T) {
	p := offlineExample(t)
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
	p := offlineExample(t)
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
	p := offlineExample(t)
	p.Go("/handbook")
	p.See("After a fall: straightness")
	fit(t, p, "handbook")
	p.Type("words", "chain")
	p.Tap("Chain too tight")
	p.See("How it is told from its look-alikes")
	fit(t, p, "handbook-page")
}
