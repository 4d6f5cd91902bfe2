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

// WayBackArgs asks for the way back to a line, the one in force when empty.
type WayBackArgs struct {
	Bike     book.BikeID     `json:"bike"`
	Baseline book.BaselineID `json:"baseline"`
}

// WayBack is the moves that take the bike back to a line.
type WayBack struct {
	Bike     book.BikeID     `json:"bike"`
	Line     book.BaselineID `json:"line"` // "" when no line is drawn yet
	LineName string          `json:"lineName"`
	Drawn    string          `json:"drawn,omitempty"`
	Lines    []Choice        `json:"lines"` // newest first
	Moves    []BackMove      `json:"moves"`
	Done     []BackDone      `json:"done"`   // ticked today
	Not      []string        `json:"not"`    // adjusters that the line does not know
	Draw     DrawLine        `json:"draw"`   // what a line drawn now would hold
	Tracks   []Choice        `json:"tracks"` // a line may belong to one
}

// BackMove is one move, in physical words. Unknown: it must be counted first.
type BackMove struct {
	Adjuster book.AdjusterID `json:"adjuster"`
	Name     string          `json:"name"`
	Says     string          `json:"says"` // "3 clicks in, from 12 to 9 out"
	Sure     string          `json:"sure"` // "Count from fully closed to be sure."
	Sentence string          `json:"sentence"`
	To       unit.Fixed      `json:"to"` // in the adjuster's unit, for the action "turned"
	Unknown  bool            `json:"unknown,omitempty"`
}

// BackDone is a move that was ticked; striking Entry takes the tick back.
type BackDone struct {
	Entry entry.ID `json:"entry"`
	Says  string   `json:"says"`
}

// DrawLine says what a line drawn now would hold.
type DrawLine struct {
	Says     string   `json:"says"`
	Unknown  []string `json:"unknown"` // adjusters that would not be in it
	Possible bool     `json:"possible"`
}

// BaselineForm draws a line through where everything stands now. With
// Baseline it draws an old one anew, or drops it.
type BaselineForm struct {
	Bike     book.BikeID     `json:"bike"`
	Baseline book.BaselineID `json:"baseline"`
	Name     string          `json:"name"`
	Track    book.TrackID    `json:"track"`
	Note     string          `json:"note"`
	Dropped  bool            `json:"dropped"`
}

var (
	_ = view("wayback", wayBack)
	_ = action("baseline", drawLine)
)

func wayBack(a Ask, args WayBackArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	s := shower{a.Book}
	out := WayBack{
		Bike: k.ID, Lines: []Choice{}, Moves: []BackMove{}, Done: []BackDone{}, Not: []string{},
		Draw: drawable(k), Tracks: trackChoices(a.Book),
	}
	for _, l := range slices.Backward(k.Baselines) {
		out.Lines = append(out.Lines, Choice{string(l.ID), l.Name})
	}
	line, ok := k.Line()
	if args.Baseline != "" {
		line, ok = k.Baseline(args.Baseline)
	}
	if !ok {
		return out, nil
	}
	out.Line, out.LineName, out.Drawn = line.ID, line.Name, s.day(line.Wall, a.Now)
	for _, m := range k.WayBack(line) {
		out.Moves = append(out.Moves, backMove(s, k.Settings[m.Adjuster], m))
	}
	for _, set := range k.Active() {
		if _, known := line.At[set.ID]; !known {
			out.Not = append(out.Not, set.Name)
		}
	}
	out.Done = tickedToday(a, k, line.ID)
	return out, nil
}

func backMove(s shower, set *book.Setting, m book.Move) BackMove {
	b := BackMove{Adjuster: set.ID, Name: set.Name, To: m.To, Unknown: m.From == nil}
	if b.Unknown {
		b.Says = "set it to " + s.position(set, m.To) + "; where it stands now is not known"
		b.Sure = setFrom(s, set)
	} else {
		b.Says, b.Sure = s.move(set, m.From, &m.To, &m.Delta), s.sure(set)
	}
	b.Sentence = set.Name + ": " + b.Says + "; " + b.Sure
	b.Sure = capital(b.Sure) + "."
	return b
}

// setFrom says how to set what nobody knows the position of.
func setFrom(s shower, set *book.Setting) string {
	if set.Unit == "click" || set.Unit == "turn" {
		return strings.TrimSuffix(s.sure(set), " to be sure")
	}
	return "measure it as you set it"
}

// tickedToday are the moves towards a line that were made today.
func tickedToday(a Ask, k *book.Bike, line book.BaselineID) []BackDone {
	s := shower{a.Book}
	out := []BackDone{}
	for _, t := range a.Book.Told {
		if t.Kind != book.KindChange || t.Struck != "" || t.Bike != k.ID || !sameDay(t.Wall, a.Now) {
			continue
		}
		var c book.ChangeBody
		if json.Unmarshal(t.Body, &c) != nil || c.Back != line || k.Settings[c.Adjuster] == nil {
			continue
		}
		set := k.Settings[c.Adjuster]
		out = append(out, BackDone{t.Entry, set.Name + ": " + s.move(set, c.From, c.To, c.Delta)})
	}
	return out
}

func drawable(k *book.Bike) DrawLine {
	d := DrawLine{Unknown: []string{}}
	known := 0
	for _, set := range k.Active() {
		if set.At == nil {
			d.Unknown = append(d.Unknown, set.Name)
			continue
		}
		known++
	}
	d.Possible = known > 0
	d.Says = "It holds " + many(known, "setting") + " as they stand now."
	if !d.Possible {
		d.Says = "Nothing is known yet. Count at least one adjuster first."
	}
	return d
}

func drawLine(a Ask, f BaselineForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	n := book.BaselineBody{Bike: k.ID, Baseline: f.Baseline, Name: strings.TrimSpace(f.Name), Track: f.Track, Note: f.Note, Dropped: f.Dropped}
	if f.Dropped {
		old, ok := k.Baseline(f.Baseline)
		if !ok {
			return nil, []book.Refusal{{Field: "baseline", Says: "This line is not in the book.", Mend: "Pick it again."}}
		}
		n.Name, n.At = cmp.Or(n.Name, old.Name), old.At
		return []book.Draft{{Kind: book.KindBaseline, Body: n}}, nil
	}
	if n.Baseline == "" {
		n.Baseline = book.BaselineID(a.Mint())
	}
	n.At = k.SnapshotLine()
	if len(n.At) == 0 {
		return nil, []book.Refusal{{Field: "at", Says: "There is nothing to draw a line through yet.", Mend: "Count at least one adjuster first."}}
	}
	return []book.Draft{{Kind: book.KindBaseline, Body: n}}, nil
}
