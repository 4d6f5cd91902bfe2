package screen

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/example"
	"plumbline/internal/unit"
)

// exampleAsk is a question about the example season, in the autumn after it.
func exampleAsk(t testing.TB) Ask {
	t.Helper()
	r := book.Open(example.BookID, "")
	if _, wrong := r.Take(example.Lines()); len(wrong) > 0 {
		t.Fatal(wrong)
	}
	return Ask{Book: r.Book(), Now: time.Date(2026, 9, 12, 14, 0, 0, 0, time.FixedZone("", 7200))}
}

func askHistory(t *testing.T, args string) History {
	t.Helper()
	got, refused := View("history", exampleAsk(t), json.RawMessage(args))
	if refused != nil {
		t.Fatal(refused)
	}
	return got.(History)
}

func allLines(h History) []HistoryLine {
	var out []HistoryLine
	for _, d := range h.Days {
		out = append(out, d.Lines...)
	}
	return out
}

func TestHistoryFilters(t *testing.T) {
	rows := []struct{ args, first string }{
		{`{}`, "Session, felt better"},
		{`{"kind":"laps"}`, "8 laps, best 1:37.5"},
		{`{"kind":"change"}`, "Rear compression: 2 clicks in, from 12 to 10 out"},
		{`{"adjuster":"front.height"}`, "Fork height in the clamps: 3 mm down, from 7 to 4 mm"},
		{`{"person":"bram"}`, "Rear preload: 1 turn in, from 9 to 10 in"},
		{`{"person":"unknown"}`, "Rear rebound found moved: 3 clicks out, from 7 to 10 out"},
		{`{"track":"saltmarsh-ring","kind":"change"}`, "Fork height in the clamps: 3 mm down, from 7 to 4 mm"},
		{`{"kind":"advice"}`, "Ivo said: drop the front"},
		{`{"kind":"session","track":"fenwick-moor"}`, "Session, felt same"},
		{`{"kind":"fall"}`, "Fall, standing, left"},
	}
	for _, r := range rows {
		lines := allLines(askHistory(t, r.args))
		if len(lines) == 0 || lines[0].Title != r.first {
			t.Errorf("history %s starts with %+v; want %q", r.args, lines[:min(1, len(lines))], r.first)
		}
	}
}

func TestHistoryPagesMeet(t *testing.T) {
	first := askHistory(t, `{}`)
	if first.More == "" || len(allLines(first)) != historyPage {
		t.Fatalf("first page has %d lines, more %q", len(allLines(first)), first.More)
	}
	second := askHistory(t, `{"before":"`+string(first.More)+`"}`)
	if got := len(allLines(first)) + len(allLines(second)); got != first.Total || second.Total != first.Total {
		t.Errorf("two pages hold %d of %d lines", got, first.Total)
	}
}

func TestHistoryShowsPressureInTheRidersUnit(t *testing.T) {
	for _, l := range allLines(askHistory(t, `{"adjuster":"front.pressure"}`)) {
		if !strings.Contains(l.Title, "30.0 psi") {
			t.Errorf("%q does not say 30.0 psi", l.Title)
		}
	}
}

func TestLapTime(t *testing.T) {
	for in, want := range map[int64]string{112_400: "1:52.4", 59_960: "1:00.0", 52_440: "0:52.4"} {
		if got := lapTime(unit.Fixed(in)); got != want {
			t.Errorf("lapTime(%d) = %s; want %s", in, got, want)
		}
	}
}
