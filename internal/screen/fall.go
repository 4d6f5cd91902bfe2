package screen

import (
	"cmp"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// FallArgs asks for the fall screen of a bike.
type FallArgs struct {
	Bike book.BikeID `json:"bike"`
}

// Fall is the screen for a fall: to log one, and to get the bike straight
// after it. Stop is set while a fall is open.
type Fall struct {
	Bike   book.BikeID `json:"bike"`
	Stop   string      `json:"stop,omitempty"`
	Last   string      `json:"last,omitempty"` // the open fall in words
	Steps  []FallStep  `json:"steps"`
	Check  CheckAsk    `json:"check"` // the check that clears it
	Also   []AlsoCheck `json:"also"`  // what else a fall harms
	Sides  []Choice    `json:"sides"`
	Speeds []Choice    `json:"speeds"`
	Tracks []Choice    `json:"tracks"`
}

// FallStep is one step of getting the front end straight.
type FallStep struct {
	ID      string `json:"id"`
	Title   string `json:"title"`
	How     string `json:"how"`
	Caution string `json:"caution,omitempty"`
}

// AlsoCheck is a check to make after a fall. Since is whether it was made after it.
type AlsoCheck struct {
	Check string `json:"check"`
	Title string `json:"title"`
	Says  string `json:"says"`
	Since bool   `json:"since"`
}

var (
	fallSides  = []Choice{{"left", "Left"}, {"right", "Right"}, {"both", "Both"}}
	fallSpeeds = []Choice{{"standing", "Standing"}, {"slow", "Slow"}, {"fast", "Fast"}}
)

// straightening is how a front end that was twisted in its clamps is centred.
// Common practice, no source; torques are the service manual's.
var straightening = []FallStep{
	{"look", "Look it over first", "Look for cracks, bent parts, fluid and loose bolts. Anything bent or cracked is replaced, not straightened.", "If a bar, fork leg, wheel or frame is bent or cracked, stop here and have it seen to."},
	{"stand", "Stand it safely", "Upright and level, front wheel on the ground, somebody holding it.", "A bike that falls off its stand hurts. Engine off, key out."},
	{"loosen", "Loosen both bars and the lower clamp", "Loosen the bars' clamp bolts on both sides, and the bolts of the lower clamp, just until the parts can move. Leave the upper clamp tight so that the forks do not slip.", "Do not take any bolt out. The forks must not slide in the clamps: note their height first."},
	{"centre", "Let the front end centre itself", "Hold the front brake and press the front down firmly three or four times. Then let it rest: the wheel finds its middle.", "Keep your fingers out of the clamps."},
	{"bars", "Set the bars even", "Measure from each bar end to the same point on the frame, left and right. Make both the same.", ""},
	{"tighten", "Tighten to the manual's torque", "Tighten the lower clamp, then the bars, in the manual's order and to its torque. Use a torque wrench.", "Follow the machine's service manual and local rules. Clamps that are too tight pinch the fork; too loose, it turns."},
	{"effort", "Turn it from stop to stop", "Front wheel off the ground. Is the effort the same both ways? Are hoses and cables free, and does the throttle close by itself at both stops?", "If the throttle does not snap shut, do not ride."},
}

// alsoAfterFall are the other checks that a fall makes due.
var alsoAfterFall = []string{"head-bearings", "leaks", "alignment", "wheel-bearings", "brakes"}

var (
	_ = view("fall", fall)
	_ = action("fell", fell)
)

func fall(a Ask, args FallArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	check, _ := checkAsk(a, k, book.CheckStraight)
	out := Fall{
		Bike: k.ID, Steps: straightening, Check: check, Also: []AlsoCheck{},
		Sides: fallSides, Speeds: fallSpeeds, Tracks: trackChoices(a.Book),
	}
	last, open := k.FallOpen()
	if !open {
		return out, nil
	}
	out.Stop, out.Last = StopAfterFall, fallSays(a, last)
	if !madeAfter(a.Book, k.Checks[book.CheckStraight].Entry, last.Entry) {
		out.Check.Result, out.Check.Says, out.Check.Note = "", "", ""
	}
	for _, id := range alsoAfterFall {
		since := madeAfter(a.Book, k.Checks[id].Entry, last.Entry)
		says := "not looked at since the fall"
		if since {
			c, _ := checkAsk(a, k, id)
			says = c.Says
		}
		out.Also = append(out.Also, AlsoCheck{id, checkTitle(id), says, since})
	}
	return out, nil
}

// madeAfter reports whether an entry stands behind another in the log.
func madeAfter(b *book.Book, later, earlier entry.ID) bool {
	place := func(id entry.ID) int {
		return slices.IndexFunc(b.Told, func(t book.Told) bool { return t.Entry == id })
	}
	return later != "" && place(later) > place(earlier)
}

// fallSays puts a fall into words: "Slow fall on the left, 12 Apr".
func fallSays(a Ask, f book.Dated[book.FallBody]) string {
	words := "Fall"
	for _, s := range fallSpeeds {
		if s.ID == f.Body.Speed {
			words = s.Name + " fall"
		}
	}
	switch f.Body.Side {
	case "left", "right":
		words += " on the " + f.Body.Side
	case "both":
		words += " on both sides"
	}
	return join(words, fellOn(a, f), a.Book.Tracks[f.Body.Track].Name, f.Body.Note)
}

// fellOn is when a fall was, as well as it is known.
func fellOn(a Ask, f book.Dated[book.FallBody]) string {
	return cmp.Or(whenSaid(f.Body.When), shower{a.Book}.day(f.Wall, a.Now))
}

// FellForm logs a fall. Side and Speed may be empty: not known.
type FellForm struct {
	Bike  book.BikeID  `json:"bike"`
	When  string       `json:"when"`
	Side  string       `json:"side"`
	Speed string       `json:"speed"`
	Track book.TrackID `json:"track"`
	Note  string       `json:"note"`
}

func fell(a Ask, f FellForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	body := book.FallBody{Bike: k.ID, When: strings.TrimSpace(f.When), Side: f.Side, Speed: f.Speed, Track: f.Track, Note: f.Note}
	return []book.Draft{{Kind: book.KindFall, Body: body}}, nil
}
