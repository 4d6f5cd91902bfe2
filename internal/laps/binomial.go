package laps

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Tally is a record of yes and no: an adviser's changes kept of those tried,
// the rider's right answers of all blind draws. 0 ≤ Yes ≤ Of.
type Tally struct{ Yes, Of int }

// Interval returns the Clopper–Pearson 95 % interval of the share, in [0, 1];
// 0 and 1 when nothing was tried or the tally is impossible. Source:
// C. J. Clopper, E. S. Pearson, Biometrika 26 (1934).
func (t Tally) Interval() (low, high float64) {
	if t.Of < 1 || t.Yes < 0 || t.Yes > t.Of {
		return 0, 1
	}
	k, n := float64(t.Yes), float64(t.Of)
	high = 1
	if t.Yes > 0 {
		low = mathext.InvRegIncBeta(k, n-k+1, 0.025)
	}
	if t.Yes < t.Of {
		high = mathext.InvRegIncBeta(k+1, n-k, 0.975)
	}
	return low, high
}

// Luck returns the exact two-sided probability of a count no more likely than
// this one if each try says yes with the given chance; 1 when nothing was
// tried, the tally is impossible or the chance is outside (0, 1). With chance
// a half it is the sign test. Source: W. J. Conover, Practical Nonparametric
// Statistics, the binomial test.
func (t Tally) Luck(chance float64) float64 {
	if t.Of < 1 || t.Yes < 0 || t.Yes > t.Of || !(chance > 0 && chance < 1) {
		return 1
	}
	// Outcomes as likely as the seen one may differ from it by rounding.
	limit := binomial(t.Of, t.Yes, chance) * (1 + 1e-7)
	sum := 0.0
	for k := range t.Of + 1 {
		if p := binomial(t.Of, k, chance); p <= limit {
			sum += p
		}
	}
	return math.Min(sum, 1)
}

// binomial returns the chance of k in n tries of chance p, p in (0, 1).
func binomial(n, k int, p float64) float64 {
	return math.Exp(logFactorial(n) - logFactorial(k) - logFactorial(n-k) + float64(k)*math.Log(p) + float64(n-k)*math.Log1p(-p))
}

func logFactorial(n int) float64 {
	v, _ := math.Lgamma(float64(n) + 1)
	return v
}
