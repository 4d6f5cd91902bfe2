package laps

import (
	"math"
	"strings"
	"testing"
)

func TestModelsAgainstPublished(t *testing.T) {
	speed := []float64{4, 4, 7, 7, 8, 9, 10, 10, 10, 11, 11, 12, 12, 12, 12, 13, 13, 13, 13, 14, 14, 14, 14, 15, 15, 15, 16, 16, 17, 17, 17, 18, 18, 18, 18, 19, 19, 19, 20, 20, 20, 20, 20, 22, 23, 24, 24, 24, 24, 25}
	dist := []float64{2, 10, 4, 22, 16, 10, 18, 26, 34, 17, 28, 14, 20, 24, 28, 26, 34, 34, 46, 26, 36, 60, 80, 20, 26, 54, 32, 40, 32, 40, 50, 42, 56, 76, 84, 36, 46, 68, 32, 48, 52, 56, 64, 66, 54, 70, 92, 93, 120, 85}
	constant, constantSE := fitted(t, dist, ones(len(speed)), speed)
	slope, slopeSE := fitted(t, dist, speed, ones(len(speed)))
	sen := []Lap{}
	for i, at := range []int{1, 2, 3, 4, 10, 12, 18} {
		sen = append(sen, Lap{Number: at, Seconds: []float64{9, 15, 19, 20, 45, 55, 78}[i]})
	}
	// The published seven twice over, since a drift wants ten laps: pairs are
	// made within stints, so the median slope is the same.
	drift := must[Drift](t)(FitDrift([][]Lap{sen, sen}))
	shift, back, _ := ThereAndBack([]float64{1, 2, 3}, []float64{4, 5, 6}, []float64{3, 4, 5})
	even := must[Evenness](t)(CompareSpread([]float64{1, 2, 3, 4, 5}, []float64{2, 4, 6, 8, 10}))
	const cars = "R data set cars (M. Ezekiel 1930), summary(lm(dist ~ speed)); from memory"
	const theil = "P. K. Sen, Journal of the American Statistical Association 63 (1968), section 6 example, slope 4; from memory"
	const hand = "by hand: variance (1 + 1/4 + 1/4)/3, df 4, t table 2.776445; derived"
	const bf = "by hand: mean distances 1.2 and 2.4, pooled variance 1.75, t = 1.434274, df 8; derived"
	check(t, []row{
		{"fit", "constant", constant, -17.5791, 5e-5, false, cars},
		{"fit", "its error", constantSE, 6.7584, 5e-5, false, cars},
		{"fit", "slope", slope, 3.9324, 5e-5, false, cars},
		{"fit", "its error", slopeSE, 0.4155, 5e-5, false, cars},
		{"drift", "slope", drift.PerLap, 4, 1e-9, false, theil},
		{"there and back", "shift", shift.Difference, 2, 1e-12, false, hand},
		{"there and back", "t", shift.T, 2.828427, 1e-6, false, hand},
		{"there and back", "df", shift.DF, 4, 1e-9, false, hand},
		{"there and back", "low", shift.Low, 2 - 2.776445*math.Sqrt(0.5), 1e-5, false, hand},
		{"there and back", "back", back.Difference, 2, 1e-12, false, hand},
		{"spread", "ratio", even.Ratio, 2, 1e-12, false, bf},
		{"spread", "p", even.P, 0.1894037, 1e-6, false, bf},
	})
}

func TestWhatMovedTogetherIsNotParted(t *testing.T) {
	var change, cool []float64
	for i := range 20 {
		c := float64(i / 10)
		change, cool = append(change, c), append(cool, 40-5*c)
	}
	if got, ok := contrast(change, ones(20), cool); ok {
		t.Errorf("a change made just as the track cooled was parted from it: %+v", got)
	}
}

func TestRecords(t *testing.T) {
	for _, k := range []struct{ got, want string }{
		{Tally{}.AdviceRecord(), "Nothing of theirs"},
		{Tally{2, 3}.AdviceRecord(), "2 of 3 kept. Too few"},
		{Tally{8, 10}.AdviceRecord(), "8 of 10 kept. In the long run that could be anything from 4 to 10 in 10."},
		{Tally{8, 10}.FeelRecord(), "You were right in 8 of 10. Guessing"},
		{Tally{10, 10}.FeelRecord(), "You were right in 10 of 10. That is no guessing"},
		{Tally{0, 10}.FeelRecord(), "You were right in 0 of 10. You feel"},
		{Belief{0.9, -0.3, -0.6, -0.1}.Sentence(), "About 9 in 10 that it is faster; most likely 0.3 s, between 0.1 and 0.6 s."},
		{Belief{0.5, 0, -1, 1}.Sentence(), "Faster or slower: about as likely"},
	} {
		if !strings.HasPrefix(k.got, k.want) {
			t.Errorf("said %q, want %q", k.got, k.want)
		}
	}
}
