package trace

import (
	"math"
	"slices"
)

// Point is one fix: latitude and longitude in degrees, time in seconds.
type Point struct{ Lat, Lon, At float64 }

// Bad is a piece of a file that was not read: where (a line for NMEA, the
// number of the point for GPX, both from 1) and a sentence why.
type Bad struct {
	Where int
	Says  string
}

// Trace is what was read of a file, in order of time. Short of nothing: what
// could not be read is in Bad. Untimed are the points without a time, in the
// order of the file: no laps, but a map.
type Trace struct {
	Points  []Point
	Untimed []Point
	Bad     []Bad
}

// maxBad bounds the list; a film read as NMEA would fill the memory.
const maxBad = 1000

func (t *Trace) bad(where int, says string) {
	if len(t.Bad) < maxBad {
		t.Bad = append(t.Bad, Bad{where, says})
	}
}

// add takes a fix if it can be one.
func (t *Trace) add(where int, p Point) {
	if !p.onEarth() {
		t.bad(where, "This position is not on the earth.")
		return
	}
	t.Points = append(t.Points, p)
}

func (p Point) onEarth() bool { return math.Abs(p.Lat) <= 90 && math.Abs(p.Lon) <= 180 }

// fastest is the speed in m/s beyond which a step between two fixes is a jump
// of the receiver and not a ride; common practice, no source.
const fastest = 120

// tidy sorts by time, drops second fixes of the same instant, and drops the
// fixes that cannot be reached from the one before and from which the next
// cannot be reached: jumps. It reports each.
func (t *Trace) tidy() {
	slices.SortStableFunc(t.Points, func(a, b Point) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
	t.Points = slices.CompactFunc(t.Points, func(a, b Point) bool { return a.At == b.At })
	kept := t.Points[:0:0]
	for i, p := range t.Points {
		far := i > 0 && len(kept) > 0 && tooFast(kept[len(kept)-1], p)
		if far && i+1 < len(t.Points) && tooFast(p, t.Points[i+1]) || far && i+1 == len(t.Points) ||
			i == 0 && len(t.Points) > 2 && tooFast(p, t.Points[1]) && !tooFast(t.Points[1], t.Points[2]) {
			t.bad(i+1, "The receiver jumped here; this fix is left out.")
			continue
		}
		kept = append(kept, p)
	}
	t.Points = kept
}

func tooFast(a, b Point) bool { return Distance(a, b) > fastest*(b.At-a.At) }

// earth is the mean radius in metres, IUGG (H. Moritz, Geodetic Reference
// System 1980, Journal of Geodesy 74).
const earth = 6371008.8

// Distance returns metres between two points on a sphere, by the haversine;
// within 0.6 % of the ellipsoid. Source: R. W. Sinnott, Sky and Telescope 68
// (1984).
func Distance(a, b Point) float64 {
	la, lb := radians(a.Lat), radians(b.Lat)
	s, c := math.Sin((lb-la)/2), math.Sin(radians(b.Lon-a.Lon)/2)
	return 2 * earth * math.Asin(math.Sqrt(min(1, s*s+math.Cos(la)*math.Cos(lb)*c*c)))
}

func radians(deg float64) float64 { return deg * math.Pi / 180 }

// flat is a position in metres east and north of an origin: a track is small
// enough for the earth to be flat under it.
type flat struct{ x, y float64 }

func flatten(origin, p Point) flat {
	lon := math.Remainder(p.Lon-origin.Lon, 360)
	return flat{
		x: earth * radians(lon) * math.Cos(radians(origin.Lat)),
		y: earth * radians(p.Lat-origin.Lat),
	}
}

// raise is the inverse of flatten.
func raise(origin Point, f flat) Point {
	return Point{
		Lat: origin.Lat + f.y/earth*180/math.Pi,
		Lon: origin.Lon + f.x/(earth*math.Cos(radians(origin.Lat)))*180/math.Pi,
	}
}
