package laps

import (
	"math"
	"slices"
)

// bootstrapLaps is the most laps whose resamples are counted out: with 8
// there are 6435 different ones.
const bootstrapLaps = 8

// Resampled is the exact bootstrap of a mean: the standard error and the
// limits at which the share of resamples reaches 0.025 and 0.975, in the
// unit of the values.
type Resampled struct{ Mean, SE, Low, High float64 }

// BootstrapMean counts out all nⁿ resamples of x. False for fewer than 2 or
// more than 8 values, or values that are not finite. Source: B. Efron,
// R. Tibshirani, An Introduction to the Bootstrap, 1993, chapters 2 and 13.
func BootstrapMean(x []float64) (Resampled, bool) {
	n := len(x)
	if n < 2 || n > bootstrapLaps || !finite(x) {
		return Resampled{}, false
	}
	type point struct{ mean, share float64 }
	var points []point
	var deal func(i, left int, sum, share float64)
	deal = func(i, left int, sum, share float64) {
		if i == n-1 {
			sum += float64(left) * x[i]
			points = append(points, point{sum / float64(n), share})
			return
		}
		for c := 0; c <= left; c++ {
			of := float64(n - i)
			deal(i+1, left-c, sum+float64(c)*x[i], share*binomial(left, c, 1/of))
		}
	}
	deal(0, n, 0, 1)
	slices.SortFunc(points, func(a, b point) int {
		switch {
		case a.mean < b.mean:
			return -1
		case a.mean > b.mean:
			return 1
		}
		return 0
	})
	r := Resampled{Mean: Mean(x), SE: SD(x) * math.Sqrt(float64(n-1)) / float64(n)}
	r.Low, r.High = points[0].mean, points[len(points)-1].mean
	sum, low := 0.0, false
	for _, p := range points {
		sum += p.share
		if !low && sum >= 0.025 {
			r.Low, low = p.mean, true
		}
		if sum >= 0.975 {
			r.High = p.mean
			break
		}
	}
	return r, true
}

// BootstrapMedianSE returns the ideal bootstrap standard error of the median
// of an odd number of values; NaN for an even number or fewer than 3. Source:
// B. Efron, Annals of Statistics 7 (1979), section 3.
func BootstrapMedianSE(x []float64) float64 {
	n := len(x)
	if n < 3 || n%2 == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(x))
	// atMost is the chance that the resample's median is among the i lowest.
	atMost := func(i int) float64 {
		sum := 0.0
		for k := n/2 + 1; k <= n; k++ {
			sum += binomial(n, k, float64(i)/float64(n))
		}
		return sum
	}
	var mean, square float64
	for i := range s {
		p := atMost(i+1) - atMost(i)
		mean += p * (s[i] - s[n/2])
		square += p * (s[i] - s[n/2]) * (s[i] - s[n/2])
	}
	return math.Sqrt(max(0, square-mean*mean))
}

// binomial returns the chance of k in n tries of chance p, for small n.
func binomial(n, k int, p float64) float64 {
	c := 1.0
	for i := range k {
		c = c * float64(n-i) / float64(i+1)
	}
	return c * math.Pow(p, float64(k)) * math.Pow(1-p, float64(n-k))
}
