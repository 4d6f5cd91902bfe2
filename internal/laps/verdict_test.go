package laps

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// rider rides stints the way riders do: skewed laps, an out-lap, tyres going
// off, traffic now and then, an in-lap.
type rider struct {
	*rand.Rand
	perLap, traffic float64
}

func (r rider) stint(n int, pace float64) []Lap {
	var out []Lap
	for i := range n {
		// Gamma with shape 4: skewness 1, standard deviation 0.4 s.
		g := 0.0
		for range 4 {
			g += r.ExpFloat64()
		}
		s := pace + 0.2*(g-4) + r.perLap*float64(i)
		switch {
		case i == 0:
			s += 9
		case i == n-1:
			s += 14
		case r.Float64() < r.traffic:
			s += 2 + 4*r.Float64()
		}
		out = append(out, Lap{Number: i + 1, Seconds: s})
	}
	return Marked(out)
}

type outcome struct{ better, worse, covered float64 }

func simulate(seed uint64, shift float64, plan []bool, laps []int, perLap, dayTrend float64) outcome {
	const trials = 3000
	r := rider{rand.New(rand.NewPCG(seed, 7)), perLap, 0.1}
	var o outcome
	for range trials {
		var t []Stint
		for i, changed := range plan {
			pace := 98.0 + dayTrend*float64(i)
			if changed {
				pace += shift
			}
			t = append(t, Stint{changed, r.stint(laps[i], pace)})
		}
		v := Judge(t, 0.3)
		if v.Call == Keep {
			o.better++
		}
		if v.Shift.Low > 0 {
			o.worse++
		}
		if v.Shift.Low <= shift && shift <= v.Shift.High {
			o.covered++
		}
	}
	return outcome{o.better / trials, o.worse / trials, o.covered / trials}
}

func TestVerdictsHoldWhatTheyPromise(t *testing.T) {
	ab, aba := []bool{false, true}, []bool{false, true, false}
	for name, k := range map[string]struct {
		shift      float64
		plan       []bool
		laps       []int
		drift, day float64
		power      float64
	}{
		"nothing, steady tyres":             {0, ab, []int{11, 11}, 0, 0, 0},
		"nothing, tyres going off":          {0, ab, []int{12, 12}, 0.06, 0, 0},
		"nothing, runs of unequal length":   {0, ab, []int{10, 14}, 0.06, 0, 0},
		"nothing, a track getting quicker":  {0, aba, []int{10, 10, 10}, 0.04, -0.4, 0},
		"a gain, there and back":            {-0.8, aba, []int{11, 11, 11}, 0.04, -0.4, 0.8},
		"a small gain is still covered":     {-0.2, ab, []int{12, 12}, 0.03, 0, 0},
		"a loss is covered and not praised": {0.4, ab, []int{12, 12}, 0.03, 0, 0},
	} {
		o := simulate(uint64(len(name)), k.shift, k.plan, k.laps, k.drift, k.day)
		t.Logf("%s: %+v", name, o)
		if k.shift >= 0 && o.better > 0.05 {
			t.Errorf("%s: called better in %.3f of trials", name, o.better)
		}
		if o.covered < 0.93 || o.covered > 0.97 {
			t.Errorf("%s: the interval covers the truth in %.3f of trials", name, o.covered)
		}
		if o.better < k.power {
			t.Errorf("%s: seen in %.3f of trials, want %.2f", name, o.better, k.power)
		}
	}
}

func TestPromisedLapsShowTheShift(t *testing.T) {
	const shift, spread = -0.4, 0.4
	more, _ := MoreLaps(shift, spread, 0, 0)
	r := rand.New(rand.NewPCG(3, 9))
	seen := 0
	const trials = 1500
	for range trials {
		x, y := make([]float64, more), make([]float64, more)
		for i := range more {
			x[i], y[i] = 98+spread*r.NormFloat64(), 98+shift+spread*r.NormFloat64()
		}
		if h, _ := HodgesLehmann(y, x); h.High < 0 {
			seen++
		}
	}
	if p := float64(seen) / trials; p < plannedPower-0.02 || p > 0.92 {
		t.Errorf("%d laps each way show the shift in %.3f of trials, promised %.2f", more, p, plannedPower)
	}
}

func TestPlansAgainstPublished(t *testing.T) {
	const cohen = "J. Cohen, Statistical Power Analysis for the Behavioral Sciences, 2nd edition 1988, table 2.4.1; from memory"
	const nist = "NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.9, ceramic strength; from memory"
	f, below := VarianceRatio(Summary{0, 65.54909, 240}, Summary{0, 61.85425, 240})
	wide, _ := Believe(-0.3, 0.1, 1e6, 0.2)
	check(t, []row{
		{"plan", "d = 0.2", float64(LapsEachWay(0.2, 1, 0.8)), 393, 1, false, cohen},
		{"plan", "d = 0.5", float64(LapsEachWay(0.5, 1, 0.8)), 64, 0.1, false, cohen},
		{"plan", "d = 0.8", float64(LapsEachWay(0.8, 1, 0.8)), 26, 0.1, false, cohen},
		{"spread", "F", f, 1.123037, 1e-5, false, nist},
		{"spread", "below", below, 0.814808, 1e-5, false, nist},
		// Normal prior and data: precision weights 100 and 25 give −0.24.
		{"belief", "likely", wide.Likely, -0.24, 2e-3, false, "A. Gelman and others, Bayesian Data Analysis, section 2.5, conjugate form; derived"},
		{"belief", "faster", wide.Faster, 0.5 * math.Erfc(-0.24*math.Sqrt(125)/math.Sqrt2), 2e-3, false, "as above; derived"},
	})
}

func TestVerdictOnTheDerivedStints(t *testing.T) {
	as := func(x []float64) (out []Lap) {
		for i, s := range x {
			out = append(out, Lap{Number: i + 1, Seconds: s})
		}
		return out
	}
	noise := Judge([]Stint{
		{false, as([]float64{98.412, 98.105, 97.98, 98.221, 98.34, 98.076})},
		{true, as([]float64{98.31, 98.021, 98.255, 97.944, 98.167})}}, 0.1)
	if noise.Call != RideMore || noise.MoreBefore == 0 {
		t.Errorf("noise: %+v, want ride more and how many laps", noise)
	}
	change := Judge([]Stint{
		{false, as([]float64{98.412, 98.105, 97.98, 98.221, 98.34, 98.076, 98.512, 98.187})},
		{true, as([]float64{97.902, 98.033, 97.655, 97.814, 98.12, 97.744, 97.951})}}, 0.3)
	if change.Call != Keep || !strings.HasPrefix(change.Says, "Keep it: you are 0.3") || len(change.Doubts) != 1 {
		t.Errorf("a real change: %+v, want keep with one doubt", change)
	}
	if v := Judge(nil, 0); v.Call != RideMore || v.Says == "" {
		t.Errorf("no laps: %+v", v)
	}
}

// Seven laps of which four are not flying: the rule still finds them.
func TestMarkedInAShortCrowdedStint(t *testing.T) {
	var stint []Lap
	for _, s := range []float64{123, 113.1, 116.4, 112.9, 117.2, 112.6, 131} {
		stint = append(stint, Lap{Seconds: s})
	}
	want := []Mark{Out, Counts, Slow, Counts, Slow, Counts, In}
	for i, l := range Marked(stint) {
		if l.Mark != want[i] {
			t.Errorf("lap %d of %v s is %q, want %q", l.Number, l.Seconds, l.Mark, want[i])
		}
	}
}

func TestMarked(t *testing.T) {
	in := []float64{107, 98.2, 98.4, 103.1, 98.1, 130, 98.3, 60, 98.6, 112}
	want := []Mark{Out, Counts, Counts, Slow, Counts, Cruising, Counts, Short, Counts, In}
	var stint []Lap
	for _, s := range in {
		stint = append(stint, Lap{Seconds: s})
	}
	stint[8].Mark, stint[8].Overruled = Slow, true
	want[8] = Slow
	for i, l := range Marked(stint) {
		if l.Mark != want[i] || l.Number != i+1 {
			t.Errorf("lap %d of %v s is %q, want %q", l.Number, l.Seconds, l.Mark, want[i])
		}
	}
}
