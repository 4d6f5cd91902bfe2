package browsertest

import (
	"strings"
	"testing"
)

// TestFirstLookIsTakenUpWhereItWasLeft starts a book, answers, loads the page
// anew with no server, and finds the next question.
func TestFirstLookIsTakenUpWhereItWasLeft(t *testing.T) {
	p := Open(t)
	p.RadioOff()
	p.Ready()
	p.Tap("Start your book")
	p.See("Your weight in full kit")
	p.Picture("firstlook-start")
	p.Type("rider", "Jo")
	p.Type("name", "Heron")
	p.TapElement("#save")
	p.See("Has this bike ever fallen?")
	p.Tap("Don't know")
	p.TapElement("#save")
	p.See("After the fall: was the front end loosened")
	p.Load("/first-look")
	p.See("After the fall: was the front end loosened")
	p.Picture("firstlook-fact")
	p.Load("/first-look?step=check:straight")
	p.See("Is the front end straight?")
	p.Picture("firstlook-check")
	looksRight(p)
	p.Load("/first-look?step=count:rear.rebound")
	p.See("Counted from: fully closed")
	p.Tap("Where it stands: more")
	p.TapElement("#save")
	p.See("Rear compression")
	p.Picture("firstlook-count")
	p.Load("/first-look?step=line")
	p.See("It holds 1 setting")
	p.TapElement("#save")
	p.Load("/bike")
	p.See("Against 'First line'")
	looksRight(p)
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// TestFallIsClearedByTheStraightnessRound logs a fall and clears it.
func TestFallIsClearedByTheStraightnessRound(t *testing.T) {
	p := Open(t)
	p.Ready()
	p.OpenExample()
	p.RadioOff()
	p.Load("/fall")
	p.See("It fell over")
	p.Tap("Left")
	p.Tap("Slow")
	p.Picture("fall")
	p.TapElement("#save")
	p.See("Do not ride until")
	p.See("Loosen both bars and the lower clamp")
	p.Picture("fall-stop")
	looksRight(p)
	p.Load("/")
	p.See("Do not ride until the bike is checked straight")
	p.Picture("today-stop")
	p.Load("/bike")
	p.See("Do not ride until")
	p.Load("/fall")
	p.Tap("Not sure")
	p.TapElement("#save")
	p.See("Not sure, today")
	p.Load("/")
	p.See("Do not ride until the bike is checked straight") // not sure is not good
	p.Tap("Check it now")
	p.Tap("Good")
	p.TapElement("#save")
	p.See("The book has it as straight again")
	p.SeeNot("Do not ride until")
	p.Load("/")
	p.SeeElement("#came-in")
	p.SeeNot("Do not ride until the bike")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// TestBikePage looks at the plumb picture and one setting's line.
func TestBikePage(t *testing.T) {
	p := Open(t)
	p.Ready()
	p.OpenExample()
	p.RadioOff()
	p.Load("/bike")
	p.See("Against '")
	p.Picture("bike")
	looksRight(p)
	p.Go("/bike/setting/rear.rebound")
	p.See("Its line")
	p.Picture("setting")
	looksRight(p)
	p.Go("/bike")
	p.See("2; last: Shock service")
	p.TapElement("#services > summary")
	p.Tap("Add a service")
	p.Tap("Fork oil")
	p.Tap("Write it down")
	p.wait(`document.querySelectorAll("#services li").length === 3`, "three services")
	p.Load("/checks?check=chain")
	p.See("find the tightest spot")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

func looksRight(p *Phone) {
	p.t.Helper()
	p.Audit()
	if small := p.SmallTargets(); len(small) > 0 {
		p.t.Errorf("too small for gloves: %s", strings.Join(small, "; "))
	}
}
