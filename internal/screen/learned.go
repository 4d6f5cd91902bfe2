package screen

import (
	"fmt"
	"maps"
	"slices"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
)

// LearnedArgs asks what verdicts on a bike taught.
type LearnedArgs struct {
	Bike book.BikeID `json:"bike"`
}

// Learned is the page of the same name.
type Learned struct {
	Bike   book.BikeID   `json:"bike"`
	Says   string        `json:"says"`
	Lines  []LearnedLine `json:"lines"`
	Trials []string      `json:"trials"` // the verdicts that it rests on
	Rule   string        `json:"rule"`
}

// LearnedLine is one link between a cause and a finding as this bike moved
// it. Was and Now are its bars, 0 to 50: one verdict must show.
type LearnedLine struct {
	Cause   string `json:"cause"`
	Title   string `json:"title"`
	Finding string `json:"finding"`
	Says    string `json:"says"`
	Was     int    `json:"was"`
	Now     int    `json:"now"`
}

// ForgetForm takes what verdicts taught out of the reasoning.
type ForgetForm struct {
	Bike book.BikeID `json:"bike"`
}

var (
	_ = view("learned", learned)
	_ = action("forget", forgetLearned)
)

func learned(a Ask, args LearnedArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	out := Learned{
		Bike: k.ID, Lines: []LearnedLine{}, Trials: []string{},
		Rule: "A trial that you kept makes what it mended likelier to be the cause next time; one that you put back makes it less likely. It takes eight verdicts to count as much as the books do, and they never move a link by more than a quarter.",
	}
	_, learnt := learnedBy(k)
	for _, l := range learnt {
		out.Lines = append(out.Lines, LearnedLine{l.Cause, causesByID()[l.Cause].Title, findingsByID()[l.Finding].Words, l.Words, int(l.Before*50 + 0.5), int(l.Now*50 + 0.5)})
	}
	s := shower{a.Book}
	for _, t := range k.Trials {
		if _, ok := outcomeOf(k, t); ok {
			out.Trials = append(out.Trials, trialTitle(s, k, t)+": "+verdictWords[t.Verdict]+", "+s.day(t.Wall, a.Now))
		}
	}
	out.Says = "No verdict has taught anything yet. Turn something from Why, put it on trial, and judge it."
	if n := len(out.Trials); n > 0 {
		out.Says = fmt.Sprintf("%s taught the reasoning about this bike.", capital(many(n, "verdict")))
	}
	return out, nil
}

// learnedBy is the knowledge as a bike's verdicts have moved it, and the links
// that they moved.
func learnedBy(k *book.Bike) (*diagnosis.Network, []diagnosis.Learnt) {
	n := diagnosis.Load()
	var all []diagnosis.Outcome
	for _, t := range k.Trials {
		if o, ok := outcomeOf(k, t); ok {
			all = append(all, o)
		}
	}
	if len(all) == 0 {
		return n, nil
	}
	learnt := n.Learn(all)
	return n.With(learnt), learnt
}

// outcomeOf is what a trial's verdict says of a cause: the one that it was a
// test of, or the only one that its symptom's findings and its change point
// to. A trial that other changes spoiled teaches nothing, nor does one that
// is open, or was forgotten.
func outcomeOf(k *book.Bike, t book.Trial) (diagnosis.Outcome, bool) {
	if t.Forgotten || len(t.Spoiled) > 0 || t.Verdict != "keep" && t.Verdict != "back" {
		return diagnosis.Outcome{}, false
	}
	n, ok := k.Symptom(t.Body.Symptom)
	if !ok {
		return diagnosis.Outcome{}, false
	}
	o := diagnosis.Outcome{Cause: t.Body.Cause, Helped: t.Verdict == "keep"}
	for _, id := range slices.Sorted(maps.Keys(n.Body.Findings)) {
		if n.Body.Findings[id] == "yes" {
			o.Findings = append(o.Findings, id)
		}
	}
	if o.Cause == "" {
		o.Cause = causeTested(k, t, o.Findings)
	}
	_, known := causesByID()[o.Cause]
	return o, known && len(o.Findings) > 0
}

// causeTested is the only cause that a change mends and that shows one of the
// findings; "" when there is none, or more than one.
func causeTested(k *book.Bike, t book.Trial, findings []string) string {
	set := k.Settings[t.Body.Adjuster]
	delta := t.Body.Delta
	if set == nil || delta == nil || *delta == 0 {
		return ""
	}
	only := ""
	for _, c := range diagnosis.Load().Causes() {
		mends := c.Remedy.Adjuster == string(set.ID) && c.Remedy.Direction == direction(set, *delta)
		shows := slices.ContainsFunc(c.Links, func(l diagnosis.Link) bool { return slices.Contains(findings, l.Finding) })
		if !mends || !shows {
			continue
		}
		if only != "" {
			return ""
		}
		only = c.ID
	}
	return only
}

func forgetLearned(a Ask, f ForgetForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	if _, learnt := learnedBy(k); len(learnt) == 0 {
		return nil, []book.Refusal{{Field: "forget", Says: "There is nothing to forget.", Mend: "Verdicts on trials teach it."}}
	}
	return []book.Draft{{Kind: book.KindForget, Body: book.ForgetBody{Bike: k.ID}}}, nil
}
