package browsertest

import "testing"

// TestCameInThenWhy reports a session and asks why, with the server stopped.
func TestCameInThenWhy(t *testing.T) {
	p := Open(t)
	p.OfflineReady()
	p.OpenExample()
	p.See("Came in")
	p.Server.Stop()

	p.Tap("Came in")
	p.Tap("Worse")
	p.Type("front", "33")
	p.Type("laps", "1:52.4 ")
	p.See("Read as 1:52.4")
	fit(t, p, "camein")
	p.Tap("Write it down")

	p.See("Which end?")
	p.TapElement(`[data-phase="drive-out"] text`)
	p.Tap("Rear")
	p.See("What does it do?")
	p.Type("words", "turns easier left than right")
	p.Tap("Yes: It turns in harder one way than the other.")
	p.See("Likely causes")
	p.See("Check this first")
	p.Tap("Every lap")
	fit(t, p, "why")
	p.Tap("Write it down")
	p.See("Written down.")

	p.Load("/book")
	p.See("Felt: turns easier left than right")
	p.See("Session, felt worse")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}
