package chassis

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Sample is one reading of an accelerometer: seconds from the first, and
// m/s² along three axes (of a single-axis trace, X).
type Sample struct {
	At, X, Y, Z float64
}

// The bounds of a recording that can hold a bounce.
const (
	fewestSamples = 40
	mostSamples   = 60_000
	shortestTrace = 1.5  // s
	longestTrace  = 600  // s
	slowestRate   = 15.0 // samples per s
	longestGap    = 0.25 // s
)

func badTrace(says string, args ...any) error {
	return Refusal{"trace", fmt.Sprintf(says, args...),
		"Record again: a line for each reading with time and acceleration, such as 0.02,0.1,0.3,9.8, for three seconds or more."}
}

// ReadTrace reads a recording: a line for each reading, time and one
// acceleration or time and three, parted by commas, semicolons, tabs or
// blanks. A first line of names is passed over. Times may be in s, ms, µs or
// ns; their step tells which. Readings at the same instant count once.
func ReadTrace(text string) ([]Sample, error) {
	var samples []Sample
	columns, n := 0, 0
	for line := range strings.Lines(text) {
		n++
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		v, ok := numbers(line)
		if !ok && columns == 0 && allNames(line) {
			columns = -1 // names, once
			continue
		}
		if !ok || len(v) != 2 && len(v) < 4 || columns > 0 && len(v) != columns {
			return nil, badTrace("Line %d of the recording cannot be read.", n)
		}
		columns = len(v)
		if len(samples) == mostSamples {
			return nil, badTrace("The recording has more than %d readings.", mostSamples)
		}
		samples = append(samples, sampleOf(v))
	}
	return tidyTrace(samples)
}

func sampleOf(v []float64) Sample {
	if len(v) == 2 {
		return Sample{At: v[0], X: v[1]}
	}
	return Sample{v[0], v[1], v[2], v[3]}
}

// fields splits a line. With semicolons a comma is a decimal comma.
func fields(line string) []string {
	semicolons := strings.Contains(line, ";")
	return strings.FieldsFunc(line, func(r rune) bool {
		return r == ';' || r == '\t' || r == ' ' || r == ',' && !semicolons
	})
}

func reading(field string) (float64, error) {
	return strconv.ParseFloat(strings.ReplaceAll(field, ",", "."), 64)
}

func numbers(line string) ([]float64, bool) {
	var v []float64
	for _, f := range fields(line) {
		x, err := reading(f)
		if err != nil || math.IsNaN(x) || math.Abs(x) > 1e19 {
			return nil, false
		}
		v = append(v, x)
	}
	return v, true
}

func allNames(line string) bool {
	return !slices.ContainsFunc(fields(line), func(f string) bool {
		_, err := reading(f)
		return err == nil
	})
}

// tidyTrace puts times into seconds from the first, and refuses recordings
// that no bounce can be read from.
func tidyTrace(samples []Sample) ([]Sample, error) {
	samples = slices.CompactFunc(samples, func(a, b Sample) bool { return a.At == b.At })
	if len(samples) < fewestSamples {
		return nil, badTrace("The recording has only %d readings.", len(samples))
	}
	steps := make([]float64, 0, len(samples)-1)
	for i := 1; i < len(samples); i++ {
		step := samples[i].At - samples[i-1].At
		if step < 0 {
			return nil, badTrace("The times of the recording do not rise (reading %d).", i+1)
		}
		steps = append(steps, step)
	}
	slices.Sort(steps)
	scale := perSecond(steps[len(steps)/2])
	first := samples[0].At
	for i := range samples {
		s := &samples[i]
		s.At = (s.At - first) / scale
		if math.Abs(s.X) > 1000 || math.Abs(s.Y) > 1000 || math.Abs(s.Z) > 1000 {
			return nil, badTrace("Reading %d is beyond what a phone can feel.", i+1)
		}
	}
	length := samples[len(samples)-1].At
	switch {
	case length < shortestTrace || length > longestTrace:
		return nil, badTrace("The recording is %.1f s long; 3 to 60 s are wanted.", length)
	case float64(len(samples)-1)/length < slowestRate:
		return nil, badTrace("The recording has only %.0f readings in a second.", float64(len(samples)-1)/length)
	case steps[len(steps)-1]/scale > longestGap:
		return nil, badTrace("The recording has a gap of %.1f s.", steps[len(steps)-1]/scale)
	}
	return samples, nil
}

// perSecond tells the unit of time by the step between readings.
func perSecond(step float64) float64 {
	switch {
	case step < 1:
		return 1
	case step < 1e3:
		return 1e3
	case step < 1e6:
		return 1e6
	}
	return 1e9
}

// traceStep is the even step in s at which a trace is looked at: fine enough
// for 5 Hz.
const traceStep = 0.02

// motion is the acceleration along the direction that a bounce has: along
// gravity where the trace holds it, else along the axis that moved most. It is
// evenly spaced and smoothed over 0.1 s, which takes an engine's buzz away and
// leaves frequency and decay of a slow swing as they are.
func motion(samples []Sample) []float64 {
	var mean Sample
	for _, s := range samples {
		n := float64(len(samples))
		mean.X, mean.Y, mean.Z = mean.X+s.X/n, mean.Y+s.Y/n, mean.Z+s.Z/n
	}
	dir := mean
	if norm(mean) < 5 { // gravity was taken out
		dir = mainAxis(samples, mean)
	}
	length := norm(dir)
	if length == 0 {
		return nil
	}
	along := make([]float64, len(samples))
	for i, s := range samples {
		along[i] = ((s.X-mean.X)*dir.X + (s.Y-mean.Y)*dir.Y + (s.Z-mean.Z)*dir.Z) / length
	}
	return smoothed(smoothed(even(samples, along)))
}

func norm(s Sample) float64 { return math.Sqrt(s.X*s.X + s.Y*s.Y + s.Z*s.Z) }

// mainAxis is the direction of most movement, by power iteration on the
// covariance; the zero Sample when nothing moved.
func mainAxis(samples []Sample, mean Sample) Sample {
	v := Sample{X: 0.6, Y: 0.5, Z: 0.7}
	for range 50 {
		var w Sample
		for _, s := range samples {
			x, y, z := s.X-mean.X, s.Y-mean.Y, s.Z-mean.Z
			d := x*v.X + y*v.Y + z*v.Z
			w.X, w.Y, w.Z = w.X+d*x, w.Y+d*y, w.Z+d*z
		}
		n := norm(w)
		if n == 0 {
			return Sample{}
		}
		v = Sample{X: w.X / n, Y: w.Y / n, Z: w.Z / n}
	}
	return v
}

// even puts readings on an even step, straight between neighbours.
func even(samples []Sample, v []float64) []float64 {
	n := int(samples[len(samples)-1].At/traceStep) + 1
	out := make([]float64, n)
	j := 0
	for i := range out {
		t := float64(i) * traceStep
		for j+2 < len(samples) && samples[j+1].At < t {
			j++
		}
		a, b := samples[j].At, samples[j+1].At
		share := min(1, max(0, (t-a)/(b-a)))
		out[i] = v[j] + share*(v[j+1]-v[j])
	}
	return out
}

// smoothed is the mean of each value and its neighbours.
func smoothed(v []float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		a, b := v[max(0, i-1)], v[min(len(v)-1, i+1)]
		out[i] = (a + v[i] + b) / 3
	}
	return out
}
