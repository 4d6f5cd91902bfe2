package screen

import (
	"testing"

	"plumbline/internal/book"
	"plumbline/internal/example"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// The season's laps look like laps: every session has an out lap and an in lap
// that the rule finds, three or more laps count, and traffic does not.
func TestTheSeasonsLapsAreMarked(t *testing.T) {
	k := exampleAsk(t).Book.Bikes[example.Heron]
	slow := 0
	for _, s := range k.Sessions {
		all := stint(k, s.Body.Session)
		sum := sums(all)
		if len(all) < 7 || sum.Counted < 3 {
			t.Errorf("%s: %d of %d laps count", s.Body.Session, sum.Counted, sum.All)
		}
		if first, last := all[0].Mark, all[len(all)-1].Mark; first != laps.Out || last != laps.In {
			t.Errorf("%s: the first lap is %q and the last %q", s.Body.Session, first, last)
		}
		for _, l := range all {
			if l.Mark == laps.Slow {
				slow++
			}
		}
	}
	if slow < 15 {
		t.Errorf("%d laps were marked as held up; the season has 31 of traffic", slow)
	}
}

// A lap that is cut short or held up does not squeeze the others together.
func TestDotsStayOnTheirAxis(t *testing.T) {
	d := dotsOf(marked([]book.LapTime{{Time: 112_000}, {Time: 60_000}, {Time: 112_600}, {Time: 140_000}, {Time: 112_300}, {Time: 112_100}}))
	if d.High-d.Low > 3 || d.Dots[1].At != 0 || d.Dots[1].Mark != "short" || d.Dots[3].At != 1 || !d.Dots[3].Over {
		t.Errorf("dots %+v from %v to %v", d.Dots, d.Low, d.High)
	}
	if len(d.Ticks) < 2 || d.Ticks[0].Label == "" {
		t.Errorf("ticks %+v", d.Ticks)
	}
	if one := dotsOf(nil); len(one.Dots) != 0 || one.Says != "No laps yet." {
		t.Errorf("no laps: %+v", one)
	}
}

func TestTheRidersWordOverrulesAMark(t *testing.T) {
	times := []book.LapTime{{Time: 118_000}, {Time: 112_000}, {Time: 112_300}, {Time: 116_000}, {Time: 112_100, Mark: "slow"}, {Time: 112_200}}
	all := marked(times)
	if all[3].Mark != laps.Slow || all[4].Mark != laps.Slow || !all[4].Overruled {
		t.Errorf("marks %+v", all)
	}
	times[3].Mark = "counts"
	if all = marked(times); all[3].Mark != laps.Counts || !all[3].Overruled {
		t.Errorf("the lap that the rider counts is %+v", all[3])
	}
	if s := sums(all); s.Counted != 4 || s.Best != 112 || s.Middle != 112.25 {
		t.Errorf("sums %+v", s)
	}
	if got := seconds(unit.Fixed(112_449).Float()); got != "1:52.4" {
		t.Errorf("seconds = %s", got)
	}
}
