package browsertest

import "testing"

// TestSideOnBike sees the bike drawn from what was measured, and what a turn
// of the fork in the clamps does to it.
func TestSideOnBike(t *testing.T) {
	p := Open(t)
	p.OpenExample()
	p.Tap("Turned something")
	p.TapElement(`[data-adjuster="front.height"]`)
	p.Tap("1.5 mm up")
	p.See("fork 1.5 mm up in the clamps: rake −0.1°, trail −0.3 mm")
	p.Tap("To try it")
	p.Tap("Write it down")
	p.See("Came in")
	p.Go("/bike")
	p.See("fork 1.5 mm up in the clamps")
	p.See("Rake 23.9°")
	p.SeeElement(".scene")
	p.Picture("bike-side")
	p.Audit()
	p.NoComplaints()
}

// TestMeasuringRound measures the rear sag with the server stopped, one number
// at a time, and finds it on Measure again.
func TestMeasuringRound(t *testing.T) {
	p := Open(t)
	p.OfflineReady()
	p.OpenExample()
	p.See("Came in")
	p.Server.Stop()
	p.Go("/measure")
	p.See("First: how it sits")
	fit(t, p, "measure-list")
	p.Tap("Rear sag")
	p.See("Why this matters")
	p.See("33 mm under you, 9 mm by itself")
	fit(t, p, "measure-begin")
	p.Tap("Measure again")
	p.See("1 of 7")
	fit(t, p, "measure-step")
	for _, n := range []string{"562", "549", "554", "520", "529"} {
		p.keys(n)
		p.Tap("Next")
	}
	p.See("Whole travel of the wheel")
	p.Tap("Next") // as last time
	p.See("What do you ride?")
	fit(t, p, "measure-choice")
	p.Tap("Next")
	p.See("Save to the book")
	fit(t, p, "measure-end")
	p.Tap("Save to the book")
	p.See("It is in the book")
	fit(t, p, "measure-saved")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// keys types a number on the page's own keys.
func (p *Phone) keys(number string) {
	p.t.Helper()
	for _, k := range number {
		name := string(k)
		switch k {
		case '.':
			name = "point"
		case '-':
			name = "plus or minus"
		}
		p.Tap(name)
	}
	p.wait(`document.querySelector(".keys-shows input")?.value === `+quoted(number)+` && !document.querySelector(".key-next").disabled`, "the number "+number+" on the page")
}
