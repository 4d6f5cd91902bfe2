package screen

import (
	"maps"
	"slices"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
	"plumbline/internal/unit"
)

// WhyArgs is what the rider has said so far: findings with "yes" or "no", how
// often it comes ("once", "some", "every", "purpose"), and own words. Phase
// and End narrow the findings that are offered.
type WhyArgs struct {
	Bike     book.BikeID       `json:"bike"`
	Phase    string            `json:"phase"`
	End      string            `json:"end"`
	Words    string            `json:"words"`
	Repeat   string            `json:"repeat"`
	Findings map[string]string `json:"findings"`
}

// Why is what the screen of the same name shows: what may be meant, what
// probably causes it, and what to do first.
type Why struct {
	Offers []WhyFinding `json:"offers"` // for the phase and end, or the words
	Chosen []WhyFinding `json:"chosen"`
	Causes []WhyCause   `json:"causes"`
	Stop   string       `json:"stop,omitempty"` // do not ride until…
	Next   *WhyStep     `json:"next,omitempty"`
	Change *WhyChange   `json:"change,omitempty"`
	Unsure bool         `json:"unsure"`
	Note   string       `json:"note,omitempty"`
}

// WhyFinding is something that can be felt or seen. Answer is "yes", "no" or "".
type WhyFinding struct {
	ID     string `json:"id"`
	Words  string `json:"words"`
	Answer string `json:"answer,omitempty"`
	Denied bool   `json:"denied,omitempty"` // the words say that it is not so
}

// WhyCause is a likely cause. Share is its probability in whole percent, for
// the length of its bar; the doubt is told in words.
type WhyCause struct {
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Doubt   string   `json:"doubt"`
	Share   int      `json:"share"`
	Why     string   `json:"why"`
	Tell    string   `json:"tell"` // from its look-alikes
	For     []string `json:"for"`
	Against []string `json:"against"`
	Check   string   `json:"check"`
	Finding string   `json:"finding"` // what its check finds, to answer with yes or no
	Remedy  string   `json:"remedy"`
	Caution string   `json:"caution,omitempty"`
	Stop    string   `json:"stop,omitempty"`
}

// WhyStep is the check to make first.
type WhyStep struct {
	Finding string `json:"finding"`
	How     string `json:"how"`
	Why     string `json:"why"`
	Minutes int    `json:"minutes"`
	Tools   string `json:"tools,omitempty"`
}

// WhyChange is the one change worth trying.
type WhyChange struct {
	Adjuster string `json:"adjuster,omitempty"`
	Words    string `json:"words"`
	Expect   string `json:"expect"`
	Wrong    string `json:"wrong"`
	Side     string `json:"side,omitempty"`
	Undo     string `json:"undo"`
	Caution  string `json:"caution,omitempty"`
}

// causesShown is how many causes the screen lists.
const causesShown = 5

var (
	_ = view("why", why)
	_ = action("symptom", symptomFelt)
)

func why(a Ask, args WhyArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	n := diagnosis.Load()
	out := Why{Offers: offers(n, args), Chosen: []WhyFinding{}, Causes: []WhyCause{}}
	for _, f := range n.Findings() {
		if answer := args.Findings[f.ID]; answer != "" {
			out.Chosen = append(out.Chosen, WhyFinding{ID: f.ID, Words: f.Words, Answer: answer})
		}
	}
	if len(args.Findings) == 0 {
		return out, nil
	}
	answer := n.Diagnose(caseOf(k, args))
	out.Unsure, out.Note = answer.Unsure, answer.Note
	out.Causes = causes(n, answer)
	if answer.Stop != nil {
		out.Stop = answer.Stop.Words
	}
	if s := answer.Next; s != nil {
		out.Next = &WhyStep{s.Finding, s.How, s.Why, s.Minutes, s.Tools}
	}
	if c := answer.Change; c != nil {
		out.Change = &WhyChange{c.Adjuster, c.Words, c.Expect, c.Wrong, c.Side, c.Undo, c.Caution}
	}
	return out, nil
}

// offers are the findings that the words may mean or, without words, those of
// the phase and end. Nothing is chosen for the rider.
func offers(n *diagnosis.Network, args WhyArgs) []WhyFinding {
	out := []WhyFinding{}
	if args.Words != "" {
		for _, o := range n.MatchAt(args.Words, args.Phase, args.End) {
			out = append(out, WhyFinding{ID: o.Finding, Words: o.Words, Answer: args.Findings[o.Finding], Denied: o.Negated})
		}
		return out
	}
	if args.Phase == "" && args.End == "" {
		return out
	}
	for _, f := range n.Findings() {
		if f.Kind == "felt" && (args.Phase == "" || f.Phase == args.Phase) && (args.End == "" || f.End == args.End) {
			out = append(out, WhyFinding{ID: f.ID, Words: f.Words, Answer: args.Findings[f.ID]})
		}
	}
	return out
}

func causes(n *diagnosis.Network, answer diagnosis.Answer) []WhyCause {
	known := map[string]diagnosis.Cause{}
	for _, c := range n.Causes() {
		known[c.ID] = c
	}
	out := []WhyCause{}
	for _, r := range answer.Causes[:min(causesShown, len(answer.Causes))] {
		c := known[r.ID]
		out = append(out, WhyCause{
			ID: r.ID, Title: r.Title, Doubt: r.Doubt, Share: int(r.Posterior*100 + 0.5), Why: c.Why, Tell: c.Tell,
			For: wordsOf(r.For), Against: wordsOf(r.Against), Check: c.Check.How, Finding: c.Check.Finding.ID,
			Remedy: c.Remedy.Words, Caution: c.Remedy.Caution, Stop: c.Stop,
		})
	}
	return out
}

func wordsOf(evidence []diagnosis.Weigh) []string {
	out := []string{}
	for _, w := range evidence {
		out = append(out, w.Words)
	}
	return out
}

// repeatIDs are the book's words for how often a symptom comes, in the
// engine's.
var repeatIDs = map[string]string{"once": "once", "some": "some-laps", "every": "every-lap", "purpose": "on-purpose"}

// caseOf is what the book knows of a bike that bears on a complaint.
func caseOf(k *book.Bike, args WhyArgs) diagnosis.Case {
	c := diagnosis.Case{Facts: factsOf(k)}
	for _, id := range slices.Sorted(maps.Keys(args.Findings)) {
		c.Findings = append(c.Findings, diagnosis.Observed{Finding: id, Absent: args.Findings[id] == "no", Repeat: repeatIDs[args.Repeat]})
	}
	for _, s := range k.Active() {
		if s.At != nil && s.Step > 0 {
			c.Settings = append(c.Settings, diagnosis.Setting{
				Adjuster: string(s.ID), At: int(*s.At / s.Step), Least: int(s.Min / s.Step), Most: int(s.Max / s.Step), MoreIsLess: s.Firm < 0,
			})
		}
	}
	return c
}

// marksByFact are the answers of the first look that the engine knows, under
// its own names.
var marksByFact = []struct{ fact, answer, mark string }{
	{"fork-oil", "never", "fork-oil-aged"},
	{"shock-oil", "never", "shock-old"},
	{"gearing-changed", "yes", "gearing"},
	{"forks-moved", "yes", "forks-moved"},
	{"bumpy", "bumpy", "bumpy"},
}

func factsOf(k *book.Bike) diagnosis.Facts {
	var f diagnosis.Facts
	if _, open := k.FallOpen(); open || k.Facts["fell"].Body.Answer == "yes" && k.Checks[book.CheckStraight].Body.Result != "good" {
		f.Marks = append(f.Marks, "fall")
	}
	for _, m := range marksByFact {
		serviced := slices.ContainsFunc(k.Services, func(s book.Dated[book.ServiceBody]) bool { return s.Body.What == m.fact })
		if k.Facts[m.fact].Body.Answer == m.answer && !serviced {
			f.Marks = append(f.Marks, m.mark)
		}
	}
	f.PressureColdFront = reading(k.Settings["front.pressure"])
	f.PressureColdRear = reading(k.Settings["rear.pressure"])
	f.ChainSlackLeast = reading(k.Settings["chain.slack"])
	sag := k.Measures["sag"].Body.Values
	f.RiderSagFront, f.RiderSagRear, f.FreeSagRear = measured(sag, "front_rider"), measured(sag, "rear_rider"), measured(sag, "rear_free")
	return f
}

// reading is a counted position; an assumption is no evidence.
func reading(s *book.Setting) *float64 {
	if s == nil || s.At == nil || s.Standing != book.Counted {
		return nil
	}
	v := s.At.Float()
	return &v
}

func measured(values map[string]unit.Fixed, symbol string) *float64 {
	at, ok := values[symbol]
	if !ok {
		return nil
	}
	v := at.Float()
	return &v
}

// symptomFelt writes down what the rider felt.
func symptomFelt(a Ask, f WhyArgs) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	return []book.Draft{{Kind: book.KindSymptom, Body: book.SymptomBody{Bike: k.ID, Findings: f.Findings, Repeat: f.Repeat, Words: f.Words}}}, nil
}
