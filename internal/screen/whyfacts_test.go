package screen

import (
	"slices"
	"strings"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
	"plumbline/internal/unit"
)

// bareAsk is a question about a bike with adjusters that were all counted in
// the middle of their range a year ago, and nothing else in its book.
func bareAsk() (Ask, *book.Bike) {
	now := time.Date(2026, 9, 12, 14, 0, 0, 0, time.UTC)
	k := &book.Bike{ID: "b", Settings: map[book.AdjusterID]*book.Setting{}, Facts: map[string]book.Dated[book.FactBody]{}, Checks: map[string]book.Dated[book.CheckBody]{}, Measures: map[string]book.Dated[book.MeasureBody]{}}
	seen := now.AddDate(-1, 0, 0)
	for _, a := range book.Standard("b") {
		at := (a.Min + a.Max) / 2
		if strings.HasSuffix(string(a.Adjuster), ".pressure") {
			at = unit.Whole(200)
		}
		k.Settings[a.Adjuster] = &book.Setting{Def: a.Def, ID: a.Adjuster, Standing: book.Counted, At: &at, Seen: &seen, Line: []book.Mark{{Kind: "count", Wall: seen, To: &at}}}
		k.Order = append(k.Order, a.Adjuster)
	}
	b := &book.Book{Bikes: map[book.BikeID]*book.Bike{"b": k}, BikeOrder: []book.BikeID{"b"}, Tracks: map[book.TrackID]book.Track{"moor": {Name: "Moor", Bumpy: "bumpy"}}}
	return Ask{Book: b, Now: now}, k
}

func turn(k *book.Bike, id book.AdjusterID, by int, at time.Time) {
	s := k.Settings[id]
	from, delta := *s.At, unit.Fixed(by)*s.Step
	to := from + delta
	s.At = &to
	s.Line = append(s.Line, book.Mark{Kind: "change", Wall: at, From: &from, To: &to, Delta: &delta})
}

// TestTheBookTellsFacts holds the mapping from what a book can know to the
// engine's facts, one row each, with a word of the reason that is shown.
func TestTheBookTellsFacts(t *testing.T) {
	day := func(days int) time.Time { return time.Date(2026, 9, 12, 10, 0, 0, 0, time.UTC).AddDate(0, 0, -days) }
	fact := func(id, answer string) func(*book.Bike) {
		return func(k *book.Bike) { k.Facts[id] = book.Dated[book.FactBody]{Body: book.FactBody{Answer: answer}} }
	}
	service := func(what string, days int) func(*book.Bike) {
		return func(k *book.Bike) {
			k.Services = []book.Dated[book.ServiceBody]{{Wall: day(days), Body: book.ServiceBody{What: what}}}
		}
	}
	part := func(name string, days int) func(*book.Bike) {
		return func(k *book.Bike) {
			k.Parts = []book.Dated[book.PartBody]{{Wall: day(days), Body: book.PartBody{Part: name}}}
		}
	}
	move := func(id book.AdjusterID, by int) func(*book.Bike) {
		return func(k *book.Bike) { turn(k, id, by, day(2)) }
	}
	session := func(s book.SessionBody) func(*book.Bike) {
		return func(k *book.Bike) { k.Sessions = []book.Dated[book.SessionBody]{{Wall: day(0), Body: s}} }
	}
	rows := []struct {
		fact    string
		make    func(*book.Bike)
		because string
	}{
		{"fall", func(k *book.Bike) { k.Falls = []book.Dated[book.FallBody]{{Wall: day(3)}} }, "fall of"},
		{"fall", fact("fell", "yes"), "first look"},
		{"big-crash", func(k *book.Bike) {
			k.Falls = []book.Dated[book.FallBody]{{Wall: day(3), Body: book.FallBody{Speed: "fast"}}}
		}, "crashed"},
		{"fork-oil-aged", fact("fork-oil", "never"), "first look"},
		{"fork-oil-aged", service("fork-oil", 800), "of 24 months"},
		{"fork-work", service("fork-seals", 5), "done"},
		{"shock-old", fact("shock-oil", "older"), "first look"},
		{"shock-old", service("shock-oil", 1200), "of 36 months"},
		{"head-bearing-old", service("head-bearings", 800), "of 24 months"},
		{"head-bearing-work", service("head-bearings", 5), "done"},
		{"head-bearing-old", func(k *book.Bike) { k.Year = 2009 }, "2009"},
		{"linkage-old", service("linkage", 1200), "last done"},
		{"chain-old", service("chain", 1200), "last done"},
		{"gearing", fact("gearing-changed", "yes"), "first look"},
		{"gearing", move("sprocket.rear", 1), "1 tooth up"},
		{"forks-moved", fact("forks-moved", "yes"), "first look"},
		{"forks-moved", move("front.height", 4), "2 mm up"},
		{"forks-through", move("front.height", 4), "2 mm up"},
		{"front-raised", move("front.height", -4), "2 mm down"},
		{"rear-raised", move("rear.height", 4), "2 mm up"},
		{"front-compression-in", move("front.compression", -2), "2 clicks in"},
		{"front-compression-out", move("front.compression", 2), "2 clicks out"},
		{"front-rebound-in", move("front.rebound", -2), "2 clicks in"},
		{"front-rebound-out", move("front.rebound", 2), "2 clicks out"},
		{"rear-compression-in", move("rear.compression", -2), "2 clicks in"},
		{"rear-compression-out", move("rear.compression", 2), "2 clicks out"},
		{"rear-rebound-in", move("rear.rebound", -2), "2 clicks in"},
		{"rear-rebound-out", move("rear.rebound", 2), "2 clicks out"},
		{"all-compression-out", func(k *book.Bike) { turn(k, "front.compression", 2, day(1)); turn(k, "rear.compression", 2, day(1)) }, "Front compression"},
		{"damper-up", move("steering.damper", -2), "2 clicks in"},
		{"pressure-raised", move("rear.pressure", 2), "up"},
		{"pressure-lowered", move("front.pressure", -2), "down"},
		{"chain-adjusted", move("chain.slack", 3), "3 mm up"},
		{"preload-high", move("rear.preload", 4), "1 turn in"},
		{"preload-max", func(k *book.Bike) { s := k.Settings["rear.preload"]; s.At = &s.Max }, "its end"},
		{"rear-rebound-out", func(k *book.Bike) {
			at := *k.Settings["rear.rebound"].At - unit.Whole(3)
			k.Baselines = []book.Baseline{{Name: "Good in the dry", At: map[book.AdjusterID]unit.Fixed{"rear.rebound": at}}}
		}, "Good in the dry"},
		{"counted-badly", func(k *book.Bike) {
			s := k.Settings["front.rebound"]
			s.Line = append(s.Line, book.Mark{Kind: "found", Wall: day(1), From: s.At, To: s.At})
		}, "another end"},
		{"bars-changed", part("Left clip-on", 4), "fitted"},
		{"tyre-new", part("Rear tyre", 4), "fitted"},
		{"rear-apart", part("Rear tyre", 4), "fitted"},
		{"front-apart", part("Front wheel bearings", 4), "fitted"},
		{"brake-work", part("Brake discs", 4), "fitted"},
		{"screen", part("Double-bubble screen", 4), "fitted"},
		{"tyre-old", part("Tyres", 1200), "fitted"},
		{"tyre-old", func(k *book.Bike) {
			k.TyreSets = []book.TyreSet{{ID: "s", Name: "Soft", Cycles: 20}}
			session(book.SessionBody{Tyres: "s"})(k)
		}, "21 heat cycles"},
		{"tyre-new", func(k *book.Bike) {
			k.TyreSets = []book.TyreSet{{ID: "s", Name: "Soft", Fitted: "2026-09-10"}}
			session(book.SessionBody{Tyres: "s"})(k)
		}, "fitted"},
		{"pressure-unchecked", func(*book.Bike) {}, "within a day"},
		{"wet", session(book.SessionBody{Wet: true}), "wet"},
		{"wind", session(book.SessionBody{Wind: "gusts from the side"}), "gusts"},
		{"gain-right", session(book.SessionBody{Front: fixed(248), Rear: fixed(248)}), "as they should"},
		{"bumpy", session(book.SessionBody{Track: "moor"}), "Moor is bumpy"},
		{"bumpy", fact("bumpy", "bumpy"), "first look"},
		{"faster", func(k *book.Bike) {
			k.Sessions = []book.Dated[book.SessionBody]{{Wall: day(90), Body: book.SessionBody{Session: "1", Track: "moor", Laps: []unit.Fixed{120_000}}}, {Wall: day(0), Body: book.SessionBody{Session: "2", Track: "moor", Laps: []unit.Fixed{116_000}}}}
		}, "1:56.0"},
		{"checks-good", allGood(day(1)), "whole round"},
		{"alignment-done", allGood(day(1)), "straight"},
	}
	a, k := bareAsk()
	quiet := bookSays(a, k, WhyArgs{})
	known := diagnosis.Load().Facts()
	for _, r := range rows {
		a, k := bareAsk()
		r.make(k)
		n := bookSays(a, k, WhyArgs{})
		if !slices.Contains(n.facts.Marks, r.fact) || !strings.Contains(n.because[r.fact], r.because) {
			t.Errorf("%s: marks %v because %q; want a reason with %q", r.fact, n.facts.Marks, n.because[r.fact], r.because)
		}
		if r.fact != "pressure-unchecked" && slices.Contains(quiet.facts.Marks, r.fact) {
			t.Errorf("%s holds without any reason", r.fact)
		}
		if !slices.ContainsFunc(known, func(f diagnosis.Fact) bool { return f.ID == r.fact }) {
			t.Errorf("the knowledge has no fact %s", r.fact)
		}
	}
}

func fixed(n int) *unit.Fixed { f := unit.Whole(n); return &f }

func allGood(at time.Time) func(*book.Bike) {
	return func(k *book.Bike) {
		for _, c := range roundChecks {
			k.Checks[c.Check] = book.Dated[book.CheckBody]{Wall: at, Body: book.CheckBody{Check: c.Check, Result: "good"}}
		}
	}
}

func TestChecksOfTheRoundAreFindings(t *testing.T) {
	a, k := bareAsk()
	allGood(a.Now.AddDate(0, 0, -2))(k)
	n := bookSays(a, k, WhyArgs{})
	for _, c := range checkCauses {
		for _, id := range c.good {
			if _, ok := causesByID()[id]; !ok {
				t.Errorf("the check %s speaks of %s, which the knowledge does not have", c.check, id)
			}
			if !slices.ContainsFunc(n.found, func(o diagnosis.Observed) bool { return o.Finding == causesByID()[id].Check.Finding.ID && o.Absent }) {
				t.Errorf("a good %s does not rule out %s", c.check, id)
			}
		}
	}
	k.Checks["alignment"] = book.Dated[book.CheckBody]{Wall: a.Now, Body: book.CheckBody{Result: "fault"}}
	n = bookSays(a, k, WhyArgs{})
	if !slices.ContainsFunc(n.found, func(o diagnosis.Observed) bool { return o.Finding == "found-wheel-misaligned" && !o.Absent }) {
		t.Error("a faulty alignment is no finding")
	}
	k.Falls = []book.Dated[book.FallBody]{{Wall: a.Now}}
	if n = bookSays(a, k, WhyArgs{}); slices.ContainsFunc(n.found, func(o diagnosis.Observed) bool { return o.Absent }) {
		t.Error("checks made before a fall still count")
	}
}

func TestOldReadingsDoNotCount(t *testing.T) {
	a, k := bareAsk()
	k.Measures["sag"] = book.Dated[book.MeasureBody]{Wall: a.Now.AddDate(0, 0, -9), Body: book.MeasureBody{Values: map[string]unit.Fixed{"rear_rider": unit.Whole(50), "front_rider": unit.Whole(20)}}}
	if f := bookSays(a, k, WhyArgs{}).facts; f.RiderSagRear == nil || *f.RiderSagRear != 50 || f.RiderSagFront == nil {
		t.Fatalf("sag is not read: %+v", f)
	}
	turn(k, "rear.preload", 8, a.Now.AddDate(0, 0, -1))
	if f := bookSays(a, k, WhyArgs{}).facts; f.RiderSagRear != nil || f.RiderSagFront == nil {
		t.Errorf("sag from before the preload was turned still counts: %+v", f)
	}
}

func TestSlackCountsUntilTheGearingIsChanged(t *testing.T) {
	a, k := bareAsk()
	if f := bookSays(a, k, WhyArgs{}).facts; f.ChainSlackLeast == nil {
		t.Fatal("a counted slack is not read")
	}
	turn(k, "sprocket.rear", 1, a.Now.AddDate(0, 0, -1))
	if f := bookSays(a, k, WhyArgs{}).facts; f.ChainSlackLeast != nil {
		t.Error("slack from before the gearing was changed still counts")
	}
}

// TestForkHeightIsCountedUpsideDown holds the sense of the one adjuster whose
// number grows as the bike gets lower.
func TestForkHeightIsCountedUpsideDown(t *testing.T) {
	a, k := bareAsk()
	c, _ := caseOf(a, k, WhyArgs{})
	for _, s := range c.Settings {
		want := strings.HasSuffix(s.Adjuster, "rebound") || strings.Contains(s.Adjuster, "compression") || s.Adjuster == "steering.damper" || s.Adjuster == "front.height"
		if s.MoreIsLess != want {
			t.Errorf("%s: more is less %v; want %v", s.Adjuster, s.MoreIsLess, want)
		}
	}
	d := describer{a: a, k: k, says: bookSays(a, k, WhyArgs{})}
	raise := d.try("front-too-low", diagnosis.Remedy{Adjuster: "front.height", Direction: "more", Steps: 2})
	if raise.Steps != -2 || raise.Says != "front higher, calmer steering" {
		t.Errorf("raising the front is %+v", raise)
	}
}

func TestWhatWasTurnedBeforeAWorseSession(t *testing.T) {
	a := exampleAsk(t)
	k := a.Book.Bikes["heron"]
	k.Sessions = slices.DeleteFunc(k.Sessions, func(s book.Dated[book.SessionBody]) bool { return s.Body.Session > "sep-1" })
	got := recentChanges(k)
	want := []diagnosis.Recent{
		{Adjuster: "rear.preload", Direction: "more", Steps: 4, Worse: true},
		{Adjuster: "rear.rebound", Direction: "less", Steps: 3, Worse: true},
	}
	if !slices.Equal(got, want) {
		t.Errorf("recent changes %+v; want %+v: the fork's height was put back and does not count", got, want)
	}
	w := askWhy(t, a, WhyArgs{Findings: map[string]string{"rear-wallow": "yes"}, Repeat: "every"})
	if w.Change == nil || !w.Change.PutBack || w.Change.Adjuster != "rear.rebound" || w.Change.Title != "Rear rebound: 3 clicks in, from 10 to 7 out" {
		t.Errorf("change %+v; want the rebound put back, which nobody owned up to", w.Change)
	}
	if w.Change != nil && !strings.Contains(w.Change.NoTry, "Rear compression is on trial") {
		t.Errorf("a second change is offered while one is on trial: %q", w.Change.NoTry)
	}
}
