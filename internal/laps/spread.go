package laps

import "math"

// Evenness compares the spreads of two stints: Ratio of the standard
// deviations, y over x, below 1 when y is more even; P is the two-sided
// probability by Brown and Forsythe, which skewed laps do not fool.
type Evenness struct{ Ratio, P float64 }

// CompareSpread compares the spread of x with that of y by the distances from
// each median. False with fewer than three laps on a side or no spread.
// Source: M. B. Brown, A. B. Forsythe, Journal of the American Statistical
// Association 69 (1974); NIST/SEMATECH e-Handbook, 1.3.5.10.
func CompareSpread(x, y []float64) (Evenness, bool) {
	if len(x) < 3 || len(y) < 3 || !finite(x) || !finite(y) || SD(x) == 0 {
		return Evenness{}, false
	}
	test, _, ok := Pooled(Summarise(fromMedian(y)), Summarise(fromMedian(x)))
	return Evenness{Ratio: SD(y) / SD(x), P: test.P}, ok
}

func fromMedian(x []float64) []float64 {
	m := Median(x)
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = math.Abs(v - m)
	}
	return out
}
