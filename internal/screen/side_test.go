package screen

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"plumbline/internal/book"
	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

// TestGeometryEffect holds the sentence to the exact solution: check values
// C2.2 to C2.5 of the project's reference (derived, rigid-body geometry) give
// −0.375° and −2.25 mm for 10 mm at the fork, −0.410° for 10 mm at the rear
// axle on a swingarm of 580 mm at 11°.
func TestGeometryEffect(t *testing.T) {
	d := openDesk(t)
	k := d.bike()
	at := func(n int) *unit.Fixed { f := unit.Whole(n); return &f }
	rows := []struct {
		id       book.AdjusterID
		from, to *unit.Fixed
		want     string
	}{
		{"front.height", at(4), at(14), "fork 10 mm up in the clamps: rake −0.4°, trail −2.3 mm, wheelbase −4 mm"},
		{"front.height", at(9), at(4), "fork 5 mm down in the clamps: rake +0.2°, trail +1.1 mm, wheelbase +2 mm"},
		{"sprocket.rear", at(44), at(45), "rear sprocket 1 tooth more: rake ±0°, trail +0.2 mm, wheelbase −4 mm"},
		{"front.height", at(4), at(4), ""},
		{"front.height", nil, at(4), ""},
		{"rear.rebound", at(4), at(9), ""},
	}
	for _, r := range rows {
		if got := geometryEffect(k, r.id, r.from, r.to); got != r.want {
			t.Errorf("%s: %q; want %q", r.id, got, r.want)
		}
	}
	d.do("counted", `{"adjuster":"rear.height","standing":"counted","at":0}`)
	// Not known when the bike was measured: what this move does is told all the
	// same, from where it starts.
	if got := geometryEffect(d.bike(), "rear.height", at(0), at(5)); !strings.HasPrefix(got, "rear ride height 5 mm up: rake −0.4°") {
		t.Errorf("5 mm of ride height at 2 mm per mm: %q", got)
	}
}

func TestEffectIsSilentWithoutDimensions(t *testing.T) {
	d := openDesk(t)
	k := d.bike()
	five, ten := unit.Whole(5), unit.Whole(10)
	for _, symbol := range []string{"wheelbase", "rake", "offset"} {
		kept := k.Measures["geometry"]
		var body book.MeasureBody
		raw, _ := json.Marshal(kept.Body) // a body of ours always marshals
		if err := json.Unmarshal(raw, &body); err != nil {
			t.Fatal(err)
		}
		delete(body.Values, symbol)
		without := kept
		without.Body = body
		k.Measures["geometry"] = without
		side := sideOf(k, book.Baseline{}, false)
		if got := geometryEffect(k, "front.height", &five, &ten); got != "" || side.Scene != nil || len(side.Missing) != 1 || !strings.Contains(side.Missing[0], symbol) {
			t.Errorf("without %s it says %q and misses %v", symbol, got, side.Missing)
		}
		if says, link := geometryWanted(k, "front.height"); !strings.Contains(says, symbol) || link == "" {
			t.Errorf("without %s a turn of the fork says %q", symbol, says)
		}
		k.Measures["geometry"] = kept
	}
	if says, _ := geometryWanted(k, "front.height"); says != "" {
		t.Errorf("with all dimensions it asks for %q", says)
	}
}

func TestSideAgainstTheLine(t *testing.T) {
	d := openDesk(t)
	s := see[BikePage](d, "bike", `{}`).Side
	if s.Scene == nil || s.Says != "Rake 24.0°, trail 101 mm, wheelbase 1400 mm." || !strings.Contains(s.Against, "the geometry is the same") {
		t.Errorf("the side says %q, %q", s.Says, s.Against)
	}
	d.do("turned", `{"adjuster":"front.height","steps":6}`)
	s = see[BikePage](d, "bike", `{}`).Side
	if want := "fork 3 mm up in the clamps: rake −0.1°, trail −0.7 mm"; !strings.Contains(s.Against, want) {
		t.Errorf("against the line: %q; want %q", s.Against, want)
	}
	if s.Rows[0].More != "−0.1" || s.Rows[0].Line != "24.0" {
		t.Errorf("rows %+v", s.Rows)
	}
	for _, shape := range s.Scene.Shapes {
		for _, at := range shape.At {
			if math.IsNaN(at[0]) || math.IsNaN(at[1]) {
				t.Errorf("%s has no place", shape.Kind)
			}
		}
	}
}

// TestSideIsToScale: the drawn steering axis meets the ground a trail ahead of
// the front contact patch.
func TestSideIsToScale(t *testing.T) {
	st := chassis.Stance{Wheelbase: 1400, Rake: 24, Offset: 30, FrontRadius: 299.9, RearRadius: 314.9}
	now, err := st.After(chassis.Move{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sideScene(now, nil).Shapes {
		if s.Role != "axis" || len(s.At) != 2 || s.At[1][1] != 0 {
			continue
		}
		dx, dz := s.At[1][0]-s.At[0][0], s.At[1][1]-s.At[0][1]
		if rake := math.Atan2(dx, dz) * 180 / math.Pi; math.Abs(rake-24) > 0.05 {
			t.Errorf("the axis is drawn at %.2f° from the vertical; want 24", rake)
		}
		if trail := s.At[1][0] - 1400; math.Abs(trail-100.685) > 0.1 { // check value C2.1
			t.Errorf("the axis meets the ground %.1f mm ahead; want 100.7", trail)
		}
		return
	}
	t.Error("no steering axis is drawn")
}
