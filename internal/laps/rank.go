package laps

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"
)

// exactLaps is the largest number of laps together for which rank sums are
// counted out; above it the normal form is as good as any decision needs.
const exactLaps = 80

// RankTest is the Mann–Whitney comparison of x with y. U counts the pairs in
// which x is larger, ties by half. P values are shares of all ways to deal
// out the pooled ranks: TwoSided as far from the middle, Greater as large.
// Exact says whether they were counted out or taken from the normal form.
type RankTest struct {
	U, TwoSided, Greater float64
	Exact                bool
}

// RankSum compares x with y by rank, exactly including ties up to 80 laps
// together, beyond that with NormalRankP. False if a side is empty or a value
// is not finite. Source: H. B. Mann, D. R. Whitney, Annals of Mathematical
// Statistics 18 (1947); mid-ranks for ties, M. Hollander, D. A. Wolfe,
// Nonparametric Statistical Methods, section 4.1.
func RankSum(x, y []float64) (RankTest, bool) {
	if len(x) == 0 || len(y) == 0 || !finite(x) || !finite(y) {
		return RankTest{}, false
	}
	t := RankTest{U: pairsWon(x, y)}
	if len(x)+len(y) > exactLaps {
		z, p := NormalRankP(x, y, true)
		t.TwoSided, t.Greater = p, normalAbove(z)
		return t, true
	}
	t.Exact = true
	m, n := len(x), len(y)
	// Ranks are doubled so that mid-ranks are whole.
	share := dealt(doubledRanks(x, y), m)
	middle := m * n
	seen := int(math.Round(2 * t.U))
	for s, p := range share {
		u2 := s - m*(m+1) // doubled U of this deal
		if u2 >= seen {
			t.Greater += p
		}
		if abs(u2-middle) >= abs(seen-middle) {
			t.TwoSided += p
		}
	}
	t.TwoSided, t.Greater = min(t.TwoSided, 1), min(t.Greater, 1)
	return t, true
}

// NormalRankP returns the tie-corrected normal form of the rank-sum test: z,
// positive when x tends to be larger, and the two-sided P; continuity takes
// half a pair off the distance. 0 and 1 when all values are equal or a side
// is empty. Source: Hollander and Wolfe, section 4.1.
func NormalRankP(x, y []float64, continuity bool) (z, p float64) {
	m, n := float64(len(x)), float64(len(y))
	all := slices.Sorted(slices.Values(append(slices.Clone(x), y...)))
	var ties float64
	for i := 0; i < len(all); {
		j := i
		for j < len(all) && all[j] == all[i] {
			j++
		}
		c := float64(j - i)
		ties += c*c*c - c
		i = max(j, i+1)
	}
	total := m + n
	v := m * n / 12 * (total + 1 - ties/(total*(total-1)))
	if !(v > 0) {
		return 0, 1
	}
	d := pairsWon(x, y) - m*n/2
	if continuity {
		d = math.Copysign(max(math.Abs(d)-0.5, 0), d)
	}
	z = d / math.Sqrt(v)
	return z, min(1, 2*normalAbove(math.Abs(z)))
}

// Shift is how far one stint lies from another, in seconds, with its 95 %
// interval. Low and High are infinite when there are too few laps for any
// interval at that level.
type Shift struct{ Middle, Low, High float64 }

// HodgesLehmann returns the median of all differences x − y and the interval
// of the shifts that the rank-sum test does not refuse at 0.025 on either
// side. Without ties that is from the k-th smallest difference to the k-th
// largest, k the smallest count q with P(U ≤ q) ≥ 0.025; with ties, up to 30
// laps together, the test is counted out at every shift. False if a side is
// empty or a value is not finite. Source: J. L. Hodges, E. L. Lehmann, Annals
// of Mathematical Statistics 34 (1963); Hollander and Wolfe, sections 4.2 and
// 4.3; for ties, the inversion of the exact test, by its definition.
func HodgesLehmann(x, y []float64) (Shift, bool) {
	if len(x) == 0 || len(y) == 0 || !finite(x) || !finite(y) {
		return Shift{}, false
	}
	d := make([]float64, 0, len(x)*len(y))
	for _, a := range x {
		for _, b := range y {
			d = append(d, a-b)
		}
	}
	slices.Sort(d)
	s := Shift{Middle: Median(d), Low: math.Inf(-1), High: math.Inf(1)}
	k := lowerCount(len(x), len(y), 0.025)
	if k < 1 {
		return s, true
	}
	s.Low, s.High = d[k-1], d[len(d)-k]
	if len(x)+len(y) <= tiedLaps && tied(x, y) {
		s.Low, s.High = counted025(x, y, d)
	}
	return s, true
}

// middleShift is the middle of HodgesLehmann in seconds; NaN if a side is empty.
func middleShift(x, y []float64) float64 {
	d := make([]float64, 0, len(x)*len(y))
	for _, a := range x {
		for _, b := range y {
			d = append(d, a-b)
		}
	}
	return Median(d)
}

// tiedLaps is the largest number of laps together for which an interval with
// ties is counted out; above it ties hardly move it.
const tiedLaps = 30

func tied(x, y []float64) bool {
	all := slices.Sorted(slices.Values(append(slices.Clone(x), y...)))
	return len(slices.Compact(slices.Clone(all))) < len(all)
}

// counted025 returns the ends of the shifts that the exact test takes, from
// the sorted differences d. Between two neighbours the test is the same.
func counted025(x, y, d []float64) (low, high float64) {
	gaps := slices.Compact(slices.Clone(d))
	taken := func(shift float64, x, y []float64) bool {
		moved := make([]float64, len(x))
		for i, v := range x {
			moved[i] = v - shift
		}
		t, _ := RankSum(moved, y)
		return t.Greater >= 0.025
	}
	low, high = gaps[0], gaps[len(gaps)-1]
	for i := 0; i+1 < len(gaps) && !taken((gaps[i]+gaps[i+1])/2, x, y); i++ {
		low = gaps[i+1]
	}
	for i := len(gaps) - 1; i > 0 && !taken(-(gaps[i]+gaps[i-1])/2, y, x); i-- {
		high = gaps[i-1]
	}
	return low, high
}

// lowerCount returns the smallest q with P(U ≤ q) ≥ tail for m and n laps
// without ties. That is the order statistic at which the interval starts; 0
// says that even the widest interval would not reach the level.
func lowerCount(m, n int, tail float64) int {
	if m+n > exactLaps {
		mean := float64(m*n) / 2
		sd := math.Sqrt(float64(m*n*(m+n+1)) / 12)
		return max(0, int(mean+mathext.NormalQuantile(tail)*sd))
	}
	ranks := make([]int, m+n)
	for i := range ranks {
		ranks[i] = i + 1
	}
	sum := 0.0
	for s, p := range dealt(ranks, m) {
		if p == 0 {
			continue
		}
		if sum += p; sum >= tail {
			return s - m*(m+1)/2
		}
	}
	return 0
}

// dealt returns, for every sum s, the share of all ways to pick m of the
// ranks that add up to s.
func dealt(ranks []int, m int) []float64 {
	top := 0
	for _, r := range ranks {
		top += r
	}
	ways := make([][]float64, m+1)
	for k := range ways {
		ways[k] = make([]float64, top+1)
	}
	ways[0][0] = 1
	reached := 0
	for i, r := range ranks {
		reached += r
		for k := min(i+1, m); k >= 1; k-- {
			for s := reached; s >= r; s-- {
				ways[k][s] += ways[k-1][s-r]
			}
		}
	}
	all := 0.0
	for _, w := range ways[m] {
		all += w
	}
	for s := range ways[m] {
		ways[m][s] /= all
	}
	return ways[m]
}

// doubledRanks returns twice the mid-ranks of the pooled values.
func doubledRanks(x, y []float64) []int {
	all := slices.Sorted(slices.Values(append(slices.Clone(x), y...)))
	ranks := make([]int, len(all))
	for i := 0; i < len(all); {
		j := i
		for j < len(all) && all[j] == all[i] {
			j++
		}
		for k := i; k < j; k++ {
			ranks[k] = i + 1 + j
		}
		i = j
	}
	return ranks
}

func pairsWon(x, y []float64) float64 {
	u := 0.0
	for _, a := range x {
		for _, b := range y {
			switch {
			case a > b:
				u++
			case a == b:
				u += 0.5
			}
		}
	}
	return u
}

func finite(x []float64) bool {
	for _, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

func abs(i int) int {
	if i < 0 {
		return -i
	}
	return i
}
