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
