package laps

import (
	"math"
	"slices"
)

// Mean returns the arithmetic mean, in the unit of x; NaN for no values.
func Mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// SD returns the standard deviation with denominator n − 1, by two passes so
// that large offsets lose no digits; NaN for fewer than two values. Source:
// T. Chan, G. Golub, R. LeVeque, The American Statistician 37 (1983), the
// corrected two-pass algorithm; from memory.
func SD(x []float64) float64 {
	if len(x) < 2 {
		return math.NaN()
	}
	m, squares, rest := Mean(x), 0.0, 0.0
	for _, v := range x {
		squares += (v - m) * (v - m)
		rest += v - m // what rounding left of the mean
	}
	n := float64(len(x))
	return math.Sqrt((squares - rest*rest/n) / (n - 1))
}

// Median returns the middle value, or the mean of the two middle ones; NaN
// for no values. x is left as it was.
func Median(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(x))
	mid := len(s) / 2
	if len(s)%2 == 1 {
		return s[mid]
	}
	return s[mid-1]/2 + s[mid]/2
}

// Lag1 returns the lag-1 autocorrelation Σ(yᵢ−m)(yᵢ₊₁−m) / Σ(yᵢ−m)², in
// [−1, 1]; 0 when all values are equal or there are fewer than two. A high
// value says that neighbouring laps go together and count for less.
// Source: NIST Statistical Reference Datasets, univariate summary statistics.
func Lag1(x []float64) float64 {
	if len(x) < 2 {
		return 0
	}
	m := Mean(x)
	var top, bottom float64
	for i, v := range x {
		bottom += (v - m) * (v - m)
		if i > 0 {
			top += (x[i-1] - m) * (v - m)
		}
	}
	if bottom == 0 {
		return 0
	}
	return top / bottom
}
