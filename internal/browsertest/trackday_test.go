package browsertest

import "testing"

// TestATrackDayOffline is a whole day without signal: five sessions from the
// first laps to a change that is kept, on a book that began empty.
func TestATrackDayOffline(t *testing.T) {
	p := Open(t)
	p.RadioOff()
	p.Ready()
	p.Tap("Start your book")
	p.See("Your weight in full kit")
	p.Type("rider", "Jo")
	p.Type("name", "Heron")
	p.TapElement("#save")
	p.See("Has this bike ever fallen?")
	p.Load("/first-look?step=count:rear.rebound")
	p.See("Counted from: fully closed")
	p.Type("at", "10")
	p.TapElement("#save")
	p.See("Rear compression")

	p.Load("/came-in")
	p.See("Session 1 today")
	p.Tap("Another track")
	p.Type("track", "Cold Ness")
	p.came("Same", "1:58.4\n1:49.6\n1:49.1\n1:52.8\n1:48.9\n1:49.3\n2:04.0")
	p.came("Same", "1:57.1\n1:49.2\n1:48.8\n1:49.0\n1:53.1\n1:49.1\n2:03.2")

	p.Load("/turned?adjuster=rear.rebound")
	p.Tap("2 clicks in")
	p.Tap("It wallows")
	p.Tap("Put it on trial")
	p.Type("expect", "calmer out of the hairpin")
	p.Tap("Write it down")
	p.See("calmer out of the hairpin")

	p.Go("/came-in")
	p.See("Session 3 today")
	p.Tap("Weather, tyres, fuel, cold pressures")
	p.Tap("Big keys")
	p.lap("1489")
	p.See("1:48.9")
	p.Picture("camein-keys")
	p.Tap("Take the last one out")
	p.Tap("Done")
	fit(t, p, "camein")
	p.came("Better", "1:57.9\n1:48.4\n1:48.1\n1:48.3\n1:51.9\n1:48.0\n2:05.1")
	p.came("Better", "1:56.2\n1:48.2\n1:47.9\n1:48.4\n1:48.1\n1:51.7\n2:02.6")
	p.Go("/")
	p.Tap("Open the trial")
	p.See("First: how did it feel?")
	p.Tap("Better")
	p.Tap("Keep 8 clicks out")
	p.wait(`location.pathname === "/"`, "Today after the verdict")
	p.See("How it stands")
	p.SeeNot("On trial")
	p.came("Same", "1:57.0\n1:48.1\n1:48.0\n1:48.2\n1:47.8\n1:48.3\n2:04.4")

	p.Load("/days")
	p.See("Session 5")
	p.See("5 sessions; the middle lap went from")
	p.See("Rear rebound: 2 clicks in, from 10 to 8 out")
	fit(t, p, "trackday")
	p.Tap("Session 5")
	p.See("7 laps, 5 count: best 1:47.8")
	p.See("8 clicks out")
	p.Load("/book")
	p.See("Verdict: keep it")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// came reports a session: how it felt, and its laps.
func (p *Phone) came(felt, laps string) {
	p.t.Helper()
	if Ask[string](p, "location.pathname") != "/came-in" {
		p.Go("/came-in")
	}
	p.See("How did it feel?")
	p.Tap(felt)
	p.SeeElement(`[name="laps"]`)
	p.Run(`(() => { const el = document.querySelector("[name=laps]"); el.value = ` + quoted(laps) + `; el.dispatchEvent(new Event("input", { bubbles: true })); })()`)
	p.See("Read as")
	p.Tap("Write it down")
	p.See("Settings as they were then")
}
