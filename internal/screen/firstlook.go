package screen

import (
	"cmp"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// FirstLookArgs asks for a step of the first look, such as "fact:fell"; empty
// is the first that has no answer.
type FirstLookArgs struct {
	Bike book.BikeID `json:"bike"`
	Step string      `json:"step"`
}

// FirstLook is the guided first look. Nothing of it is kept apart: a step is
// answered when the book holds its answer, so it can be left anywhere and is
// taken up where it stands, on any phone.
type FirstLook struct {
	Bike    book.BikeID    `json:"bike"`
	Started bool           `json:"started"`
	Rider   entry.PersonID `json:"rider"`
	Done    int            `json:"done"`
	Total   int            `json:"total"`
	Says    string         `json:"says"` // "9 of 40 answered"
	Stages  []LookStage    `json:"stages"`
	Now     *LookNow       `json:"now,omitempty"` // nil when all is answered
	People  []Choice       `json:"people"`
}

// LookStage is a part of the first look.
type LookStage struct {
	ID    string     `json:"id"`
	Title string     `json:"title"`
	Says  string     `json:"says"` // "3 of 8"
	Done  bool       `json:"done"`
	Steps []LookStep `json:"steps"`
}

// LookStep is one question; Answer says what the book holds for it.
type LookStep struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Done   bool   `json:"done"`
	Answer string `json:"answer,omitempty"`
}

// LookNow is the step that is asked. One of Start, Fact, Check, Count and Line
// is set. Next is the step behind it, "" at the end.
type LookNow struct {
	LookStep
	Stage string     `json:"stage"`
	Back  string     `json:"back,omitempty"`
	Next  string     `json:"next,omitempty"`
	Start *StartForm `json:"start,omitempty"`
	Fact  *FactAsk   `json:"fact,omitempty"`
	Check *CheckAsk  `json:"check,omitempty"`
	Count *Counting  `json:"count,omitempty"`
	Line  *DrawLine  `json:"line,omitempty"`
}

// FactAsk is a question about the bike's history. When says whether a date is
// asked for, Who whether a person is.
type FactAsk struct {
	Fact    string   `json:"fact"`
	Title   string   `json:"title"`
	Why     string   `json:"why"`
	Options []Choice `json:"options"`
	When    bool     `json:"when,omitempty"`
	Who     bool     `json:"who,omitempty"`
	Answer  string   `json:"answer,omitempty"`
	Date    string   `json:"date,omitempty"`

	Person entry.PersonID `json:"person,omitempty"` // who did it
	Note   string         `json:"note,omitempty"`
}

var (
	dontKnow   = Choice{"unknown", "Don't know"}
	yesOrNo    = []Choice{{"yes", "Yes"}, {"no", "No"}, dontKnow}
	serviceAge = []Choice{{"year", "Within a year"}, {"older", "Longer ago"}, {"never", "Not since I have it"}, dontKnow}
)

// lookFacts are the questions that a good technician asks before touching
// anything. Common practice, no source.
var lookFacts = []FactAsk{
	{Fact: "fell", Title: "Has this bike ever fallen?", Why: "A tip-over on the stand counts. It can turn the forks in their clamps.", Options: yesOrNo, When: true},
	{Fact: "realigned-after-fall", Title: "After the fall: was the front end loosened and centred?", Why: "If nobody loosened it, it may still be twisted. The round that follows shows it.", Options: yesOrNo, When: true, Who: true},
	{Fact: "fork-oil", Title: "When was the fork's oil changed?", Why: "Old oil is thin: the clicks then do less than they should.", Options: serviceAge, When: true, Who: true},
	{Fact: "fork-seals", Title: "When were the fork seals changed?", Why: "A sticky or leaking seal feels like a bad setting.", Options: serviceAge, When: true, Who: true},
	{Fact: "shock-oil", Title: "When was the shock serviced?", Why: "A tired shock pumps and wallows, whatever you click.", Options: serviceAge, When: true, Who: true},
	{Fact: "gearing-changed", Title: "Was the gearing ever changed?", Why: "Other sprockets move the rear wheel and change how the chain pulls on the suspension.", Options: yesOrNo, When: true},
	{Fact: "forks-moved", Title: "Were the forks moved in the clamps?", Why: "A few millimetres change how quickly it steers.", Options: yesOrNo, When: true, Who: true},
	{Fact: "who-adjusted", Title: "Who has adjusted it?", Why: "Not to blame anyone: to know whom to ask.", Options: []Choice{{"me", "Only me"}, {"one", "One other person"}, {"many", "Several people"}, {"nobody", "Nobody"}, dontKnow}, Who: true},
	{Fact: "ridden-where", Title: "Where do you ride it?", Why: "A road bike on a track asks for other settings than a race bike.", Options: []Choice{{"track", "Track only"}, {"both", "Road and track"}, {"road", "Road only"}, dontKnow}},
	{Fact: "bumpy", Title: "How bumpy is it there?", Why: "Bumps want softer, quicker suspension.", Options: []Choice{{"smooth", "Smooth"}, {"some", "Some bumps"}, {"bumpy", "Bumpy"}, dontKnow}},
}

var _ = view("firstlook", firstLook)

func firstLook(a Ask, args FirstLookArgs) (any, []book.Refusal) {
	out := FirstLook{Rider: a.Book.Rider, Stages: []LookStage{}, People: peopleFor(a)}
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil && args.Bike != "" {
		return nil, refused
	}
	if k == nil {
		start := LookStep{ID: "start", Title: "You and your bike"}
		out.Stages, out.Total, out.Says = []LookStage{{ID: "start", Title: start.Title, Says: "0 of 1", Steps: []LookStep{start}}}, 1, "Nothing in the book yet"
		out.Now = &LookNow{LookStep: start, Stage: start.Title, Start: &StartForm{}}
		return out, nil
	}
	out.Bike, out.Started = k.ID, true
	out.Stages = lookStages(a, k)
	out.Done, out.Total = answered(out.Stages)
	out.Says = many(out.Done, "step") + " of " + unit.Whole(out.Total).String() + " answered"
	out.Now = lookNow(a, k, out.Stages, args.Step)
	return out, nil
}

// answered counts the steps that have an answer, and all of them.
func answered(stages []LookStage) (done, total int) {
	for _, g := range stages {
		for _, s := range g.Steps {
			total++
			if s.Done {
				done++
			}
		}
	}
	return done, total
}

func lookStages(a Ask, k *book.Bike) []LookStage {
	s := shower{a.Book}
	who := join(k.Name, riderName(a.Book))
	if k.RiderKg != nil {
		who = join(who, s.mass(*k.RiderKg)+" in kit")
	}
	start := LookStep{ID: "start", Title: "You and your bike", Done: true, Answer: who}
	line := LookStep{ID: "line", Title: "Draw the first line"}
	if l, ok := k.Line(); ok {
		line.Done, line.Answer = true, l.Name
	}
	return []LookStage{
		stage("start", "You and your bike", []LookStep{start}),
		stage("history", "What happened to it", factSteps(k)),
		stage("round", "Straight and safe", checkSteps(a, k)),
		stage("count", "Count what is set", countSteps(s, k)),
		stage("line", "The first line", []LookStep{line}),
	}
}

func stage(id, title string, steps []LookStep) LookStage {
	done := 0
	for _, s := range steps {
		if s.Done {
			done++
		}
	}
	says := unit.Whole(done).String() + " of " + unit.Whole(len(steps)).String()
	return LookStage{ID: id, Title: title, Says: says, Done: done == len(steps), Steps: steps}
}

// factSteps are the questions that make sense for a bike: one that never fell
// need not have been centred.
func factSteps(k *book.Bike) []LookStep {
	out := []LookStep{}
	for _, q := range lookFacts {
		if q.Fact == "realigned-after-fall" && k.Facts["fell"].Body.Answer == "no" {
			continue
		}
		f, ok := k.Facts[q.Fact]
		out = append(out, LookStep{ID: "fact:" + q.Fact, Title: q.Title, Done: ok, Answer: factAnswer(q, f.Body)})
	}
	return out
}

// factAnswer says an answer in the question's own words.
func factAnswer(q FactAsk, f book.FactBody) string {
	if f.Answer == "" {
		return ""
	}
	words := capital(spaced(f.Answer))
	for _, o := range q.Options {
		if o.ID == f.Answer {
			words = o.Name
		}
	}
	return join(words, whenSaid(f.When), f.Note)
}

func checkSteps(a Ask, k *book.Bike) []LookStep {
	out := []LookStep{}
	for _, c := range roundChecks {
		ask, _ := checkAsk(a, k, c.Check)
		out = append(out, LookStep{ID: "check:" + c.Check, Title: checkTitle(c.Check), Done: ask.Result != "", Answer: ask.Says})
	}
	return out
}

func countSteps(s shower, k *book.Bike) []LookStep {
	out := []LookStep{}
	for _, set := range k.Active() {
		step := LookStep{ID: "count:" + string(set.ID), Title: set.Name, Done: len(set.Line) > 0}
		switch {
		case set.At != nil:
			step.Answer = s.position(set, *set.At)
		case step.Done:
			step.Answer = "not known"
		}
		out = append(out, step)
	}
	return out
}

// lookNow finds the step with an id, or the first without an answer.
func lookNow(a Ask, k *book.Bike, stages []LookStage, id string) *LookNow {
	type placed struct {
		LookStep
		stage string
	}
	var all []placed
	for _, g := range stages {
		for _, s := range g.Steps {
			all = append(all, placed{s, g.Title})
		}
	}
	i := slices.IndexFunc(all, func(p placed) bool { return p.ID == id })
	if i < 0 {
		i = slices.IndexFunc(all, func(p placed) bool { return !p.Done })
	}
	if i < 0 {
		return nil
	}
	now := &LookNow{LookStep: all[i].LookStep, Stage: all[i].stage}
	if i > 0 {
		now.Back = all[i-1].ID
	}
	if i+1 < len(all) {
		now.Next = all[i+1].ID
	}
	fillNow(a, k, now)
	return now
}

func fillNow(a Ask, k *book.Bike, now *LookNow) {
	kind, id, _ := strings.Cut(now.ID, ":")
	switch kind {
	case "start":
		now.Start = startAgain(a, k)
	case "fact":
		now.Fact = factAsk(k, id)
	case "check":
		if c, ok := checkAsk(a, k, id); ok {
			now.Check = &c
		}
	case "count":
		now.Count = counting(a, shower{a.Book}, k.Settings[book.AdjusterID(id)])
	case "line":
		d := drawable(k)
		now.Line = &d
	}
}

func factAsk(k *book.Bike, id string) *FactAsk {
	i := slices.IndexFunc(lookFacts, func(q FactAsk) bool { return q.Fact == id })
	if i < 0 {
		return nil
	}
	q := lookFacts[i]
	f := k.Facts[id].Body
	q.Answer, q.Date, q.Note, q.Person = f.Answer, f.When, f.Note, f.Who
	return &q
}

// FactForm answers a question about the bike's history.
type FactForm struct {
	Bike   book.BikeID `json:"bike"`
	Fact   string      `json:"fact"`
	Answer string      `json:"answer"`
	When   string      `json:"when"`
	Who    Who         `json:"who"`
	Note   string      `json:"note"`
}

// StartForm puts the rider and the bike into the book. Weight is in the unit
// that Units choose for mass, kg when they choose none.
type StartForm struct {
	Book   string            `json:"book,omitempty"`
	Rider  string            `json:"rider"`
	Weight *unit.Fixed       `json:"weight,omitempty"`
	Device string            `json:"device,omitempty"`
	Name   string            `json:"name"`
	Year   int               `json:"year,omitempty"`
	Class  string            `json:"class,omitempty"`
	Tyres  string            `json:"tyres,omitempty"`
	Units  map[string]string `json:"units,omitempty"`
}

var (
	_ = action("start", start)
	_ = action("fact", answerFact)
)

// startAgain is the start form filled with what the book holds.
func startAgain(a Ask, k *book.Bike) *StartForm {
	f := &StartForm{Book: a.Book.Name, Rider: a.Book.People[a.Book.Rider].Name, Name: k.Name, Year: k.Year, Class: k.Class, Tyres: k.Tyres, Units: a.Book.Units}
	if k.RiderKg != nil {
		w := massShown(a.Book.Units["mass"], *k.RiderKg)
		f.Weight = &w
	}
	return f
}

// start writes the book's first entries, or mends them when there is a bike
// already: going back to the first step must not make a second bike.
func start(a Ask, f StartForm) ([]book.Draft, []book.Refusal) {
	name := strings.TrimSpace(f.Name)
	if name == "" {
		return nil, []book.Refusal{{Field: "name", Says: "Your bike has no name yet.", Mend: "Type what you call it."}}
	}
	bike, fresh := book.BikeID(""), len(a.Book.BikeOrder) == 0
	if fresh {
		bike = book.BikeID(a.Mint())
	} else {
		bike = a.Book.BikeOrder[0]
	}
	rider := a.Book.Rider
	if rider == "" {
		rider = entry.PersonID(a.Mint())
	}
	body := book.BikeBody{Bike: bike, Name: name, Year: f.Year, Class: f.Class, Tyres: f.Tyres, Rider: massTyped(f.Units["mass"], f.Weight)}
	if refused := renamed(a.Book.Check(body), "rider", "weight"); len(refused) > 0 {
		return nil, refused
	}
	drafts := []book.Draft{
		{Kind: book.KindBook, Body: book.BookBody{Name: cmp.Or(strings.TrimSpace(f.Book), name), Rider: rider, Units: f.Units}},
		{Kind: book.KindPerson, Body: book.PersonBody{Person: rider, Name: cmp.Or(strings.TrimSpace(f.Rider), "Rider"), Role: "rider"}},
	}
	if fresh {
		drafts = append(drafts, book.Draft{Kind: book.KindDevice, Body: book.DeviceBody{Name: f.Device, Holder: rider}})
	}
	drafts = append(drafts, book.Draft{Kind: book.KindBike, Body: body})
	if !fresh {
		return drafts, nil
	}
	return append(drafts, standardDrafts(bike)...), nil
}

func standardDrafts(bike book.BikeID) []book.Draft {
	var out []book.Draft
	for _, n := range book.Standard(bike) {
		out = append(out, book.Draft{Kind: book.KindAdjuster, Body: n})
	}
	return out
}

// renamed moves refusals from a body's field to the form's.
func renamed(refused []book.Refusal, from, to string) []book.Refusal {
	for i := range refused {
		if refused[i].Field == from {
			refused[i].Field = to
		}
	}
	return refused
}

// massTyped is kg for a mass in the chosen unit, nil for none.
func massTyped(choice string, n *unit.Fixed) *unit.Fixed {
	if n == nil || choice != "lb" {
		return n
	}
	kg, ok := unit.FixedOf(n.Float() * kgPerLb)
	if !ok {
		return n
	}
	return &kg
}

// massShown is a mass in the chosen unit, to a tenth.
func massShown(choice string, kg unit.Fixed) unit.Fixed {
	if choice != "lb" {
		return kg
	}
	lb, _ := unit.FixedOf(kg.Float() / kgPerLb)
	return (lb + 50) / 100 * 100
}

func answerFact(a Ask, f FactForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	if f.Fact == "" || f.Answer == "" {
		return nil, []book.Refusal{{Field: "answer", Says: "There is no answer yet.", Mend: "Pick one, or 'Don't know'."}}
	}
	if q := factAsk(k, f.Fact); q != nil && !slices.ContainsFunc(q.Options, func(o Choice) bool { return o.ID == f.Answer }) {
		return nil, []book.Refusal{{Field: "answer", Says: "That is not one of the answers.", Mend: "Pick one, or 'Don't know'."}}
	}
	who, drafts := person(a, f.Who)
	body := book.FactBody{Bike: k.ID, Fact: f.Fact, Answer: f.Answer, When: strings.TrimSpace(f.When), Who: who, Note: f.Note}
	return append(drafts, book.Draft{Kind: book.KindFact, Body: body}), nil
}
