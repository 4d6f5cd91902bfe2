package laps

import "testing"

// TestAgainstSciPy holds the tests to another program's on other laps: SciPy
// 1.10 where it has the function; with ties, all ways to deal out the ranks
// counted by itertools; the intervals by inverting that count.
func TestAgainstSciPy(t *testing.T) {
	const (
		u       = "SciPy 1.10, stats.mannwhitneyu, exact"
		norm    = "SciPy 1.10, stats.mannwhitneyu, asymptotic"
		counted = "all deals of the pooled mid-ranks counted with Python's itertools"
		invert  = "the shifts that this count does not refuse at 0.025 a side, with Python's itertools"
		ttest   = "SciPy 1.10, stats.ttest_ind, unequal variances; its interval by stats.t"
		binom   = "SciPy 1.10, stats.binomtest with proportion_ci exact"
		numpy   = "NumPy 1.24, by definition"
		quad    = "SciPy 1.10, Student's t times the normal prior, integrate.quad and brentq"
		hayes   = "the cited formula with SciPy 1.10, stats.norm.ppf"
		third   = "SciPy 1.10, stats.binomtest"
	)
	x := []float64{101.32, 100.87, 101.05, 100.61, 101.48, 100.94, 101.17}
	y := []float64{100.42, 100.75, 100.28, 100.66, 100.11, 100.58, 100.93, 100.37}
	r, h, w := must[RankTest](t)(RankSum(x, y)), must[Shift](t)(HodgesLehmann(x, y)), must[MeanTest](t)(Welch(Summarise(x), Summarise(y)))
	tiedX, tiedY := []float64{98.4, 98.2, 98.6, 98.4, 98.9}, []float64{98.2, 97.9, 98.1, 98.4, 98.0, 98.2}
	rt, ht := must[RankTest](t)(RankSum(tiedX, tiedY)), must[Shift](t)(HodgesLehmann(tiedX, tiedY))
	_, corrected := NormalRankP(tiedX, tiedY, true)
	_, plain := NormalRankP(tiedX, tiedY, false)
	even := must[Evenness](t)(CompareSpread(x, y))
	faster, unsure := must[Belief](t)(Believe(-0.42, 0.17, 9, 0.5)), must[Belief](t)(Believe(0.1, 0.3, 4.5, 0.45))
	var longX, longY []float64
	for i := range 55 {
		v := float64(i*37%61) / 61
		if i < 45 {
			longX = append(longX, 100+0.9*v)
		}
		if i >= 10 {
			longY = append(longY, 100.05+0.8*v*v)
		}
	}
	long := must[RankTest](t)(RankSum(longX, longY))
	low3, high3 := Tally{3, 11}.Interval()
	low7, high7 := Tally{7, 9}.Interval()
	low0, high0 := Tally{0, 8}.Interval()
	low14, high14 := Tally{14, 14}.Interval()
	check(t, []row{
		{"ranks", "U", r.U, 52, 1e-9, false, u},
		{"ranks", "two-sided", r.TwoSided, 0.0037296037296037296, 1e-12, false, u},
		{"ranks", "greater", r.Greater, 0.0018648018648018648, 1e-12, false, u},
		{"ranks", "HL", h.Middle, 0.56, 1e-9, false, numpy},
		{"ranks", "HL low", h.Low, 0.21, 1e-9, false, invert},
		{"ranks", "HL high", h.High, 0.90, 1e-9, false, invert},
		{"ties", "U", rt.U, 27, 1e-9, false, counted},
		{"ties", "two-sided", rt.TwoSided, 14.0 / 462, 1e-12, false, counted},
		{"ties", "greater", rt.Greater, 10.0 / 462, 1e-12, false, counted},
		{"ties", "HL", ht.Middle, 0.35, 1e-9, false, numpy},
		{"ties", "HL low", ht.Low, 0, 1e-9, false, invert},
		{"ties", "HL high", ht.High, 0.7, 1e-9, false, invert},
		{"ties", "normal", plain, 0.025625209431290853, 1e-9, false, norm},
		{"ties", "normal, continuity", corrected, 0.032447700902275334, 1e-9, false, norm},
		{"plan", "runs each way", float64(RunsEachWay(0.3, 0.25, 0.15, 6)), 7, 1e-9, false, hayes + ": 6.741, rounded up"},
		{"plan", "runs each way", float64(RunsEachWay(-0.5, 0.4, 0.2, 10)), 5, 1e-9, false, hayes + ": 4.516, rounded up"},
		{"plan", "seen in 5", SeenIn(5, 0.25, 0.15, 6), 0.35941546845004047, 1e-9, false, hayes},
		{"90 laps", "U", long.U, 1259, 1e-9, false, norm},
		{"90 laps", "two-sided", long.TwoSided, 0.04712819602707382, 1e-9, false, norm},
		{"Welch", "t", w.T, 3.7900866154642037, 1e-9, true, ttest},
		{"Welch", "df", w.DF, 12.360728876468633, 1e-9, true, ttest},
		{"Welch", "p", w.P, 0.0024490006233935913, 1e-9, true, ttest},
		{"Welch", "low", w.Low, 0.23499351911513255, 1e-8, true, ttest},
		{"Welch", "high", w.High, 0.8657207665991428, 1e-8, true, ttest},
		{"3 of 11", "p", Tally{3, 11}.Luck(0.5), 0.2265625, 1e-12, false, binom},
		{"3 of 11", "low", low3, 0.06021773417275722, 1e-9, false, binom},
		{"3 of 11", "high", high3, 0.6097425597524212, 1e-9, false, binom},
		{"7 of 9", "low", low7, 0.3999064262836879, 1e-9, false, binom},
		{"7 of 9", "high", high7, 0.9718550265221126, 1e-9, false, binom},
		{"0 of 8", "low", low0, 0, 1e-12, false, binom},
		{"0 of 8", "high", high0, 0.3694166475528192, 1e-9, false, binom},
		{"14 of 14", "low", low14, 0.7683642383498855, 1e-9, false, binom},
		{"14 of 14", "high", high14, 1, 1e-12, false, binom},
		{"9 of 14", "p at a third", Tally{9, 14}.Luck(1.0 / 3), 0.02085921945134915, 1e-9, false, third},
		{"evenness", "p", even.P, 0.9603647233707717, 1e-9, false, "SciPy 1.10, stats.levene about the median"},
		{"evenness", "ratio", even.Ratio, 0.9192571294440287, 1e-9, false, numpy},
		{"neighbours", "r1", Lag1(x), -0.5786355619688969, 1e-9, false, numpy},
		{"belief", "faster", faster.Faster, 0.9751745144613253, 1e-4, false, quad},
		{"belief", "likely", faster.Likely, -0.38020282908927794, 2e-3, false, quad},
		{"belief", "low", faster.Low, -0.585260144959236, 2e-3, false, quad},
		{"belief", "high", faster.High, -0.14536092285297156, 2e-3, false, quad},
		{"doubt", "faster", unsure.Faster, 0.3930637486305918, 1e-4, false, quad},
		{"doubt", "low", unsure.Low, -0.26893033703800734, 2e-3, false, quad},
		{"doubt", "high", unsure.High, 0.3950614571612838, 2e-3, false, quad},
	})
	if !r.Exact || long.Exact {
		t.Errorf("counted out: %v for 15 laps, %v for 90", r.Exact, long.Exact)
	}
}
