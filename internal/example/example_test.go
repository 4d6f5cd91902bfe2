package example

import (
	"slices"
	"testing"

	"plumbline/internal/book"
	"plumbline/internal/unit"
)

func TestSeasonFoldsAsToldToRiders(t *testing.T) {
	r := book.Open(BookID, "")
	if added, wrong := r.Take(Lines()); len(wrong) > 0 || added < 60 {
		t.Fatalf("took %d lines, wrong: %v", added, wrong)
	}
	b := r.Book()
	if len(b.Oddities) > 0 {
		t.Fatalf("oddities: %+v", b.Oddities)
	}
	k := b.Bikes[Heron]
	if _, open := k.FallOpen(); open {
		t.Error("the tip-over of June is not cleared")
	}
	if n := len(k.Baselines); n != 3 {
		t.Errorf("%d lines were drawn; want 3", n)
	}
	if n := len(k.Unowned()); n != 2 {
		t.Errorf("%d differences that nobody owned up to; want 2 (May and September)", n)
	}
	if run := k.Running(); len(run) != 1 || run[0].Body.Adjuster != "rear.compression" {
		t.Errorf("running trials: %+v; want the one of September", run)
	}
	line, _ := k.Line()
	var moves []book.AdjusterID
	for _, m := range k.WayBack(line) {
		moves = append(moves, m.Adjuster)
	}
	if want := []book.AdjusterID{"rear.preload", "rear.compression", "rear.rebound"}; !slices.Equal(moves, want) {
		t.Errorf("way back to %q moves %v; want %v", line.Name, moves, want)
	}
	if at := k.Settings["rear.rebound"].At; at == nil || *at != unit.Whole(10) {
		t.Errorf("rear rebound is at %v; want 10, as found in September", at)
	}
	days := map[string]bool{}
	for _, s := range k.Sessions {
		days[s.Wall.Format("2006-01-02")] = true
	}
	if len(days) != 6 {
		t.Errorf("%d track days; want 6", len(days))
	}
}

func TestLinesAreTheSameEveryTime(t *testing.T) {
	if !slices.Equal(Lines(), Lines()) {
		t.Error("two calls wrote two books")
	}
}
