package laps

import (
	"math"
	"testing"
)

// within is how far got may lie from want, absolute; relative makes it a
// share of want. Each row names the outside value it stands on.
type row struct {
	id, quantity      string
	got, want, within float64
	relative          bool
	source            string
}

func check(t *testing.T, rows []row) {
	t.Helper()
	for _, r := range rows {
		if r.source == "" || r.within <= 0 {
			t.Errorf("%s %s: a row needs a source and a tolerance", r.id, r.quantity)
		}
		allowed := r.within
		if r.relative {
			allowed *= math.Abs(r.want)
		}
		if !(math.Abs(r.got-r.want) <= allowed) {
			t.Errorf("%s %s = %.12g, want %.12g ± %g (%s)", r.id, r.quantity, r.got, r.want, allowed, r.source)
		}
	}
}

func must[T any](t *testing.T) func(v T, ok bool) T {
	return func(v T, ok bool) T {
		t.Helper()
		if !ok {
			t.Fatal("refused values it should take")
		}
		return v
	}
}

func TestMeansAgainstPublished(t *testing.T) {
	const sleep = "R documentation, t.test, data set 'sleep' (Student 1908); from memory, rederived to all printed digits"
	const nist = "NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.3; from memory, rederived"
	w := must[MeanTest](t)(Welch(
		Summarise([]float64{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2}),
		Summarise([]float64{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4})))
	a, b := Summary{20.14458, 6.4147, 249}, Summary{30.48101, 6.10771, 79}
	wn := must[MeanTest](t)(Welch(a, b))
	pn, sp, _ := Pooled(a, b)
	check(t, []row{
		{"C10.1", "t", w.T, -1.860813, 5e-5, false, sleep},
		{"C10.1", "df", w.DF, 17.77647, 5e-4, false, sleep},
		{"C10.1", "p", w.P, 0.07939414, 5e-6, false, sleep},
		{"C10.1", "difference", w.Difference, -1.58, 1e-9, false, sleep},
		{"C10.1", "low", w.Low, -3.365483, 5e-5, false, sleep},
		{"C10.1", "high", w.High, 0.2054832, 5e-5, false, sleep},
		{"C10.2", "pooled t", pn.T, -12.62059, 5e-5, false, nist},
		{"C10.2", "pooled sd", sp, 6.342601, 5e-5, false, nist},
		{"C10.2", "pooled df", pn.DF, 326, 5e-3, false, nist},
		{"C10.2", "welch t", wn.T, -12.94627, 5e-5, false, nist},
		{"C10.2", "welch df", wn.DF, 136.875, 5e-3, false, nist},
	})
}

func TestRanksAgainstPublished(t *testing.T) {
	const (
		scipy = "SciPy documentation, scipy.stats.mannwhitneyu; from memory, rederived"
		perm  = "R documentation, wilcox.test, permeability data (Hollander and Wolfe 1973, p. 69); from memory, rederived"
		blood = "exactRankTests package regression tests (StatXact 5 results), blood pressure data; results read"
		camis = "CAMIS project page on non-parametric estimation, Hollander and Wolfe data; read"
	)
	rank, shift := must[RankTest](t), must[Shift](t)
	x3, y3 := []float64{19, 22, 16, 29, 24}, []float64{20, 11, 17, 12}
	r3, h3 := rank(RankSum(x3, y3)), shift(HodgesLehmann(x3, y3))
	_, n3 := NormalRankP(x3, y3, true)
	x4 := []float64{0.8, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46}
	y4 := []float64{1.15, 0.88, 0.9, 0.74, 1.21}
	r4, h4 := rank(RankSum(x4, y4)), shift(HodgesLehmann(x4, y4))
	x5 := []float64{94, 108, 110, 90}
	y5 := []float64{80, 94, 85, 90, 90, 90, 108, 94, 78, 105, 88}
	r5, h5 := rank(RankSum(x5, y5)), shift(HodgesLehmann(x5, y5))
	_, plain5 := NormalRankP(x5, y5, false)
	_, cc5 := NormalRankP(x5, y5, true)
	// StatXact also prints the interval −4 to 22, from the tied distribution;
	// HodgesLehmann counts as without ties and is not held to it.
	h6 := shift(HodgesLehmann(
		[]float64{1.83, 0.5, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.3},
		[]float64{0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29}))
	check(t, []row{
		{"C10.3", "U", r3.U, 17, 1e-9, false, scipy},
		{"C10.3", "exact p", r3.TwoSided, 0.1111111, 1e-6, false, scipy},
		{"C10.3", "normal p", n3, 0.1113469, 1e-6, false, scipy},
		{"C10.3", "HL", h3.Middle, 7, 1e-9, false, scipy},
		{"C10.4", "U", r4.U, 35, 1e-9, false, perm},
		{"C10.4", "greater", r4.Greater, 0.1272061, 5e-6, false, perm},
		{"C10.4", "two-sided", r4.TwoSided, 0.2544123, 5e-6, false, perm},
		{"C10.4", "HL", h4.Middle, 0.305, 1e-9, false, perm},
		{"C10.5", "U", r5.U, 35, 1e-9, false, blood},
		{"C10.5", "two-sided", r5.TwoSided, 0.0989011, 5e-6, false, blood},
		{"C10.5", "greater", r5.Greater, 0.05421245, 5e-6, false, blood},
		{"C10.5", "normal", plain5, 0.0853497, 5e-6, false, blood},
		{"C10.5", "normal, continuity", cc5, 0.09806982, 5e-6, false, blood},
		{"C10.5", "HL", h5.Middle, 9.5, 1e-9, false, blood},
		{"C10.6", "HL", h6.Middle, 0.56, 1e-9, false, camis},
	})
}

func TestStudentAgainstPublished(t *testing.T) {
	const table = "M. Abramowitz, I. Stegun, Handbook of Mathematical Functions, table 26.10; from memory"
	const cauchy = "one degree of freedom is Cauchy's distribution: 1/2 + atan(t)/π"
	const two = "two degrees of freedom: 1/2 + t/(2·√(2 + t²))"
	check(t, []row{
		{"t", "df 1", student(1).quantile(0.975), 12.706, 5e-4, false, table},
		{"t", "df 2", student(2).quantile(0.975), 4.303, 5e-4, false, table},
		{"t", "df 10", student(10).quantile(0.975), 2.228, 5e-4, false, table},
		{"t", "df 30", student(30).quantile(0.975), 2.042, 5e-4, false, table},
		{"t", "df 10, lower", student(10).quantile(0.025), -2.228, 5e-4, false, table},
		{"t", "below 1, df 1", student(1).below(1), 0.75, 1e-12, false, cauchy},
		{"t", "below −1, df 1", student(1).below(-1), 0.25, 1e-12, false, cauchy},
		{"t", "below √2, df 2", student(2).below(math.Sqrt2), 0.5 + math.Sqrt2/4, 1e-12, false, two},
		{"t", "density, df 1, at 1 to 0", math.Exp(student(1).logDensity(1)), 0.5, 1e-12, false, "1/(1 + t²)"},
		{"normal", "above 1.96", normalAbove(1.96), 0.0249979, 1e-7, false, "Abramowitz and Stegun, table 26.1; from memory"},
	})
}

func TestTalliesAgainstPublished(t *testing.T) {
	const r = "R documentation, binom.test (Conover, after Mendel); p from memory, rederived"
	peas := Tally{682, 925}
	low, high := peas.Interval()
	check(t, []row{
		{"C10.9", "p", peas.Luck(0.75), 0.3824916, 5e-6, false, r},
		{"C10.9", "low", low, 0.7076683, 5e-6, false, r},
		{"C10.9", "high", high, 0.7654066, 5e-6, false, r},
		{"C10.10", "p", Tally{8, 10}.Luck(0.5), 0.109375, 1e-9, false, "elementary: 2 (45+10+1)/1024"},
	})
}

func TestSummariesAgainstCertified(t *testing.T) {
	mavro := []float64{2.0018, 2.0017, 2.0018, 2.0019, 2.0018, 2.0017, 2.0015, 2.0014, 2.0015, 2.0015, 2.0017, 2.0018, 2.0018, 2.0019, 2.0019, 2.0021, 2.002, 2.0016, 2.0014, 2.0013, 2.0013, 2.0015, 2.0015, 2.0016, 2.0015, 2.0014, 2.0013, 2.0014, 2.0015, 2.0014, 2.0015, 2.0016, 2.0015, 2.0016, 2.0019, 2.002, 2.002, 2.0021, 2.0022, 2.0023, 2.0024, 2.0025, 2.0027, 2.0026, 2.0026, 2.0026, 2.0027, 2.0026, 2.0025, 2.0024}
	acc1 := []float64{10000001, 10000003, 10000002}
	acc3 := []float64{1000000.2}
	for range 500 {
		acc3 = append(acc3, 1000000.1, 1000000.3)
	}
	const m, a1, a3 = "NIST Statistical Reference Datasets, Mavro.dat; read", "NIST Statistical Reference Datasets, NumAcc1.dat; from memory, exact arithmetic", "NIST Statistical Reference Datasets, NumAcc3.dat; from memory"
	check(t, []row{
		{"C10.11", "mean", Mean(mavro), 2.001856, 1e-9, true, m},
		{"C10.11", "sd", SD(mavro), 0.000429123454003053, 1e-9, true, m},
		{"C10.11", "r1", Lag1(mavro), 0.937989183438248, 1e-9, true, m},
		{"C10.12", "mean", Mean(acc1), 10000002, 1e-12, true, a1},
		{"C10.12", "sd", SD(acc1), 1, 1e-12, true, a1},
		{"C10.12", "r1", Lag1(acc1), -0.5, 1e-12, true, a1},
		{"C10.13", "mean", Mean(acc3), 1000000.2, 1e-8, true, a3},
		{"C10.13", "sd", SD(acc3), 0.1, 1e-8, true, a3},
		{"C10.13", "r1", Lag1(acc3), -0.999, 1e-8, true, a3},
	})
}

func TestStintsAgainstDerived(t *testing.T) {
	const s = "one program checked against the published rows; derived"
	stints := []struct {
		id   string
		x, y []float64
		want [14]float64
	}{
		{"C10.14",
			[]float64{98.412, 98.105, 97.98, 98.221, 98.34, 98.076, 98.512, 98.187},
			[]float64{97.902, 98.033, 97.655, 97.814, 98.12, 97.744, 97.951},
			[14]float64{98.22912, 97.88843, 0.1806784, 0.163051, 3.838353, 12.978, 0.00205836, 0.1489067, 0.5324862, 52, 0.003729604, 0.3285, 0.125, 0.561}},
		{"C10.15",
			[]float64{98.412, 98.105, 97.98, 98.221, 98.34, 98.076},
			[]float64{98.31, 98.021, 98.255, 97.944, 98.167},
			[14]float64{98.189, 98.1394, 0.1655657, 0.1544581, 0.513222, 8.842059, 0.6203721, -0.1696214, 0.2688214, 18, 0.6623377, 0.0545, -0.205, 0.319}},
	}
	names := [14]string{"mean x", "mean y", "sd x", "sd y", "t", "df", "p", "low", "high", "U", "rank p", "HL", "HL low", "HL high"}
	for _, k := range stints {
		w := must[MeanTest](t)(Welch(Summarise(k.x), Summarise(k.y)))
		r := must[RankTest](t)(RankSum(k.x, k.y))
		h := must[Shift](t)(HodgesLehmann(k.x, k.y))
		got := [14]float64{Mean(k.x), Mean(k.y), SD(k.x), SD(k.y), w.T, w.DF, w.P, w.Low, w.High, r.U, r.TwoSided, h.Middle, h.Low, h.High}
		var rows []row
		for i, g := range got {
			rows = append(rows, row{k.id, names[i], g, k.want[i], 1e-5, true, s})
		}
		check(t, rows)
	}
}
