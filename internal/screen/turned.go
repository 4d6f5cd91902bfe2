package screen

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// TurnedArgs asks for the form of a change: without an adjuster the grid to
// pick from, with one its steps, and with Steps what they would come to.
// Advice fills the form from what somebody said.
type TurnedArgs struct {
	Bike     book.BikeID     `json:"bike"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Steps    int             `json:"steps"`
	Advice   entry.ID        `json:"advice"`
	Symptom  entry.ID        `json:"symptom"` // with Cause: fills it from what was felt
	Cause    string          `json:"cause"`
}

// Turned is the form in which a change is logged.
type Turned struct {
	Bike   book.BikeID `json:"bike"`
	Groups []TileGroup `json:"groups"`
	Picked *Picked     `json:"picked,omitempty"`
	People []Choice    `json:"people"` // who holds the phone first
	Rider  string      `json:"rider"`  // who holds the phone
	Whys   []string    `json:"whys"`
	Advice *Prefill    `json:"advice,omitempty"`
	Try    *TryFill    `json:"try,omitempty"`
}

// TileGroup is one group of the grid.
type TileGroup struct {
	Name  string `json:"name"`
	Tiles []Tile `json:"tiles"`
}

// Tile is one adjuster in a grid, and where it stands.
type Tile struct {
	ID       book.AdjusterID `json:"id"`
	Name     string          `json:"name"`
	At       string          `json:"at"` // "9 clicks out", "not known"
	Standing book.Standing   `json:"standing"`
}

// Picked is the adjuster that was turned. Quick are the moves of one tap.
// Says is what Steps would do; Effect what that does to the bike.
type Picked struct {
	Tile
	Forth        string      `json:"forth"` // "in" or "up": steps above zero
	Back         string      `json:"back"`
	ForthIs      string      `json:"forthIs,omitempty"` // what going forth does to the bike
	BackIs       string      `json:"backIs,omitempty"`
	Quick        []QuickMove `json:"quick"`
	Says         string      `json:"says,omitempty"`
	Effect       string      `json:"effect,omitempty"`
	Geometry     string      `json:"geometry,omitempty"`     // what Steps do to the geometry
	GeometryLink string      `json:"geometryLink,omitempty"` // where to measure what is missing for that
	Outside      string      `json:"outside,omitempty"`      // why Steps cannot be
	From         string      `json:"from"`                   // where counting starts
}

// QuickMove is a move of one tap.
type QuickMove struct {
	Steps int    `json:"steps"`
	Label string `json:"label"` // "2 in"
	Name  string `json:"name"`  // "2 clicks in"
}

// Prefill is what a piece of advice brings to the form.
type Prefill struct {
	Entry    entry.ID        `json:"entry"`
	Says     string          `json:"says"`
	Adjuster book.AdjusterID `json:"adjuster,omitempty"`
	Steps    int             `json:"steps,omitempty"`
	Idea     entry.PersonID  `json:"idea"`
	Why      string          `json:"why,omitempty"`
	Expect   string          `json:"expect,omitempty"`
}

// TurnedForm is a change as a screen sends it. How far is given by one of To
// and Delta, in the adjuster's own unit, or by Steps, where steps above zero go in (or up).
// Who turned it is whoever holds the phone when not said.
type TurnedForm struct {
	Bike     book.BikeID     `json:"bike"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Steps    int             `json:"steps"`
	To       *unit.Fixed     `json:"to"`
	Delta    *unit.Fixed     `json:"delta"`
	Turned   Who             `json:"turned"`
	Idea     Who             `json:"idea"`
	Why      string          `json:"why"`
	Words    string          `json:"words"` // put behind Why
	Expect   string          `json:"expect"`
	Trial    bool            `json:"trial"`
	Advice   entry.ID        `json:"advice"`
	Back     book.BaselineID `json:"back"`
	Track    book.TrackID    `json:"track"`
	Session  book.SessionID  `json:"session"`
	Symptom  entry.ID        `json:"symptom"`
	Cause    string          `json:"cause"` // the cause that it is a test of
	Proposal string          `json:"proposal"`
}

var (
	_ = view("turned", turned)
	_ = action("turned", turnIt)
)

// groupNames are the groups of adjusters in the order of the grid.
var groupNames = []Choice{{"front", "Front"}, {"rear", "Rear"}, {"tyres", "Tyres"}, {"drive", "Chain and gearing"}, {"controls", "Controls"}}

// whys are reasons of one tap, by group; the rider's own words come on top.
var whys = map[string][]string{
	"front":    {"It dives on the brakes", "It runs wide", "It chatters", "It is harsh over bumps", "The bars shake", "It will not turn in"},
	"rear":     {"It wallows", "It steps out on the drive", "It hops on the brakes", "It is harsh over bumps", "It squats and runs wide", "It kicks"},
	"tyres":    {"It slides", "The tyre looks torn", "Other weather", "Before riding"},
	"drive":    {"It revs out too soon", "It is slow off the corner", "It was too tight", "Other track"},
	"controls": {"The bars shake", "Too heavy to steer", "It does not fit me"},
	"":         {"It does not feel right"},
}

func turned(a Ask, args TurnedArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	s := shower{a.Book}
	out := Turned{Bike: k.ID, Groups: tiles(s, k), People: peopleFor(a), Rider: string(a.holder())}
	if p := prefill(s, k, args.Advice); p != nil {
		out.Advice = p
		args.Adjuster = cmp.Or(args.Adjuster, p.Adjuster)
		if args.Adjuster == p.Adjuster {
			args.Steps = cmp.Or(args.Steps, p.Steps)
		}
	}
	if out.Try = tryFill(a, k, args.Symptom, args.Cause); out.Try != nil && args.Adjuster == "" {
		args.Adjuster, args.Steps = out.Try.Adjuster, cmp.Or(args.Steps, out.Try.Steps)
	}
	set, ok := k.Settings[args.Adjuster]
	if !ok || set.Retired {
		out.Whys = whys[""]
		return out, nil
	}
	out.Picked, out.Whys = picked(a.Book, k, set, args.Steps), append(slices.Clone(whys[set.Group]), "To try it")
	return out, nil
}

// tiles is the grid of a bike's adjusters.
func tiles(s shower, k *book.Bike) []TileGroup {
	out := []TileGroup{}
	for _, g := range groupNames {
		group := TileGroup{Name: g.Name}
		for _, set := range k.Active() {
			if set.Group == g.ID {
				group.Tiles = append(group.Tiles, tile(s, set))
			}
		}
		if len(group.Tiles) > 0 {
			out = append(out, group)
		}
	}
	return append(out, ownTiles(s, k)...)
}

// ownTiles are the rider's own additions that belong to no known group.
func ownTiles(s shower, k *book.Bike) []TileGroup {
	own := TileGroup{Name: "Your own"}
	for _, set := range k.Active() {
		if !slices.ContainsFunc(groupNames, func(g Choice) bool { return g.ID == set.Group }) {
			own.Tiles = append(own.Tiles, tile(s, set))
		}
	}
	if len(own.Tiles) == 0 {
		return nil
	}
	return []TileGroup{own}
}

func tile(s shower, set *book.Setting) Tile {
	t := Tile{ID: set.ID, Name: set.Name, Standing: set.Standing, At: "not known"}
	if set.At != nil {
		t.At = s.position(set, *set.At)
	}
	return t
}

func picked(b *book.Book, k *book.Bike, set *book.Setting, steps int) *Picked {
	s := shower{b}
	p := &Picked{Tile: tile(s, set), From: set.From, Quick: []QuickMove{}}
	p.Forth, p.Back = ways(set)
	p.ForthIs, p.BackIs = set.More, set.Less
	if set.In < 0 {
		p.ForthIs, p.BackIs = set.Less, set.More
	}
	for _, n := range []int{1, 2, 3, -1, -2, -3} {
		_, d := s.stepped(set, nil, n)
		way, size := p.Forth, d
		if n < 0 {
			way = p.Back
		}
		p.Quick = append(p.Quick, QuickMove{n, s.number(set, max(size, -size)) + " " + way, s.moved(set, d)})
	}
	if steps == 0 {
		return p
	}
	to, delta := s.stepped(set, set.At, steps)
	p.Says = set.Name + ": " + s.move(set, set.At, to, &delta)
	p.Effect = set.More
	if delta < 0 {
		p.Effect = set.Less
	}
	p.Geometry = geometryEffect(k, set.ID, set.At, to)
	if says, link := geometryWanted(k, set.ID); says != "" {
		p.Geometry, p.GeometryLink = says, link
	}
	for _, r := range b.Check(book.ChangeBody{Bike: k.ID, Adjuster: set.ID, From: set.At, To: to, Delta: &delta}) {
		p.Outside = r.Says + " " + r.Mend
	}
	return p
}

func prefill(s shower, k *book.Bike, id entry.ID) *Prefill {
	for _, ad := range k.Advice {
		if id == "" || ad.Entry != id {
			continue
		}
		p := &Prefill{Entry: id, Says: adviceTitle(s, k, ad), Idea: ad.Body.From, Why: ad.Body.Why, Expect: ad.Body.Expect, Adjuster: ad.Body.Adjuster}
		if set, ok := k.Settings[ad.Body.Adjuster]; ok && ad.Body.Delta != nil {
			p.Steps = s.stepsOf(set, *ad.Body.Delta)
		}
		return p
	}
	return nil
}

func turnIt(a Ask, f TurnedForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	set, ok := k.Settings[f.Adjuster]
	if !ok {
		return nil, []book.Refusal{{Field: "adjuster", Says: "What was turned?", Mend: "Pick it from the list."}}
	}
	to, delta := howFar(shower{a.Book}, set, f)
	turnedBy, newTurned := person(a, f.Turned)
	idea, newIdea := person(a, f.Idea)
	if f.Idea.ID == "" && f.Idea.Name != "" && f.Idea.Name == f.Turned.Name {
		idea, newIdea = turnedBy, nil
	}
	c := book.ChangeBody{
		Bike: k.ID, Adjuster: set.ID, From: set.At, To: to, Delta: delta,
		By: cmp.Or(turnedBy, a.holder()), Idea: idea, Why: join(f.Why, f.Words), Expect: f.Expect, Trial: f.Trial,
		Advice: f.Advice, Back: f.Back, Track: f.Track, Session: f.Session, Symptom: f.Symptom, Cause: f.Cause, Proposal: f.Proposal,
	}
	if c.Session == "" && c.Track == "" {
		c.Session, c.Track = whereNow(k, a.Now)
	}
	return append(slices.Concat(newTurned, newIdea), book.Draft{Kind: book.KindChange, Body: c}), nil
}

// howFar works out where a form's change leaves the adjuster, and how far it
// went. Both are nil when the form does not say.
func howFar(s shower, set *book.Setting, f TurnedForm) (to, delta *unit.Fixed) {
	switch {
	case f.To != nil:
		if set.At == nil {
			return f.To, nil
		}
		d := *f.To - *set.At
		return f.To, &d
	case f.Delta != nil:
		if set.At == nil {
			return nil, f.Delta
		}
		sum := *set.At + *f.Delta
		return &sum, f.Delta
	case f.Steps != 0:
		to, d := s.stepped(set, set.At, f.Steps)
		return to, &d
	}
	return nil, nil
}

// whereNow is today's latest session and its track: where a change that says
// nothing of it was made.
func whereNow(k *book.Bike, now time.Time) (book.SessionID, book.TrackID) {
	if len(k.Sessions) == 0 {
		return "", ""
	}
	last := k.Sessions[len(k.Sessions)-1]
	if !sameDay(last.Wall, now) {
		return "", ""
	}
	return last.Body.Session, last.Body.Track
}

// CorrectForm replaces what an entry says. Body holds the fields that change;
// the others stay as they were, and null takes one away.
type CorrectForm struct {
	Entry entry.ID                   `json:"entry"`
	Body  map[string]json.RawMessage `json:"body"`
	Why   string                     `json:"why"`
}

// StrikeForm takes an entry out of what the book adds up to.
type StrikeForm struct {
	Entry entry.ID `json:"entry"`
	Why   string   `json:"why"`
}

var (
	_ = action("strike", func(a Ask, f StrikeForm) ([]book.Draft, []book.Refusal) {
		if _, refused := toldAs(a.Book, f.Entry); refused != nil {
			return nil, refused
		}
		if strings.TrimSpace(f.Why) == "" {
			return nil, []book.Refusal{{Field: "why", Says: "Why is it struck out?", Mend: "A few words do; the book keeps both."}}
		}
		return []book.Draft{{Kind: book.KindStrike, Body: book.StrikeBody{Entry: f.Entry, Why: f.Why}}}, nil
	})
	_ = action("correct", correct)
)

func toldAs(b *book.Book, id entry.ID) (book.Told, []book.Refusal) {
	for _, t := range b.Told {
		if t.Entry != id {
			continue
		}
		if t.Struck != "" {
			return t, []book.Refusal{{Field: "entry", Says: "This line is struck out already.", Mend: "Look in the Book."}}
		}
		return t, nil
	}
	return book.Told{}, []book.Refusal{{Field: "entry", Says: "This line is not in the book.", Mend: "Open the Book and pick it again."}}
}

func correct(a Ask, f CorrectForm) ([]book.Draft, []book.Refusal) {
	t, refused := toldAs(a.Book, f.Entry)
	if refused != nil {
		return nil, refused
	}
	fields := map[string]json.RawMessage{}
	_ = json.Unmarshal(t.Body, &fields)
	for name, v := range f.Body {
		if string(v) == "null" {
			delete(fields, name)
			continue
		}
		fields[name] = v
	}
	body, _ := json.Marshal(fields) // raw messages out of a decoded object marshal again
	if refused := checkRaw(a.Book, t.Kind, body); refused != nil {
		return nil, refused
	}
	return []book.Draft{{Kind: book.KindCorrect, Body: book.CorrectBody{Entry: f.Entry, Body: body, Why: f.Why}}}, nil
}

// checkRaw asks the book about a body in its encoded form.
func checkRaw(b *book.Book, kind string, raw json.RawMessage) []book.Refusal {
	switch kind {
	case book.KindChange:
		return checkAs[book.ChangeBody](b, raw)
	case book.KindCount:
		return checkAs[book.CountBody](b, raw)
	case book.KindBaseline:
		return checkAs[book.BaselineBody](b, raw)
	case book.KindAdvice:
		return checkAs[book.AdviceBody](b, raw)
	case book.KindPerson:
		return checkAs[book.PersonBody](b, raw)
	case book.KindFall:
		return checkAs[book.FallBody](b, raw)
	case book.KindService:
		return checkAs[book.ServiceBody](b, raw)
	case book.KindSession:
		return checkAs[book.SessionBody](b, raw)
	case book.KindSymptom:
		return checkAs[book.SymptomBody](b, raw)
	case book.KindRepeat:
		return checkAs[book.RepeatBody](b, raw)
	case book.KindPhoto:
		return checkAs[book.PhotoBody](b, raw)
	case book.KindTrack:
		return checkAs[book.TrackBody](b, raw)
	case book.KindDay:
		return checkAs[book.DayBody](b, raw)
	case book.KindLaps:
		return checkAs[book.LapsBody](b, raw)
	case book.KindTyres:
		return checkAs[book.TyresBody](b, raw)
	case book.KindInterval:
		return checkAs[book.IntervalBody](b, raw)
	}
	return nil
}

func checkAs[B any](b *book.Book, raw json.RawMessage) []book.Refusal {
	var body B
	if refused := decode(raw, &body); refused != nil {
		return refused
	}
	return b.Check(body)
}
