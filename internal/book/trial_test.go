package book

import (
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"testing"

	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// ride writes a session at the moor.
func (s *story) ride(id SessionID, more ...func(*SessionBody)) {
	n := SessionBody{Bike: heron, Session: id, Track: "moor"}
	for _, m := range more {
		m(&n)
	}
	s.write(phoneA, KindSession, n)
}

// sides tells the runs of a trial: "one:a two:b three:-wet".
func sides(b *Book, t Trial) string {
	var out []string
	for _, r := range b.RunsOf(b.Bikes[heron], t) {
		word := r.Side
		if word == "" && r.At != nil {
			word = r.At.String()
		}
		if r.Out != "" {
			word = "-" + r.Out
		}
		out = append(out, fmt.Sprintf("%s:%s", r.Session.Body.Session, word))
	}
	return strings.Join(out, " ")
}

func TestRunsFindTheirSides(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 10))
	s.write(phoneA, KindCount, counted("front.rebound", 8))
	s.ride("dawn")
	s.write(phoneA, KindChange, change("front.rebound", 8, 9, ""))
	s.ride("one")
	c := change("rear.rebound", 10, 8, "it wallows")
	c.Trial, c.Track = true, "moor"
	id := s.write(phoneA, KindChange, c)
	s.ride("two")
	s.ride("rain", func(n *SessionBody) { n.Wet = true })
	s.write(phoneA, KindTrial, TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanBack, Change: id, Wanted: at(1)})
	s.write(phoneA, KindChange, change("rear.rebound", 8, 10, "there and back"))
	s.ride("three")
	s.write(phoneA, KindChange, change("rear.rebound", 10, 6, "too far"))
	s.ride("four")
	s.ride("away", func(n *SessionBody) { n.Track = "marsh" })
	s.ride("later", func(n *SessionBody) { n.When = "2026-05-03T10:00" })
	b := s.book()
	r := b.Bikes[heron].Trials[0]
	if got, want := sides(b, r), "dawn:-other one:a two:b rain:-wet three:a four:-unknown later:-unknown"; got != want {
		t.Errorf("the runs are %s; want %s", got, want)
	}
	if r.Plan != PlanBack || *r.Wanted != unit.Whole(1) || len(r.Spoiled) != 1 {
		t.Errorf("the trial is %+v; want one spoiling change, to 6", r)
	}
	s.write(phoneA, KindRun, RunBody{Bike: heron, Trial: id, Session: "one", Side: SideOut})
	s.write(phoneA, KindRun, RunBody{Bike: heron, Trial: id, Session: "rain", Side: SideB})
	s.write(phoneA, KindRun, RunBody{Bike: heron, Trial: id, Session: "four", Side: SideB})
	s.write(phoneA, KindRun, RunBody{Bike: heron, Trial: id, Session: "four"})
	s.write(phoneA, KindVerdict, VerdictBody{Change: id, Verdict: "keep", Laps: "ride more"})
	s.ride("after")
	b = s.book()
	r = b.Bikes[heron].Trials[0]
	if got, want := sides(b, r), "dawn:-other one:-rider two:b rain:b three:a four:-unknown"; !strings.HasPrefix(got, want) || strings.Contains(got, "after") {
		t.Errorf("overruled, the runs are %s; want %s", got, want)
	}
}

func TestRunsOfASweepStandAtTheirStops(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 10))
	id := s.write(phoneA, KindTrial, TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanSweep, A: at(10), Stops: []unit.Fixed{unit.Whole(12), unit.Whole(9), unit.Whole(6)}})
	for i, stop := range []int{12, 9, 6} {
		s.write(phoneA, KindChange, change("rear.rebound", []int{10, 12, 9}[i], stop, ""))
		s.ride(SessionID(fmt.Sprint("stop", i)))
	}
	b := s.book()
	r, _ := b.Bikes[heron].Trial(id)
	if got, want := sides(b, *r), "stop0:12 stop1:9 stop2:6"; got != want || len(r.Spoiled) != 0 {
		t.Errorf("the runs are %s, spoiled by %d; want %s", got, len(r.Spoiled), want)
	}
}

func TestABlindDrawStaysSealedUntilTheRiderSays(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 10))
	id := s.write(phoneA, KindTrial, TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanBlind, A: at(10), B: at(7)})
	chance := []byte{3, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}
	side, salt, ok := DrawSide(chance)
	if !ok || side != SideB {
		t.Fatalf("drew %q, %v", side, ok)
	}
	draw := s.write(phoneA, KindDraw, DrawBody{Bike: heron, Trial: id, Seal: SealDraw(id, side, salt), By: "ivo"})
	s.ride("one")
	b := s.book()
	if got := b.Bikes[heron].Settings["rear.rebound"]; got.At != nil || got.Standing != Unknown {
		t.Errorf("under seal it stands at %v, %s; want unknown", got.At, got.Standing)
	}
	if got := sides(b, b.Bikes[heron].Trials[0]); got != "one:-sealed" {
		t.Errorf("under seal the runs are %s", got)
	}
	if r := b.Check(DrawBody{Bike: heron, Trial: id}); len(r) != 1 {
		t.Errorf("a second draw under seal is refused with %v", r)
	}
	wrong := s.write(phoneA, KindReveal, RevealBody{Bike: heron, Draw: draw, Said: SideA, Side: SideA, Salt: hex.EncodeToString(salt)})
	if b := s.book(); len(b.Oddities) != 1 || b.Oddities[0].Entry != wrong {
		t.Errorf("a draw opened on the wrong side leaves oddities %+v", b.Oddities)
	}
	s.write(phoneA, KindReveal, RevealBody{Bike: heron, Draw: draw, Said: SideB, Side: SideB, Salt: hex.EncodeToString(salt)})
	b = s.book()
	d := b.Bikes[heron].Trials[0].Draws[0]
	wantAt(t, b.Bikes[heron].Settings["rear.rebound"], Counted, 7)
	if !d.Right() || sides(b, b.Bikes[heron].Trials[0]) != "one:b" {
		t.Errorf("opened: %+v, runs %s", d, sides(b, b.Bikes[heron].Trials[0]))
	}
	if _, _, ok := DrawSide(chance[:16]); ok {
		t.Error("16 bytes were enough for a draw")
	}
}

// TestTheSealTellsNothing: the same side with another salt has another seal,
// and both sides come up.
func TestTheSealTellsNothing(t *testing.T) {
	seen := map[string]int{}
	for i := range 64 {
		chance := slices.Repeat([]byte{byte(i * 37)}, drawChance)
		side, salt, _ := DrawSide(chance)
		seen[side]++
		seal := SealDraw("x", side, salt)
		if len(seal) != 64 || seen[seal] > 0 {
			t.Fatalf("seal %q of draw %d", seal, i)
		}
		seen[seal]++
	}
	if seen[SideA] != 32 || seen[SideB] != 32 {
		t.Errorf("of 64 bytes, even and odd by turns, %d are a and %d are b", seen[SideA], seen[SideB])
	}
}

func TestCheckTrial(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 10))
	b := s.book()
	for _, k := range []struct {
		body  any
		field string
	}{
		{TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: "guess"}, "plan"},
		{TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanBack, B: at(9)}, "a"},
		{TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanBack, A: at(10), B: at(10)}, "b"},
		{TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanBlind, A: at(10), B: at(99)}, "b"},
		{TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanBack, A: at(10), B: at(9), Wanted: at(0)}, "wanted"},
		{TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanSweep, Stops: []unit.Fixed{1000, 2000}}, "stops"},
		{TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanSweep, Stops: []unit.Fixed{1000, 2000, 1000}}, "stops"},
		{TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanSweep, Stops: []unit.Fixed{1000, 2000, 99000}}, "stops"},
		{TrialBody{Bike: heron, Adjuster: "nowhere", Plan: PlanBack}, "adjuster"},
		{DrawBody{Bike: heron, Trial: entry.ID("none")}, "trial"},
		{RunBody{Bike: heron, Trial: "none"}, "trial"},
		{RevealBody{Bike: heron, Said: "both"}, "said"},
		{RatingBody{Bike: heron, Felt: "great"}, "felt"},
	} {
		if r := b.Check(k.body); len(r) != 1 || r[0].Field != k.field || r[0].Mend == "" {
			t.Errorf("%+v is refused with %+v; want %s", k.body, r, k.field)
		}
	}
	if r := b.Check(TrialBody{Bike: heron, Adjuster: "rear.rebound", Plan: PlanBack, A: at(10), B: at(8)}); len(r) != 0 {
		t.Errorf("a sound trial is refused with %+v", r)
	}
}
