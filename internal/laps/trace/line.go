package trace

import "math"

// Line is a timing line on the ground. Riding the right way, Left is on the
// left hand.
type Line struct{ Left, Right Point }

// Crossing is when a line was crossed, in seconds, interpolated between the
// fixes either side, and how far apart those are. Backward crossings are
// those from the wrong side.
type Crossing struct {
	At       float64
	Step     float64
	Backward bool
}

// longestStep is the longest silence in seconds across which a crossing is
// interpolated; longer ones are gaps. Common practice, no source.
const longestStep = 3

// Crossings returns where the trace crosses the line, in order. A crossing
// inside a gap of more than 3 s is not made up: it is left out, and Laps
// marks the lap it would have parted; so is one in a step no bike could ride.
func Crossings(points []Point, l Line) []Crossing {
	var out []Crossing
	a, b := flatten(l.Left, l.Left), flatten(l.Left, l.Right)
	for i := 1; i < len(points); i++ {
		p, q := points[i-1], points[i]
		step := q.At - p.At
		if !(step > 0 && step <= longestStep) || tooFast(p, q) {
			continue
		}
		if f, back, ok := cut(flatten(l.Left, p), flatten(l.Left, q), a, b); ok {
			out = append(out, Crossing{At: p.At + f*step, Step: step, Backward: back})
		}
	}
	return out
}

// cut tells at which share of the way from p to q the line a–b is crossed. A
// fix on the line counts with the step that leaves it.
func cut(p, q, a, b flat) (share float64, backward, ok bool) {
	side := func(o, d, v flat) float64 { return (d.x-o.x)*(v.y-o.y) - (d.y-o.y)*(v.x-o.x) }
	from, to := side(a, b, p), side(a, b, q)
	if (from >= 0) == (to >= 0) {
		return 0, false, false
	}
	left, right := side(p, q, a), side(p, q, b)
	if left*right > 0 || left == right {
		return 0, false, false
	}
	// From left to right, what lies ahead is on the line's left hand.
	return from / (from - to), to < 0, true
}

// Lap is one time round: start and end in seconds, the sector times if all
// sector lines were crossed in order, and whether the receiver was silent for
// more than 3 s or jumped on the way, so that the lap may be two.
type Lap struct {
	From, To float64
	Sectors  []float64
	Gap      bool
}

// Seconds returns the lap time.
func (l Lap) Seconds() float64 { return l.To - l.From }

// shortestLap keeps a wobble on the line from making laps, in seconds.
const shortestLap = 10

// Laps cuts the trace at the start line, right way only. Sectors are lines in
// the order ridden; nil for none. Backward says how often the start line was
// crossed the wrong way: if more often than forward, it is drawn the other way
// round; swap its ends.
func Laps(points []Point, start Line, sectors []Line) (laps []Lap, backward int) {
	last := math.Inf(-1)
	for _, c := range Crossings(points, start) {
		if c.Backward {
			backward++
			continue
		}
		if c.At-last < shortestLap {
			continue
		}
		if !math.IsInf(last, -1) {
			laps = append(laps, Lap{From: last, To: c.At})
		}
		last = c.At
	}
	splits := make([][]Crossing, len(sectors))
	for i, s := range sectors {
		splits[i] = Crossings(points, s)
	}
	for i := range laps {
		laps[i].Gap = gap(points, laps[i])
		laps[i].Sectors = laps[i].split(splits)
	}
	return laps, backward
}

func gap(points []Point, l Lap) bool {
	for i := 1; i < len(points); i++ {
		if points[i].At > l.From && points[i-1].At < l.To &&
			(points[i].At-points[i-1].At > longestStep || tooFast(points[i-1], points[i])) {
			return true
		}
	}
	return false
}

func (l Lap) split(lines [][]Crossing) []float64 {
	if len(lines) == 0 {
		return nil
	}
	var out []float64
	at := l.From
	for _, crossings := range lines {
		found := false
		for _, c := range crossings {
			if !c.Backward && c.At > at && c.At < l.To {
				out, at, found = append(out, c.At-at), c.At, true
				break
			}
		}
		if !found {
			return nil
		}
	}
	return append(out, l.To-at)
}

// halfWidth of a found line in metres: a pit lane beside a straight is closer
// than the far side of a track's next leg should be; common practice.
const halfWidth = 15

// Find proposes a start line where the trace crosses itself most densely: of
// up to 200 places along it, the one passed most often in one direction, and
// of equals the one passed fastest, where a metre off costs the least time.
// False when no place is passed twice.
func Find(points []Point) (Line, bool) {
	const places = 200
	var best Line
	most, fast := 1, 0.0
	stride := max(1, len(points)/places)
	for i := 1; i < len(points); i += stride {
		l, speed, ok := across(points[i-1], points[i])
		if !ok {
			continue
		}
		laps, _ := Laps(points, l, nil)
		if n := len(laps) + 1; n > most || n == most && n > 1 && speed > fast {
			best, most, fast = l, n, speed
		}
	}
	return best, most > 1
}

// across returns the line square to the way from p to q, at its middle.
func across(p, q Point) (l Line, speed float64, ok bool) {
	d := flatten(p, q)
	long := math.Hypot(d.x, d.y)
	if long < 1 || q.At-p.At > longestStep || !(q.At > p.At) {
		return Line{}, 0, false
	}
	side := flat{-d.y / long * halfWidth, d.x / long * halfWidth}
	return Line{
		Left:  raise(p, flat{d.x/2 + side.x, d.y/2 + side.y}),
		Right: raise(p, flat{d.x/2 - side.x, d.y/2 - side.y}),
	}, long / (q.At - p.At), true
}

// Across returns a timing line square to the way from p to q, at its middle,
// whatever their times; false when they are less than a metre apart.
func Across(p, q Point) (Line, bool) {
	p.At, q.At = 0, 1
	l, _, ok := across(p, q)
	return l, ok
}
