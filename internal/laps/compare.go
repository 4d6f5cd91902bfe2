package laps

import (
	"fmt"
	"math"
)

// comparison is a trial taken apart: counted laps, drift out, and the design
// in which the stints are compared.
type comparison struct {
	trial  []Stint
	stints [][]Lap
	drift  Drift
	times  [][]float64
	x, y   []float64 // all laps before and after
	design design
	doubts []string
}

// compare leaves out stints with fewer than two counted laps; false when one
// side has none left.
func compare(trial []Stint) (comparison, bool) {
	c := comparison{}
	before, after := 0, 0
	for _, s := range trial {
		laps := Counted(s.Laps)
		if len(laps) < 2 {
			continue
		}
		c.trial, c.stints = append(c.trial, s), append(c.stints, laps)
		if s.Changed {
			after++
		} else {
			before++
		}
	}
	if before == 0 || after == 0 {
		return c, false
	}
	c.drift, _ = FitDrift(c.stints)
	c.times = c.drift.WithoutDrift(c.stints)
	for i, s := range c.trial {
		if s.Changed {
			c.y = append(c.y, c.times[i]...)
		} else {
			c.x = append(c.x, c.times[i]...)
		}
	}
	c.plan()
	return c, true
}

// once reports that each setting was ridden in one run only.
func (c comparison) once() bool { return len(c.trial) == 2 }

// covariate is something else that may have moved the stints.
type covariate struct {
	name       string
	more, less string               // formats of a difference; empty is not spoken of
	of         func(i int) *float64 // its value in a stint
	matters    float64              // how large a difference does
	stints     int                  // how many a fit with it wants
	// costs is how many times it may make the variance of the shift what it
	// was without. Beyond that it moved together with the change, and no data
	// can part the two.
	costs float64
}

// plan finds the weights: the change against everything that was recorded and
// can be parted from it, in the order temperature, tyre, the day itself. The
// day is only a guess at what went on, so it may cost less. How many stints
// each wants is common practice, no source.
func (c *comparison) plan() {
	changed := make([]float64, len(c.trial))
	for i, s := range c.trial {
		if s.Changed {
			changed[i] = 1
		}
	}
	columns := [][]float64{level(len(c.trial))}
	c.design, _ = contrast(changed, columns...)
	least := c.design.squares()
	for _, v := range []covariate{
		{"the temperature", "it was %.0f °C warmer", "it was %.0f °C cooler", func(i int) *float64 { return c.trial[i].Temperature }, 4, 5, 25},
		{"the age of the tyre", "the tyre was %.0f laps older", "the tyre was %.0f laps newer", func(i int) *float64 { return c.trial[i].Tyre }, 10, 5, 25},
		{"the day itself", "", "", func(i int) *float64 { f := float64(i); return &f }, 0, 3, 3.5},
	} {
		column, ok := v.column(len(c.trial))
		if !ok {
			continue
		}
		d, parted := contrast(changed, append(columns[:len(columns):len(columns)], column)...)
		if parted && len(c.trial) >= v.stints+len(columns)-1 && d.squares() <= v.costs*least {
			d.held = append(c.design.held, v.name)
			columns, c.design = append(columns, column), d
			continue
		}
		c.mixed(v, column, changed)
	}
}

// column is the covariate in every stint; false when it is not known of all
// or hardly moved.
func (v covariate) column(n int) ([]float64, bool) {
	out, low, high := make([]float64, n), math.Inf(1), math.Inf(-1)
	for i := range out {
		at := v.of(i)
		if at == nil || math.IsNaN(*at) || math.IsInf(*at, 0) {
			return nil, false
		}
		out[i], low, high = *at, min(low, *at), max(high, *at)
	}
	return out, high-low >= v.matters && high > low
}

// mixed doubts a verdict whose sides differ in something that is not held.
func (c *comparison) mixed(v covariate, column, changed []float64) {
	var before, after []float64
	for i, at := range column {
		if changed[i] == 1 {
			after = append(after, at)
		} else {
			before = append(before, at)
		}
	}
	apart := Mean(after) - Mean(before)
	if v.more == "" || math.Abs(apart) < v.matters {
		return
	}
	format := v.more
	if apart < 0 {
		format = v.less
	}
	c.doubts = append(c.doubts, "With the change "+fmt.Sprintf(format, math.Abs(apart))+", and the laps cannot part the two.")
}

// shifts returns the shift twice: with the allowance for how far runs lie
// apart by themselves, and by the laps alone, as if nothing else moved a run
// as a whole. df are the degrees of freedom of the first; runs is what was
// allowed.
func (c comparison) shifts(own RunSpread) (wide, byLaps Shift, df float64, runs RunSpread) {
	at := centres(c.times)
	spread, perLap := c.drift.doubt(c.stints, c.times)
	fromLaps := lapVariances(c.times)
	var laps, below, numbers float64
	for i, w := range c.design.weights {
		fromLaps[i] *= spread
		one := w * w * fromLaps[i]
		laps += one
		below += one * one / float64(len(c.times[i])-1)
		numbers += w * meanNumber(c.stints[i])
	}
	middle := dot(c.design.weights, at)
	laps += perLap * numbers * numbers
	lapDF := max(1, laps*laps/below)
	byLaps = around(middle, math.Sqrt(laps), lapDF)
	if c.once() {
		byLaps = c.byRank(spread, perLap*numbers*numbers)
		middle = byLaps.Middle
	}
	runs = UsualRunSpread(Median(c.x)).surplus().and(own.surplus()).and(c.design.surplus(at, fromLaps)).spread()
	day := runs.Seconds * runs.Seconds * c.design.squares()
	all := laps + day
	df = all * all / (laps*laps/lapDF + day*day/runs.DF)
	return around(middle, math.Sqrt(all), df), byLaps, df, runs
}

// byRank is the exact interval by rank for two stints, with what the drift
// costs.
func (c comparison) byRank(spread, drift float64) Shift {
	s, _ := HodgesLehmann(c.y, c.x)
	own := 2 * math.Sqrt(drift)
	s.Low = s.Middle - math.Hypot((s.Middle-s.Low)*math.Sqrt(spread), own)
	s.High = s.Middle + math.Hypot((s.High-s.Middle)*math.Sqrt(spread), own)
	return s
}

func around(middle, se, df float64) Shift {
	half := student(df).quantile(0.975) * se
	return Shift{middle, middle - half, middle + half}
}

// standardError turns an interval back into a standard error.
func (s Shift) standardError(df float64) float64 {
	return (s.High - s.Low) / 2 / student(df).quantile(0.975)
}
