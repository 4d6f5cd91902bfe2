package trace

import (
	"math"
	"testing"
)

func oval() []Point {
	var out []Point
	for i := range 400 {
		p := at(float64(i) / 400)
		p.At = float64(i)
		out = append(out, p)
	}
	return out
}

func TestOutlineKeepsTheShape(t *testing.T) {
	all := oval()
	kept := Outline(all, 60)
	if len(kept) < 10 || len(kept) > 60 || kept[0] != all[0] || kept[len(kept)-1] != all[399] {
		t.Fatalf("%d points kept", len(kept))
	}
	// Ramanujan's second approximation gives an ellipse of 500 × 250 m half axes
	// a round of 2422.1 m.
	if got := Long(append(all, all[0])); math.Abs(got-2422.1) > 1 {
		t.Errorf("once round is %.1f m", got)
	}
	if whole, rough := Long(all), Long(kept); rough < 0.99*whole || rough > whole {
		t.Errorf("the outline is %.1f m of %.1f m long", rough, whole)
	}
	if got := Outline(all[:2], 60); len(got) != 2 {
		t.Errorf("two points became %d", len(got))
	}
}

func TestClockwise(t *testing.T) {
	all := oval() // east, north, west, south
	if Clockwise(all) {
		t.Error("the oval is ridden anticlockwise")
	}
	back := make([]Point, len(all))
	for i, p := range all {
		back[len(all)-1-i] = p
	}
	if !Clockwise(back) {
		t.Error("backwards, it is clockwise")
	}
}

func TestLineAtATap(t *testing.T) {
	l, ok := LineAt(ride(), At(middle, 507, 12))
	if !ok {
		t.Fatal("no line 7 m beside the way")
	}
	if laps, backward := Laps(ride(), l, nil); len(laps) < len(known)-1 || backward != 0 {
		t.Errorf("the line gives %d laps, %d backward", len(laps), backward)
	}
	if _, ok := LineAt(ride(), middle); ok {
		t.Error("a line in the infield")
	}
}

func TestSampling(t *testing.T) {
	// 10 m/s² over 1 s: 1.25 m beside the chord in the middle; at 50 m/s 25 ms.
	if got := Sampling(1, 50); math.Abs(got-0.025) > 1e-12 {
		t.Errorf("Sampling(1 s, 50 m/s) = %v", got)
	}
	if !math.IsInf(Sampling(1, 0), 1) {
		t.Error("standing still has a time")
	}
}

func TestPlaceAndAtAreInverse(t *testing.T) {
	e, n := Place(middle, At(middle, 123, -456))
	if math.Abs(e-123) > 1e-6 || math.Abs(n+456) > 1e-6 {
		t.Errorf("went out as 123, -456 and came back as %v, %v", e, n)
	}
}
