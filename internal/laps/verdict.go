package laps

import (
	"fmt"
	"math"
	"strings"
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
// Temperature is that of track or air in °C, the same in all stints, Tyre the
// laps on the tyres when the run began; nil where not known.
type Stint struct {
	Changed           bool
	Laps              []Lap
	Temperature, Tyre *float64
}

// Verdict is what the laps say about a change. Shift is after minus before in
// seconds, minus for faster, with its 95 % interval, in which Runs allows for
// how far runs lie apart by themselves; ByLaps is the same without that
// allowance. Says is for the screen, Even for a difference in how even the
// laps are. MoreRuns and MoreBefore, MoreAfter are the runs each way and the
// counted laps still wanted when riding more is the call. Held names what was
// taken out besides the change, Doubts are sentences that weaken the verdict.
type Verdict struct {
	Call                  Call
	Says, Even            string
	Shift, ByLaps         Shift
	Belief                Belief
	Drift                 Drift
	Spread                Evenness
	Runs                  RunSpread
	Wanted                float64
	MoreRuns              int
	MoreBefore, MoreAfter int
	Held, Doubts          []string
	ForNow                bool // keep, but the setting never went back
}

// wantedShare is the smallest shift worth having when the rider does not say,
// as a share of the lap; common practice, no source.
const wantedShare = 0.003

// Judge says what the laps show. Wanted is the smallest shift in seconds that
// is worth having; 0 or less takes 0.3 % of the lap. Own is how far the
// rider's runs lie apart with nothing changed, as FitRunSpread has it; the
// zero value takes 0.15 % of the lap until the trial itself tells more.
//
// Drift within stints is removed first (see Drift). The stint is then the
// unit: centres are compared with the change against what else was recorded
// (see plan), so that there-and-back takes out what the day did evenly. Keep
// or put back only when the whole interval lies on one side of zero. Where the
// setting never went back the day and the change cannot be parted: then a
// plain "keep" is never said.
func Judge(trial []Stint, wanted float64, own RunSpread) Verdict {
	c, ok := compare(trial)
	if !ok || len(c.x) < 2 || len(c.y) < 2 {
		return tooFew(trial, wanted)
	}
	v := Verdict{Wanted: wanted, Drift: c.drift, Held: c.design.held, Doubts: c.doubts}
	if wanted <= 0 {
		v.Wanted = wantedShare * Median(c.x)
	}
	v.Spread, _ = CompareSpread(c.x, c.y)
	v.Even = v.Spread.sentence(SD(c.x), SD(c.y))
	var df float64
	v.Shift, v.ByLaps, df, v.Runs = c.shifts(own)
	if se := v.Shift.standardError(df); se > 0 {
		v.Belief, _ = Believe(v.Shift.Middle, se, df, priorShare*Median(c.x))
	}
	v.doubt(c)
	v.call(c)
	return v
}

// fewestLaps is how many counted laps on a side any comparison wants.
const fewestLaps = 6

func tooFew(trial []Stint, wanted float64) Verdict {
	before, after := 0, 0
	for _, s := range trial {
		if n := len(Counted(s.Laps)); s.Changed {
			after += n
		} else {
			before += n
		}
	}
	b, a := max(fewestLaps-before, 0), max(fewestLaps-after, 0)
	return Verdict{
		Call: RideMore, Wanted: wanted, MoreBefore: b, MoreAfter: a, Shift: noShift(), ByLaps: noShift(),
		Says: "Too few laps to compare. " + moreSentence(b, a),
	}
}

func noShift() Shift { return Shift{Low: math.Inf(-1), High: math.Inf(1)} }

// sentence says a difference in evenness, if luck alone would rarely make it.
func (e Evenness) sentence(before, after float64) string {
	if e.Ratio == 0 || e.P > 0.05 {
		return ""
	}
	word := "more"
	if e.Ratio > 1 {
		word = "less"
	}
	return fmt.Sprintf("Your laps are %s even with it: they vary by %.1f s, and by %.1f s without.", word, after, before)
}

func (v *Verdict) doubt(c comparison) {
	for i, t := range c.times {
		if r := Lag1(t); len(t) >= 8 && r > 0.4 && r > 2/math.Sqrt(float64(len(t))) {
			v.Doubts = append(v.Doubts, fmt.Sprintf("In run %d the laps go up and down together, so they count for less than they look.", i+1))
		}
	}
	if back, ok := c.back(); ok && (back.Low > 0 || back.High < 0) {
		v.Doubts = append(v.Doubts, fmt.Sprintf("Back on the old setting you were %s than at first: the day changed too. What it did evenly is taken out.", pace1(back.Difference)))
	}
}

// neverBack reports that the setting was changed once and never back, so that
// whatever the day did went the same way.
func (c comparison) neverBack() bool {
	turns := 0
	for i := range c.trial[1:] {
		if c.trial[i].Changed != c.trial[i+1].Changed {
			turns++
		}
	}
	return turns == 1
}

// back is how far the old setting lies from itself after there and back.
func (c comparison) back() (MeanTest, bool) {
	if len(c.trial) != 3 || c.trial[0].Changed || !c.trial[1].Changed || c.trial[2].Changed {
		return MeanTest{}, false
	}
	_, back, ok := ThereAndBack(c.times[0], c.times[1], c.times[2])
	return back, ok
}

func (v *Verdict) call(c comparison) {
	s := v.Shift
	switch {
	case s.High < 0 && c.neverBack():
		v.ForNow = true
		v.Call, v.Says = Keep, fmt.Sprintf("Keep it for now: you were %s with it (%s by the laps). You never went back, so the day may have helped; one run on the old setting would make sure.", pace1(s.Middle), between(-s.High, -s.Low))
	case s.High < 0:
		v.Call, v.Says = Keep, fmt.Sprintf("Keep it: you are %s with it (%s by the laps).", pace1(s.Middle), between(-s.High, -s.Low))
	case s.Low > 0:
		v.Call, v.Says = PutBack, fmt.Sprintf("Put it back: you are %s with it (%s by the laps).", pace1(s.Middle), between(s.Low, s.High))
	case s.Low > -v.Wanted && s.High < v.Wanted:
		v.Call, v.Says = PutBack, fmt.Sprintf("Put it back, unless it feels better: it makes no difference of %.1f s or more.", v.Wanted)
	case c.once() && (v.ByLaps.High < 0 || v.ByLaps.Low > 0):
		v.more(c)
		v.Says = fmt.Sprintf("It looks %s, but you rode each way once, and your runs differ by about %.1f s with nothing changed. ", pace1(s.Middle), v.Runs.Seconds)
		v.Says += v.belief() + "Go back to the old setting for one run: that tells most."
		v.MoreRuns, v.MoreBefore, v.MoreAfter = 1, c.lapsPerRun(), 0
		return
	default:
		v.more(c)
		return
	}
	if b := v.belief(); b != "" {
		v.Says += " Big differences are rare; weighed with that: " + lowerFirst(b)
	}
}

// lowerFirst lets a sentence go on behind a colon.
func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

func (v *Verdict) belief() string {
	if v.Belief == (Belief{}) {
		return ""
	}
	return v.Belief.Sentence() + " "
}

// patience is the most further runs each way that are worth naming to a rider.
const patience = 4

func (v *Verdict) more(c comparison) {
	v.Call = RideMore
	per, lapSpread := c.lapsPerRun(), c.lapSpread()
	had := len(c.trial) / 2
	runs := RunsEachWay(v.Wanted, lapSpread, v.Runs.Seconds, per)
	v.MoreRuns = max(0, runs-had)
	v.MoreBefore = max(0, runs*per-len(c.x))
	v.MoreAfter = max(0, runs*per-len(c.y))
	v.Says = "The laps cannot tell yet. " + v.belief()
	switch {
	case v.MoreRuns == 0:
		v.Says += fmt.Sprintf("A difference of %.1f s would most likely have shown by now: go by feel, or put it back.", v.Wanted)
	case v.MoreRuns > 3*patience:
		v.Says += fmt.Sprintf("More runs than a season has would be needed to see %.1f s: try a bigger step, or go by feel and test your feel with a blind draw.", v.Wanted)
	case v.MoreRuns > patience:
		v.Says += fmt.Sprintf("To see %.1f s you would need about %d more runs each way. That is not worth it: try a bigger step, or go by feel and test your feel with a blind draw.", v.Wanted, v.MoreRuns)
	default:
		v.Says += fmt.Sprintf("To see %.1f s, ride about %s each way, some %d clean laps in each.", v.Wanted, plural(v.MoreRuns, "more run"), per)
	}
}

// lapsPerRun is how many counted laps a run of this trial has, at least five.
func (c comparison) lapsPerRun() int {
	return max(5, (len(c.x)+len(c.y))/len(c.trial))
}

// lapSpread is the standard deviation of laps within stints.
func (c comparison) lapSpread() float64 {
	var squares, df float64
	for _, t := range c.times {
		n := float64(len(t) - 1)
		squares, df = squares+n*SD(t)*SD(t), df+n
	}
	return math.Sqrt(squares / df)
}

func moreSentence(before, after int) string {
	switch {
	case before > 0 && after > 0:
		return fmt.Sprintf("Ride about %d more clean laps on the old setting and %d on the new.", before, after)
	case before > 0:
		return fmt.Sprintf("Ride about %d more clean laps on the old setting.", before)
	}
	return fmt.Sprintf("Ride about %d more clean laps on the new setting.", max(after, 1))
}

func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

func pace1(shift float64) string {
	word := "slower"
	if shift < 0 {
		word = "faster"
	}
	return fmt.Sprintf("%.1f s a lap %s", math.Abs(shift), word)
}

func between(low, high float64) string {
	return fmt.Sprintf("%.1f to %.1f s", low, high)
}
