package laps

import (
	"fmt"
	"math"
)

// Stop is one position of a sweep, in steps of its adjuster or any other
// unit, with the counted laps ridden there in seconds. Stops are in the order
// ridden.
type Stop struct {
	At   float64
	Laps []float64
}

// Sweep is what a sweep shows. Each are the stops' means with 95 % intervals
// from the spread of laps about all of them. The curve is a parabola through
// the laps, Curve[0] + Curve[1]·x + Curve[2]·x² with x from Middle; Fitted says
// whether there is one. Low to High is where the fastest place may lie; Best
// is the likeliest. DayHeld says that a steady drift of the day is taken out.
type Sweep struct {
	Each            []Shift
	Fitted          bool
	Middle          float64
	Curve           [3]float64
	Found           bool
	Best, Low, High float64
	DayHeld         bool
	Says            string
}

// sweepLaps is the fewest laps in all, sweepStops the fewest positions, from
// which a curve is drawn.
const (
	sweepLaps  = 6
	sweepStops = 3
)

// At returns the curve's lap time at a position, in seconds.
func (s Sweep) At(position float64) float64 {
	x := position - s.Middle
	return s.Curve[0] + s.Curve[1]*x + s.Curve[2]*x*x
}

// FitSweep fits the parabola by least squares and asks at every place within
// the range whether lap times clearly rise or fall there; the fastest place
// lies where they do neither (E. C. Fieller's interval for the lowest point,
// Journal of the Royal Statistical Society B 16 (1954)). Found only when that
// stretch is shorter than the range, so that something is left out. A sweep
// of fewer than three stops or six laps has means only.
func FitSweep(stops []Stop) Sweep {
	out := Sweep{}
	var x, y, order []float64
	places := map[float64]bool{}
	low, high := math.Inf(1), math.Inf(-1)
	for i, s := range stops {
		for _, l := range s.Laps {
			x, y, order = append(x, s.At), append(y, l), append(order, float64(i))
			places[s.At] = true
			low, high = min(low, s.At), max(high, s.At)
		}
	}
	out.Each = stopMeans(stops)
	if len(y) < sweepLaps || len(places) < sweepStops || !finite(x) || !finite(y) {
		out.Says = fmt.Sprintf("Too few laps for a curve: it wants %d clean laps over %d positions.", sweepLaps, sweepStops)
		return out
	}
	out.Middle = (low + high) / 2
	out.fit(x, y, order, (high-low)/2)
	return out
}

// stopMeans are the means of the stops; the spread is pooled over all.
func stopMeans(stops []Stop) []Shift {
	var squares, df float64
	for _, s := range stops {
		if n := float64(len(s.Laps) - 1); n > 0 {
			squares, df = squares+n*SD(s.Laps)*SD(s.Laps), df+n
		}
	}
	out := make([]Shift, len(stops))
	for i, s := range stops {
		out[i] = noShift()
		out[i].Middle = Mean(s.Laps)
		if df >= 1 && len(s.Laps) > 0 {
			out[i] = around(out[i].Middle, math.Sqrt(squares/df/float64(len(s.Laps))), df)
		}
	}
	return out
}

func (s *Sweep) fit(x, y, order []float64, reach float64) {
	one, line, bend := level(len(x)), make([]float64, len(x)), make([]float64, len(x))
	for i, v := range x {
		// In half ranges, so that no term outweighs another.
		line[i] = (v - s.Middle) / reach
		bend[i] = line[i] * line[i]
	}
	others := [][]float64{one}
	if _, parted := contrast(order, one, line, bend); parted && len(y) >= 2*sweepLaps {
		b, ok := contrast(bend, one, line, order)
		plain, _ := contrast(bend, one, line)
		l, okToo := contrast(line, one, bend, order)
		flat, _ := contrast(line, one, bend)
		if ok && okToo && b.squares() < 2*plain.squares() && l.squares() < 2*flat.squares() {
			others, s.DayHeld = append(others, order), true
		}
	}
	slope, ok := contrast(line, append(others[:len(others):len(others)], bend)...)
	curve, okToo := contrast(bend, append(others[:len(others):len(others)], line)...)
	if !ok || !okToo || slope.rest < 1 {
		s.Says = "The positions cannot be told apart by these laps."
		return
	}
	b1, b2 := dot(slope.weights, y), dot(curve.weights, y)
	squares, _ := slope.leftover(y)
	v := squares / float64(slope.rest)
	top := 0.0
	for i := range y {
		top += (y[i] - b1*line[i] - b2*bend[i]) / float64(len(y))
	}
	s.Fitted, s.Curve = true, [3]float64{top, b1 / reach, b2 / reach / reach}
	t := student(slope.rest).quantile(0.975)
	s.seek(b1, b2, reach, func(at float64) bool {
		rise := b1 + 2*b2*at
		w := slope.squares() + 4*at*dot(slope.weights, curve.weights) + 4*at*at*curve.squares()
		return math.Abs(rise) > t*math.Sqrt(v*w)
	})
}

// seek looks along the range, from −1 to 1 half ranges, for where the lap
// times neither clearly rise nor fall.
func (s *Sweep) seek(b1, b2, reach float64, clear func(at float64) bool) {
	const steps = 200
	s.Low, s.High = math.Inf(1), math.Inf(-1)
	for i := 0; i <= steps; i++ {
		at := -1 + 2*float64(i)/steps
		if clear(at) {
			continue
		}
		s.Low, s.High = min(s.Low, s.Middle+at*reach), max(s.High, s.Middle+at*reach)
	}
	best := 0.0
	switch {
	case b2 > 0:
		best = min(1, max(-1, -b1/(2*b2)))
	case b1 > 0:
		best = -1
	default:
		best = 1
	}
	s.Best = s.Middle + best*reach
	if s.High < s.Low { // clearly one way all along: the end is best, and beyond it perhaps
		s.Low, s.High, s.Found = s.Best, s.Best, true
		s.Says = "Lap times fall all the way to one end. The best place may lie beyond it."
		return
	}
	s.Found = b2 > 0 && s.High-s.Low < 1.9*reach
	s.Says = "The laps show no best place: the positions differ less than your laps do. Choose by feel."
	if s.Found {
		s.Says = ""
	}
}
