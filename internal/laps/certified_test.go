package laps

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// fitted returns what a column does to y for each unit of it, with the other
// columns held, and its standard error.
func fitted(t *testing.T, y, column []float64, others ...[]float64) (perUnit, se float64) {
	t.Helper()
	d := must[design](t)(contrast(column, others...))
	squares, _ := d.leftover(y)
	return dot(d.weights, y), math.Sqrt(squares / float64(d.rest) * d.squares())
}

// ones is the column of a constant.
func ones(n int) []float64 { return slices.Repeat([]float64{1}, n) }

// TestLeastSquaresAgainstCertified holds contrast to data sets whose answers
// are certified to 15 digits.
func TestLeastSquaresAgainstCertified(t *testing.T) {
	const norris = "NIST Statistical Reference Datasets, linear regression, Norris.dat; from memory, reproduced to every digit asked for"
	const longley = "NIST Statistical Reference Datasets, linear regression, Longley.dat; from memory, reproduced to every digit asked for"
	x := []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
	y := []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
	constant, constantSE := fitted(t, y, ones(len(x)), x)
	slope, slopeSE := fitted(t, y, x, ones(len(x)))
	jobs := []float64{60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551}
	terms := [][]float64{
		level(16),
		{83.0, 88.5, 88.2, 89.5, 96.2, 98.1, 99.0, 100.0, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2, 115.7, 116.9},
		{234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769, 444546, 482704, 502601, 518173, 554894},
		{2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806, 4007},
		{1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572, 2827},
		{107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445, 121950, 123366, 125368, 127852, 130081},
	}
	years := make([]float64, 16)
	for i := range years {
		years[i] = 1947 + float64(i)
	}
	d := must[design](t)(contrast(years, terms...))
	squares, _ := d.leftover(jobs)
	check(t, []row{
		{"Norris", "constant", constant, -0.262323073774029, 1e-9, true, norris},
		{"Norris", "its error", constantSE, 0.232818234301152, 1e-9, true, norris},
		{"Norris", "slope", slope, 1.00211681802045, 1e-12, true, norris},
		{"Norris", "its error", slopeSE, 0.429796848199937e-3, 1e-9, true, norris},
		{"Longley", "per year", dot(d.weights, jobs), 1829.15146461355, 1e-7, true, longley},
		{"Longley", "residual deviation", math.Sqrt(squares / float64(d.rest)), 304.854073561965, 1e-7, true, longley},
		{"Longley", "error of per year", math.Sqrt(squares / float64(d.rest) * d.squares()), 455.478499142212, 1e-7, true, longley},
	})
}

// TestTiedIntervals holds the interval with ties to the exact test itself.
// StatXact, as the package exactRankTests quotes it, prints −4 to 22 for these
// data. Ours begins at 0: the exact one-sided probability of any shift between
// −4 and 0 is 0.0183, below 0.025, so the wider end is not needed.
func TestTiedIntervals(t *testing.T) {
	const blood = "exactRankTests package regression tests (StatXact 5 results), blood pressure data; results read; the lower end by the definition"
	x := []float64{94, 108, 110, 90}
	y := []float64{80, 94, 85, 90, 90, 90, 108, 94, 78, 105, 88}
	h := must[Shift](t)(HodgesLehmann(x, y))
	moved := make([]float64, len(x))
	for i := range x {
		moved[i] = x[i] + 2
	}
	below := must[RankTest](t)(RankSum(moved, y))
	check(t, []row{
		{"C10.5", "HL", h.Middle, 9.5, 1e-9, false, blood},
		{"C10.5", "high", h.High, 22, 1e-9, false, blood},
		{"C10.5", "low", h.Low, 0, 1e-9, false, blood},
		{"C10.5", "p at −2", below.Greater, 25.0 / 1365, 1e-12, false, "25 of the 1365 ways to deal out the ranks, counted"},
	})
}

func TestDriftFindsColdTyres(t *testing.T) {
	truth := Drift{PerLap: 0.05, Warm: 3}
	var stints [][]Lap
	for _, pace := range []float64{98, 97.5} {
		var s []Lap
		for n := 2; n <= 10; n++ {
			l := Lap{Number: n, Seconds: pace}
			l.Seconds += truth.At(l)
			s = append(s, l)
		}
		stints = append(stints, s)
	}
	got := must[Drift](t)(FitDrift(stints))
	// The warm-up that is left on laps 4 to 10 leans on the slope by 0.06 s a lap.
	if math.Abs(got.PerLap-truth.PerLap) > 0.06 || math.Abs(got.Warm-truth.Warm) > 0.6 {
		t.Errorf("fitted %+v to %+v", got, truth)
	}
	times := got.WithoutDrift(stints)
	if even := SD(times[0]); even > 0.1 {
		t.Errorf("what is left varies by %.3f s: %v", even, times[0])
	}
	var steady [][]Lap
	for _, s := range stints {
		steady = append(steady, s[2:])
	}
	if got := must[Drift](t)(FitDrift(steady)); got.Warm != 0 {
		t.Errorf("without cold laps a warm-up of %.2f s is found", got.Warm)
	}
}

func TestVerdictDoubtsWhatMovedWithTheChange(t *testing.T) {
	at := func(changed bool, pace, track float64) Stint {
		s := Stint{Changed: changed, Temperature: &track}
		for i := range 8 {
			s.Laps = append(s.Laps, Lap{Number: i + 2, Seconds: pace + 0.1*float64(i%3)})
		}
		return s
	}
	v := Judge([]Stint{at(false, 98, 25), at(true, 97, 37)}, 0.3, RunSpread{})
	if len(v.Doubts) != 1 || !strings.Contains(v.Doubts[0], "12 °C warmer") {
		t.Errorf("doubts are %q", v.Doubts)
	}
	// Each degree costs 0.05 s and the change gains 0.5 s.
	var runs []Stint
	for i, track := range []float64{20, 31, 26, 38, 24, 35} {
		pace := 98 + 0.05*(track-20)
		if i%2 == 1 {
			pace -= 0.5
		}
		runs = append(runs, at(i%2 == 1, pace, track))
	}
	v = Judge(runs, 0.3, RunSpread{})
	if len(v.Held) == 0 || v.Held[0] != "the temperature" || math.Abs(v.Shift.Middle+0.5) > 0.01 {
		t.Errorf("held %q, shift %+v; want temperature held and −0.5 s", v.Held, v.Shift)
	}
}
