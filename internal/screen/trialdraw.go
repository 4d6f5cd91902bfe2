package screen

import (
	"fmt"
	"math"
	"slices"

	"plumbline/internal/book"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// TrialDots is the picture of a trial's laps: a column for each run, a dot for
// each lap, a band for the middle half of a run. All places are from 0, the
// left or the fastest, to 1.
type TrialDots struct {
	Says  string   `json:"says"`
	Axis  string   `json:"axis"`
	Ticks []Tick   `json:"ticks"`
	Runs  []DotRun `json:"runs"`
	Old   *float64 `json:"old,omitempty"` // the middle of all laps on the old setting
}

// DotRun is one run's column. Side is "a", "b" or "" for one that is left out.
type DotRun struct {
	Label  string     `json:"label"`
	Side   string     `json:"side"`
	Word   string     `json:"word"` // "old", "new", "out"
	Dots   []TrialDot `json:"dots"`
	Low    float64    `json:"low"` // of the band
	Middle float64    `json:"middle"`
	High   float64    `json:"high"`
	Band   bool       `json:"band"`
	Laps   string     `json:"laps"` // for the table: all times
	Mid    string     `json:"mid"`
}

// TrialDot is one lap. One that does not count and lies off the picture is drawn
// at its edge.
type TrialDot struct {
	Along  float64 `json:"along"` // within the column
	At     float64 `json:"at"`
	Counts bool    `json:"counts"`
	Off    bool    `json:"off,omitempty"`
}

// lapDots draws the runs; nil when no lap counts.
func lapDots(w weighing) *TrialDots {
	out := &TrialDots{Axis: "Lap time, minutes and seconds", Runs: []DotRun{}}
	y := newRoundAxis()
	var old []float64
	for _, r := range w.runs {
		for _, l := range laps.Counted(w.laps[r.Session.Body.Session]) {
			y.take(l.Seconds)
			if r.Counts() && r.Side == book.SideA {
				old = append(old, l.Seconds)
			}
		}
	}
	if !y.some() {
		return nil
	}
	y.settle(0.2)
	out.Ticks = y.ticks(seconds)
	for i, r := range w.runs {
		out.Runs = append(out.Runs, dotRun(y, i+1, r, w.laps[r.Session.Body.Session]))
	}
	if len(old) > 0 {
		m := y.at(laps.Median(old))
		out.Old = &m
	}
	out.Says = fmt.Sprintf("Lap times of %s: dots are laps, the band holds the middle half of each run. Lower is faster.", many(len(out.Runs), "run"))
	return out
}

func dotRun(y *roundAxis, number int, r book.TrialRun, all []laps.Lap) DotRun {
	out := DotRun{Label: fmt.Sprint(number), Word: "out", Dots: []TrialDot{}}
	if r.Counts() {
		out.Side, out.Word = r.Side, map[string]string{book.SideA: "old", book.SideB: "new"}[r.Side]
	}
	var times []float64
	for i, l := range all {
		d := TrialDot{Along: (float64(i) + 0.5) / float64(len(all)), At: y.at(l.Seconds), Counts: l.Mark == laps.Counts}
		if d.At > 1 || d.At < 0 {
			d.At, d.Off = math.Max(0, math.Min(1, d.At)), true
		}
		out.Dots = append(out.Dots, d)
		word := seconds(l.Seconds)
		if !d.Counts {
			word += " (" + markWords[l.Mark] + ")"
		} else {
			times = append(times, l.Seconds)
		}
		out.Laps = join(out.Laps, word)
	}
	if len(times) == 0 {
		return out
	}
	slices.Sort(times)
	out.Band, out.Middle, out.Mid = true, y.at(laps.Median(times)), seconds(laps.Median(times))
	out.Low, out.High = y.at(quarter(times, 0.25)), y.at(quarter(times, 0.75))
	return out
}

// quarter is a quantile of sorted values, between neighbours by share.
func quarter(sorted []float64, p float64) float64 {
	at := p * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// roundAxis maps values to 0…1 over a range that starts and ends at round numbers.
type roundAxis struct{ low, high, step float64 }

func newRoundAxis() *roundAxis { return &roundAxis{low: math.Inf(1), high: math.Inf(-1)} }

func (x *roundAxis) take(v float64) { x.low, x.high = math.Min(x.low, v), math.Max(x.high, v) }

func (x *roundAxis) some() bool { return x.high >= x.low }

// settle rounds the range outwards to steps of 1, 2 or 5; least is the
// smallest step.
func (x *roundAxis) settle(least float64) {
	span := math.Max(x.high-x.low, 2*least)
	x.step = least
	for _, s := range []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100} {
		if s >= least {
			x.step = s
			if span/s <= 4 {
				break
			}
		}
	}
	x.low, x.high = math.Floor(x.low/x.step-0.1)*x.step, math.Ceil(x.high/x.step+0.1)*x.step
}

func (x *roundAxis) at(v float64) float64 { return (v - x.low) / (x.high - x.low) }

func (x *roundAxis) ticks(say func(float64) string) []Tick {
	out := []Tick{}
	for v := x.low; v <= x.high+x.step/2; v += x.step {
		out = append(out, Tick{x.at(v), say(v)})
	}
	return out
}

// SweepPicture is the picture of a sweep: laps over positions, with the curve
// where there is one and the stretch in which the fastest place may lie.
type SweepPicture struct {
	Says    string       `json:"says"`
	Advice  string       `json:"advice"`
	XAxis   string       `json:"xAxis"`
	YAxis   string       `json:"yAxis"`
	XTicks  []Tick       `json:"xTicks"`
	YTicks  []Tick       `json:"yTicks"`
	Stops   []SweepStop  `json:"stops"`
	Curve   [][2]float64 `json:"curve"`
	Best    *[2]float64  `json:"best,omitempty"` // from, to
	Choices []StopChoice `json:"choices"`
}

// SweepStop is one ridden position.
type SweepStop struct {
	At    float64   `json:"at"`
	Label string    `json:"label"`
	Dots  []float64 `json:"dots"`
	Mean  *float64  `json:"mean,omitempty"`
	Low   float64   `json:"low"`
	High  float64   `json:"high"`
	Felt  string    `json:"felt"`
	Laps  string    `json:"laps"`
	Mid   string    `json:"mid"`
}

// StopChoice is a position that can be kept; To in the adjuster's own unit.
type StopChoice struct {
	To   unit.Fixed `json:"to"`
	Name string     `json:"name"`
	Best bool       `json:"best"`
}

func sweepPicture(s shower, w weighing) *SweepPicture {
	out := &SweepPicture{
		XAxis: w.set.Name + ", " + s.unitFor(w.set, unit.Whole(2)) + " " + numbered(w.set), YAxis: "Lap time, minutes and seconds",
		Stops: []SweepStop{}, Curve: [][2]float64{}, Choices: []StopChoice{}, XTicks: []Tick{}, YTicks: []Tick{},
	}
	x, y := newRoundAxis(), newRoundAxis()
	for _, at := range w.t.Stops {
		x.take(at.Float())
		out.Choices = append(out.Choices, StopChoice{To: at, Name: s.position(w.set, at)})
	}
	slices.SortFunc(out.Choices, func(a, b StopChoice) int { return int(a.To - b.To) })
	stops, felt := w.stopLaps()
	for _, st := range stops {
		for _, l := range st.Laps {
			y.take(l)
		}
	}
	fit := laps.FitSweep(stops)
	out.Advice, out.Says = fit.Says, "Lap times by position. "+fit.Says
	if !y.some() {
		return out
	}
	pad := (x.high - x.low) * 0.08
	x.low, x.high = x.low-pad, x.high+pad
	y.settle(0.2)
	out.YTicks = y.ticks(seconds)
	for _, c := range out.Choices {
		out.XTicks = append(out.XTicks, Tick{x.at(c.To.Float()), s.number(w.set, c.To)})
	}
	for i, st := range stops {
		out.Stops = append(out.Stops, sweepStop(s, w.set, x, y, st, fit.Each[i], felt[i]))
	}
	out.curve(s, w, x, y, fit)
	return out
}

// stopLaps are the ridden positions with their laps that count, in the order
// ridden, and how each felt.
func (w weighing) stopLaps() ([]laps.Stop, []string) {
	var out []laps.Stop
	var felt []string
	for _, r := range w.runs {
		if !r.Counts() || r.At == nil {
			continue
		}
		st := laps.Stop{At: r.At.Float()}
		for _, l := range laps.Counted(w.laps[r.Session.Body.Session]) {
			st.Laps = append(st.Laps, l.Seconds)
		}
		out, felt = append(out, st), append(felt, r.Session.Body.Felt)
	}
	return out, felt
}

func sweepStop(s shower, set *book.Setting, x, y *roundAxis, st laps.Stop, mean laps.Shift, felt string) SweepStop {
	at, _ := unit.FixedOf(st.At)
	out := SweepStop{At: x.at(st.At), Label: s.position(set, at), Dots: []float64{}, Felt: felt, Laps: "no lap counts", Mid: "none"}
	all := ""
	for _, l := range st.Laps {
		out.Dots = append(out.Dots, y.at(l))
		all = join(all, seconds(l))
	}
	if len(st.Laps) == 0 {
		return out
	}
	m := y.at(mean.Middle)
	out.Mean, out.Laps, out.Mid = &m, all, seconds(mean.Middle)
	out.Low, out.High = m, m
	if !math.IsInf(mean.Low, 0) {
		out.Low, out.High = math.Max(0, y.at(mean.Low)), math.Min(1, y.at(mean.High))
	}
	return out
}

// curve draws the fit, and says where the best place lies.
func (p *SweepPicture) curve(s shower, w weighing, x, y *roundAxis, fit laps.Sweep) {
	if !fit.Fitted {
		return
	}
	first, last := p.Choices[0].To.Float(), p.Choices[len(p.Choices)-1].To.Float()
	for i := range 25 {
		at := first + (last-first)*float64(i)/24
		if v := y.at(fit.At(at)); v >= 0 && v <= 1 {
			p.Curve = append(p.Curve, [2]float64{x.at(at), v})
		}
	}
	if !fit.Found {
		return
	}
	p.Best = &[2]float64{x.at(fit.Low), x.at(fit.High)}
	low, _ := unit.FixedOf(fit.Low)
	high, _ := unit.FixedOf(fit.High)
	if fit.Says == "" {
		p.Advice = fmt.Sprintf("The laps are fastest somewhere between %s and %s. Within that, choose by feel.", s.number(w.set, w.round(low)), s.end(w.set, w.round(high)))
		if w.round(low) == w.round(high) {
			p.Advice = "The laps are fastest at about " + s.position(w.set, w.round(low)) + "."
		}
		p.Says = "Lap times by position. " + p.Advice
	}
	for i := range p.Choices {
		if at := p.Choices[i].To.Float(); at >= fit.Low-1e-9 && at <= fit.High+1e-9 {
			p.Choices[i].Best = true
		}
	}
}

// round puts a place on the adjuster's steps.
func (w weighing) round(at unit.Fixed) unit.Fixed {
	step := max(w.set.Step, 1)
	half := step / 2
	if at < 0 {
		half = -half
	}
	return (at + half) / step * step
}
