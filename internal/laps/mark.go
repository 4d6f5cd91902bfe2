package laps

import (
	"math"
	"slices"
)

// Mark says why a lap does not count; the zero value counts.
type Mark string

// The marks. Out and in laps begin and end at the pits; a slow lap lost time
// to traffic or a mistake; a cruising lap was not ridden for time; a short
// lap cannot have gone all the way round.
const (
	Counts   Mark = ""
	Out      Mark = "out"
	In       Mark = "in"
	Slow     Mark = "slow"
	Cruising Mark = "cruising"
	Short    Mark = "short"
)

// Lap is one lap of a stint, in seconds. Number counts from 1 on leaving the
// pits, so that drift has its clock even when laps are missing; 0 takes the
// place in the stint. Overruled keeps the rider's own Mark.
type Lap struct {
	Number    int
	Seconds   float64
	Mark      Mark
	Overruled bool
}

// A lap is slow when it lies farSpreads robust standard deviations and
// slowShare of the lap behind the middle of its stint. B. Iglewicz and
// D. Hoaglin, How to Detect and Handle Outliers, 1993, chapter 3, use 3.5 for
// normal data (from memory); laps are skewed, and cutting real laps off makes
// intervals too narrow, so a lap must be slowShare behind as well: the
// simulations of the verdict hold the two together. The shares are common
// practice, no source.
const (
	farSpreads    = 5.0
	slowShare     = 0.018
	cruisingShare = 1.12
	shortShare    = 0.90
)

// Marked returns the laps with marks by a robust rule: middle and spread come
// from the laps that lie closest together, so that traffic cannot hide itself
// by widening them. Marks that the rider overruled stay. Fewer than four laps
// have no middle to lie behind, so nothing is marked.
func Marked(stint []Lap) []Lap {
	out := slices.Clone(stint)
	for i := range out {
		if out[i].Number == 0 {
			out[i].Number = i + 1
		}
	}
	middle, spread, ok := pace(out)
	if !ok {
		return out
	}
	for i := range out {
		if !out[i].Overruled {
			out[i].Mark = markFor(out[i].Seconds, middle, spread, i == 0, i == len(out)-1)
		}
	}
	return out
}

func markFor(s, middle, spread float64, first, last bool) Mark {
	slow := s > middle+max(farSpreads*spread, slowShare*middle)
	switch {
	case s < shortShare*middle:
		return Short
	case slow && first:
		return Out
	case slow && last:
		return In
	case slow && s > cruisingShare*middle:
		return Cruising
	case slow:
		return Slow
	}
	return Counts
}

// paceShare is the share of a stint's laps that must lie close together for
// them to be its pace. Out and in laps and traffic can be more than half of a
// short stint, so the median is not safe.
const paceShare = 1.0 / 3

// pace returns the middle and the spread of the laps that lie closest
// together: of all spans that hold a third of them (at least three), the
// shortest. Its length is 0.861 standard deviations of normal laps. Source:
// D. Andrews and others, Robust Estimates of Location, 1972, the shorth, with
// a third for a half; from memory.
func pace(stint []Lap) (middle, spread float64, ok bool) {
	if len(stint) < 4 {
		return 0, 0, false
	}
	times := make([]float64, len(stint))
	for i, l := range stint {
		times[i] = l.Seconds
	}
	if !finite(times) {
		return 0, 0, false
	}
	slices.Sort(times)
	hold := max(3, int(math.Ceil(paceShare*float64(len(times)))))
	best := 0
	for i := 0; i+hold <= len(times); i++ {
		if times[i+hold-1]-times[i] < times[best+hold-1]-times[best] {
			best = i
		}
	}
	near := times[best : best+hold]
	return Median(near), (near[hold-1] - near[0]) / 0.861, true
}

// Counted returns the laps that count.
func Counted(stint []Lap) []Lap {
	var out []Lap
	for _, l := range stint {
		if l.Mark == Counts {
			out = append(out, l)
		}
	}
	return out
}
