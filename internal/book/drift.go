package book

import (
	"slices"

	"plumbline/internal/unit"
)

// Drift is how far one setting stands from a baseline. Steps is the distance
// in the adjuster's steps; it is meaningful only where both are known.
type Drift struct {
	Adjuster AdjusterID  `json:"adjuster"`
	Line     *unit.Fixed `json:"line,omitempty"` // where the baseline has it; nil: not in it
	At       *unit.Fixed `json:"at,omitempty"`   // where it is; nil: unknown
	Steps    unit.Fixed  `json:"steps"`
}

// DriftFrom returns the drift of every fitted adjuster from a baseline, in the
// bike's order.
func (k *Bike) DriftFrom(l Baseline) []Drift {
	var out []Drift
	for _, s := range k.Active() {
		d := Drift{Adjuster: s.ID, At: s.At}
		if at, ok := l.At[s.ID]; ok {
			d.Line = &at
		}
		if d.Line != nil && d.At != nil {
			d.Steps = s.Steps(*d.At - *d.Line)
		}
		out = append(out, d)
	}
	return out
}

// Move is one step of the way back. From is nil when the position now is not
// known: then the adjuster is counted first.
type Move struct {
	Adjuster AdjusterID  `json:"adjuster"`
	From     *unit.Fixed `json:"from,omitempty"`
	To       unit.Fixed  `json:"to"`
	Delta    unit.Fixed  `json:"delta"`
}

// groupsFirst is the order of the way back: what moves the wheels and the
// chassis before what damps it, pressures last because they are set cold
// before riding anyway. Common practice, no source.
var groupsFirst = map[string]int{
	"sprocket": 0, "chain": 1, "height": 2, "preload": 3, "position": 4,
	"compression": 5, "compression-high": 6, "rebound": 7, "damper": 8, "pressure": 9,
}

// WayBack returns the moves that take the bike to a baseline, in the order to
// make them. Adjusters within half a step of it, and those that the baseline
// does not know, are left alone.
func (k *Bike) WayBack(l Baseline) []Move {
	var out []Move
	for _, s := range k.Active() {
		to, ok := l.At[s.ID]
		if !ok {
			continue
		}
		if s.At == nil {
			out = append(out, Move{Adjuster: s.ID, To: to})
			continue
		}
		delta := to - *s.At
		if 2*max(delta, -delta) < max(s.Step, 1) {
			continue
		}
		out = append(out, Move{Adjuster: s.ID, From: s.At, To: to, Delta: delta})
	}
	slices.SortStableFunc(out, func(a, b Move) int { return rank(a.Adjuster) - rank(b.Adjuster) })
	return out
}

// rank places an adjuster in the way back; the rider's own come after height
// and preload and before damping.
func rank(id AdjusterID) int {
	for i := range id {
		if id[i] != '.' {
			continue
		}
		if r, ok := groupsFirst[string(id[i+1:])]; ok {
			return r
		}
		if r, ok := groupsFirst[string(id[:i])]; ok {
			return r
		}
	}
	return groupsFirst["position"]
}

// SnapshotLine returns the positions that a baseline drawn now would hold.
func (k *Bike) SnapshotLine() map[AdjusterID]unit.Fixed {
	at := map[AdjusterID]unit.Fixed{}
	for _, s := range k.Active() {
		if s.At != nil {
			at[s.ID] = *s.At
		}
	}
	return at
}
