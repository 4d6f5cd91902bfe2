package trace

import "math"

// Place returns where a point lies from an origin, in metres east and north:
// a track is small enough for the earth to be flat under it.
func Place(origin, p Point) (east, north float64) {
	f := flatten(origin, p)
	return f.x, f.y
}

// At is the inverse of Place.
func At(origin Point, east, north float64) Point { return raise(origin, flat{east, north}) }

// Outline returns at most most points of a way that tell its shape: those that
// the Douglas–Peucker rule keeps at the smallest tolerance, from 1 m upwards
// by doubling, at which they fit. The first and last stay. Source: D. Douglas
// and T. Peucker, Algorithms for the reduction of the number of points
// required to represent a digitized line, Cartographica 10 (1973).
func Outline(points []Point, most int) []Point {
	if len(points) < 3 || most < 2 {
		return points[:min(len(points), max(most, 0))]
	}
	way := make([]flat, len(points))
	for i, p := range points {
		way[i] = flatten(points[0], p)
	}
	for tolerance := 1.0; ; tolerance *= 2 {
		keep := make([]bool, len(way))
		keep[0], keep[len(way)-1] = true, true
		douglasPeucker(way, keep, 0, len(way)-1, tolerance)
		var out []Point
		for i, k := range keep {
			if k {
				out = append(out, points[i])
			}
		}
		if len(out) <= most {
			return out
		}
	}
}

func douglasPeucker(way []flat, keep []bool, from, to int, tolerance float64) {
	for to-from > 1 {
		far, most := 0, tolerance
		for i := from + 1; i < to; i++ {
			if d := off(way[i], way[from], way[to]); d > most {
				far, most = i, d
			}
		}
		if far == 0 {
			return
		}
		keep[far] = true
		douglasPeucker(way, keep, from, far, tolerance)
		from = far
	}
}

// off is how far p lies from the stretch between a and b.
func off(p, a, b flat) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	long := dx*dx + dy*dy
	t := 0.0
	if long > 0 {
		t = max(0, min(1, ((p.x-a.x)*dx+(p.y-a.y)*dy)/long))
	}
	return math.Hypot(p.x-a.x-t*dx, p.y-a.y-t*dy)
}

// Clockwise tells which way round a closed way goes, by the sign of its area,
// seen from above.
func Clockwise(points []Point) bool {
	area := 0.0
	for i, p := range points {
		a, b := flatten(points[0], p), flatten(points[0], points[(i+1)%len(points)])
		area += a.x*b.y - b.x*a.y
	}
	return area < 0
}

// Long returns the length of a way in metres.
func Long(points []Point) float64 {
	sum := 0.0
	for i := 1; i < len(points); i++ {
		sum += Distance(points[i-1], points[i])
	}
	return sum
}

// LineAt returns a timing line across the way where it passes nearest to a
// place, and false when it never passes within 60 m of it.
func LineAt(points []Point, place Point) (Line, bool) {
	const near = 60
	best, found := Line{}, false
	least := math.Inf(1)
	for i := 1; i < len(points); i++ {
		d := off(flat{}, flatten(place, points[i-1]), flatten(place, points[i]))
		if d >= least || d > near {
			continue
		}
		if l, _, ok := across(points[i-1], points[i]); ok {
			best, least, found = l, d, true
		}
	}
	return best, found
}

// Between returns the points of a time, both ends included.
func Between(points []Point, from, to float64) []Point {
	var out []Point
	for _, p := range points {
		if p.At >= from && p.At <= to {
			out = append(out, p)
		}
	}
	return out
}

// hardest is the acceleration between two fixes that interpolation is held to
// miss, in m/s²: hard braking. Common practice, no source.
const hardest = 10

// Sampling returns how far, in seconds, a crossing may be off because it lies
// between fixes step seconds apart, at a speed in m/s: a bike that brakes at
// 10 m/s² all the while is hardest·step²/8 from where a straight line has it.
// The receiver's own error comes on top. Infinite at no speed.
func Sampling(step, speed float64) float64 {
	if !(speed > 0) {
		return math.Inf(1)
	}
	return hardest * step * step / 8 / speed
}
