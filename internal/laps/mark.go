package laps

import "slices"

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
	farSpreads    = 3.5
	slowShare     = 0.018
	cruisingShare = 1.12
	shortShare    = 0.90
)

// Marked returns the laps with marks by a robust rule: middle and spread come
// from the median and the faster half, so that traffic, which only ever makes
// a lap slower, cannot hide itself by widening them. Marks that the rider
// overruled stay. With fewer than four laps only first and last can be told,
// and only by cruising pace, so nothing is marked.
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

// innerFrom is the number of laps from which the first and the last do not
// help to say what is usual: they mostly begin and end at the pits, and in a
// short stint they and two laps in traffic would be half of it.
const innerFrom = 6

// pace returns the median lap and the robust spread of the laps below it.
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
	if len(times) >= innerFrom {
		times = times[1 : len(times)-1]
	}
	middle = Median(times)
	var below []float64
	for _, s := range times {
		if s <= middle && s >= shortShare*middle {
			below = append(below, middle-s)
		}
	}
	return middle, 1.4826 * Median(below), true
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
