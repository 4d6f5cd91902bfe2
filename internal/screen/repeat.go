package screen

import (
	"cmp"
	"fmt"
	"slices"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
	"plumbline/internal/entry"
)

// RepeatArgs asks for the card of a symptom.
type RepeatArgs struct {
	Bike    book.BikeID `json:"bike"`
	Symptom entry.ID    `json:"symptom"`
}

// RepeatCard is what to do in the next session to bring a symptom about on
// purpose: where, how, at what effort, what to watch for, how many passes.
// State is "" before it is taken as a task, "set", "done" or "dropped".
type RepeatCard struct {
	Bike    book.BikeID `json:"bike"`
	Symptom entry.ID    `json:"symptom"`
	Title   string      `json:"title"`
	When    string      `json:"when"` // when it was felt, and where
	State   string      `json:"state"`
	Stops   []Notice    `json:"stops"`          // of the bike: then nobody rides
	Dont    string      `json:"dont,omitempty"` // why it is not to be asked for
	Where   string      `json:"where"`
	How     string      `json:"how"`
	Effort  string      `json:"effort"`
	Watch   string      `json:"watch"`
	Passes  int         `json:"passes"`
	Stop    string      `json:"stop"` // when to stop at once
	After   string      `json:"after"`
	Came    string      `json:"came,omitempty"` // what came of it
}

// RepeatForm takes a symptom as a task, says what came of it, or drops it.
// Do is "take", "done" or "drop". Away says that it also went away when the
// rider did the opposite.
type RepeatForm struct {
	Bike    book.BikeID `json:"bike"`
	Symptom entry.ID    `json:"symptom"`
	Do      string      `json:"do"`
	Passes  int         `json:"passes"`
	Came    int         `json:"came"`
	Away    bool        `json:"away"`
	Note    string      `json:"note"`
}

var (
	_ = view("repeat", repeatCard)
	_ = action("repeat", repeatIt)
)

func repeatCard(a Ask, args RepeatArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	n, ok := k.Symptom(args.Symptom)
	if !ok {
		return nil, []book.Refusal{{Field: "symptom", Says: "This symptom is not in the book.", Mend: "Pick one of those that you wrote down."}}
	}
	return cardOf(a, k, n), nil
}

// cardOf is a symptom's card. What is dangerous to ask for, by itself or
// because a fault is likely behind it, gets the reason instead.
func cardOf(a Ask, k *book.Bike, n book.Dated[book.SymptomBody]) RepeatCard {
	out := RepeatCard{
		Bike: k.ID, Symptom: n.Entry, Title: symptomTitle(n.Body), Stops: stops(a, k),
		When: join(shower{a.Book}.moment(n.Wall, a.Now), a.Book.Tracks[n.Body.Track].Name, n.Body.Corner),
	}
	place := join(n.Body.Corner, a.Book.Tracks[n.Body.Track].Name)
	card := cardFor(n.Body, place)
	out.Where, out.How, out.Effort, out.Watch = capital(card.Where), card.How, card.Effort, card.Watch
	out.Passes, out.Stop, out.After, out.Dont = card.Passes, card.Stop, card.After, card.Dont
	if first := faultFirst(a, k, n); out.Dont == "" && first != "" {
		out.Dont, out.Passes = first, 0
	}
	if task, ok := k.Task(n.Entry); ok {
		out.State, out.Passes = cmp.Or(task.Body.Result, "set"), cmp.Or(task.Body.Passes, out.Passes)
		if task.Body.Result == "done" {
			out.Came = capital(cameInPasses(task.Body)) + ": " + repeatWords[n.Body.Repeat] + "."
		}
	}
	return out
}

// cardFor is the engine's card for the finding of a symptom that is riskiest
// to ask for, or the first that can be felt; the whole lap's when it holds
// none.
func cardFor(n book.SymptomBody, place string) diagnosis.Card {
	var first diagnosis.Card
	for _, f := range diagnosis.Load().Findings() {
		if n.Findings[f.ID] != "yes" {
			continue
		}
		card, ok := diagnosis.Load().RepeatCard(f.ID, place)
		if ok && card.Dont != "" {
			return card
		}
		if ok && first.Finding == "" {
			first = card
		}
	}
	if first.Finding == "" {
		return diagnosis.Card{
			Where: cmp.Or(place, "the whole lap"), How: "Ride three even laps at a pace you could hold all day.", Effort: "Seven tenths of your usual pace.",
			Watch: "Watch on which lap and in which corner it comes.", Passes: 3, Stop: "Stop at once if it frightens you, or if anything knocks, leaks or scrapes.",
			After: "Count on how many of 3 passes it came.",
		}
	}
	return first
}

// faultFirst is why a symptom is not to be asked for before a check: a fault
// that forbids riding may be behind it.
func faultFirst(a Ask, k *book.Bike, n book.Dated[book.SymptomBody]) string {
	c, _ := caseOf(a, k, argsOf(n))
	if len(c.Findings) == 0 {
		return ""
	}
	network, _ := learnedBy(k)
	answer := diagnoseCase(network, c)
	if answer.Stop != nil {
		return answer.Stop.Words
	}
	if f := answer.First; f != nil && causesByID()[f.Cause].Stop != "" {
		return "Check this first: " + f.How + " It may be: " + f.Title + "."
	}
	return ""
}

func repeatIt(a Ask, f RepeatForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	n, ok := k.Symptom(f.Symptom)
	if !ok {
		return nil, []book.Refusal{{Field: "symptom", Says: "This symptom is not in the book.", Mend: "Pick one of those that you wrote down."}}
	}
	body := book.RepeatBody{Bike: k.ID, Symptom: f.Symptom, Passes: f.Passes, Note: f.Note}
	switch f.Do {
	case "take":
		card := cardOf(a, k, n)
		if card.Dont != "" || len(card.Stops) > 0 {
			return nil, []book.Refusal{{Field: "do", Says: "This is not to be asked for on purpose now.", Mend: "Clear what stands above first."}}
		}
		body.Passes = cmp.Or(f.Passes, card.Passes)
	case "done":
		body.Result, body.Came = "done", f.Came
		body.Session, _ = whereNow(k, a.Now)
		if f.Came > 0 {
			body.Repeat = bookRepeat(diagnosis.RepeatOf(f.Came, f.Passes, f.Away))
		}
	case "drop":
		body.Result, body.Passes = "dropped", 0
	default:
		return nil, []book.Refusal{{Field: "do", Says: "Take it, say what came of it, or drop it?", Mend: "Choose one."}}
	}
	return []book.Draft{{Kind: book.KindRepeat, Body: body}}, nil
}

// bookRepeat is the engine's word for how often a symptom comes, in the book's.
func bookRepeat(word string) string {
	for ours, theirs := range repeatIDs {
		if theirs == word {
			return ours
		}
	}
	return ""
}

// tasks are the symptoms to bring about in the next session.
func tasks(a Ask, k *book.Bike) []RepeatCard {
	out := []RepeatCard{}
	for _, r := range k.Repeats {
		n, ok := k.Symptom(r.Body.Symptom)
		if ok && r.Body.Result == "" {
			out = append(out, cardOf(a, k, n))
		}
	}
	return out
}

// repeatTold says a task, or what came of it, in history's words.
func repeatTold(_ book.Told, l *HistoryLine, n book.RepeatBody) {
	switch n.Result {
	case "":
		l.Title, l.Detail = "Task: bring it about on purpose", passes(n.Passes)
	case "done":
		l.Title, l.Detail = "Tried on purpose", join(cameInPasses(n), n.Note)
	default:
		l.Title, l.Detail = "Task dropped", n.Note
	}
}

// cameInPasses says how often a symptom came when it was tried.
func cameInPasses(n book.RepeatBody) string {
	return fmt.Sprintf("it came in %d of %s", n.Came, passes(n.Passes))
}

// passes counts runs through a place.
func passes(n int) string {
	if n == 1 {
		return "1 pass"
	}
	return fmt.Sprintf("%d passes", n)
}

// SymptomsArgs asks for what a bike did before.
type SymptomsArgs struct {
	Bike  book.BikeID  `json:"bike"`
	Track book.TrackID `json:"track"`
}

// Symptoms is the sheet of what was felt, the latest first.
type Symptoms struct {
	Bike   book.BikeID   `json:"bike"`
	Tracks []Choice      `json:"tracks"` // where anything was felt
	Lines  []SymptomLine `json:"lines"`
}

// SymptomLine is one symptom of the book; Form is what was said, to be looked
// at again.
type SymptomLine struct {
	Entry    entry.ID `json:"entry"`
	Title    string   `json:"title"`
	When     string   `json:"when"`
	Where    string   `json:"where"`
	Often    string   `json:"often"`
	Findings []string `json:"findings"`
	Tried    []string `json:"tried"` // what was turned because of it, and what came of that
	Task     string   `json:"task,omitempty"`
	Once     bool     `json:"once,omitempty"` // worth bringing about on purpose
	Form     WhyArgs  `json:"form"`
}

var _ = view("symptoms", symptoms)

func symptoms(a Ask, args SymptomsArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	out := Symptoms{Bike: k.ID, Tracks: []Choice{}, Lines: []SymptomLine{}}
	for _, n := range slices.Backward(k.Symptoms) {
		track := Choice{string(n.Body.Track), a.Book.Tracks[n.Body.Track].Name}
		if track.ID != "" && !slices.Contains(out.Tracks, track) {
			out.Tracks = append(out.Tracks, track)
		}
		if args.Track == "" || args.Track == n.Body.Track {
			out.Lines = append(out.Lines, symptomLine(a, k, n))
		}
	}
	return out, nil
}

func symptomLine(a Ask, k *book.Bike, n book.Dated[book.SymptomBody]) SymptomLine {
	b := n.Body
	l := SymptomLine{
		Entry: n.Entry, Title: capital(symptomTitle(b)), When: shower{a.Book}.moment(n.Wall, a.Now), Where: join(a.Book.Tracks[b.Track].Name, b.Corner, handedWords[b.Side]),
		Often: repeatWords[b.Repeat], Findings: []string{}, Tried: []string{}, Form: argsOf(n),
	}
	for _, f := range diagnosis.Load().Findings() {
		switch b.Findings[f.ID] {
		case "yes":
			l.Findings = append(l.Findings, f.Words)
		case "no":
			l.Findings = append(l.Findings, "Not so: "+f.Words)
		}
	}
	for _, t := range k.Trials {
		if t.Body.Symptom == n.Entry {
			l.Tried = append(l.Tried, trialTitle(shower{a.Book}, k, t)+": "+cmp.Or(verdictWords[t.Verdict], "no verdict yet"))
		}
	}
	task, ok := k.Task(n.Entry)
	switch {
	case ok && task.Body.Result == "":
		l.Task = "The task of the next session."
	case ok && task.Body.Result == "done":
		l.Task = "Tried on purpose: " + cameInPasses(task.Body) + "."
	}
	l.Once = b.Repeat == "once" && !ok
	return l
}

// handedWords say in which corners it comes.
var handedWords = map[string]string{"left": "left-handers only", "right": "right-handers only"}
