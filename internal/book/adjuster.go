package book

import (
	"encoding/json"

	"plumbline/internal/unit"
)

type rawBody = json.RawMessage

// Standing says how well a setting is known.
type Standing string

// The standings, from best to worst.
const (
	Counted Standing = "counted" // seen with own eyes on a date
	Assumed Standing = "assumed" // told, read or reckoned
	Unknown Standing = "unknown"
)

// Def is what an adjuster is: words, unit, step, range, where counting starts.
type Def struct {
	Name  string     `json:"name,omitempty"`
	Group string     `json:"group,omitempty"` // "front", "rear", "tyres", "drive", "controls"
	Unit  string     `json:"unit,omitempty"`  // "click", "turn", "mm", "kPa", "tooth"
	Step  unit.Fixed `json:"step,omitempty"`
	Min   unit.Fixed `json:"min,omitempty"`
	Max   unit.Fixed `json:"max,omitempty"`
	From  string     `json:"from,omitempty"`
	More  string     `json:"more,omitempty"` // what a higher number does
	Less  string     `json:"less,omitempty"` // what a lower number does
	In    int        `json:"in,omitempty"`   // which way 'in' moves the number
	Firm  int        `json:"firm,omitempty"` // +1: a higher number is more damping, preload, height; −1: less
}

// kPaPerHalfPsi is 0.5 psi in kPa, 0.5 × 6.894757 (NIST SP 811, B.8), as Fixed.
const kPaPerHalfPsi unit.Fixed = 3447

// standard is the road-race bike's set, in the order they are counted. Ranges
// are wide on purpose: the rider narrows them to the bike's own. Common
// practice, no source.
var standard = []struct {
	ID AdjusterID
	Def
}{
	{"front.preload", turns("Front preload", "front", 15, "fully out, no preload on the spring", "more preload", "less preload", 1, 1)},
	{"front.rebound", clicks("Front rebound", "front", 40, "fully closed (in), counting out", "quicker return", "slower return")},
	{"front.compression", clicks("Front compression", "front", 40, "fully closed (in), counting out", "softer", "firmer")},
	{"front.height", Def{"Fork height in the clamps", "front", "mm", 500, 0, unit.Whole(40), "tube top above the upper clamp, cap not counted", "front lower, quicker steering", "front higher, calmer steering", 0, 1}},
	{"rear.preload", turns("Rear preload", "rear", 30, "spring just loose", "more preload", "less preload", 1, 1)},
	{"rear.rebound", clicks("Rear rebound", "rear", 40, "fully closed (in), counting out", "quicker return", "slower return")},
	{"rear.compression", clicks("Rear compression", "rear", 40, "fully closed (in), counting out", "softer", "firmer")},
	{"rear.height", Def{"Rear ride height", "rear", "mm", 500, unit.Whole(-30), unit.Whole(30), "the maker's length is 0", "rear higher, quicker steering", "rear lower, calmer steering", 0, 1}},
	{"front.pressure", Def{"Front tyre, cold", "tyres", "kPa", kPaPerHalfPsi, unit.Whole(100), unit.Whole(350), "gauge, tyre cold", "more pressure", "less pressure", 0, 1}},
	{"rear.pressure", Def{"Rear tyre, cold", "tyres", "kPa", kPaPerHalfPsi, unit.Whole(80), unit.Whole(350), "gauge, tyre cold", "more pressure", "less pressure", 0, 1}},
	{"sprocket.front", Def{"Front sprocket", "drive", "tooth", unit.Whole(1), unit.Whole(10), unit.Whole(20), "teeth", "taller gearing", "shorter gearing", 0, 1}},
	{"sprocket.rear", Def{"Rear sprocket", "drive", "tooth", unit.Whole(1), unit.Whole(28), unit.Whole(65), "teeth", "shorter gearing", "taller gearing", 0, 1}},
	{"chain.slack", Def{"Chain slack", "drive", "mm", unit.Whole(1), 0, unit.Whole(80), "total up and down, at the tight spot", "looser", "tighter", 0, 1}},
	{"steering.damper", clicks("Steering damper", "controls", 40, "fully closed (in), counting out", "lighter", "heavier")},
	{"bar.position", Def{"Bar position", "controls", "mm", unit.Whole(1), unit.Whole(-60), unit.Whole(60), "the maker's position is 0", "higher or further out", "lower or further in", 0, 1}},
	{"front.compression-high", clicks("Front compression, high speed", "front", 40, "fully closed (in), counting out", "softer over sharp bumps", "firmer over sharp bumps")},
	{"rear.compression-high", clicks("Rear compression, high speed", "rear", 40, "fully closed (in), counting out", "softer over sharp bumps", "firmer over sharp bumps")},
}

// optional are in the standard set but not on a bike until the rider says that
// it has them.
var optional = map[AdjusterID]bool{
	"front.compression-high": true, "rear.compression-high": true, "steering.damper": true,
}

func clicks(name, group string, most int, from, more, less string) Def {
	return Def{name, group, "click", unit.Whole(1), 0, unit.Whole(most), from, more, less, -1, -1}
}

func turns(name, group string, most int, from, more, less string, in, firm int) Def {
	return Def{name, group, "turn", 250, 0, unit.Whole(most), from, more, less, in, firm}
}

// Standard returns the set of adjusters that a new bike starts with, ready to
// be written; the optional ones are marked as retired.
func Standard(bike BikeID) []AdjusterBody {
	out := make([]AdjusterBody, 0, len(standard))
	for _, s := range standard {
		out = append(out, AdjusterBody{Bike: bike, Adjuster: s.ID, Def: s.Def, Retired: optional[s.ID]})
	}
	return out
}

// Steps returns how many steps a distance is, in thousandths, halves away
// from zero. A step of zero counts as one unit.
func (d Def) Steps(distance unit.Fixed) unit.Fixed {
	step := d.Step
	if step <= 0 {
		step = unit.Whole(1)
	}
	half := step / 2
	if distance < 0 {
		half = -half
	}
	return (distance*1000 + half) / step
}
