package screen

import (
	"fmt"
	"math"
	"slices"

	"plumbline/internal/book"
	"plumbline/internal/laps"
	"plumbline/internal/laps/trace"
	"plumbline/internal/unit"
)

// LiveArgs is what the phone's own positioning gave so far: latitude and
// longitude in degrees, time in seconds, accuracy in metres.
type LiveArgs struct {
	Session book.SessionID `json:"session"`
	Fixes   [][4]float64   `json:"fixes"`
}

// Live is a session that is being timed.
type Live struct {
	Laps     []book.LapTime `json:"laps"`
	Rows     []LapRow       `json:"rows"`
	Last     string         `json:"last,omitempty"`
	Best     string         `json:"best,omitempty"`
	Since    float64        `json:"since"` // when the lap under way began, s; 0 before the first crossing
	LineSays string         `json:"lineSays"`
	Says     string         `json:"says"` // how good the positions are
	Accuracy *unit.Fixed    `json:"accuracy,omitempty"`
	Map      *book.Map      `json:"map,omitempty"` // of a line that was found
	Turns    string         `json:"turns,omitempty"`
	Length   *unit.Fixed    `json:"length,omitempty"`
}

// vague is the accuracy in metres from which a position is too vague to time
// by: wider than a track. Common practice, no source.
const vague = 25

var _ = view("live", live)

func live(a Ask, args LiveArgs) (any, []book.Refusal) {
	out := Live{Laps: []book.LapTime{}, Rows: []LapRow{}, LineSays: "Waiting for the first positions.", Says: "No position yet. Keep the phone where it sees the sky."}
	var points []trace.Point
	var good []float64
	for _, f := range args.Fixes {
		if f[3] <= vague && (len(points) == 0 || f[2] > points[len(points)-1].At) {
			points = append(points, trace.Point{Lat: f[0], Lon: f[1], At: f[2]})
			good = append(good, f[3])
		}
	}
	if n := len(args.Fixes) - len(points); n > 0 {
		out.Says = fmt.Sprintf("%s left out: too vague to time by.", many(n, "position"))
	}
	if len(points) < 2 {
		return out, nil
	}
	line, splits, found := liveLine(a, args.Session, points, &out)
	if !found {
		out.Says = accuracySays(good, 0, nil)
		return out, nil
	}
	all, backward := trace.Laps(points, line, splits)
	if crossings := trace.Crossings(points, line); 2*backward > len(crossings) {
		line, splits = backwards(line, splits)
		all, _ = trace.Laps(points, line, splits)
		out.LineSays += " You ride the other way round."
	}
	for _, c := range trace.Crossings(points, line) {
		if !c.Backward {
			out.Since = c.At
		}
	}
	out.Laps = lapTimes(all)
	out.Rows, _ = lapRows(out.Laps)
	if n := len(all); n > 0 {
		out.Last = seconds(all[n-1].Seconds())
		best := slices.MinFunc(all, func(x, y trace.Lap) int { return int(math.Copysign(1, x.Seconds()-y.Seconds())) })
		out.Best = seconds(best.Seconds())
	}
	out.Accuracy = liveAccuracy(points, good, line)
	out.Says = accuracySays(good, len(all), out.Accuracy)
	return out, nil
}

// liveLine is the track's own line, or the one that the positions pass most
// often.
func liveLine(a Ask, session book.SessionID, points []trace.Point, out *Live) (trace.Line, []trace.Line, bool) {
	if t, ok := trackOfSession(a.Book, session); ok {
		if l, splits, ok := startLine(t); ok {
			out.LineSays = "Timed at the start and finish line of " + t.Name + "."
			return l, splits, true
		}
	}
	l, ok := trace.Find(points)
	if !ok {
		out.LineSays = "The track has no line on its map yet. Ride two laps: the line is found where you pass again."
		return l, nil, false
	}
	out.LineSays = "The line was found where you passed again."
	var r TraceRead
	all, _ := trace.Laps(points, l, nil)
	r.outline(all, l, points)
	out.Map, out.Turns, out.Length = r.Map, r.Turns, r.Length
	return l, nil, true
}

// liveAccuracy says how far a lap time may be off, in seconds: the positions'
// accuracy over the speed at the line, twice in quadrature because two
// crossings make a lap, and what lies between the fixes. The accuracy is the
// 95 % level: W3C, Geolocation, section on the accuracy attribute.
func liveAccuracy(points []trace.Point, good []float64, line trace.Line) *unit.Fixed {
	var all []float64
	for _, c := range trace.Crossings(points, line) {
		i := slices.IndexFunc(points, func(p trace.Point) bool { return p.At >= c.At })
		if i < 1 {
			continue
		}
		speed := trace.Distance(points[i-1], points[i]) / c.Step
		all = append(all, math.Hypot(max(good[i-1], good[i])/speed, trace.Sampling(c.Step, speed)))
	}
	if len(all) == 0 {
		return nil
	}
	at, ok := unit.FixedOf(math.Ceil(100*math.Sqrt2*laps.Median(all)) / 100)
	if !ok {
		return nil
	}
	return &at
}

func accuracySays(good []float64, n int, off *unit.Fixed) string {
	says := fmt.Sprintf("Positions are good to about %.0f m (19 times in 20).", laps.Median(good))
	if n > 0 && off != nil {
		says += fmt.Sprintf(" So a lap time may be off by about %s s.", off)
	}
	return says
}
