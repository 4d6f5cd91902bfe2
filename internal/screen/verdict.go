package screen

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// LapsSay is what the laps say about a trial. Call is "keep", "put back" or
// "ride more". How likely it is faster is told in words, in Says, never as a
// bare probability.
type LapsSay struct {
	Call   string   `json:"call"`
	Title  string   `json:"title"`
	Says   string   `json:"says"`
	Even   string   `json:"even,omitempty"`
	Known  bool     `json:"known"` // there is a shift to show
	Span   *Span    `json:"span,omitempty"`
	More   string   `json:"more,omitempty"`
	Doubts []string `json:"doubts"`
	How    []string `json:"how"` // how it was worked out, for who wants to know
}

// Span is an interval on an axis through zero, all from −1 to 1.
type Span struct {
	Low    float64 `json:"low"`
	Middle float64 `json:"middle"`
	High   float64 `json:"high"`
	Edge   string  `json:"edge"` // what the ends of the axis mean: "1 s"
	Says   string  `json:"says"`
}

// weighing is a trial with its runs and what their laps say.
type weighing struct {
	b    *book.Book
	k    *book.Bike
	t    book.Trial
	set  *book.Setting
	runs []book.TrialRun
	laps map[book.SessionID][]laps.Lap
	says laps.Verdict
}

func weigh(b *book.Book, k *book.Bike, t book.Trial) weighing {
	w := weighing{b: b, k: k, t: t, set: k.Settings[t.Body.Adjuster], runs: b.RunsOf(k, t), laps: map[book.SessionID][]laps.Lap{}}
	var trial []laps.Stint
	mine := map[book.SessionID]bool{}
	temperature := w.temperatures()
	for i, r := range w.runs {
		id := r.Session.Body.Session
		mine[id], w.laps[id] = true, stint(k, id)
		if r.Counts() && r.Side != "" {
			trial = append(trial, laps.Stint{Changed: r.Side == book.SideB, Laps: w.laps[id], Temperature: temperature[i], Tyre: tyreAge(k, r.Session)})
		}
	}
	wanted := 0.0
	if t.Wanted != nil {
		wanted = t.Wanted.Float()
	}
	w.says = laps.Judge(trial, wanted, ownRuns(b, k, mine))
	return w
}

// temperatures are those of the runs: the track's where all that count have
// it, the air's otherwise, which leaves out none that the other would hold.
func (w weighing) temperatures() []*float64 {
	ground, air := make([]*float64, len(w.runs)), make([]*float64, len(w.runs))
	all := true
	for i, r := range w.runs {
		if n := r.Session.Body; r.Counts() {
			ground[i], air[i] = pointed(n.Ground), pointed(n.Air)
			all = all && ground[i] != nil
		}
	}
	if all {
		return ground
	}
	return air
}

func pointed(f *unit.Fixed) *float64 {
	if f == nil {
		return nil
	}
	v := f.Float()
	return &v
}

// tyreAge is how many laps a session's tyres had before it; nil when the set
// is not told.
func tyreAge(k *book.Bike, s book.Dated[book.SessionBody]) *float64 {
	if s.Body.Tyres == "" {
		return nil
	}
	n := 0.0
	for _, r := range k.Runs() {
		if r.Entry == s.Entry {
			break
		}
		if r.Body.Tyres == s.Body.Tyres {
			n += float64(len(k.LapsOf(r.Body.Session)))
		}
	}
	return &n
}

// ownRuns learns how far this rider's runs lie apart with nothing changed:
// from runs on one day, one after the other on the same settings, that are
// not of the trial at hand.
func ownRuns(b *book.Book, k *book.Bike, but map[book.SessionID]bool) laps.RunSpread {
	var groups [][]laps.Stint
	for _, d := range b.RidingDays(k) {
		var group []laps.Stint
		var last book.Dated[book.SessionBody]
		for _, s := range d.Sessions {
			if but[s.Body.Session] {
				continue
			}
			if len(group) > 0 && !sameSettings(b, k, last, s) {
				groups, group = append(groups, group), nil
			}
			group, last = append(group, laps.Stint{Laps: stint(k, s.Body.Session)}), s
		}
		groups = append(groups, group)
	}
	return laps.FitRunSpread(groups)
}

// sameSettings reports whether nothing is known to have been moved between two
// sessions, and both were dry or both wet.
func sameSettings(b *book.Book, k *book.Bike, x, y book.Dated[book.SessionBody]) bool {
	was, _ := b.StoodIn(k, x)
	now, _ := b.StoodIn(k, y)
	if x.Body.Wet != y.Body.Wet {
		return false
	}
	for id, at := range was {
		if to, known := now[id]; known && to != at {
			return false
		}
	}
	return true
}

// decided reports which way the laps decided: −1 slower, 1 faster, 0 not.
func decided(v laps.Verdict) int {
	switch {
	case v.Call == laps.Keep:
		return 1
	case v.Call == laps.PutBack && v.Shift.Low > 0:
		return -1
	}
	return 0
}

// sayLaps puts a verdict into the screen's words.
func sayLaps(v laps.Verdict) LapsSay {
	out := LapsSay{Call: string(v.Call), Says: v.Says, Even: v.Even, Doubts: append([]string{}, v.Doubts...), How: []string{}}
	out.Title = map[laps.Call]string{laps.Keep: "The laps say: keep it", laps.PutBack: "The laps say: put it back", laps.RideMore: "The laps cannot tell yet"}[v.Call]
	if v.ForNow {
		out.Title += " for now"
	}
	if math.IsInf(v.Shift.Low, 0) {
		out.Title = "Too few laps"
		return out
	}
	out.Known, out.Span = true, span(v.Shift)
	if v.Call == laps.RideMore && v.MoreRuns > 0 && v.MoreRuns <= 4 {
		out.More = many(v.MoreRuns, "more run") + " each way"
		if v.MoreBefore > 0 && v.MoreAfter == 0 {
			out.More = many(v.MoreRuns, "more run") + " on the old setting"
		}
	}
	out.Says = strings.TrimPrefix(out.Says, out.Title+". ")
	out.How = how(v)
	return out
}

// how tells how a verdict was worked out.
func how(v laps.Verdict) []string {
	out := []string{
		"The difference is the middle of all differences between laps with it and laps without (Hodges and Lehmann). Out laps, in laps and laps in traffic do not count.",
		fmt.Sprintf("Runs differ by themselves, with nothing changed; for you by about %.2f s. The stretch from %s to %s allows for that: 19 times in 20 the truth lies in such a stretch.", v.Runs.Seconds, faster(v.Shift.Low), faster(v.Shift.High)),
	}
	if v.Drift.Laps > 0 {
		says := fmt.Sprintf("Within a run your laps drift by %+.2f s each", v.Drift.PerLap)
		if v.Drift.Warm > 0 {
			says += fmt.Sprintf(", and cold tyres cost %.1f s on the first lap, half as much on each further one", v.Drift.Warm)
		}
		out = append(out, says+". That is taken out.")
	}
	for _, h := range v.Held {
		out = append(out, capital(h)+" is taken out as well.")
	}
	return out
}

// span lays a shift on an axis whose ends are a round number of seconds.
func span(s laps.Shift) *Span {
	edge := 0.5
	for _, e := range []float64{0.5, 1, 2, 5, 10, 20} {
		edge = e
		if math.Abs(s.Low) <= e && math.Abs(s.High) <= e {
			break
		}
	}
	on := func(v float64) float64 { return math.Max(-1, math.Min(1, v/edge)) }
	return &Span{
		Low: on(s.Low), Middle: on(s.Middle), High: on(s.High), Edge: fmt.Sprintf("%g s", edge),
		Says: fmt.Sprintf("By the laps %s, between %s and %s.", faster(s.Middle), faster(s.Low), faster(s.High)),
	}
}

// faster says a shift to a tenth, which is as much as laps tell: "0.3 s faster".
func faster(shift float64) string {
	switch {
	case math.Abs(shift) < 0.05:
		return "as fast"
	case shift < 0:
		return fmt.Sprintf("%.1f s faster", -shift)
	}
	return fmt.Sprintf("%.1f s slower", shift)
}

// VerdictForm judges a trial: "keep", "back" or "more". With Undo the change
// that puts it back is logged as well: the rider has turned it. A sweep keeps
// the position Chosen, in the adjuster's own unit; it is logged with Undo too.
type VerdictForm struct {
	Change  entry.ID    `json:"change"`
	Verdict string      `json:"verdict"`
	Note    string      `json:"note"`
	Chosen  *unit.Fixed `json:"chosen"`
	Undo    bool        `json:"undo"`
}

var _ = action("verdict", judge)

func judge(a Ask, f VerdictForm) ([]book.Draft, []book.Refusal) {
	if !slices.Contains([]string{"keep", "back", "more"}, f.Verdict) {
		return nil, []book.Refusal{{Field: "verdict", Says: "Keep it, put it back, or ride more?", Mend: "Choose one."}}
	}
	k, t, refused := trialOf(a.Book, f.Change)
	if refused != nil {
		return nil, []book.Refusal{{Field: "change", Says: "This change is not on trial.", Mend: "Open Today and look at what is."}}
	}
	if _, sealed := t.Open(); sealed && f.Verdict != "more" {
		return nil, []book.Refusal{{Field: "verdict", Says: "The last draw is still sealed.", Mend: "Say first which you think it was."}}
	}
	body := book.VerdictBody{Change: f.Change, Verdict: f.Verdict, Note: f.Note, Chosen: f.Chosen}
	if says := weigh(a.Book, k, t).says; !math.IsInf(says.Shift.Low, 0) {
		body.Laps = string(says.Call)
	}
	out := []book.Draft{{Kind: book.KindVerdict, Body: body}}
	c := undoing(a, k, t)
	if f.Verdict == "keep" {
		if c = keeping(a, k, t, f.Chosen); c.To == nil {
			return out, nil
		}
	}
	moved := c.Delta != nil && *c.Delta != 0 || c.Delta == nil && c.To != nil
	if f.Verdict != "more" && f.Undo && moved {
		out = append(out, book.Draft{Kind: book.KindChange, Body: c})
	}
	return out, nil
}

// keeping is the change that sets what is kept, where the adjuster stands
// elsewhere: the chosen stop of a sweep, the new setting after there and back.
func keeping(a Ask, k *book.Bike, t book.Trial, chosen *unit.Fixed) book.ChangeBody {
	to := cmp.Or(chosen, t.Body.To)
	c := undoing(a, k, t)
	c.To, c.Undoes, c.Why, c.Delta = to, "", "Kept after the trial", nil
	if c.From != nil && to != nil {
		d := *to - *c.From
		c.Delta = &d
	}
	return c
}

// undoing is the change that puts a trial back: to where it started when that
// is known, and as far back as it went otherwise.
func undoing(a Ask, k *book.Bike, t book.Trial) book.ChangeBody {
	set := k.Settings[t.Body.Adjuster]
	c := book.ChangeBody{Bike: k.ID, Adjuster: set.ID, From: set.At, To: t.Body.From, By: a.holder(), Undoes: t.Entry, Why: "Put back"}
	if c.From != nil && c.To != nil {
		d := *c.To - *c.From
		c.Delta = &d
	} else if t.Body.Delta != nil {
		d := -*t.Body.Delta
		c.Delta = &d
	}
	c.Session, c.Track = whereNow(k, a.Now)
	return c
}
