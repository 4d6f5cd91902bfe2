package diagnosis

import (
	"math"
	"sort"
)

// Case is what is known of one complaint.
type Case struct {
	Findings []Observed `json:"findings"`
	Facts    Facts      `json:"facts"`
	Settings []Setting  `json:"settings,omitempty"`
	Recent   []Recent   `json:"recent,omitempty"`
}

// Observed is one finding that is known. Absent is a plain no; a finding that
// is not known is left out. Repeat is once, some-laps, every-lap or on-purpose
// and empty counts as some-laps. Sure is how well the words fit the finding,
// in (0, 1]; 0 means the rider chose it himself. End is where it was felt or
// seen, front or rear, if the finding itself belongs to neither.
type Observed struct {
	Finding string  `json:"finding"`
	Absent  bool    `json:"absent,omitempty"`
	Repeat  string  `json:"repeat,omitempty"`
	Sure    float64 `json:"sure,omitempty"`
	End     string  `json:"end,omitempty"`
}

// Answer is what the engine says of a case. What to do is, in this order:
// Stop, First (a check that stands before any change), Change, else Next.
type Answer struct {
	Causes  []Ranked `json:"causes"`
	Pairs   []Pair   `json:"pairs,omitempty"` // two at once that explain better than one
	Stop    *Stop    `json:"stop,omitempty"`
	First   *Step    `json:"first,omitempty"` // "check this first": no change before it
	Next    *Step    `json:"next,omitempty"`  // the check worth most per minute
	Plan    []Step   `json:"plan,omitempty"`  // every check worth making, in the order of work
	Change  *Change  `json:"change,omitempty"`
	Refused *Refusal `json:"refused,omitempty"` // the adjuster has no way left
	Unsure  bool     `json:"unsure"`
	Doubts  []string `json:"doubts,omitempty"` // where the sources of the first cause disagree
	Note    string   `json:"note,omitempty"`
}

// Ranked is one cause with its posterior in [0, 1], the doubt in words, and
// what speaks for and against it, the weightiest first; both are told of the
// first dozen only.
type Ranked struct {
	ID        string  `json:"id"`
	Title     string  `json:"title"`
	Family    string  `json:"family"`
	Stage     string  `json:"stage"`
	Posterior float64 `json:"posterior"`
	Doubt     string  `json:"doubt"`
	For       []Weigh `json:"for"`
	Against   []Weigh `json:"against"`
}

// Weigh is one piece of evidence; Weight is in decibans.
type Weigh struct {
	Finding string  `json:"finding,omitempty"`
	Fact    string  `json:"fact,omitempty"`
	Words   string  `json:"words"`
	Weight  float64 `json:"weight"`
	Source  string  `json:"source,omitempty"`
	// Disputed says how the sources disagree on this link; empty if they do not.
	Disputed string `json:"disputed,omitempty"`
}

// Stop says why one must not ride.
type Stop struct {
	Cause string `json:"cause"`
	Words string `json:"words"`
}

// Step is a check to make; Gain is its expected information in bits, Order
// its stage's place in the order of work, Because why it stands where it does.
type Step struct {
	Cause     string  `json:"cause"`
	Title     string  `json:"title"`
	Finding   string  `json:"finding"` // answer yes or no to it
	How       string  `json:"how"`
	Why       string  `json:"why"`
	Minutes   int     `json:"minutes"`
	Tools     string  `json:"tools"`
	Gain      float64 `json:"gain"`
	Order     int     `json:"order"`
	Stage     string  `json:"stage"`
	Posterior float64 `json:"posterior"`
	Because   string  `json:"because"`
}

// Doubt puts a posterior in words: very likely from 0.8, likely from 0.5,
// possible from 0.15, unlikely below. Common practice, no source.
func Doubt(p float64) string {
	switch {
	case p >= 0.8:
		return "very likely"
	case p >= 0.5:
		return "likely"
	case p >= 0.15:
		return "possible"
	}
	return "unlikely"
}

// repeats are the ratios P(report | not so) / P(report | so) of a finding by
// how often it came. Common practice, no source.
var repeats = map[string]float64{"once": 0.3, "some-laps": 0.06, "": 0.06, "every-lap": 0.02, "on-purpose": 0.01}

// evidence puts a case's findings, told and measured, into the engine's form;
// each finding counts once, the surest report of it.
func (n *Network) evidence(c Case) []Evidence {
	at := map[int]int{}
	var out []Evidence
	for _, o := range append(append([]Observed(nil), c.Findings...), c.Facts.observed()...) {
		f, ok := n.finding[o.Finding]
		if !ok {
			continue
		}
		e := Evidence{Finding: f, Present: !o.Absent, Ratio: n.ratio(f, o)}
		if k, twice := at[f]; twice {
			if e.Ratio < out[k].Ratio {
				out[k] = e
			}
			continue
		}
		at[f] = len(out)
		out = append(out, e)
	}
	return out
}

// ratio is the likelihood ratio of a report. Words that fit a finding only so
// well temper it: the ratio is taken to the power of the fit, so a fit of a half
// is worth half the weight of evidence.
func (n *Network) ratio(f int, o Observed) float64 {
	r, ok := repeats[o.Repeat]
	if !ok {
		r = repeats[""]
	}
	if kind := n.findings[f].Kind; o.Repeat == "" && (kind == "check" || kind == "measured") {
		r = 0.02
	}
	if o.Sure > 0 && o.Sure < 1 {
		r = math.Pow(r, o.Sure)
	}
	return r
}

// shifted returns the layer with priors moved by the facts: odds are
// multiplied, and no prior passes 0.6 by facts alone.
func (n *Network) shifted(f Facts) Layer {
	l := n.layer
	l.Prior = append([]float64(nil), l.Prior...)
	marks := f.marks()
	for i, c := range n.causes {
		odds := c.Prior / (1 - c.Prior)
		for _, s := range c.Facts {
			if marks[s.Fact] {
				odds *= s.Times
			}
		}
		l.Prior[i] = min(odds/(1+odds), 0.6)
	}
	return l
}

// Diagnose ranks the causes of a case and says what to do next. Findings and
// facts it does not know are passed over. With no findings it says so.
func (n *Network) Diagnose(c Case) Answer {
	evidence := n.evidence(c)
	layer := n.shifted(c.Facts)
	result, err := layer.Posteriors(evidence)
	a := Answer{Unsure: true}
	if len(evidence) == 0 {
		a.Note = "Say what the bike does, or measure something."
	}
	if err != nil {
		a.Note = "These answers do not fit together. Check the last one."
	}
	for i, p := range result.Posterior {
		cause := n.causes[i]
		r := Ranked{ID: cause.ID, Title: cause.Title, Family: cause.Family, Stage: cause.Stage, Posterior: p, Doubt: Doubt(p)}
		a.Causes = append(a.Causes, r)
	}
	sort.SliceStable(a.Causes, func(i, j int) bool { return before(a.Causes[i], a.Causes[j]) })
	for i := range a.Causes[:min(explained, len(a.Causes))] {
		r := &a.Causes[i]
		r.For, r.Against = n.weigh(layer, n.cause[r.ID], evidence, c.Facts)
	}
	a.Unsure = a.Causes[0].Posterior < 0.5 || a.Causes[1].Posterior > 0.7*a.Causes[0].Posterior
	a.Stop = n.stop(a.Causes, evidence)
	if len(evidence) > 0 && err == nil {
		s := &study{layer, evidence, result, map[int]Result{}}
		a.Pairs = n.pairs(s)
		a.Plan = n.plan(s, a.Causes)
		a.Next = next(a.Plan, n)
		a.Doubts = doubts(a.Causes[0])
		top := a.Causes[0]
		a.Unsure = a.Unsure || len(top.For) > 0 && top.For[0].Disputed != ""
		n.change(c, &a)
	}
	return a
}

// explained is how many causes are told with their evidence.
const explained = 12

// before ranks causes: the likelier first, but among those that are all but
// certain the one that the order of work takes first.
func before(a, b Ranked) bool {
	if sure := 0.9; a.Posterior >= sure && b.Posterior >= sure && stages[a.Stage] != stages[b.Stage] {
		return stages[a.Stage] < stages[b.Stage]
	}
	return a.Posterior > b.Posterior
}

// weigh gathers the evidence that moves a cause by at least half a deciban.
func (n *Network) weigh(l Layer, cause int, evidence []Evidence, f Facts) (pro, con []Weigh) {
	add := func(w Weigh) {
		if w.Weight >= 0.5 {
			pro = append(pro, w)
		} else if w.Weight <= -0.5 {
			con = append(con, w)
		}
	}
	for _, e := range evidence {
		finding := n.findings[e.Finding]
		if l.Strength[e.Finding][cause] == 0 {
			continue
		}
		words := finding.Words
		if !e.Present {
			words = "Not found: " + words
		}
		add(Weigh{Finding: finding.ID, Words: words, Weight: l.Weight(cause, e), Source: n.sourceOf(cause, finding.ID), Disputed: n.disputeOf(cause, finding.ID)})
	}
	marks := f.marks()
	for _, s := range n.causes[cause].Facts {
		if marks[s.Fact] {
			add(Weigh{Fact: s.Fact, Words: n.factWords(s.Fact), Weight: 10 * math.Log10(s.Times), Source: s.Source})
		}
	}
	sort.SliceStable(pro, func(i, j int) bool { return pro[i].Weight > pro[j].Weight })
	sort.SliceStable(con, func(i, j int) bool { return con[i].Weight < con[j].Weight })
	return pro, con
}

func (n *Network) sourceOf(cause int, finding string) string {
	for _, l := range n.causes[cause].Links {
		if l.Finding == finding {
			return l.Source
		}
	}
	return n.causes[cause].Check.Source
}

func (n *Network) factWords(id string) string {
	for _, f := range n.facts {
		if f.ID == id {
			return f.Words
		}
	}
	return id
}

// stop finds the likeliest cause that forbids riding: its check has found it,
// or it is at least as likely as not.
func (n *Network) stop(ranked []Ranked, evidence []Evidence) *Stop {
	for _, r := range ranked {
		c := n.causes[n.cause[r.ID]]
		if c.Stop != "" && (r.Posterior >= 0.5 || n.state(c.Check.Finding.ID, evidence) == found) {
			return &Stop{c.ID, c.Stop}
		}
	}
	return nil
}

type state int

const (
	unchecked state = iota
	found
	cleared
)

func (n *Network) state(finding string, evidence []Evidence) state {
	for _, e := range evidence {
		if n.findings[e.Finding].ID == finding && e.Ratio < 0.5 {
			if e.Present {
				return found
			}
			return cleared
		}
	}
	return unchecked
}
