package book

import (
	"encoding/binary"
	"encoding/json"
	"testing"
	"time"

	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

const (
	testBook = entry.BookID("01890000-0000-7000-8000-00000000b00c")
	phoneA   = entry.DeviceID("01890000-0000-7000-8000-00000000000a")
	phoneB   = entry.DeviceID("01890000-0000-7000-8000-00000000000b")
	heron    = BikeID("heron")
)

// story writes a history: devices write entries, tell moves the wall clock,
// and everything lands in one slice as the test wants it.
type story struct {
	t      testing.TB
	now    time.Time
	chance uint64
	log    []entry.Entry
	pens   map[entry.DeviceID]*entry.Pen
}

func newStory(t testing.TB) *story {
	s := &story{t: t, now: time.Date(2026, 5, 2, 9, 0, 0, 0, time.FixedZone("", 7200)), pens: map[entry.DeviceID]*entry.Pen{}}
	s.write(phoneA, KindBike, BikeBody{Bike: heron, Name: "Heron 600"})
	for _, a := range Standard(heron) {
		s.write(phoneA, KindAdjuster, a)
	}
	return s
}

func (s *story) pen(d entry.DeviceID) *entry.Pen {
	if s.pens[d] == nil {
		s.pens[d] = &entry.Pen{Book: testBook, Device: d}
	}
	return s.pens[d]
}

// write adds an entry of a device that knows only its own entries and those
// it was synced with.
func (s *story) write(d entry.DeviceID, kind string, body any) entry.ID {
	s.t.Helper()
	raw, err := json.Marshal(body)
	if err != nil {
		s.t.Fatal(err)
	}
	s.now = s.now.Add(time.Minute)
	s.chance++
	var chance entry.Chance
	binary.BigEndian.PutUint64(chance[8:], s.chance)
	e, err := s.pen(d).Write(kind, "", raw, s.now, chance)
	if err != nil {
		s.t.Fatal(err)
	}
	s.pen(d).See(e)
	s.log = append(s.log, e)
	return e.ID
}

func (s *story) sync() {
	for _, e := range s.log {
		s.pen(phoneA).See(e)
		s.pen(phoneB).See(e)
	}
}

func (s *story) book() *Book { return Fold(s.log) }
func (s *story) bike() *Bike { return s.book().Bikes[heron] }
func at(n int) *unit.Fixed   { f := unit.Whole(n); return &f }
func change(a AdjusterID, from, to int, why string) ChangeBody {
	delta := unit.Whole(to - from)
	return ChangeBody{Bike: heron, Adjuster: a, From: at(from), To: at(to), Delta: &delta, Why: why}
}

func counted(a AdjusterID, n int) CountBody {
	return CountBody{Bike: heron, Adjuster: a, Standing: Counted, At: at(n)}
}

func wantAt(t *testing.T, s *Setting, standing Standing, n int) {
	t.Helper()
	if s.Standing != standing || s.At == nil || *s.At != unit.Whole(n) {
		t.Errorf("%s is %s at %v; want %s at %d", s.ID, s.Standing, s.At, standing, n)
	}
}

func TestCountThenChange(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 12))
	c := change("rear.rebound", 12, 10, "wallows on the drive out")
	c.Idea = "friend"
	s.write(phoneA, KindChange, c)
	got := s.bike().Settings["rear.rebound"]
	wantAt(t, got, Counted, 10)
	if last := got.Line[len(got.Line)-1]; last.Idea != "friend" || last.Why != "wallows on the drive out" {
		t.Errorf("the line forgot whose idea or why: %+v", last)
	}
}

func TestFoundHasNoAuthorUntilOwned(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 12))
	found := s.write(phoneA, KindCount, counted("rear.rebound", 15))
	k := s.bike()
	un := k.Unowned()
	if len(un) != 1 || un[0].Entry != found || un[0].After == nil || *un[0].Delta != unit.Whole(3) {
		t.Fatalf("unowned = %+v; want the one difference of +3 with its window", un)
	}
	s.write(phoneA, KindOwn, OwnBody{Found: found, By: "kit", Why: "thought it was too slow"})
	k = s.bike()
	if un := k.Unowned(); len(un) != 0 {
		t.Errorf("still unowned after owning up: %+v", un)
	}
	if m := k.Settings["rear.rebound"].Line[1]; m.Turned != "kit" {
		t.Errorf("owned mark names %q; want kit", m.Turned)
	}
}

func TestAssumptionProvenWrongHasNoCulprit(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, CountBody{Bike: heron, Adjuster: "rear.rebound", Standing: Assumed, At: at(12)})
	s.write(phoneA, KindCount, counted("rear.rebound", 15))
	if un := s.bike().Unowned(); len(un) != 0 {
		t.Errorf("an assumption was blamed on somebody: %+v", un)
	}
}

func TestDeltaOnUnknownStaysUnknown(t *testing.T) {
	s := newStory(t)
	delta := unit.Whole(-2)
	s.write(phoneA, KindChange, ChangeBody{Bike: heron, Adjuster: "rear.rebound", Delta: &delta})
	if got := s.bike().Settings["rear.rebound"]; got.Standing != Unknown || got.At != nil || len(got.Line) != 1 {
		t.Errorf("setting = %+v; want unknown, with the change in its line", got)
	}
}

func TestTwoPhonesTurnTheSame(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 12))
	s.sync()
	s.write(phoneA, KindChange, change("rear.rebound", 12, 10, ""))
	s.write(phoneB, KindChange, change("rear.rebound", 12, 9, ""))
	got := s.bike().Settings["rear.rebound"]
	wantAt(t, got, Counted, 9)
	if len(got.Disputed) != 1 {
		t.Fatalf("disputed = %v; want the later change", got.Disputed)
	}
	s.sync()
	s.write(phoneB, KindCount, counted("rear.rebound", 10))
	got = s.bike().Settings["rear.rebound"]
	wantAt(t, got, Counted, 10)
	if len(got.Disputed) != 0 || got.Line[len(got.Line)-1].Kind != "count" {
		t.Errorf("a count must settle the dispute without blaming anybody: %+v", got)
	}
}

func TestDriftAndWayBack(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 9))
	s.write(phoneA, KindCount, counted("front.height", 4))
	s.write(phoneA, KindBaseline, BaselineBody{Bike: heron, Baseline: "dry", Name: "Good in the dry", At: s.bike().SnapshotLine()})
	s.write(phoneA, KindChange, change("rear.rebound", 9, 12, ""))
	s.write(phoneA, KindChange, change("front.height", 4, 7, ""))
	k := s.bike()
	line, _ := k.Line()
	moves := k.WayBack(line)
	if len(moves) != 2 || moves[0].Adjuster != "front.height" || moves[1].Delta != unit.Whole(-3) {
		t.Fatalf("way back = %+v; want fork height first, then rebound 3 in", moves)
	}
	for _, d := range k.DriftFrom(line) {
		if d.Adjuster == "front.height" && d.Steps != unit.Whole(6) {
			t.Errorf("fork height drifted %s steps of 0.5 mm; want 6", d.Steps)
		}
	}
	for _, m := range moves {
		s.write(phoneA, KindChange, ChangeBody{Bike: heron, Adjuster: m.Adjuster, From: m.From, To: &m.To, Delta: &m.Delta, Back: "dry"})
	}
	if left := s.bike().WayBack(line); len(left) != 0 {
		t.Errorf("after the way back there is still %+v to do", left)
	}
}

func TestCorrectionAndStrikeKeepHistory(t *testing.T) {
	s := newStory(t)
	wrong := s.write(phoneA, KindCount, counted("rear.rebound", 21))
	body, _ := json.Marshal(counted("rear.rebound", 12))
	s.write(phoneA, KindCorrect, CorrectBody{Entry: wrong, Body: body, Why: "mistyped"})
	wantAt(t, s.bike().Settings["rear.rebound"], Counted, 12)

	strike := s.write(phoneA, KindStrike, StrikeBody{Entry: wrong})
	if got := s.bike().Settings["rear.rebound"]; got.Standing != Unknown {
		t.Errorf("a struck count still counts: %+v", got)
	}
	s.write(phoneA, KindStrike, StrikeBody{Entry: strike, Why: "it was right after all"})
	wantAt(t, s.bike().Settings["rear.rebound"], Counted, 12)
	if b := s.book(); len(b.Told) != len(s.log) {
		t.Errorf("history tells %d of %d entries", len(b.Told), len(s.log))
	}
}

func TestFallStopsUntilStraight(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCheck, CheckBody{Bike: heron, Check: CheckStraight, Result: "good"})
	s.write(phoneA, KindFall, FallBody{Bike: heron, Side: "left", Speed: "standing"})
	if _, open := s.bike().FallOpen(); !open {
		t.Fatal("a check from before the fall cleared it")
	}
	s.write(phoneA, KindCheck, CheckBody{Bike: heron, Check: CheckStraight, Result: "unsure"})
	if _, open := s.bike().FallOpen(); !open {
		t.Fatal("an unsure check cleared the fall")
	}
	s.write(phoneA, KindCheck, CheckBody{Bike: heron, Check: CheckStraight, Result: "good"})
	if _, open := s.bike().FallOpen(); open {
		t.Error("a good check after the fall did not clear it")
	}
}

func TestTrialAdviceAndVerdict(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 12))
	said := s.write(phoneA, KindAdvice, AdviceBody{Bike: heron, From: "friend", Adjuster: "rear.rebound"})
	c := change("rear.rebound", 12, 10, "")
	c.Trial, c.Advice = true, said
	trial := s.write(phoneA, KindChange, c)
	other := s.write(phoneA, KindChange, ChangeBody{Bike: heron, Adjuster: "front.height", To: at(5)})
	k := s.bike()
	if run := k.Running(); len(run) != 1 || len(run[0].Spoiled) != 1 || run[0].Spoiled[0] != other {
		t.Fatalf("running = %+v; want one trial, spoiled by the other change", run)
	}
	s.write(phoneA, KindVerdict, VerdictBody{Change: trial, Verdict: "keep"})
	k = s.bike()
	if len(k.Running()) != 0 || k.Advice[0].Verdict != "keep" || k.Advice[0].Result != "tried" {
		t.Errorf("after the verdict: running %v, advice %+v", k.Running(), k.Advice[0])
	}
}

func TestOdditiesAreKept(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, "telemetry", map[string]int{"x": 1})
	s.write(phoneA, KindChange, ChangeBody{Bike: "no such bike", Adjuster: "rear.rebound", To: at(1)})
	s.write(phoneA, KindOwn, OwnBody{Found: "nothing"})
	b := s.book()
	if len(b.Oddities) != 2 || len(b.Told) != len(s.log) {
		t.Errorf("oddities %+v, told %d of %d; want two, and every entry told", b.Oddities, len(b.Told), len(s.log))
	}
}

func TestFoldUntil(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 12))
	then := s.log[len(s.log)-1].At
	s.write(phoneA, KindChange, change("rear.rebound", 12, 10, ""))
	wantAt(t, FoldUntil(s.log, then).Bikes[heron].Settings["rear.rebound"], Counted, 12)
	wantAt(t, s.bike().Settings["rear.rebound"], Counted, 10)
}
