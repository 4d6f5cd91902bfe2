package screen

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"plumbline/internal/book"
	"plumbline/internal/unit"
)

// ProposalForm is what somebody with a shared link would change, as the
// link's page sends it. Way is "in" or "out" for what is turned, "up" or
// "down" for the rest; Steps is how many of the adjuster's steps.
type ProposalForm struct {
	Name     string          `json:"name"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Way      string          `json:"way"`
	Steps    string          `json:"steps"`
	Why      string          `json:"why"`
	Expect   string          `json:"expect"`
}

// Proposal is a proposal that makes sense for the bike: it is kept by the
// server until a phone of the rider's fetches it. Delta is in the adjuster's
// canonical unit.
type Proposal struct {
	ID       string          `json:"id"`
	Bike     book.BikeID     `json:"bike"`
	Name     string          `json:"name"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Delta    unit.Fixed      `json:"delta"`
	Why      string          `json:"why"`
	Expect   string          `json:"expect"`
}

// What a proposal may hold.
const (
	mostName  = 60 // characters
	mostWords = 500
	mostSteps = 40
)

// Propose reads a proposal for a bike, or says what is wrong with it.
func Propose(a Ask, bike book.BikeID, f ProposalForm) (Proposal, []book.Refusal) {
	k, refused := bikeOf(a.Book, bike)
	if refused != nil {
		return Proposal{}, refused
	}
	f.Name, f.Why, f.Expect = strings.TrimSpace(f.Name), strings.TrimSpace(f.Why), strings.TrimSpace(f.Expect)
	refused = append(refused, wordsIn("name", f.Name, mostName, "Who are you?", "The rider wants to know whose idea it is.")...)
	refused = append(refused, wordsIn("why", f.Why, mostWords, "There is no reason yet.", "Say what it should cure.")...)
	refused = append(refused, wordsIn("expect", f.Expect, mostWords, "There is no expectation yet.", "Say what the rider should feel, and where.")...)
	set, ok := k.Settings[f.Adjuster]
	if !ok || set.Retired {
		return Proposal{}, append(refused, book.Refusal{Field: "adjuster", Says: "What would you change?", Mend: "Pick an adjuster."})
	}
	delta, wrong := stepsOf(shower{a.Book}, set, f)
	refused = append(refused, wrong...)
	if len(refused) > 0 {
		return Proposal{}, refused
	}
	return Proposal{ID: a.Mint(), Bike: k.ID, Name: f.Name, Adjuster: f.Adjuster, Delta: delta, Why: f.Why, Expect: f.Expect}, nil
}

func wordsIn(field, words string, most int, says, mend string) []book.Refusal {
	if words == "" {
		return []book.Refusal{{Field: field, Says: says, Mend: mend}}
	}
	if utf8.RuneCountInString(words) > most {
		return []book.Refusal{{Field: field, Says: "That is too long.", Mend: fmt.Sprintf("Use %d characters at most.", most)}}
	}
	return nil
}

// stepsOf is how far a proposal moves an adjuster, which must stay in its range.
func stepsOf(s shower, set *book.Setting, f ProposalForm) (unit.Fixed, []book.Refusal) {
	forth, back := ways(set)
	var n int
	if _, err := fmt.Sscanf(strings.TrimSpace(f.Steps)+" ", "%d ", &n); err != nil || n < 1 || n > mostSteps {
		return 0, []book.Refusal{{Field: "steps", Says: "How far?", Mend: fmt.Sprintf("Type a whole number of steps from 1 to %d.", mostSteps)}}
	}
	switch f.Way {
	case forth:
	case back:
		n = -n
	default:
		return 0, []book.Refusal{{Field: "way", Says: "Which way?", Mend: "Choose " + forth + " or " + back + "."}}
	}
	to, delta := s.stepped(set, set.At, n)
	if to != nil && (*to < set.Min || *to > set.Max) {
		return 0, []book.Refusal{{
			Field: "steps", Says: "There is not that much room: it stands at " + s.position(set, *set.At) + ".",
			Mend: "Its range is " + s.number(set, set.Min) + " to " + s.end(set, set.Max) + ".",
		}}
	}
	return delta, nil
}

// ProposalChoice is an adjuster that a proposal may be about, for the link's page.
type ProposalChoice struct {
	ID   book.AdjusterID `json:"id"`
	Name string          `json:"name"` // "Rear rebound, now 9 clicks out; a step is 1 click"
}

// ProposalChoices are the adjusters that a proposal may be about.
func ProposalChoices(a Ask, bike book.BikeID) []ProposalChoice {
	k, refused := bikeOf(a.Book, bike)
	if refused != nil {
		return nil
	}
	s := shower{a.Book}
	var out []ProposalChoice
	for _, set := range k.Active() {
		now := "not known"
		if set.At != nil {
			now = s.position(set, *set.At)
		}
		one := s.step(set)
		out = append(out, ProposalChoice{set.ID, fmt.Sprintf("%s, now %s; a step is %s %s", set.Name, now, one, s.unitFor(set, one))})
	}
	return out
}

// ProposalCame says what a proposal is in words, and what came of it: for the
// page of the link that it was made with.
func ProposalCame(a Ask, p Proposal) (title, came string) {
	k, refused := bikeOf(a.Book, p.Bike)
	if refused != nil {
		return p.Name, ""
	}
	s := shower{a.Book}
	if set, ok := k.Settings[p.Adjuster]; ok {
		title = set.Name + " " + s.moved(set, p.Delta)
	}
	i := slices.IndexFunc(k.Advice, func(ad book.Advice) bool { return ad.Body.Proposal == p.ID })
	if i < 0 {
		return title, "Not yet seen by the rider."
	}
	ad := k.Advice[i]
	if ad.Result == "asked" {
		return title, "The rider asks: " + ad.Note
	}
	return title, capital(join(cameOf(ad), ad.Note)) + "."
}

var _ = action("proposal", takeProposal)

// takeProposal writes a fetched proposal into the book as advice: nothing is
// turned until the rider decides. One that is there already is left alone.
func takeProposal(a Ask, p Proposal) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, p.Bike)
	if refused != nil {
		return nil, refused
	}
	if slices.ContainsFunc(k.Advice, func(ad book.Advice) bool { return ad.Body.Proposal == p.ID }) {
		return nil, nil
	}
	name := p.Name
	if name == riderName(a.Book) { // whoever has the link may type any name, but not speak as the rider
		name += " (by link)"
	}
	from, drafts := person(a, Who{Name: name, Role: "tuner"})
	return append(drafts, book.Draft{Kind: book.KindAdvice, Body: book.AdviceBody{
		Bike: k.ID, From: from, Adjuster: p.Adjuster, Delta: &p.Delta, Why: p.Why, Expect: p.Expect, Proposal: p.ID,
	}}), nil
}
