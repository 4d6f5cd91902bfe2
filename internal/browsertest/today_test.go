package browsertest

import (
	"testing"
)

func TestTodayAndTurnedInSixTaps(t *testing.T) {
	p := WithExample(t)
	p.See("On trial")
	fit(t, p, "today")

	p.Tap("Turned something")                      // 1
	p.TapElement(`[data-adjuster="rear.rebound"]`) // 2
	p.Tap("2 clicks in")                           // 3
	p.See("Rear rebound: 2 clicks in, from 10 to 8 out")
	p.Tap("Ivo")        // 4
	p.Tap("It wallows") // 5
	fit(t, p, "turned")
	p.Tap("Write it down") // 6
	p.See("Rear rebound 1 click out")
	p.NoComplaints()
}

func TestTurnedKeepsWhatWasTyped(t *testing.T) {
	p := WithExample(t)
	p.Go("/turned")
	p.SeeElement(`[data-adjuster="rear.rebound"]`)
	fit(t, p, "turned-grid")
	p.TapElement(`[data-adjuster="rear.rebound"]`)
	p.Tap("1 click out")
	p.Type("words", "on the drive out")
	p.wait(`document.querySelector("[name=words]")?.value === "on the drive out"`, "the words on the page")
	p.Load("/turned")
	p.See("Rear rebound: 1 click out, from 10 to 11 out")
	p.wait(`document.querySelector("[name=words]")?.value === "on the drive out"`, "the words that were typed")
}

func TestCountFindsAndSomebodyOwnsUpWithoutSignal(t *testing.T) {
	p := WithExampleOffline(t)
	p.Load("/counted")
	p.TapElement(`[data-adjuster="front.rebound"]`)
	p.See("The book says 10 clicks out")
	p.Type("at", "13")
	fit(t, p, "counted")
	p.Tap("Write it down")
	p.See("Front rebound has moved 3 clicks out, from 10 to 13 out")
	p.See("Nobody has owned up to it")
	fit(t, p, "counted-found")
	p.Tap("I know who it was: Front rebound")
	p.Tap("Ivo")
	p.Picture("owned")
	p.Tap("Write it down")
	p.SeeNot("Front rebound has moved")
}

func TestSaidIsWrittenThenTurned(t *testing.T) {
	p := WithExampleOffline(t)
	p.Load("/said")
	p.Tap("Bram")
	p.Tap("Pick what they would change")
	p.TapElement(`dialog [data-adjuster="rear.rebound"]`)
	p.Tap("2 clicks in")
	p.Type("why", "it looks lively")
	p.Tap("Write it down")
	p.See("Bram said: Rear rebound 2 clicks in")
	fit(t, p, "said")
	p.Tap("Turn it now")
	p.See("Rear rebound: 2 clicks in, from 10 to 8 out")
	p.Picture("said-turned")
	p.Tap("Write it down")
	p.See("Expected")
	p.Go("/said")
	p.See("Tried, no verdict yet")
	p.Tap("Decline")
	p.See("Declined")
	p.Go("/card")
	p.See("Tell me, do not turn it")
	fit(t, p, "card")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

func TestWayBackAndANewLine(t *testing.T) {
	p := WithExample(t)
	p.Go("/wayback")
	p.See("Rear rebound")
	p.See("3 clicks in, from 10 to 7 out")
	fit(t, p, "wayback")
	p.TapElement(`.move[data-adjuster="rear.rebound"]`)
	p.See("Made today")
	p.Tap("Draw a line here")
	p.Type("name", "Autumn")
	p.Picture("drawline")
	p.Tap("Draw it")
	p.See("The bike is on the line 'Autumn'")
	fit(t, p, "wayback-on-line")
	p.NoComplaints()
}

func TestPutBackFromToday(t *testing.T) {
	p := WithExample(t)
	judgeRunning(p)
}
