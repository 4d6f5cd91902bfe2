package screen

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// SaidArgs asks for the advice of a bike; Adjuster and Steps for what a piece
// of advice that is being written would mean.
type SaidArgs struct {
	Bike     book.BikeID     `json:"bike"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Steps    int             `json:"steps"`
}

// Said is what people said, and the form to write down more of it.
type Said struct {
	Bike     book.BikeID `json:"bike"`
	BikeName string      `json:"bikeName"`
	Rider    string      `json:"rider"` // whom to tell, on the paddock card
	Open     []SaidLine  `json:"open"`
	Done     []SaidLine  `json:"done"`
	Records  []Record    `json:"records"`
	Groups   []TileGroup `json:"groups"`
	Picked   *Picked     `json:"picked,omitempty"`
	Weighed  *Weighed    `json:"weighed,omitempty"` // what is being written
	People   []Choice    `json:"people"`            // everybody but the rider, who tells himself nothing
}

// SaidLine is one piece of advice.
type SaidLine struct {
	Entry  entry.ID `json:"entry"`
	Title  string   `json:"title"` // "Ivo: rear rebound 2 clicks in"
	Why    string   `json:"why,omitempty"`
	When   string   `json:"when"`
	Expect string   `json:"expect,omitempty"`
	Shared bool     `json:"shared,omitempty"` // it came by a link, so a question goes back by it
	Result string   `json:"result"`           // "open", "tried", "declined", "later", "asked"
	Came   string   `json:"came"`             // what came of it, in words

	Weighed *Weighed `json:"weighed,omitempty"` // while it is open
	Words   bool     `json:"words,omitempty"`   // it names no move, so it cannot be weighed
}

// Record is what came of one adviser's advice.
type Record struct {
	Name string `json:"name"`
	Says string `json:"says"`
}

// AdviceForm is what somebody said. How far is given by Delta in the
// adjuster's own unit, or by Steps, steps above zero going in or up.
type AdviceForm struct {
	Bike     book.BikeID     `json:"bike"`
	From     Who             `json:"from"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Steps    int             `json:"steps"`
	Delta    *unit.Fixed     `json:"delta"`
	What     string          `json:"what"`
	Why      string          `json:"why"`
}

// MeantForm says which move a piece of advice in words means.
type MeantForm struct {
	Advice   entry.ID        `json:"advice"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Steps    int             `json:"steps"`
}

// OutcomeForm says what came of advice: "tried", "declined", "later", or
// "asked" with a question in Note.
type OutcomeForm struct {
	Advice entry.ID `json:"advice"`
	Result string   `json:"result"`
	Note   string   `json:"note"`
}

var (
	_ = view("said", said)
	_ = action("advice", advise)
	_ = action("meant", meant)
	_ = action("outcome", outcome)
)

func said(a Ask, args SaidArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	s := shower{a.Book}
	out := Said{
		Bike: k.ID, BikeName: k.Name, Rider: riderName(a.Book), Open: []SaidLine{}, Done: []SaidLine{},
		Records: records(a.Book, k), Groups: tiles(s, k),
		People: slices.DeleteFunc(peopleFor(a), func(c Choice) bool { return c.ID == string(a.Book.Who(a.Book.Rider)) }),
	}
	for i := range out.People {
		if out.People[i].ID == string(book.PersonUnknown) {
			out.People[i].Name = "Somebody"
		}
	}
	for _, ad := range slices.Backward(k.Advice) {
		line := saidLine(a, s, k, ad)
		if ad.Open() {
			if len(out.Open) < weighedAtOnce {
				line.Weighed = weighedAdvice(a, k, ad.Body.Adjuster, ad.Body.Delta)
			}
			out.Open = append(out.Open, line)
			continue
		}
		out.Done = append(out.Done, line)
	}
	if set, ok := k.Settings[args.Adjuster]; ok && !set.Retired {
		out.Picked = picked(a.Book, k, set, args.Steps)
		_, delta := s.stepped(set, nil, args.Steps)
		out.Weighed = weighedAdvice(a, k, set.ID, &delta)
	}
	return out, nil
}

func riderName(b *book.Book) string {
	if b.Rider == "" {
		return ""
	}
	return nameOf(b, b.Rider)
}

func saidLine(a Ask, s shower, k *book.Bike, ad book.Advice) SaidLine {
	return SaidLine{
		Entry: ad.Entry, Title: adviceTitle(s, k, ad), Why: ad.Body.Why, Expect: ad.Body.Expect, Shared: ad.Body.Proposal != "", When: s.moment(ad.Wall, a.Now),
		Result: cmp.Or(ad.Result, "open"), Came: join(cameOf(ad), ad.Note), Words: ad.Body.Delta == nil,
	}
}

// adviceTitle says advice in one line: "Ivo said: rear rebound 2 clicks in".
func adviceTitle(s shower, k *book.Bike, ad book.Advice) string {
	who := nameOf(s.b, ad.Body.From)
	if ad.Body.From == book.PersonUnknown {
		who = "Somebody"
	}
	what := ad.Body.What
	if set, ok := k.Settings[ad.Body.Adjuster]; ok {
		what = set.Name
		if ad.Body.Delta != nil {
			what = join2(what, s.moved(set, *ad.Body.Delta))
		}
		what = join(what, ad.Body.What)
	}
	return who + " said: " + what
}

func cameOf(ad book.Advice) string {
	switch {
	case ad.Result == "tried" && ad.Verdict == "keep":
		return "Tried and kept"
	case ad.Result == "tried" && ad.Verdict == "back":
		return "Tried and put back"
	case ad.Result == "tried" && ad.Change != "":
		return "Tried, no verdict yet"
	case ad.Result == "tried":
		return "Tried"
	case ad.Result == "declined":
		return "Declined"
	case ad.Result == "later":
		return "Kept for later"
	case ad.Result == "asked":
		return "You asked back"
	}
	return "Open"
}

// records are what came of each adviser's ideas, by name, the rider's own left out.
func records(b *book.Book, k *book.Bike) []Record {
	out := []Record{}
	for _, l := range advisers(b, k) {
		if l.Name != "You" {
			out = append(out, Record{l.Name, l.Says})
		}
	}
	return out
}

func advise(a Ask, f AdviceForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	from, drafts := person(a, f.From)
	n := book.AdviceBody{Bike: k.ID, From: from, Adjuster: f.Adjuster, Delta: f.Delta, What: strings.TrimSpace(f.What), Why: strings.TrimSpace(f.Why)}
	if set, ok := k.Settings[f.Adjuster]; ok && f.Delta == nil && f.Steps != 0 {
		_, d := shower{a.Book}.stepped(set, nil, f.Steps)
		n.Delta = &d
	}
	return append(drafts, book.Draft{Kind: book.KindAdvice, Body: n}), nil
}

// meant corrects advice in words by the move that it means; the words stay.
func meant(a Ask, f MeantForm) ([]book.Draft, []book.Refusal) {
	t, refused := toldAs(a.Book, f.Advice)
	if refused != nil {
		return nil, refused
	}
	k := a.Book.Bikes[t.Bike]
	if t.Kind != book.KindAdvice || k == nil || k.Settings[f.Adjuster] == nil || f.Steps == 0 {
		return nil, []book.Refusal{{Field: "steps", Says: "There is no move yet.", Mend: "Pick an adjuster, then how far and which way."}}
	}
	_, delta := shower{a.Book}.stepped(k.Settings[f.Adjuster], nil, f.Steps)
	id, _ := json.Marshal(f.Adjuster) // strings and fixed numbers always marshal
	far, _ := json.Marshal(delta)
	return correct(a, CorrectForm{Entry: f.Advice, Body: map[string]json.RawMessage{"adjuster": id, "delta": far}, Why: "The move that was meant"})
}

func outcome(a Ask, f OutcomeForm) ([]book.Draft, []book.Refusal) {
	if !slices.Contains([]string{"tried", "declined", "later", "asked"}, f.Result) {
		return nil, []book.Refusal{{Field: "result", Says: "What came of it?", Mend: "Choose tried, declined or later."}}
	}
	if f.Note = strings.TrimSpace(f.Note); f.Result == "asked" && f.Note == "" {
		return nil, []book.Refusal{{Field: "note", Says: "There is no question yet.", Mend: "Write what you want to know."}}
	}
	for _, k := range a.Book.Bikes {
		for _, ad := range k.Advice {
			if ad.Entry == f.Advice {
				return []book.Draft{{Kind: book.KindOutcome, Body: book.OutcomeBody{Advice: f.Advice, Result: f.Result, Note: f.Note}}}, nil
			}
		}
	}
	return nil, []book.Refusal{{Field: "advice", Says: "This advice is not in the book.", Mend: "Open 'Somebody said' and pick it again."}}
}
