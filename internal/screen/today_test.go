package screen

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/example"
	"plumbline/internal/unit"
)

// desk is a phone in a test: a replica that asks and writes as the app does.
type desk struct {
	t *testing.T
	r *book.Replica
	n int
	a time.Time
}

func openDesk(t *testing.T) *desk {
	t.Helper()
	r := book.Open(example.BookID, "01890000-0000-7000-8000-0000000000dd")
	if _, wrong := r.Take(example.Lines()); len(wrong) > 0 {
		t.Fatal(wrong)
	}
	return &desk{t, r, 0, time.Date(2026, 9, 12, 14, 0, 0, 0, time.FixedZone("", 7200))}
}

func (d *desk) ask() Ask {
	return Ask{Book: d.r.Book(), Now: d.a, Mint: func() string { d.n++; return fmt.Sprintf("minted-%d", d.n) }}
}

// do acts, writes and folds, and returns the ids of the entries.
func (d *desk) do(action, form string) []entry.ID {
	d.t.Helper()
	drafts, refused := Act(action, d.ask(), json.RawMessage(form))
	if len(refused) > 0 {
		d.t.Fatalf("%s %s: %v", action, form, refused)
	}
	d.a = d.a.Add(time.Minute)
	chance := make([]byte, 16*len(drafts))
	for i := range chance {
		d.n++
		chance[i] = byte(d.n)
	}
	lines, err := d.r.Stamp(drafts, "nell", d.a, chance)
	if err != nil {
		d.t.Fatal(err)
	}
	if _, wrong := d.r.Take(lines); len(wrong) > 0 {
		d.t.Fatal(wrong)
	}
	told := d.r.Book().Told
	var ids []entry.ID
	for _, t := range told[len(told)-len(lines):] {
		ids = append(ids, t.Entry)
	}
	return ids
}

func (d *desk) refused(action, form string) book.Refusal {
	d.t.Helper()
	_, refused := Act(action, d.ask(), json.RawMessage(form))
	if len(refused) == 0 {
		d.t.Fatalf("%s %s was not refused", action, form)
	}
	return refused[0]
}

func see[M any](d *desk, name, args string) M {
	d.t.Helper()
	got, refused := View(name, d.ask(), json.RawMessage(args))
	if refused != nil {
		d.t.Fatalf("%s: %v", name, refused)
	}
	return got.(M)
}

func (d *desk) bike() *book.Bike { return d.r.Book().Bikes[example.Heron] }

func TestTodayOfTheExample(t *testing.T) {
	m := see[Today](openDesk(t), "today", `{}`)
	if m.BikeName != "Calder Heron 600" || len(m.Stops) != 0 || len(m.Trials) != 1 || len(m.Found) == 0 {
		t.Fatalf("today is %+v", m)
	}
	trial := m.Trials[0]
	if trial.Title != "Rear compression: 2 clicks in, from 12 to 10 out" || trial.Undo != "Rear compression: 2 clicks out, from 10 to 12 out" {
		t.Errorf("the trial is %+v", trial)
	}
	if !strings.Contains(m.Drift.Says, "off the line") || !slices.Contains(m.Drift.List, "Rear preload 1 turn in") {
		t.Errorf("drift is %+v", m.Drift)
	}
	if m.Due[0].Title != "Tyre pressures, cold" || !strings.Contains(m.Due[0].Says, "30.0 psi") {
		t.Errorf("due is %+v", m.Due)
	}
}

func TestTodayOfAnEmptyBook(t *testing.T) {
	got, refused := View("today", Ask{Book: book.Fold(nil), Now: time.Unix(0, 0)}, nil)
	if refused != nil || got.(Today).HasBike {
		t.Errorf("an empty book shows %+v, %v", got, refused)
	}
}

func TestAFallStopsTheRideUntilTheBikeIsStraight(t *testing.T) {
	b := book.Fold(nil)
	fall := book.Dated[book.FallBody]{Wall: time.Date(2026, 6, 6, 15, 0, 0, 0, time.UTC)}
	b.Bikes["x"] = &book.Bike{ID: "x", Settings: map[book.AdjusterID]*book.Setting{}, Falls: []book.Dated[book.FallBody]{fall}}
	b.BikeOrder = []book.BikeID{"x"}
	got, _ := View("today", Ask{Book: b, Now: fall.Wall}, nil)
	stops := got.(Today).Stops
	if len(stops) != 1 || stops[0].Title != "Do not ride until the bike is checked straight" || stops[0].Href != "/fall" {
		t.Errorf("stops are %+v", stops)
	}
	b.Bikes["x"].Falls = nil
	b.Bikes["x"].Checks = map[string]book.Dated[book.CheckBody]{"tyres": {Body: book.CheckBody{Check: "tyres", Result: "fault", Note: "cords show"}}}
	got, _ = View("today", Ask{Book: b, Now: fall.Wall}, nil)
	if stops := got.(Today).Stops; len(stops) != 1 || !strings.Contains(stops[0].Says, "cords show") {
		t.Errorf("a tyre fault stops with %+v", stops)
	}
}

func TestPutBackLogsTheMoveThatTheRiderMade(t *testing.T) {
	d := openDesk(t)
	trial := d.bike().Running()[0]
	ids := d.do("verdict", fmt.Sprintf(`{"change":%q,"verdict":"back","undo":true}`, trial.Entry))
	k := d.bike()
	if at := k.Settings["rear.compression"].At; len(ids) != 2 || *at != unit.Whole(12) || len(k.Running()) != 0 {
		t.Errorf("after putting back: %d entries, at %v, %d running", len(ids), at, len(k.Running()))
	}
	if r := d.refused("verdict", fmt.Sprintf(`{"change":%q,"verdict":"perhaps"}`, trial.Entry)); r.Field != "verdict" {
		t.Errorf("refused with %+v", r)
	}
}

func TestRideMoreKeepsTheTrialRunning(t *testing.T) {
	d := openDesk(t)
	d.do("verdict", fmt.Sprintf(`{"change":%q,"verdict":"more"}`, d.bike().Running()[0].Entry))
	if m := see[Today](d, "today", `{}`); len(m.Trials) != 1 || !m.Trials[0].More {
		t.Errorf("trials are %+v", m.Trials)
	}
}

// TestConversions holds what is shown to outside values.
func TestConversions(t *testing.T) {
	rows := []struct {
		got, want, within float64
		source            string
	}{
		{kPaPerPsi, 6.894757, 0, "NIST SP 811 (2008), appendix B.8, pound-force per square inch (psi)"},
		{kPaPerBar, 100, 0, "NIST SP 811 (2008), appendix B.8, bar (exact)"},
		{kgPerLb, 0.45359237, 0, "NIST SP 811 (2008), appendix B.8, pound (avoirdupois), to the digits of footnote 22 (exact)"},
	}
	for _, r := range rows {
		if r.source == "" {
			t.Error("a row has no source")
		}
		if math.Abs(r.got-r.want) > r.within {
			t.Errorf("got %v; want %v within %v (%s)", r.got, r.want, r.within, r.source)
		}
	}
}

func TestShownInTheRidersUnits(t *testing.T) {
	b := book.Fold(nil)
	s := shower{b}
	tyre := &book.Setting{Def: book.Def{Unit: "kPa", Step: 3447}}
	rows := []struct {
		units map[string]string
		got   func() string
		want  string
	}{
		{map[string]string{"pressure": "psi"}, func() string { return s.position(tyre, 206_843) }, "30.0 psi"},
		{map[string]string{"pressure": "bar"}, func() string { return s.position(tyre, 206_843) }, "2.07 bar"},
		{map[string]string{}, func() string { return s.position(tyre, 206_843) }, "207 kPa"},
		{map[string]string{"temperature": "F"}, func() string { return s.temperature(unit.Whole(21)) }, "70 °F"},
		{map[string]string{}, func() string { return s.temperature(20_500) }, "20 °C"},
		{map[string]string{"mass": "lb"}, func() string { return s.mass(unit.Whole(82)) }, "181 lb"},
		{map[string]string{}, func() string { return s.mass(82_500) }, "82.5 kg"},
	}
	for _, r := range rows {
		b.Units = r.units
		if got := r.got(); got != r.want {
			t.Errorf("with %v: %s; want %s", r.units, got, r.want)
		}
	}
}

func TestTypedPressureComesBackAsTyped(t *testing.T) {
	b := book.Fold(nil)
	s := shower{b}
	tyre := &book.Setting{Def: book.Def{Unit: "kPa", Step: 3447}}
	for _, u := range []struct {
		name string
		n    unit.Fixed
	}{{"psi", 31_500}, {"bar", 2_150}, {"kPa", 215_000}} {
		b.Units["pressure"] = u.name
		if got := s.shown(tyre, s.typed(tyre, u.n)); got != u.n {
			t.Errorf("%s typed as %s shows as %s", u.name, u.n, got)
		}
	}
}
