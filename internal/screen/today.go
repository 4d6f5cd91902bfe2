package screen

import (
	"fmt"
	"time"

	"plumbline/internal/book"
)

// TodayArgs picks the bike, the book's first when empty.
type TodayArgs struct {
	Bike book.BikeID `json:"bike"`
}

// Today is the bike's standing at a glance. HasBike is false in a book that
// has none yet; then the first look is the only thing to offer.
type Today struct {
	HasBike  bool         `json:"hasBike"`
	Bike     book.BikeID  `json:"bike,omitempty"`
	BikeName string       `json:"bikeName,omitempty"`
	Example  bool         `json:"example,omitempty"`
	Stops    []Notice     `json:"stops"` // do not ride until …
	Due      []Notice     `json:"due"`   // before riding
	Standing Standing     `json:"standing"`
	Drift    *DriftNow    `json:"drift,omitempty"`
	Plumb    *Plumb       `json:"plumb,omitempty"` // against the line, once one is drawn
	Trials   []OnTrial    `json:"trials"`
	Found    []Found      `json:"found"`
	Tasks    []RepeatCard `json:"tasks"`  // symptoms to bring about on purpose in the next session
	Advice   int          `json:"advice"` // pieces that are still open
}

// Notice is something that wants doing, and where.
type Notice struct {
	Title string `json:"title"`
	Says  string `json:"says"`
	Href  string `json:"href"`
	Act   string `json:"act"` // the link's words
}

// Standing counts how well the settings are known.
type Standing struct {
	Counted int    `json:"counted"`
	Assumed int    `json:"assumed"`
	Unknown int    `json:"unknown"`
	Says    string `json:"says"`
}

// DriftNow is how the bike stands to the line in force.
type DriftNow struct {
	Line  string   `json:"line"`
	Moved int      `json:"moved"`
	Says  string   `json:"says"`
	List  []string `json:"list"` // the moved ones, in words
}

var _ = view("today", today)

func today(a Ask, args TodayArgs) (any, []book.Refusal) {
	out := Today{Stops: []Notice{}, Due: []Notice{}, Trials: []OnTrial{}, Found: []Found{}, Tasks: []RepeatCard{}, Example: a.Book.Example}
	if len(a.Book.BikeOrder) == 0 {
		return out, nil
	}
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	s := shower{a.Book}
	out.HasBike, out.Bike, out.BikeName = true, k.ID, k.Name
	out.Stops, out.Due = stops(a, k), due(a, k)
	out.Standing, out.Drift = standing(k), driftNow(s, k)
	out.Found, out.Tasks, out.Trials = foundOn(a, k), tasks(a, k), trialsOnToday(a, k)
	if plumb, refused := plumbOf(a, k, BikeArgs{}); refused == nil && plumb.Line != "" {
		out.Plumb = &plumb
	}
	for _, ad := range k.Advice {
		if ad.Open() {
			out.Advice++
		}
	}
	return out, nil
}

// stopChecks are the checks whose fault keeps a bike off the track, with what
// to do. Follow the machine's service manual for how (common practice, no source).
var stopChecks = []struct{ check, title, says string }{
	{book.CheckStraight, "Do not ride until the front is straight", "The straightness check found a fault. Mend it by the service manual, then check again."},
	{"head-bearings", "Do not ride until the head bearings are right", "Play or notches in the steering were noted. Mend them by the service manual, then check again."},
	{"chain", "Do not ride until the chain is right", "The chain check found a fault. Set or change it by the service manual, then check again at the tight spot."},
	{"leaks", "Do not ride until the leak is mended", "A leak was noted: oil can reach a tyre or a brake. Mend it, clean up, then check again."},
	{"tyres", "Do not ride on these tyres", "The tyre check found a fault. Change or mend the tyre, then check again."},
	{"alignment", "Do not ride until the wheels are in line", "The alignment check found a fault. Set it by the service manual, then check again."},
	{"wheel-bearings", "Do not ride until the bearings are right", "Play in a wheel or in the swingarm was noted. Mend it by the service manual, then check again."},
	{"brakes", "Do not ride until the brakes are right", "The brake check found a fault. Mend it by the service manual, then check again."},
}

func stops(a Ask, k *book.Bike) []Notice {
	out := []Notice{}
	fall, open := k.FallOpen()
	if straight := k.Checks[book.CheckStraight]; straight.Body.Result == "fault" && straight.Wall.After(fall.Wall) {
		open = false // what was found since says more than the fall
	}
	if open {
		out = append(out, Notice{
			"Do not ride until the bike is checked straight",
			"No straightness check has come out good since the fall of " + fellOn(a, fall) + ". Even a slow fall can turn the forks in their clamps.",
			"/fall", "Check it now",
		})
	}
	for _, c := range stopChecks {
		done, ok := k.Checks[c.check]
		if !ok || done.Body.Result != "fault" || open && c.check == book.CheckStraight {
			continue
		}
		out = append(out, Notice{c.title, join(c.says, noted(done.Body.Note)), "/checks?check=" + c.check, "Check it again"})
	}
	return out
}

func noted(note string) string {
	if note == "" {
		return ""
	}
	return "noted: " + note
}

// chainEvery is how long a chain check is taken to hold; tyre pressures are
// set cold on every riding day. Common practice, no source.
const chainEvery = 14 * 24 * time.Hour

func due(a Ask, k *book.Bike) []Notice {
	out := []Notice{}
	s := shower{a.Book}
	if n := pressureDue(a, s, k); n != nil {
		out = append(out, *n)
	}
	if n := workedDue(a, k); n != nil {
		out = append(out, *n)
	}
	chain, ok := k.Checks["chain"]
	switch {
	case !ok:
		out = append(out, Notice{"Chain slack", "It has not been checked yet. Find the tight spot first.", "/checks?check=chain", "Check the chain"})
	case chain.Body.Result != "fault" && a.Now.Sub(chain.Wall) > chainEvery:
		out = append(out, Notice{"Chain slack", "Last checked " + s.day(chain.Wall, a.Now) + ".", "/checks?check=chain", "Check the chain"})
	}
	for _, c := range stopChecks {
		if done, ok := k.Checks[c.check]; ok && done.Body.Result == "unsure" {
			out = append(out, Notice{capital(spaced(c.check)) + " check", "You were not sure on " + s.day(done.Wall, a.Now) + ". Look again, or ask somebody who knows.", "/checks?check=" + c.check, "Check it again"})
		}
	}
	out = append(out, servicesDue(a, k)...)
	if done, total := answered(lookStages(a, k)); done < total && !a.Book.Example {
		out = append(out, Notice{"First look", unitless(done) + " of " + unitless(total) + " answered. You can go on where you stopped.", "/first-look", "Go on"})
	}
	for _, d := range disputes(a, k) {
		out = append(out, Notice{d.Name + ": which is real now?", d.Says, "/counted?adjuster=" + string(d.Adjuster), "Count it"})
	}
	return out
}

// pressureDue asks for cold pressures when not both were set or counted today.
func pressureDue(a Ask, s shower, k *book.Bike) *Notice {
	says, known := "", false
	var first book.AdjusterID
	for _, id := range []book.AdjusterID{"front.pressure", "rear.pressure"} {
		set, ok := k.Settings[id]
		if !ok || set.Retired || set.Seen != nil && sameDay(*set.Seen, a.Now) {
			continue
		}
		if first == "" {
			first = id
		}
		at := "not known"
		if set.At != nil {
			at, known = s.position(set, *set.At), true
		}
		if set.Seen != nil {
			at += " on " + s.day(*set.Seen, a.Now)
		}
		says = join(says, set.Name+": "+at)
	}
	if first == "" {
		return nil
	}
	if !known {
		says = "Not known yet"
	}
	return &Notice{"Tyre pressures, cold", says + ".", "/counted?adjuster=" + string(first), "Set them"}
}

func standing(k *book.Bike) Standing {
	var n Standing
	for _, set := range k.Active() {
		switch set.Standing {
		case book.Counted:
			n.Counted++
		case book.Assumed:
			n.Assumed++
		default:
			n.Unknown++
		}
	}
	n.Says = fmt.Sprintf("%d counted, %d assumed, %d not known", n.Counted, n.Assumed, n.Unknown)
	return n
}

func driftNow(s shower, k *book.Bike) *DriftNow {
	line, ok := k.Line()
	if !ok {
		return nil
	}
	d := &DriftNow{Line: line.Name, List: []string{}}
	for _, m := range k.WayBack(line) {
		if m.From == nil {
			continue
		}
		set := k.Settings[m.Adjuster]
		d.List = append(d.List, set.Name+" "+s.moved(set, -m.Delta))
	}
	d.Moved = len(d.List)
	switch d.Moved {
	case 0:
		d.Says = "Everything known is on the line."
	case 1:
		d.Says = "1 setting is off the line."
	default:
		d.Says = fmt.Sprintf("%d settings are off the line.", d.Moved)
	}
	return d
}
