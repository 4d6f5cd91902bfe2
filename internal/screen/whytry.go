package screen

import (
	"fmt"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// WhyTry is the remedy of a cause: one change of an adjuster, to be put on
// trial, or a job. Steps are by hand, above zero in or up; NoTry says why it
// cannot be turned now.
type WhyTry struct {
	Cause    string          `json:"cause"`
	Title    string          `json:"title"` // "Rear rebound: 2 clicks in, from 10 to 8 out"
	Adjuster book.AdjusterID `json:"adjuster,omitempty"`
	Steps    int             `json:"steps,omitempty"`
	Says     string          `json:"says,omitempty"`
	Expect   string          `json:"expect,omitempty"`
	Wrong    string          `json:"wrong,omitempty"`
	Side     string          `json:"side,omitempty"`
	Undo     string          `json:"undo,omitempty"`
	Caution  string          `json:"caution,omitempty"`
	NoTry    string          `json:"noTry,omitempty"`
	PutBack  bool            `json:"putBack,omitempty"`
	Where    string          `json:"where,omitempty"` // where on the lap to notice it
}

// try is a remedy on this bike: what the hand does, from where to where.
func (d describer) try(cause string, r diagnosis.Remedy) WhyTry {
	t := WhyTry{Cause: cause, Title: r.Words, Expect: r.Expect, Wrong: r.Wrong, Side: r.Side, Undo: r.Undo, Caution: r.Caution}
	set, ok := d.k.Settings[book.AdjusterID(r.Adjuster)]
	if r.Adjuster == "" {
		return t
	}
	if !ok || set.Retired {
		t.NoTry = "This bike has no such adjuster in the book. If it has one, add it on the Bike page."
		return t
	}
	s := shower{d.a.Book}
	t.Steps = handSteps(s, set, r)
	to, delta := s.stepped(set, set.At, t.Steps)
	t.Adjuster, t.Title = set.ID, set.Name+": "+s.move(set, set.At, to, &delta)
	t.Says = set.More
	if delta < 0 {
		t.Says = set.Less
	}
	back := -delta
	t.Undo = capital(s.moved(set, back)) + " again; " + s.sure(set) + "."
	t.NoTry = d.noTry(set, to, delta)
	return t
}

// remedy is a cause's remedy, as the engine cut it to this bike where it did.
func (d describer) remedy(c diagnosis.Cause) diagnosis.Remedy {
	if d.change != nil && d.change.Cause == c.ID {
		return d.change.Remedy
	}
	return c.Remedy
}

// handSteps turns an engine's step count and direction into turns of the hand.
func handSteps(s shower, set *book.Setting, r diagnosis.Remedy) int {
	delta := unit.Fixed(r.Steps) * max(set.Step, 1)
	if (r.Direction == "less") != (firmOf(set) < 0) {
		delta = -delta
	}
	return s.stepsOf(set, delta)
}

// noTry is why a change should wait or cannot be, or "".
func (d describer) noTry(set *book.Setting, to *unit.Fixed, delta unit.Fixed) string {
	if d.stopped {
		return "Not before the stop above is cleared."
	}
	for _, r := range d.a.Book.Check(book.ChangeBody{Bike: d.k.ID, Adjuster: set.ID, From: set.At, To: to, Delta: &delta}) {
		return "It is at the end of its range: " + r.Says + " A spring or a service is next, not a click."
	}
	if run := d.k.Running(); len(run) > 0 && run[0].Verdict == "" {
		other := d.k.Settings[run[0].Body.Adjuster]
		if other != nil {
			return fmt.Sprintf("%s is on trial. One change at a time: judge that one first, on Today.", other.Name)
		}
	}
	return ""
}

// change is the one change that the engine suggests, or puts back.
func (d describer) changeOf(c diagnosis.Change) *WhyTry {
	t := d.try(c.Cause, c.Remedy)
	if c.PutBack {
		t.Cause = putBack
	}
	t.PutBack, t.Where = c.PutBack, c.Where
	return &t
}

// TryFill is what a symptom brings to the form of a change: the adjuster, how
// far and which way, what to expect.
type TryFill struct {
	Symptom  entry.ID        `json:"symptom"`
	Cause    string          `json:"cause"`
	Says     string          `json:"says"` // what it is a test of
	Adjuster book.AdjusterID `json:"adjuster,omitempty"`
	Steps    int             `json:"steps,omitempty"`
	Why      string          `json:"why,omitempty"`
	Expect   string          `json:"expect,omitempty"`
	Wrong    string          `json:"wrong,omitempty"`
	Caution  string          `json:"caution,omitempty"`
	NoTry    string          `json:"noTry,omitempty"`
}

// putBack is the cause of a change that undoes the last one.
const putBack = "put-back"

// tryFill fills the form of a change from a symptom and the cause to test;
// nil when either is not known, or the cause is mended by no adjuster.
func tryFill(a Ask, k *book.Bike, symptom entry.ID, cause string) *TryFill {
	n, ok := k.Symptom(symptom)
	if !ok {
		return nil
	}
	args := argsOf(n)
	c, says := caseOf(a, k, args)
	network, _ := learnedBy(k)
	answer := diagnoseCase(network, c)
	d := describer{a: a, k: k, args: args, says: says, stopped: answer.Stop != nil || len(stops(a, k)) > 0, change: answer.Change}
	t, title := WhyTry{}, "the way it was"
	if known, ok := causesByID()[cause]; ok {
		t, title = d.try(known.ID, d.remedy(known)), known.Title
	} else if answer.Change != nil && answer.Change.PutBack && cause == putBack {
		t = *d.changeOf(*answer.Change)
	}
	if t.Adjuster == "" {
		return nil
	}
	fill := &TryFill{
		Symptom: symptom, Cause: cause, Says: "To test: " + title + ".", Adjuster: t.Adjuster, Steps: t.Steps,
		Why: symptomTitle(n.Body), Expect: unstopped(t.Expect), Wrong: t.Wrong, Caution: t.Caution, NoTry: t.NoTry,
	}
	if t.PutBack {
		fill.Says = "Put back what was changed last."
	}
	return fill
}

// argsOf is a symptom of the book as the rider told it.
func argsOf(n book.Dated[book.SymptomBody]) WhyArgs {
	b := n.Body
	return WhyArgs{Bike: b.Bike, Side: b.Side, Words: b.Words, Repeat: b.Repeat, Track: b.Track, Session: b.Session, Corner: b.Corner, Findings: b.Findings, Ends: b.Ends}
}
