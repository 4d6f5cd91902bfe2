package laps

import (
	"math"
	"slices"
)

// Drift is the stated model of what a stint does by itself, the same in every
// stint of a trial: lap n from the pits is slower by
//
//	PerLap·n + Warm·½ⁿ⁻¹   seconds,
//
// PerLap above zero for tyres going off, below for learning; Warm, never below
// zero, for tyres coming up to temperature: each lap loses half as much as the
// one before (common practice, no source). Laps is how many it was fitted to.
type Drift struct {
	PerLap, Warm float64
	Laps         int
}

// driftLaps is the fewest laps in all that a drift is fitted to; by lap
// settledLap less than an eighth of the warm-up is left.
const (
	driftLaps  = 10
	settledLap = 4
)

// FitDrift returns medians of slopes between pairs of laps of the same stint,
// which traffic hardly moves: PerLap from laps that are warm, Warm from cold
// laps against warm ones once PerLap is out. Warm is only taken when three in
// four of its pairs agree that there is one. False with fewer than 10 laps in
// all. Source: P. K. Sen, Journal of the American Statistical Association 63
// (1968), pairs within stints as for common slopes.
func FitDrift(stints [][]Lap) (Drift, bool) {
	d := Drift{}
	warm := make([][]Lap, len(stints))
	cold, settled := 0, 0
	for i, s := range stints {
		d.Laps += len(s)
		for _, l := range s {
			if l.Number >= settledLap {
				warm[i] = append(warm[i], l)
			}
		}
		settled += len(warm[i])
		cold += len(s) - len(warm[i])
	}
	if settled < driftLaps {
		warm, cold = stints, 0
	}
	slopes := pairSlopes(warm, func(l Lap) float64 { return float64(l.Number) })
	if d.Laps < driftLaps || len(slopes) == 0 || !finite(slopes) {
		return Drift{}, false
	}
	d.PerLap = Median(slopes)
	if cold > 0 {
		d.Warm = d.fitWarm(stints)
	}
	return d, true
}

// pairSlopes are the slopes of all pairs of laps of one stint whose clocks
// differ.
func pairSlopes(stints [][]Lap, clock func(Lap) float64) []float64 {
	var out []float64
	for _, s := range stints {
		for i := range s {
			for j := range i {
				if run := clock(s[i]) - clock(s[j]); run != 0 {
					out = append(out, (s[i].Seconds-s[j].Seconds)/run)
				}
			}
		}
	}
	return out
}

func (d Drift) fitWarm(stints [][]Lap) float64 {
	var slopes []float64
	for _, s := range stints {
		for _, c := range s {
			for _, w := range s {
				if c.Number < settledLap && w.Number >= settledLap {
					run := warmth(c) - warmth(w)
					slopes = append(slopes, (c.Seconds-w.Seconds-d.PerLap*float64(c.Number-w.Number))/run)
				}
			}
		}
	}
	if len(slopes) < driftLaps {
		return 0
	}
	slices.Sort(slopes)
	if slopes[len(slopes)/4] <= 0 {
		return 0
	}
	return Median(slopes)
}

// warmth is the share of the warm-up that a lap has: 1 on the first, ½ on the
// second.
func warmth(l Lap) float64 { return math.Pow(0.5, float64(l.Number-1)) }

// At is how much slower than nothing the model has a lap, in seconds.
func (d Drift) At(l Lap) float64 { return d.PerLap*float64(l.Number) + d.Warm*warmth(l) }

// WithoutDrift returns the times as if each lap had been ridden at the same
// point of its stint: the average one of all stints.
func (d Drift) WithoutDrift(stints [][]Lap) [][]float64 {
	sum, n := 0.0, 0
	for _, s := range stints {
		for _, l := range s {
			sum += d.At(l)
			n++
		}
	}
	out := make([][]float64, len(stints))
	for i, s := range stints {
		for _, l := range s {
			out[i] = append(out[i], l.Seconds-d.At(l)+sum/float64(n))
		}
	}
	return out
}

// doubt is what the clean-up costs. Spread is the factor on the variance of a
// stint's middle: a degree of freedom for the drift and half a one for the
// marks of each stint, all taken from the same laps. PerLap is the variance of the
// slope itself. Counting so is a rule of thumb that the simulations hold to.
func (d Drift) doubt(stints [][]Lap, times [][]float64) (spread, perLap float64) {
	df := float64(d.Laps - len(stints) - 1)
	if d.Laps < driftLaps || df < 1 {
		return 1, 0
	}
	var numbers, rest float64
	for i, stint := range stints {
		if len(stint) == 0 {
			continue
		}
		m, mt := meanNumber(stint), Mean(times[i])
		for j, l := range stint {
			numbers += (float64(l.Number) - m) * (float64(l.Number) - m)
			rest += (times[i][j] - mt) * (times[i][j] - mt)
		}
	}
	if numbers == 0 {
		return 1, 0
	}
	return (df + 1 + float64(len(stints))/2) / df, rest / df / numbers
}

func meanNumber(stint []Lap) float64 {
	m := 0.0
	for _, l := range stint {
		m += float64(l.Number) / float64(len(stint))
	}
	return m
}

// ThereAndBack is the A-B-A contrast: B less the mean of the A stints either
// side, which cancels whatever the day itself did evenly. The interval is
// Welch's with Satterthwaite's degrees of freedom. Back is how far the second
// A lies from the first: what the day did. False if a stint has fewer than
// two laps. Source: B. L. Welch, Biometrika 34 (1947), for a weighted sum.
func ThereAndBack(first, changed, again []float64) (shift, back MeanTest, ok bool) {
	if len(first) < 2 || len(changed) < 2 || len(again) < 2 {
		return MeanTest{}, MeanTest{}, false
	}
	a, b, c := Summarise(first), Summarise(changed), Summarise(again)
	shift, ok = weighed(b.Mean-(a.Mean+c.Mean)/2, part{0.5, a}, part{1, b}, part{0.5, c})
	if !ok {
		return MeanTest{}, MeanTest{}, false
	}
	back, ok = Welch(c, a)
	return shift, back, ok
}
