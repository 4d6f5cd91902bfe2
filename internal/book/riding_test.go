package book

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"plumbline/internal/entry"
	"plumbline/internal/unit"

	"pgregory.net/rapid"
)

func seconds(ms ...unit.Fixed) []LapTime {
	var out []LapTime
	for _, t := range ms {
		out = append(out, LapTime{Time: t})
	}
	return out
}

func TestADayWithItsSessions(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindTrack, TrackBody{Track: "moor", Name: "The Moor"})
	s.write(phoneA, KindTrack, TrackBody{Track: "moor", Way: "clockwise", Length: at(3120), Corners: []Corner{{Name: "Long right"}, {}}})
	s.write(phoneA, KindDay, DayBody{Day: "d", Track: "moor", Date: "2026-05-02", Way: "anticlockwise"})
	s.write(phoneA, KindLaps, LapsBody{Bike: heron, Session: "two", Laps: seconds(112_400), Source: "hand"}) // before its session
	s.write(phoneA, KindSession, SessionBody{Bike: heron, Session: "one", Day: "d", Track: "moor", Laps: []unit.Fixed{113_000, 112_800}})
	s.write(phoneA, KindSession, SessionBody{Bike: heron, Session: "two", Day: "d", Track: "moor"})
	s.write(phoneA, KindSession, SessionBody{Bike: heron, Session: "old", Track: "moor", When: "2026-04-30"})
	s.write(phoneA, KindDay, DayBody{Day: "next", Track: "moor", Date: "2026-06-01"})
	b := s.book()
	if len(b.Oddities) > 0 {
		t.Fatalf("oddities: %+v", b.Oddities)
	}
	tr := b.Tracks["moor"]
	if tr.Name != "The Moor" || tr.Way != "clockwise" || *tr.Length != unit.Whole(3120) || len(tr.Corners) != 2 {
		t.Errorf("the track is %+v", tr)
	}
	k := b.Bikes[heron]
	if got := k.LapsOf("one"); len(got) != 2 || got[1].Time != 112_800 {
		t.Errorf("the laps in the session itself: %+v", got)
	}
	if got := k.LapsOf("two"); len(got) != 1 || got[0].Time != 112_400 {
		t.Errorf("the laps of their own entry: %+v", got)
	}
	days := b.RidingDays(k)
	var told []string
	for _, d := range days {
		told = append(told, d.Date+" "+d.Way+" "+strings.Repeat("|", len(d.Sessions)))
	}
	if want := []string{"2026-04-30  |", "2026-05-02 anticlockwise ||", "2026-06-01  "}; !slices.Equal(told, want) {
		t.Errorf("days %q; want %q", told, want)
	}
}

func TestLaterLapsReplaceEarlierOnes(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindSession, SessionBody{Bike: heron, Session: "one", Laps: []unit.Fixed{113_000}})
	first := s.write(phoneA, KindLaps, LapsBody{Bike: heron, Session: "one", Laps: seconds(112_000), Source: "hand"})
	second := s.write(phoneA, KindLaps, LapsBody{Bike: heron, Session: "one", Laps: seconds(111_000, 110_000), Source: "trace"})
	if got := s.bike().LapsOf("one"); len(got) != 2 {
		t.Errorf("laps %+v; want those of the trace", got)
	}
	s.write(phoneA, KindStrike, StrikeBody{Entry: second})
	if got := s.bike().LapsOf("one"); len(got) != 1 || got[0].Time != 112_000 {
		t.Errorf("laps %+v; want those by hand back", got)
	}
	s.write(phoneA, KindStrike, StrikeBody{Entry: first})
	if got := s.bike().LapsOf("one"); len(got) != 1 || got[0].Time != 113_000 {
		t.Errorf("laps %+v; want those of the session itself back", got)
	}
}

func TestHeatCycles(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindTyres, TyresBody{Bike: heron, Set: "a", Name: "Set A", Cycles: 3})
	for _, run := range []struct{ id, tyres string }{{"1", "a"}, {"2", ""}, {"3", "a"}, {"4", "b"}, {"5", "a"}} {
		s.write(phoneA, KindSession, SessionBody{Bike: heron, Session: SessionID(run.id), Tyres: TyreSetID(run.tyres)})
	}
	k := s.bike()
	for until, want := range map[SessionID]int{"1": 4, "2": 4, "3": 5, "": 6} {
		if got := k.HeatCycles("a", until); got != want {
			t.Errorf("cycles until %q = %d; want %d", until, got, want)
		}
	}
	if got := k.HeatCycles("", ""); got != 0 {
		t.Errorf("no set has %d cycles", got)
	}
}

func TestRiddenTakesTheRidersTime(t *testing.T) {
	wall := time.Date(2026, 5, 3, 20, 0, 0, 0, time.FixedZone("", 7200))
	for when, want := range map[string]string{
		"":                 "2026-05-03T20:00:00+02:00",
		"2026-05-02":       "2026-05-02T12:00:00+02:00",
		"2026-05-02T09:40": "2026-05-02T09:40:00+02:00",
		"yesterday":        "2026-05-03T20:00:00+02:00",
	} {
		if got := Ridden(Dated[SessionBody]{Wall: wall, Body: SessionBody{When: when}}).Format(time.RFC3339); got != want {
			t.Errorf("Ridden(%q) = %s; want %s", when, got, want)
		}
	}
}

// Where nothing was corrected later, the settings as they stood are those that
// a fold until that moment gives.
func TestStoodAtIsTheFoldUntil(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := anyStory(r, t)
		log := slices.DeleteFunc(s.log, func(e entry.Entry) bool { return e.Kind == KindStrike || e.Kind == KindCorrect })
		b := Fold(log)
		e := log[rapid.IntRange(0, len(log)-1).Draw(r, "entry")]
		was := FoldUntil(log, e.At-1)
		k, there := was.Bikes[heron]
		if !there {
			return
		}
		at, standings := b.StoodAt(b.Bikes[heron], e.ID)
		want, wantStandings := map[AdjusterID]unit.Fixed{}, map[AdjusterID]Standing{}
		for id, set := range k.Settings {
			wantStandings[id] = set.Standing
			if set.At != nil {
				want[id] = *set.At
			}
		}
		maps.DeleteFunc(wantStandings, func(id AdjusterID, st Standing) bool { return standings[id] == "" && st == Unknown })
		maps.DeleteFunc(standings, func(id AdjusterID, st Standing) bool { return wantStandings[id] == "" && st == Unknown })
		if !maps.Equal(at, want) || !maps.Equal(standings, wantStandings) {
			r.Fatalf("stood at %v %v; the fold until then has %v %v", at, standings, want, wantStandings)
		}
	})
}

func TestCheckRiding(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindTrack, TrackBody{Track: "moor", Name: "The Moor"})
	b := s.book()
	for name, r := range map[string]struct {
		body  any
		field string
	}{
		"a known track gains a length":   {TrackBody{Track: "moor", Length: at(3120)}, ""},
		"a new track needs a name":       {TrackBody{Track: "new"}, "name"},
		"a track of a mile of a million": {TrackBody{Track: "moor", Length: at(50_000)}, "length"},
		"a third direction":              {TrackBody{Track: "moor", Way: "up"}, "way"},
		"a map too fine":                 {TrackBody{Track: "moor", Map: &Map{Points: make([]Spot, maxSpots+1)}}, "map"},
		"the thirty-first of June":       {DayBody{Day: "d", Date: "2026-06-31"}, "date"},
		"a good session":                 {SessionBody{Air: at(21), Ground: at(33), Front: at(248), Felt: "same", When: "2026-06-30T09:40"}, ""},
		"frozen air":                     {SessionBody{Air: at(-60)}, "air"},
		"psi taken for kPa":              {SessionBody{ColdRear: at(30)}, "coldRear"},
		"a barrel of fuel":               {SessionBody{Fuel: at(200)}, "fuel"},
		"half past nine":                 {SessionBody{When: "half past nine"}, "when"},
		"good laps":                      {LapsBody{Laps: []LapTime{{Time: 112_400, Mark: "slow"}}}, ""},
		"a lap of a second":              {LapsBody{Laps: seconds(1000)}, "laps"},
		"a mark of its own":              {LapsBody{Laps: []LapTime{{Time: 112_400, Mark: "lovely"}}}, "laps"},
		"tyres without a name":           {TyresBody{Set: "a"}, "name"},
		"an interval":                    {IntervalBody{What: "fork-oil", Days: 10}, ""},
		"an interval without a limit":    {IntervalBody{What: "fork-oil"}, "days"},
		"an interval that is off":        {IntervalBody{What: "fork-oil", Off: true}, ""},
		"a service at minus one":         {ServiceBody{What: "chain", Km: at(-1)}, "km"},
	} {
		got := b.Check(r.body)
		if r.field == "" && len(got) == 0 {
			continue
		}
		if len(got) != 1 || got[0].Field != r.field || got[0].Says == "" || got[0].Mend == "" {
			t.Errorf("%s: %+v; want a refusal at %q", name, got, r.field)
		}
	}
}

// A log of an older app folds to the same sessions.
func TestOldSessionsReadAsBefore(t *testing.T) {
	s := newStory(t)
	raw := `{"bike":"heron","session":"s","track":"moor","air":21,"wet":true,"front":248.2,"laps":[112.4,111.9],"felt":"worse","note":"n"}`
	var body SessionBody
	if err := json.Unmarshal([]byte(raw), &body); err != nil {
		t.Fatal(err)
	}
	s.write(phoneA, KindSession, json.RawMessage(raw))
	got := s.bike().Sessions[0].Body
	again, err := json.Marshal(got)
	if err != nil || !bytes.Equal(again, []byte(raw)) {
		t.Errorf("read and written again it is %s, %v", again, err)
	}
}

// TestASessionKeepsItsSettings: they are read off the settings' lines, as they
// were when it was ridden, and a later correction of an earlier count is in it.
func TestASessionKeepsItsSettings(t *testing.T) {
	s := newStory(t)
	first := s.write(phoneA, KindCount, counted("rear.rebound", 9))
	s.now = s.now.Add(time.Hour)
	s.write(phoneA, KindSession, SessionBody{Bike: heron, Session: "one"})
	between := s.now.Add(30 * time.Minute).Format("2006-01-02T15:04")
	s.now = s.now.Add(time.Hour)
	s.write(phoneA, KindChange, change("rear.rebound", 9, 7, ""))
	s.write(phoneA, KindSession, SessionBody{Bike: heron, Session: "two"})
	s.write(phoneA, KindSession, SessionBody{Bike: heron, Session: "noted in the evening", When: between})
	stood := func(id SessionID) unit.Fixed {
		t.Helper()
		b := s.book()
		session, ok := b.Bikes[heron].Session(id)
		if !ok {
			t.Fatalf("there is no session %q", id)
		}
		at, standings := b.StoodIn(b.Bikes[heron], session)
		if standings["front.rebound"] != Unknown || at["front.rebound"] != 0 {
			t.Errorf("in %q front rebound, never counted, is %v, %s", id, at["front.rebound"], standings["front.rebound"])
		}
		return at["rear.rebound"]
	}
	for id, want := range map[SessionID]int{"one": 9, "two": 7, "noted in the evening": 9} {
		if got := stood(id); got != unit.Whole(want) {
			t.Errorf("in %q rear rebound stood at %v; want %d", id, got, want)
		}
	}
	raw, err := json.Marshal(counted("rear.rebound", 10))
	if err != nil {
		t.Fatal(err)
	}
	s.write(phoneA, KindCorrect, CorrectBody{Entry: first, Body: raw})
	if got := stood("one"); got != unit.Whole(10) {
		t.Errorf("with the count corrected to 10 it stood at %v", got)
	}
	if got := stood("two"); got != unit.Whole(7) {
		t.Errorf("the correction of an earlier count moved a later session to %v", got)
	}
}
