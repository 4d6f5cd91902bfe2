package screen

import (
	"fmt"
	"math"
	"slices"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// TryArgs asks for the form in which a trial is begun: without an adjuster the
// grid to pick from. Apart and Stops shape a sweep: steps between positions,
// and how many.
type TryArgs struct {
	Bike     book.BikeID     `json:"bike"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Plan     string          `json:"plan"`
	Steps    int             `json:"steps"`
	Apart    int             `json:"apart"`
	Stops    int             `json:"stops"`
	Wanted   *unit.Fixed     `json:"wanted"`
}

// Try is the form in which a trial is begun.
type Try struct {
	Bike    book.BikeID  `json:"bike"`
	Groups  []TileGroup  `json:"groups"`
	Picked  *Picked      `json:"picked,omitempty"`
	Known   bool         `json:"known"` // where the picked one stands
	Plans   []PlanChoice `json:"plans"`
	Stops   []string     `json:"stops"`             // of the sweep, in the order to ride
	Outside string       `json:"outside"`           // why the sweep cannot be
	Tells   string       `json:"tells,omitempty"`   // what runs will be needed
	Running string       `json:"running,omitempty"` // what is on trial already, and
	Trial   entry.ID     `json:"trial,omitempty"`   // where to judge it
	People  []Choice     `json:"people"`
	Stop    string       `json:"stop,omitempty"` // do not ride until…
}

// PlanChoice is a plan to choose.
type PlanChoice struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Says string `json:"says"`
}

// TryForm begins a trial. Steps as in TurnedForm; Wanted in seconds a lap.
type TryForm struct {
	Bike     book.BikeID     `json:"bike"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Plan     string          `json:"plan"`
	Steps    int             `json:"steps"`
	Apart    int             `json:"apart"`
	Stops    int             `json:"stops"`
	Wanted   *unit.Fixed     `json:"wanted"`
	Expect   string          `json:"expect"`
	Why      string          `json:"why"`
	Idea     Who             `json:"idea"`
	Advice   entry.ID        `json:"advice"`
}

var (
	_ = view("try", try)
	_ = action("try", beginTrial)
)

func try(a Ask, args TryArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	s := shower{a.Book}
	out := Try{Bike: k.ID, Groups: tiles(s, k), People: peopleFor(a), Stops: []string{}, Plans: []PlanChoice{
		{book.PlanBack, "There and back", planSays[book.PlanBack]},
		{book.PlanSweep, "A sweep", planSays[book.PlanSweep]},
		{book.PlanBlind, "Blind", planSays[book.PlanBlind]},
	}}
	if _, open := k.FallOpen(); open {
		out.Stop = StopAfterFall
	}
	if running := k.Running(); len(running) > 0 {
		out.Trial = running[0].Entry
		out.Running = "One is on trial already: " + trialTitle(s, k, running[0]) + ". Two at once spoil each other; judge that one first."
	}
	set, ok := k.Settings[args.Adjuster]
	if !ok || set.Retired {
		return out, nil
	}
	out.Picked, out.Known = picked(a.Book, k, set, args.Steps), set.At != nil
	if args.Plan == book.PlanSweep && set.At != nil {
		stops, reason := sweepStops(s, set, args.Apart, args.Stops)
		out.Outside = reason
		for _, at := range stops {
			out.Stops = append(out.Stops, s.position(set, at))
		}
	}
	if args.Plan == book.PlanBack {
		out.Tells = tells(a.Book, k, args.Wanted)
	}
	return out, nil
}

// sweepStops are the positions of a sweep around where the adjuster stands,
// in an order in which the day cannot pass for the setting: the middle, the
// ends, then between. They are moved to lie within the range.
func sweepStops(s shower, set *book.Setting, apart, count int) ([]unit.Fixed, string) {
	apart, count = max(1, apart), min(max(3, count), 9)
	step := unit.Fixed(apart) * max(set.Step, 1)
	if most := int((set.Max-set.Min)/step) + 1; most < count {
		return nil, fmt.Sprintf("%s has room for %d such positions. Choose smaller steps or fewer positions.", set.Name, most)
	}
	low := *set.At - unit.Fixed(count/2)*step
	for low < set.Min {
		low += max(set.Step, 1)
	}
	for low+unit.Fixed(count-1)*step > set.Max {
		low -= max(set.Step, 1)
	}
	var out []unit.Fixed
	for _, i := range endsFirst(count) {
		out = append(out, low+unit.Fixed(i)*step)
	}
	return out, ""
}

// endsFirst orders 0…n−1: the middle, then the ends, then what lies between.
func endsFirst(n int) []int {
	out := []int{n / 2}
	for low, high := 0, n-1; low <= high; low, high = low+1, high-1 {
		for _, i := range []int{low, high} {
			if !slices.Contains(out, i) {
				out = append(out, i)
			}
		}
	}
	return out
}

// tells says how many runs a difference would take at this rider's spread.
func tells(b *book.Book, k *book.Bike, wanted *unit.Fixed) string {
	lapSpread, perRun := lapSpread(k)
	if lapSpread == 0 {
		return "How many runs it takes will show once there are laps in the book."
	}
	d := 0.3
	if wanted != nil && *wanted > 0 {
		d = wanted.Float()
	}
	own := ownRuns(b, k, nil)
	if own.DF < 1 {
		own = laps.UsualRunSpread(typicalLap(k))
	}
	n := laps.RunsEachWay(d, lapSpread, own.Seconds, perRun)
	says := fmt.Sprintf("Your laps vary by about %.1f s within a run. Two runs each way, some %d clean laps in each, show a difference of about %.1f s.", lapSpread, perRun, laps.SeenIn(2, lapSpread, own.Seconds, perRun))
	if n > 4 {
		return says + fmt.Sprintf(" For %.1f s it would take about %d: more than a day gives. Try a bigger step, or a blind trial.", d, n)
	}
	return says + fmt.Sprintf(" For %.1f s it takes %s.", d, many(n, "run"))
}

// lapSpread is how much the rider's laps vary within runs (standard deviation,
// s) once drift is out, over the last runs, and how many count in one; zeros
// when there are too few.
func lapSpread(k *book.Bike) (seconds float64, perRun int) {
	var stints [][]laps.Lap
	n := 0
	all := k.Runs()
	for _, r := range all[max(0, len(all)-12):] {
		if c := laps.Counted(stint(k, r.Body.Session)); len(c) >= 3 {
			stints, n = append(stints, c), n+len(c)
		}
	}
	drift, _ := laps.FitDrift(stints)
	var squares, df float64
	for _, times := range drift.WithoutDrift(stints) {
		sd := laps.SD(times)
		squares, df = squares+sd*sd*float64(len(times)-1), df+float64(len(times)-1)
	}
	if df < 4 {
		return 0, 0
	}
	return math.Sqrt(squares / df), max(5, n/len(stints))
}

// typicalLap is the middle of the latest run with laps that count, in s.
func typicalLap(k *book.Bike) float64 {
	for _, r := range slices.Backward(k.Runs()) {
		if n := sums(stint(k, r.Body.Session)); n.Counted > 0 {
			return n.Middle
		}
	}
	return 0
}

func beginTrial(a Ask, f TryForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	set, ok := k.Settings[f.Adjuster]
	if !ok || set.Retired {
		return nil, []book.Refusal{{Field: "adjuster", Says: "What do you want to try?", Mend: "Pick it from the list."}}
	}
	if set.At == nil {
		return nil, []book.Refusal{{Field: "adjuster", Says: "Where " + set.Name + " stands is not known, so there is no going back to it.", Mend: "Count it first."}}
	}
	s := shower{a.Book}
	idea, people := person(a, f.Idea)
	at := *set.At
	n := book.TrialBody{
		Bike: k.ID, Adjuster: set.ID, Plan: f.Plan, A: &at, Wanted: f.Wanted, Idea: idea, Why: f.Why, Expect: f.Expect, Advice: f.Advice,
	}
	_, n.Track = whereNow(k, a.Now)
	if f.Plan == book.PlanSweep {
		stops, reason := sweepStops(s, set, f.Apart, f.Stops)
		if reason != "" {
			return nil, []book.Refusal{{Field: "stops", Says: reason}}
		}
		n.Stops = stops
	} else {
		n.B, _ = s.stepped(set, set.At, f.Steps)
	}
	return append(people, book.Draft{Kind: book.KindTrial, Body: n}), nil
}
