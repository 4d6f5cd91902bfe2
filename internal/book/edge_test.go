package book

import (
	"strings"
	"testing"

	"plumbline/internal/unit"
)

// TestRangesEndWhereTheySay: the last number that can be is taken, and one
// thousandth, or one, further is refused at its field.
func TestRangesEndWhereTheySay(t *testing.T) {
	b := newStory(t).book()
	f := func(thousandths int64) *unit.Fixed { v := unit.Fixed(thousandths); return &v }
	session := func(set func(*SessionBody)) SessionBody {
		n := SessionBody{Bike: heron}
		set(&n)
		return n
	}
	laps := func(n int, time unit.Fixed) LapsBody {
		body := LapsBody{Bike: heron}
		for range n {
			body.Laps = append(body.Laps, LapTime{Time: time})
		}
		return body
	}
	track := func(points, corners int, length *unit.Fixed) TrackBody {
		return TrackBody{Name: "Moor", Length: length, Map: &Map{Points: make([]Spot, points)}, Corners: make([]Corner, corners)}
	}
	rows := []struct {
		field     string
		in, past  any
		otherwise any // the other end, past it; nil where there is none
	}{
		{"rider", BikeBody{Rider: f(30_000)}, BikeBody{Rider: f(29_999)}, BikeBody{Rider: f(250_001)}},
		{"rider", BikeBody{Rider: f(250_000)}, BikeBody{Rider: f(250_001)}, nil},
		{"year", BikeBody{Year: 1900}, BikeBody{Year: 1899}, BikeBody{Year: 2101}},
		{"year", BikeBody{Year: 2100}, BikeBody{Year: 2101}, nil},
		{"step", AdjusterBody{Def: Def{Name: "wing", Step: 1, Max: 5}}, AdjusterBody{Def: Def{Name: "wing", Max: 5}}, nil},
		{"max", AdjusterBody{Def: Def{Name: "wing", Step: 1, Max: 1}}, AdjusterBody{Def: Def{Name: "wing", Step: 1}}, nil},
		{"days", IntervalBody{What: "oil", Days: 1000}, IntervalBody{What: "oil", Days: 1001}, IntervalBody{What: "oil", Days: -1}},
		{"hours", IntervalBody{What: "oil", Hours: 10_000}, IntervalBody{What: "oil", Hours: 10_001}, nil},
		{"km", IntervalBody{What: "oil", Km: 1_000_000}, IntervalBody{What: "oil", Km: 1_000_001}, nil},
		{"months", IntervalBody{What: "oil", Months: 240}, IntervalBody{What: "oil", Months: 241}, nil},
		{"days", IntervalBody{What: "oil", Off: true}, IntervalBody{What: "oil"}, nil},
		{"km", ServiceBody{Km: f(999_999_000)}, ServiceBody{Km: f(999_999_001)}, ServiceBody{Km: f(-1)}},
		{"hours", ServiceBody{Hours: f(99_999_000)}, ServiceBody{Hours: f(99_999_001)}, ServiceBody{Hours: f(-1)}},
		{"laps", laps(500, 98_000), laps(501, 98_000), nil},
		{"laps", laps(1, 10_000), laps(1, 9_999), laps(1, 3_600_001)},
		{"laps", laps(1, 3_600_000), laps(1, 3_600_001), nil},
		{"cycles", TyresBody{Name: "Set 2"}, TyresBody{Name: "Set 2", Cycles: -1}, TyresBody{Name: "Set 2", Cycles: 501}},
		{"cycles", TyresBody{Name: "Set 2", Cycles: 500}, TyresBody{Name: "Set 2", Cycles: 501}, nil},
		{"air", session(func(n *SessionBody) { n.Air = f(-20_000) }), session(func(n *SessionBody) { n.Air = f(-20_001) }), session(func(n *SessionBody) { n.Air = f(50_001) })},
		{"ground", session(func(n *SessionBody) { n.Ground = f(80_000) }), session(func(n *SessionBody) { n.Ground = f(80_001) }), session(func(n *SessionBody) { n.Ground = f(-10_001) })},
		{"fuel", session(func(n *SessionBody) { n.Fuel = f(30_000) }), session(func(n *SessionBody) { n.Fuel = f(30_001) }), session(func(n *SessionBody) { n.Fuel = f(-1) })},
		{"coldFront", session(func(n *SessionBody) { n.ColdFront = f(80_000) }), session(func(n *SessionBody) { n.ColdFront = f(79_999) }), session(func(n *SessionBody) { n.ColdFront = f(450_001) })},
		{"rear", session(func(n *SessionBody) { n.Rear = f(450_000) }), session(func(n *SessionBody) { n.Rear = f(450_001) }), nil},
		{"length", track(0, 0, f(200_000)), track(0, 0, f(199_999)), track(0, 0, f(30_000_001))},
		{"map", track(800, 0, nil), track(801, 0, nil), nil},
		{"corners", track(0, 100, nil), track(0, 101, nil), nil},
		{"name", BaselineBody{Name: strings.Repeat("a", maxWords)}, BaselineBody{Name: strings.Repeat("a", maxWords+1)}, BaselineBody{}},
	}
	for _, r := range rows {
		if got := b.Check(r.in); len(got) != 0 {
			t.Errorf("%s: %+v is refused: %v", r.field, r.in, got)
		}
		for _, bad := range []any{r.past, r.otherwise} {
			if bad == nil {
				continue
			}
			if got := b.Check(bad); len(got) != 1 || got[0].Field != r.field || got[0].Mend == "" {
				t.Errorf("%s: Check(%.200v) = %v; want one refusal there, and how to mend it", r.field, bad, got)
			}
		}
	}
}

// TestAChangeOfWhichLittleIsKnown: steps from nowhere are history all the same.
func TestAChangeOfWhichLittleIsKnown(t *testing.T) {
	b := newStory(t).book()
	if got := b.Check(ChangeBody{Bike: heron, Adjuster: "rear.rebound", Delta: at(-3)}); len(got) != 0 {
		t.Errorf("three clicks from an unknown position are refused: %v", got)
	}
	if got := b.Check(ChangeBody{Bike: heron, Adjuster: "rear.rebound", From: at(9), To: at(6)}); len(got) != 0 {
		t.Errorf("from 9 to 6 without a distance is refused: %v", got)
	}
}

// TestTwoNamesStayOnePerson: to be told anew what somebody is called, or to be
// merged the other way round on another phone, does not part them.
func TestTwoNamesStayOnePerson(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindPerson, PersonBody{Person: "kit", Name: "Kit"})
	s.write(phoneA, KindPerson, PersonBody{Person: "k", Name: "K."})
	s.write(phoneA, KindPerson, PersonBody{Person: "k", Same: "kit"})
	s.write(phoneA, KindPerson, PersonBody{Person: "k", Name: "Kit, again"})
	s.write(phoneA, KindPerson, PersonBody{Person: "kit", Same: "k"})
	if b := s.book(); b.Who("k") != "kit" || b.Who("kit") != "kit" {
		t.Errorf("k is %q and kit is %q; want kit for both", b.Who("k"), b.Who("kit"))
	}
	s.write(phoneA, KindPerson, PersonBody{Person: "k", Same: "k"})
	if b := s.book(); b.Who("k") != "k" {
		t.Errorf("parted again, k is %q", b.Who("k"))
	}
}

// TestStandardAdjustersTurnTheSameWay: a click is counted out from fully
// closed, so that in is fewer and fewer is more damping; turns of preload and
// lengths count up.
func TestStandardAdjustersTurnTheSameWay(t *testing.T) {
	for _, a := range standard {
		in, firm := 0, 1
		switch a.Unit {
		case "click":
			in, firm = -1, -1
		case "turn":
			in = 1
		}
		if a.In != in || a.Firm != firm {
			t.Errorf("%s, in %ss: in moves the number by %d and more of it is firmer by %d; want %d and %d", a.ID, a.Unit, a.In, a.Firm, in, firm)
		}
		if a.Step <= 0 || a.Min >= a.Max || a.Name == "" || a.From == "" || a.More == "" || a.Less == "" {
			t.Errorf("%s is not whole: %+v", a.ID, a.Def)
		}
	}
}

func TestStepsAreRoundedAwayFromZero(t *testing.T) {
	half := Def{Step: 500}
	for _, r := range []struct {
		d              Def
		distance, want unit.Fixed
	}{
		{half, 1000, 2000}, {half, -1000, -2000}, {half, 0, 0}, {Def{}, 3000, 3000},
		{Def{Step: 3447}, 3447, 1000}, // 0.5 psi is one step
		{Def{Step: 3000}, 1000, 333}, {Def{Step: 3000}, 2000, 667}, {Def{Step: 3000}, -2000, -667},
		{Def{Step: 2000}, 1, 1}, {Def{Step: 2000}, -1, -1}, // half a thousandth of a step
	} {
		if got := r.d.Steps(r.distance); got != r.want {
			t.Errorf("%d thousandths in steps of %d are %d thousandths of a step; want %d", r.distance, r.d.Step, got, r.want)
		}
	}
}
