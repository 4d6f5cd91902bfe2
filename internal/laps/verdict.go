package laps

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Call is what the laps advise; the rider decides.
type Call string

// The three calls.
const (
	Keep     Call = "keep"
	PutBack  Call = "put back"
	RideMore Call = "ride more"
)

// Stint is one run of a trial, in the order ridden, with or without the
// change. Laps are as Marked gives them; only those that count are used.
type Stint struct {
	Changed bool
	Laps    []Lap
}

// Verdict is what the laps say about a change. Shift is after minus before in
// seconds, minus for faster, with its 95 % interval; Says is for the screen.
// MoreBefore and MoreAfter are the counted laps still wanted, when riding
// more is the call. Doubts are sentences that weaken the verdict.
type Verdict struct {
	Call                  Call
	Says                  string
	Shift                 Shift
	Belief                Belief
	Drift                 Drift
	Spread                Evenness
	MoreBefore, MoreAfter int
	Doubts                []string
}

// Judge says what the laps show. Wanted is the smallest shift in seconds that
// is worth having; 0 or less takes 0.3 % of the lap. Drift within stints is
// removed first (see Drift). Two stints are compared by Hodges–Lehmann, three
// as there and back by ThereAndBack, more by pooling. Keep or put back only
// when the whole interval lies on one side of zero, so a change that does
// nothing is called better about once in forty trials.
func Judge(trial []Stint, wanted float64) Verdict {
	stints, before, after := counted(trial)
	if before < 2 || after < 2 {
		b, a := max(6-before, 0), max(6-after, 0)
		return Verdict{Call: RideMore, MoreBefore: b, MoreAfter: a, Shift: noShift(),
			Says: "Too few laps to compare. " + moreSentence(b, a)}
	}
	v := Verdict{}
	v.Drift, _ = FitDrift(stints)
	times := v.Drift.WithoutDrift(stints)
	x, y := sides(trial, times)
	if wanted <= 0 {
		wanted = 0.003 * Median(x)
	}
	v.Spread, _ = CompareSpread(x, y)
	df := float64(len(x) + len(y) - 2)
	v.Shift, df = v.measure(trial, times, x, y, df)
	if !isThereAndBack(trial) { // whose width is already on the safe side
		v.Shift = v.Drift.widened(v.Shift, trial, stints, times)
	}
	if se := v.standardError(x, y, df); se > 0 {
		v.Belief, _ = Believe(v.Shift.Middle, se, df, priorShare*Median(x))
	}
	v.doubt(trial, times)
	v.call(x, y, wanted)
	return v
}

func noShift() Shift { return Shift{Low: math.Inf(-1), High: math.Inf(1)} }

func counted(trial []Stint) (stints [][]Lap, before, after int) {
	for _, s := range trial {
		c := Counted(s.Laps)
		stints = append(stints, c)
		if s.Changed {
			after += len(c)
		} else {
			before += len(c)
		}
	}
	return stints, before, after
}

func sides(trial []Stint, times [][]float64) (x, y []float64) {
	for i, s := range trial {
		if s.Changed {
			y = append(y, times[i]...)
		} else {
			x = append(x, times[i]...)
		}
	}
	return x, y
}

// measure finds the shift by the plan that was ridden.
func (v *Verdict) measure(trial []Stint, times [][]float64, x, y []float64, df float64) (Shift, float64) {
	if isThereAndBack(trial) {
		if m, _, ok := ThereAndBack(times[0], times[1], times[2]); ok {
			// The middle by Hodges–Lehmann against either side, because a mean
			// of skewed laps leans; the width is the contrast's.
			one, _ := HodgesLehmann(times[1], times[0])
			two, _ := HodgesLehmann(times[1], times[2])
			mid, half := (one.Middle+two.Middle)/2, (m.High-m.Low)/2
			return Shift{mid, mid - half, mid + half}, m.DF
		}
	}
	s, ok := HodgesLehmann(y, x)
	if !ok {
		return noShift(), df
	}
	return s, df
}

func isThereAndBack(trial []Stint) bool {
	return len(trial) == 3 && !trial[0].Changed && trial[1].Changed && !trial[2].Changed
}

// standardError turns the interval back into a standard error, so that the
// belief is as robust as the shift.
func (v *Verdict) standardError(x, y []float64, df float64) float64 {
	if math.IsInf(v.Shift.Low, 0) {
		w, _ := Welch(Summarise(y), Summarise(x))
		return w.SE
	}
	return (v.Shift.High - v.Shift.Low) / 2 / distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.975)
}

func (v *Verdict) doubt(trial []Stint, times [][]float64) {
	for i, t := range times {
		if r := Lag1(t); len(t) >= 8 && r > 0.4 && r > 2/math.Sqrt(float64(len(t))) {
			v.Doubts = append(v.Doubts, fmt.Sprintf("In run %d the laps go up and down together, so they count for less than they look.", i+1))
		}
	}
	if len(trial) == 2 {
		v.Doubts = append(v.Doubts, "You rode each way once, so the day itself may have done it. Going back to the old setting for one run would tell.")
	}
	if isThereAndBack(trial) {
		if _, back, ok := ThereAndBack(times[0], times[1], times[2]); ok && (back.Low > 0 || back.High < 0) {
			v.Doubts = append(v.Doubts, fmt.Sprintf("Back on the old setting you were %s than at first: the day changed too. What it did evenly is taken out.", pace1(back.Difference)))
		}
	}
}

func (v *Verdict) call(x, y []float64, wanted float64) {
	s := v.Shift
	switch {
	case s.High < 0:
		v.Call, v.Says = Keep, fmt.Sprintf("Keep it: you are %s with it, %s.", pace1(s.Middle), between(-s.High, -s.Low))
	case s.Low > 0:
		v.Call, v.Says = PutBack, fmt.Sprintf("Put it back: you are %s with it, %s.", pace1(s.Middle), between(s.Low, s.High))
	case s.Low > -wanted && s.High < wanted:
		v.Call, v.Says = PutBack, fmt.Sprintf("Put it back, unless it feels better: it makes no difference of %.1f s or more.", wanted)
	default:
		v.more(x, y, wanted)
	}
	if v.Call != RideMore && v.Belief != (Belief{}) {
		v.Says += " " + v.Belief.Sentence()
	}
}

func (v *Verdict) more(x, y []float64, wanted float64) {
	v.Call = RideMore
	df := float64(len(x) + len(y) - 2)
	spread := math.Sqrt((float64(len(x)-1)*SD(x)*SD(x) + float64(len(y)-1)*SD(y)*SD(y)) / df)
	v.MoreBefore, v.MoreAfter = MoreLaps(wanted, spread, len(x), len(y))
	v.Says = "The laps cannot tell yet. "
	if v.Belief != (Belief{}) {
		v.Says += v.Belief.Sentence() + " "
	}
	if v.MoreBefore+v.MoreAfter == 0 {
		v.Says += fmt.Sprintf("A difference of %.1f s would most likely have shown by now: go by feel, or put it back.", wanted)
		return
	}
	v.Says += fmt.Sprintf("To see %.1f s: %s", wanted, moreSentence(v.MoreBefore, v.MoreAfter))
}

func moreSentence(before, after int) string {
	switch {
	case before > 0 && after > 0:
		return fmt.Sprintf("ride about %d more clean laps on the old setting and %d on the new.", before, after)
	case before > 0:
		return fmt.Sprintf("ride about %d more clean laps on the old setting.", before)
	}
	return fmt.Sprintf("ride about %d more clean laps on the new setting.", after)
}

func pace1(shift float64) string {
	word := "slower"
	if shift < 0 {
		word = "faster"
	}
	return fmt.Sprintf("%.2f s a lap %s", math.Abs(shift), word)
}

func between(low, high float64) string {
	return fmt.Sprintf("most likely between %.2f and %.2f s", low, high)
}
