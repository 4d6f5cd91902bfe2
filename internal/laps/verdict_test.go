package laps

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// rider rides stints the way riders do: skewed laps, an out-lap, cold tyres,
// tyres going off, traffic now and then, an in-lap; and runs that lie apart as
// a whole, by as much as this rider's runs do.
type rider struct {
	*rand.Rand
	perLap, warm, traffic, runs float64
	normal                      bool
}

const lapOfTests = 98.0

// aRider draws a rider whose runs lie apart as Judge takes it beforehand; the
// share 0 is a rider whose runs are all alike.
func aRider(r *rand.Rand, perLap, warm, share float64) rider {
	chi := 0.0
	for range runFreedom {
		z := r.NormFloat64()
		chi += z * z
	}
	return rider{r, perLap, warm, 0.1, share * lapOfTests * math.Sqrt(runFreedom/chi), false}
}

func (r rider) stint(n int, pace float64) []Lap {
	pace += r.runs * r.NormFloat64()
	var out []Lap
	for i := range n {
		// Gamma with shape 4: skewness 1, standard deviation 0.4 s.
		g := -4.0
		for range 4 {
			g += r.ExpFloat64()
		}
		if r.normal {
			g = 2 * r.NormFloat64()
		}
		s := pace + 0.2*g + r.perLap*float64(i) + r.warm*math.Pow(0.5, float64(i))
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

type outcome struct{ better, covered, byLaps float64 }

// world is what a simulated trial is ridden in. Day is how much faster each
// further run is by itself, perDegree what a degree of track temperature costs.
type world struct {
	shift                          float64
	plan                           []bool
	laps                           []int
	perLap, warm, share, day, heat float64
	normal                         bool // laps without skew
}

func (w world) simulate(seed uint64, trials int) outcome {
	r := rand.New(rand.NewPCG(seed, 7))
	var o outcome
	for range trials {
		one := aRider(r, w.perLap, w.warm, w.share)
		one.normal = w.normal
		var t []Stint
		for i, changed := range w.plan {
			pace := lapOfTests + w.day*float64(i)
			s := Stint{Changed: changed}
			if w.heat != 0 {
				track := 30 + 15*r.Float64()
				pace += w.heat * (track - 30)
				s.Temperature = &track
			}
			if changed {
				pace += w.shift
			}
			s.Laps = one.stint(w.laps[i%len(w.laps)], pace)
			t = append(t, s)
		}
		v := Judge(t, 0.3, RunSpread{})
		if v.Call == Keep {
			o.better++
		}
		if v.Shift.Low <= w.shift && w.shift <= v.Shift.High {
			o.covered++
		}
		if v.ByLaps.Low <= w.shift && w.shift <= v.ByLaps.High {
			o.byLaps++
		}
	}
	n := float64(trials)
	return outcome{o.better / n, o.covered / n, o.byLaps / n}
}

var (
	thereOnce    = []bool{false, true}
	thereAndBack = []bool{false, true, false}
	twiceEach    = []bool{false, true, false, true}
	inBlocks     = []bool{false, false, true, true}
	sixRuns      = []bool{false, true, true, false, false, true}
)

// TestVerdictsHoldWhatTheyPromise rides trials in which the truth is known.
// In worlds where runs lie apart the interval with its allowance must cover
// the truth in 93 to 97 of 100, where they are all alike the interval by laps
// alone must; a change that does no good is praised in at most 5 of 100.
func TestVerdictsHoldWhatTheyPromise(t *testing.T) {
	for name, k := range map[string]struct {
		world
		power float64
	}{
		"alike: nothing, steady tyres":            {world{plan: thereOnce, laps: []int{11}}, 0},
		"alike: nothing, tyres going off":         {world{plan: thereOnce, laps: []int{12}, perLap: 0.06}, 0},
		"alike: nothing, cold tyres":              {world{plan: thereOnce, laps: []int{10, 14}, perLap: 0.04, warm: 3}, 0},
		"alike: nothing, unequal runs":            {world{plan: thereOnce, laps: []int{10, 14}, perLap: 0.06}, 0},
		"alike: a track getting quicker":          {world{plan: thereAndBack, laps: []int{10}, perLap: 0.04, day: -0.4}, 0},
		"alike: a gain, there and back":           {world{shift: -0.9, plan: thereAndBack, laps: []int{11}, perLap: 0.04, day: -0.4}, 0.8},
		"alike: a loss":                           {world{shift: 0.4, plan: thereOnce, laps: []int{12}, perLap: 0.03}, 0},
		"apart: nothing, once each way":           {world{plan: thereOnce, laps: []int{11}, perLap: 0.04, warm: 2, share: runShare}, 0},
		"apart: nothing, there and back":          {world{plan: thereAndBack, laps: []int{9}, perLap: 0.05, warm: 2, share: runShare, day: -0.3}, 0},
		"apart: nothing, twice each way":          {world{plan: twiceEach, laps: []int{9, 8}, perLap: 0.05, share: runShare, day: -0.2}, 0},
		"apart: nothing, twice each way, no skew": {world{plan: twiceEach, laps: []int{9}, perLap: 0.05, share: runShare, day: -0.2, normal: true}, 0},
		"alike: nothing, there and back, no skew": {world{plan: thereAndBack, laps: []int{11}, perLap: 0.04, normal: true}, 0},
		"apart: nothing, in blocks":               {world{plan: inBlocks, laps: []int{9}, perLap: 0.05, share: runShare}, 0},
		"apart: nothing, six runs, heat":          {world{plan: sixRuns, laps: []int{8}, perLap: 0.05, share: runShare, heat: 0.05}, 0},
		"apart: a gain, six runs, heat":           {world{shift: -0.9, plan: sixRuns, laps: []int{9}, perLap: 0.05, share: runShare, heat: 0.05}, 0.8},
		"apart: a loss, twice each way, unequal":  {world{shift: 0.3, plan: twiceEach, laps: []int{8, 12}, perLap: 0.06, warm: 1.5, share: runShare}, 0},
		"apart: a gain, there and back, few laps": {world{shift: -0.3, plan: thereAndBack, laps: []int{6}, share: runShare}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			o := k.simulate(21, 1200)
			t.Logf("%s: %+v", name, o)
			covered := o.covered
			if k.share == 0 {
				covered = o.byLaps
			}
			if k.shift >= 0 && o.better > 0.05 {
				t.Errorf("called better in %.3f of trials", o.better)
			}
			if covered < 0.93 || covered > 0.97 {
				t.Errorf("the interval covers the truth in %.3f of trials", covered)
			}
			if o.better < k.power {
				t.Errorf("seen in %.3f of trials, want %.2f", o.better, k.power)
			}
		})
	}
}

// TestPromisedRunsShowTheShift rides as many runs each way as the plan says,
// by turns, and looks how often the verdict is "keep".
func TestPromisedRunsShowTheShift(t *testing.T) {
	for _, k := range []struct {
		wanted, runSpread float64
		counted           int
	}{{0.6, 0.15, 8}, {0.4, 0.1, 9}, {0.5, 0.25, 7}} {
		runs := RunsEachWay(k.wanted, 0.4, k.runSpread, k.counted)
		r := rider{Rand: rand.New(rand.NewPCG(11, 5)), runs: k.runSpread}
		const trials = 1500
		seen := 0
		for range trials {
			var plan []Stint
			for i := range 2 * runs {
				pace := lapOfTests
				if i%2 == 1 {
					pace -= k.wanted
				}
				plan = append(plan, Stint{Changed: i%2 == 1, Laps: r.stint(k.counted+2, pace)})
			}
			// The rider's own spread is known from runs before.
			if Judge(plan, k.wanted, RunSpread{k.runSpread, 12}).Call == Keep {
				seen++
			}
		}
		p := float64(seen) / trials
		t.Logf("%.1f s at %.2f s between runs: %d runs each way, seen in %.3f", k.wanted, k.runSpread, runs, p)
		if p < plannedPower-0.02 {
			t.Errorf("%d runs each way show %.1f s in %.3f of trials, promised %.2f", runs, k.wanted, p, plannedPower)
		}
	}
}

func TestRunSpreadIsLearned(t *testing.T) {
	for _, truth := range []float64{0, 0.1, 0.3} {
		r := rider{Rand: rand.New(rand.NewPCG(2, 5)), traffic: 0.1, runs: truth}
		var groups [][]Stint
		for range 60 {
			groups = append(groups, []Stint{{Laps: r.stint(10, 98)}, {Laps: r.stint(9, 98)}, {Laps: r.stint(10, 98)}})
		}
		got := FitRunSpread(groups)
		if got.DF < 100 || math.Abs(got.Seconds-truth) > 0.05 {
			t.Errorf("runs %.2f s apart are learned as %+v", truth, got)
		}
	}
	if got := FitRunSpread(nil); got != (RunSpread{}) {
		t.Errorf("nothing teaches %+v", got)
	}
}

func TestPlansAgainstPublished(t *testing.T) {
	const cohen = "J. Cohen, Statistical Power Analysis for the Behavioral Sciences, 2nd edition 1988, table 2.4.1; from memory"
	wide, _ := Believe(-0.3, 0.1, 1e6, 0.2)
	check(t, []row{
		// With one lap in a run and runs alike, runs are laps.
		{"plan", "d = 0.2", float64(RunsEachWay(0.2, 1, 0, 1)), 393, 1, false, cohen},
		{"plan", "d = 0.5", float64(RunsEachWay(0.5, 1, 0, 1)), 64, 0.1, false, cohen},
		{"plan", "d = 0.8", float64(RunsEachWay(0.8, 1, 0, 1)), 26, 0.1, false, cohen},
		{"plan", "runs and back", float64(RunsEachWay(SeenIn(3, 0.4, 0.2, 8)+1e-9, 0.4, 0.2, 8)), 3, 0.1, false, "the two formulas undo each other; derived"},
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
		{Laps: as([]float64{98.412, 98.105, 97.98, 98.221, 98.34, 98.076})},
		{Changed: true, Laps: as([]float64{98.31, 98.021, 98.255, 97.944, 98.167})}}, 0.1, RunSpread{})
	if noise.Call != RideMore || noise.MoreBefore == 0 {
		t.Errorf("noise: %+v, want ride more and how many laps", noise)
	}
	change := Judge([]Stint{
		{Laps: as([]float64{98.412, 98.105, 97.98, 98.221, 98.34, 98.076, 98.512, 98.187})},
		{Changed: true, Laps: as([]float64{97.902, 98.033, 97.655, 97.814, 98.12, 97.744, 97.951})}}, 0.3, RunSpread{})
	if change.Call != RideMore || change.ByLaps.High >= 0 || !strings.Contains(change.Says, "It looks 0.3") || change.MoreRuns != 1 {
		t.Errorf("a real change, once each way: %+v, want one more run to make sure", change)
	}
	sure := Judge([]Stint{
		{Laps: as([]float64{98.412, 98.105, 97.98, 98.221, 98.34, 98.076, 98.512, 98.187})},
		{Changed: true, Laps: as([]float64{97.102, 97.233, 96.855, 97.014, 97.32, 96.944, 97.151})}}, 0.3, RunSpread{})
	if sure.Call != Keep || !strings.HasPrefix(sure.Says, "Keep it for now: you were 1.1") {
		t.Errorf("a large change, once each way: %+v, want to keep it for now", sure)
	}
	if v := Judge(nil, 0, RunSpread{}); v.Call != RideMore || v.Says == "" {
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
