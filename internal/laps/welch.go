package laps

import "math"

// Summary is what a comparison of means needs of one stint: mean and
// standard deviation in seconds and the number of laps.
type Summary struct {
	Mean, SD float64
	N        int
}

// Summarise returns the Summary of x.
func Summarise(x []float64) Summary { return Summary{Mean(x), SD(x), len(x)} }

// MeanTest is a comparison of two means by Student's t: the difference and
// its 95 % interval in seconds, its standard error, t, the degrees of freedom
// and the two-sided probability of a difference this large by luck alone.
type MeanTest struct {
	Difference, Low, High float64
	SE, T, DF, P          float64
}

// Welch compares the means of x and y without taking their spreads as equal.
// The difference is x − y. False with fewer than two laps on a side or no
// spread at all. Source: B. L. Welch, Biometrika 34 (1947); NIST/SEMATECH
// e-Handbook of Statistical Methods, 1.3.5.3.
func Welch(x, y Summary) (MeanTest, bool) {
	if x.N < 2 || y.N < 2 {
		return MeanTest{}, false
	}
	return weighed(x.Mean-y.Mean, part{1, x}, part{-1, y})
}

// Pooled compares the means of x and y, taking their spreads as equal; sd is
// the pooled standard deviation. False as for Welch. Source: NIST/SEMATECH
// e-Handbook of Statistical Methods, 1.3.5.3.
func Pooled(x, y Summary) (test MeanTest, sd float64, ok bool) {
	if x.N < 2 || y.N < 2 {
		return MeanTest{}, 0, false
	}
	df := float64(x.N + y.N - 2)
	sd = math.Sqrt((float64(x.N-1)*x.SD*x.SD + float64(y.N-1)*y.SD*y.SD) / df)
	test, ok = byStudent(x.Mean-y.Mean, sd*math.Sqrt(1/float64(x.N)+1/float64(y.N)), df)
	return test, sd, ok
}

// part is one stint with its weight in a contrast.
type part struct {
	weight float64
	of     Summary
}

// weighed tests a weighted sum of means with the Welch–Satterthwaite degrees
// of freedom.
func weighed(estimate float64, parts ...part) (MeanTest, bool) {
	var v, below float64
	for _, p := range parts {
		one := p.weight * p.weight * p.of.SD * p.of.SD / float64(p.of.N)
		v += one
		below += one * one / float64(p.of.N-1)
	}
	return byStudent(estimate, math.Sqrt(v), v*v/below)
}

func byStudent(estimate, se, df float64) (MeanTest, bool) {
	if !(se > 0) || math.IsInf(se, 0) || !(df >= 1) {
		return MeanTest{}, false
	}
	half := student(df).quantile(0.975) * se
	return MeanTest{
		Difference: estimate, Low: estimate - half, High: estimate + half,
		SE: se, T: estimate / se, DF: df,
		P: 2 * student(df).below(-math.Abs(estimate/se)),
	}, true
}
