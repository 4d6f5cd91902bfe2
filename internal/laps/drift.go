package laps

import "math"

// Drift is the stated model of what a stint does by itself: every stint of a
// trial gets slower (tyres going off) or faster (warming up, learning) by
// the same PerLap seconds each lap. Laps is how many it was fitted to.
type Drift struct {
	PerLap float64
	Laps   int
}

// driftLaps is the fewest laps in all that a drift is fitted to.
const driftLaps = 10

// FitDrift returns the median of the slopes between all pairs of laps of the
// same stint, which traffic hardly moves. False with fewer than 10 laps in
// all. Source: P. K. Sen, Journal of the American Statistical Association 63
// (1968), pairs within stints as for common slopes.
func FitDrift(stints [][]Lap) (Drift, bool) {
	var slopes []float64
	n := 0
	for _, s := range stints {
		n += len(s)
		for i := range s {
			for j := range i {
				if run := s[i].Number - s[j].Number; run != 0 {
					slopes = append(slopes, (s[i].Seconds-s[j].Seconds)/float64(run))
				}
			}
		}
	}
	if n < driftLaps || len(slopes) == 0 || !finite(slopes) {
		return Drift{}, false
	}
	return Drift{PerLap: Median(slopes), Laps: n}, true
}

// WithoutDrift returns the times as if each lap had been ridden at the same
// point of its stint: the mean lap number of all stints.
func (d Drift) WithoutDrift(stints [][]Lap) [][]float64 {
	sum, n := 0, 0
	for _, s := range stints {
		for _, l := range s {
			sum += l.Number
			n++
		}
	}
	out := make([][]float64, len(stints))
	for i, s := range stints {
		for _, l := range s {
			out[i] = append(out[i], l.Seconds-d.PerLap*(float64(l.Number)-float64(sum)/float64(n)))
		}
	}
	return out
}

// widened returns the shift with what the clean-up costs: a degree of freedom
// for the drift and one for the marks of each stint, all taken from the same
// laps, and the drift's own uncertainty over the difference in mean lap
// number. The count is a rule of thumb held to by simulation.
func (d Drift) widened(s Shift, trial []Stint, stints [][]Lap, times [][]float64) Shift {
	if d.Laps < driftLaps || math.IsInf(s.Low, 0) {
		return s
	}
	var before, after []float64
	var numbers, rest float64
	for i, stint := range stints {
		m, mt := 0.0, Mean(times[i])
		for _, l := range stint {
			m += float64(l.Number) / float64(len(stint))
		}
		for j, l := range stint {
			numbers += (float64(l.Number) - m) * (float64(l.Number) - m)
			rest += (times[i][j] - mt) * (times[i][j] - mt)
			if trial[i].Changed {
				after = append(after, float64(l.Number))
			} else {
				before = append(before, float64(l.Number))
			}
		}
	}
	df := float64(d.Laps - len(stints) - 1)
	if df < 1 || numbers == 0 {
		return s
	}
	apart := Mean(after) - Mean(before)
	own := 2 * math.Sqrt(rest/df/numbers) * apart
	grow := (df + 1 + float64(len(stints))) / df
	s.Low = s.Middle - math.Hypot((s.Middle-s.Low)*math.Sqrt(grow), own)
	s.High = s.Middle + math.Hypot((s.High-s.Middle)*math.Sqrt(grow), own)
	return s
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
