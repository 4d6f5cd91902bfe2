package screen

import (
	"cmp"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// CountedArgs asks for the counting form; without an adjuster for the grid.
type CountedArgs struct {
	Bike     book.BikeID     `json:"bike"`
	Adjuster book.AdjusterID `json:"adjuster"`
}

// Counted is the form in which a position is counted, with the differences
// that were found and that nobody has owned up to.
type Counted struct {
	Bike   book.BikeID `json:"bike"`
	Groups []TileGroup `json:"groups"`
	Picked *Counting   `json:"picked,omitempty"`
	Found  []Found     `json:"found"`
	People []Choice    `json:"people"`
}

// Counting is the adjuster that is counted. Numbers are in the shown unit.
type Counting struct {
	Tile
	Unit  string      `json:"unit"`
	Way   string      `json:"way"` // "out": how its numbers are counted
	From  string      `json:"from"`
	Step  unit.Fixed  `json:"step"`
	Min   unit.Fixed  `json:"min"`
	Max   unit.Fixed  `json:"max"`
	Value *unit.Fixed `json:"value,omitempty"`
	Seen  string      `json:"seen,omitempty"` // "counted 12 Apr 10:40"

	Disputed *Dispute        `json:"disputed,omitempty"` // a count settles it
	Next     book.AdjusterID `json:"next,omitempty"`     // what is counted in the same go
}

// Found is a difference without an author: what moved, and the time in which
// it must have happened.
type Found struct {
	Entry    entry.ID        `json:"entry"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Name     string          `json:"name"`
	Title    string          `json:"title"`
	Window   string          `json:"window"`
	When     string          `json:"when"` // when it was found
}

// CountedForm is a position as it was counted; At is in the shown unit.
type CountedForm struct {
	Bike     book.BikeID     `json:"bike"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Standing book.Standing   `json:"standing"` // counted when not said
	At       *unit.Fixed     `json:"at"`
	Note     string          `json:"note"`
}

// OwnedForm gives a found difference its author.
type OwnedForm struct {
	Found  entry.ID `json:"found"`
	Turned Who      `json:"turned"`
	Idea   Who      `json:"idea"`
	Why    string   `json:"why"`
}

var (
	_ = view("counted", counted)
	_ = action("counted", countIt)
	_ = action("owned", ownIt)
)

func counted(a Ask, args CountedArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	s := shower{a.Book}
	out := Counted{Bike: k.ID, Groups: tiles(s, k), Found: foundOn(a, k), People: peopleFor(a)}
	if set, ok := k.Settings[args.Adjuster]; ok && !set.Retired {
		out.Picked = counting(a, s, set)
		out.Picked.Next = inOneGo(a, k, set.ID)
	}
	return out, nil
}

// inOneGo is the other tyre, while the gauge is in the hand: the one that was
// not looked at today.
func inOneGo(a Ask, k *book.Bike, id book.AdjusterID) book.AdjusterID {
	other := map[book.AdjusterID]book.AdjusterID{"front.pressure": "rear.pressure", "rear.pressure": "front.pressure"}[id]
	set, ok := k.Settings[other]
	if !ok || set.Retired || set.Seen != nil && sameDay(*set.Seen, a.Now) {
		return ""
	}
	return other
}

func counting(a Ask, s shower, set *book.Setting) *Counting {
	c := &Counting{
		Tile: tile(s, set), Unit: s.unitFor(set, unit.Whole(2)), Way: numbered(set), From: set.From,
		Step: s.step(set), Min: s.shown(set, set.Min), Max: s.shown(set, set.Max),
		Disputed: dispute(a, set),
	}
	if set.At != nil {
		v := s.shown(set, *set.At)
		c.Value = &v
	}
	if set.Seen != nil {
		c.Seen = string(set.Standing) + " " + s.moment(*set.Seen, a.Now)
	}
	return c
}

// foundOn are a bike's differences that nobody has owned up to, the latest first.
func foundOn(a Ask, k *book.Bike) []Found {
	s := shower{a.Book}
	out := []Found{}
	for _, set := range k.Active() {
		for _, m := range set.Line {
			if m.Kind == "found" && m.Owned == "" {
				out = append(out, found(a, s, set, m))
			}
		}
	}
	return out
}

func found(a Ask, s shower, set *book.Setting, m book.Mark) Found {
	f := Found{
		Entry: m.Entry, Adjuster: set.ID, Name: set.Name, When: s.moment(m.Wall, a.Now),
		Title: set.Name + " has moved " + s.move(set, m.From, m.To, m.Delta), Window: "At some time before " + s.moment(m.Wall, a.Now),
	}
	if m.After != nil {
		f.Window = "Between " + s.moment(*m.After, a.Now) + " and " + s.moment(m.Wall, a.Now)
	}
	return f
}

func countIt(a Ask, f CountedForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	n := book.CountBody{Bike: k.ID, Adjuster: f.Adjuster, Standing: cmp.Or(f.Standing, book.Counted), Note: f.Note}
	switch n.Standing {
	case book.Counted, book.Assumed, book.Unknown:
	default:
		return nil, []book.Refusal{{Field: "standing", Says: "How sure are you of it?", Mend: "Choose counted, assumed or don't know."}}
	}
	if set, ok := k.Settings[f.Adjuster]; ok && f.At != nil && n.Standing != book.Unknown {
		at := shower{a.Book}.typed(set, *f.At)
		n.At = &at
	}
	return []book.Draft{{Kind: book.KindCount, Body: n}}, nil
}

func ownIt(a Ask, f OwnedForm) ([]book.Draft, []book.Refusal) {
	if !isFound(a.Book, f.Found) {
		return nil, []book.Refusal{{Field: "found", Says: "There is no such difference in the book.", Mend: "Open 'Counted it' and pick it again."}}
	}
	turnedBy, newTurned := person(a, f.Turned)
	if turnedBy == "" {
		return nil, []book.Refusal{{Field: "turned", Says: "Who turned it?", Mend: "Pick a person, or 'Nobody knows'."}}
	}
	idea, newIdea := person(a, f.Idea)
	own := book.OwnBody{Found: f.Found, By: turnedBy, Idea: idea, Why: f.Why}
	return append(append(newTurned, newIdea...), book.Draft{Kind: book.KindOwn, Body: own}), nil
}

func isFound(b *book.Book, id entry.ID) bool {
	m, ok := unowned(b)[id]
	return ok && m.Owned == ""
}
