package laps

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestSweepFindsTheLowestPlace(t *testing.T) {
	// Exactly 97 + 0.05·(x − 9)², and the mean of each stop on it.
	var stops []Stop
	for _, at := range []float64{9, 5, 13, 7, 11} {
		pace := 97 + 0.05*(at-9)*(at-9)
		stops = append(stops, Stop{at, []float64{pace - 0.01, pace + 0.01}})
	}
	s := FitSweep(stops)
	const parabola = "the parabola that the laps were made from; derived"
	check(t, []row{
		{"sweep", "best", s.Best, 9, 1e-6, false, parabola},
		{"sweep", "curve", s.At(5), 97.8, 1e-6, false, parabola},
		{"sweep", "mean", s.Each[1].Middle, 97.8, 1e-9, false, parabola},
		// Pooled variance 2·0.01² with 5 degrees of freedom, t table 2.570582.
		{"sweep", "half", s.Each[0].High - s.Each[0].Middle, 2.570582 * 0.01, 1e-6, false, "by hand; derived"},
	})
	if !s.Found || s.High-s.Low > 0.5 {
		t.Errorf("found %v between %.2f and %.2f", s.Found, s.Low, s.High)
	}
}

// TestSweepIsRight rides sweeps with a known best place: the stretch that is
// named must hold it in 93 to 98 of 100, and where all places are alike hardly
// ever is one named.
func TestSweepIsRight(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	const trials = 2000
	held, named := 0, 0
	for range trials {
		made := func(bend float64) []Stop {
			var stops []Stop
			for _, at := range []float64{9, 5, 13, 7, 11} {
				s := Stop{At: at}
				for range 3 {
					s.Laps = append(s.Laps, 97+bend*(at-10)*(at-10)+0.4*r.NormFloat64())
				}
				stops = append(stops, s)
			}
			return stops
		}
		if s := FitSweep(made(0.05)); s.Low <= 10 && 10 <= s.High {
			held++
		}
		if FitSweep(made(0)).Found {
			named++
		}
	}
	t.Logf("held the best place in %.3f, named one among equals in %.3f", float64(held)/trials, float64(named)/trials)
	if h := float64(held) / trials; h < 0.93 || h > 0.98 {
		t.Errorf("the best place was held in %.3f of sweeps", h)
	}
	if n := float64(named) / trials; n > 0.06 {
		t.Errorf("among equals a place was named in %.3f of sweeps", n)
	}
}

func TestSweepOfTooLittle(t *testing.T) {
	s := FitSweep([]Stop{{At: 9, Laps: []float64{98}}, {At: 7}, {At: 5, Laps: []float64{97.5}}})
	if s.Fitted || s.Says == "" || len(s.Each) != 3 || !math.IsNaN(s.Each[1].Middle) {
		t.Errorf("two laps give %+v", s)
	}
}
