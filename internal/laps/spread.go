package laps

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

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

// VarianceRatio returns F = sx²/sy² and the chance of a smaller one when the
// true spreads are equal and laps normal; NaN for fewer than two laps on a
// side or no spread in y. Source: NIST/SEMATECH e-Handbook, 1.3.5.9.
func VarianceRatio(x, y Summary) (f, below float64) {
	if x.N < 2 || y.N < 2 || !(y.SD > 0) {
		return math.NaN(), math.NaN()
	}
	f = x.SD * x.SD / (y.SD * y.SD)
	return f, distuv.F{D1: float64(x.N - 1), D2: float64(y.N - 1)}.CDF(f)
}
