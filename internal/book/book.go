package book

import (
	"time"

	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// Book is what a log adds up to. It holds no computed floats, so that two
// replicas with the same entries marshal to the same bytes.
type Book struct {
	Name      string                            `json:"name,omitempty"`
	Example   bool                              `json:"example,omitempty"`
	Rider     entry.PersonID                    `json:"rider,omitempty"`
	Units     map[string]string                 `json:"units,omitempty"`
	Devices   map[entry.DeviceID]string         `json:"devices,omitempty"`
	Holders   map[entry.DeviceID]entry.PersonID `json:"holders,omitempty"` // who holds a device
	People    map[entry.PersonID]Person         `json:"people,omitempty"`
	Bikes     map[BikeID]*Bike                  `json:"bikes,omitempty"`
	BikeOrder []BikeID                          `json:"bikeOrder,omitempty"`
	Tracks    map[TrackID]Track                 `json:"tracks,omitempty"`
	Days      map[DayID]Day                     `json:"days,omitempty"`
	DayOrder  []DayID                           `json:"dayOrder,omitempty"` // as first told
	Told      []Told                            `json:"told"`               // every entry, in fold order
	Oddities  []Oddity                          `json:"oddities,omitempty"`
	Counted   map[string]int                    `json:"counted,omitempty"` // entries by kind
	told      map[entry.ID]int                  // index into Told
	last      *entry.Entry                      // the one that was folded last
}

// Person is somebody in the book.
type Person struct {
	Name string         `json:"name"`
	Role string         `json:"role,omitempty"`
	Same entry.PersonID `json:"same,omitempty"` // who this one turned out to be
}

// Who returns whom an id means: the person it turned out to be, or itself.
func (b *Book) Who(id entry.PersonID) entry.PersonID {
	for range len(b.People) {
		same := b.People[id].Same
		if same == "" {
			break
		}
		id = same
	}
	return id
}

// Track is a circuit in the book; TrackBody says what its fields mean.
type Track struct {
	Name    string      `json:"name"`
	Bumpy   string      `json:"bumpy,omitempty"`
	Way     string      `json:"way,omitempty"`
	Length  *unit.Fixed `json:"length,omitempty"` // m
	Corners []Corner    `json:"corners,omitempty"`
	Map     *Map        `json:"map,omitempty"`
	Note    string      `json:"note,omitempty"`
}

// Day is a day at a track; DayBody says what its fields mean.
type Day struct {
	ID    DayID    `json:"id"`
	Entry entry.ID `json:"entry"` // the one that first told of it
	Track TrackID  `json:"track,omitempty"`
	Date  string   `json:"date,omitempty"`
	Way   string   `json:"way,omitempty"`
	Note  string   `json:"note,omitempty"`
}

// Told is one entry as history shows it. Struck names the entry that took it
// out of the fold; Corrected the one that replaced its words.
type Told struct {
	Entry     entry.ID       `json:"entry"`
	Kind      string         `json:"kind"`
	Wall      time.Time      `json:"wall"`
	By        entry.PersonID `json:"by,omitempty"`
	Device    entry.DeviceID `json:"device"`
	Bike      BikeID         `json:"bike,omitempty"`
	Adjuster  AdjusterID     `json:"adjuster,omitempty"`
	Track     TrackID        `json:"track,omitempty"`
	Body      rawBody        `json:"body"`
	Was       rawBody        `json:"was,omitempty"` // the body as it was written, when it was corrected
	Struck    entry.ID       `json:"struck,omitempty"`
	Corrected entry.ID       `json:"corrected,omitempty"`
}

// Oddity is an entry that the fold could not place, and why. It stays in the
// log: an entry, once written, is history.
type Oddity struct {
	Entry entry.ID `json:"entry"`
	Kind  string   `json:"kind"`
	Says  string   `json:"says"`
}

// Bike is one bike, folded.
type Bike struct {
	ID        BikeID                         `json:"id"`
	Name      string                         `json:"name"`
	Year      int                            `json:"year,omitempty"`
	Class     string                         `json:"class,omitempty"`
	Tyres     string                         `json:"tyres,omitempty"`
	RiderKg   *unit.Fixed                    `json:"riderKg,omitempty"`
	Note      string                         `json:"note,omitempty"`
	Order     []AdjusterID                   `json:"order"` // as defined
	Settings  map[AdjusterID]*Setting        `json:"settings"`
	Baselines []Baseline                     `json:"baselines,omitempty"` // oldest first
	Facts     map[string]Dated[FactBody]     `json:"facts,omitempty"`
	Checks    map[string]Dated[CheckBody]    `json:"checks,omitempty"` // the latest of each
	Falls     []Dated[FallBody]              `json:"falls,omitempty"`
	Services  []Dated[ServiceBody]           `json:"services,omitempty"`
	Parts     []Dated[PartBody]              `json:"parts,omitempty"`
	Photos    []Dated[PhotoBody]             `json:"photos,omitempty"`   // oldest first
	Measures  map[string]Dated[MeasureBody]  `json:"measures,omitempty"` // the latest of each topic
	Sessions  []Dated[SessionBody]           `json:"sessions,omitempty"`
	Laps      map[SessionID]Dated[LapsBody]  `json:"laps,omitempty"` // the latest of each session; LapsOf reads them
	TyreSets  []TyreSet                      `json:"tyreSets,omitempty"`
	Intervals map[string]Dated[IntervalBody] `json:"intervals,omitempty"` // the latest of each service
	Symptoms  []Dated[SymptomBody]           `json:"symptoms,omitempty"`
	Repeats   []Dated[RepeatBody]            `json:"repeats,omitempty"` // the latest of each symptom
	Advice    []Advice                       `json:"advice,omitempty"`
	Trials    []Trial                        `json:"trials,omitempty"` // oldest first
}

// Dated is a body with the entry that wrote it.
type Dated[B any] struct {
	Entry entry.ID       `json:"entry"`
	Wall  time.Time      `json:"wall"`
	By    entry.PersonID `json:"by,omitempty"`
	Body  B              `json:"body"`
	after int            // place in Told, so that "since" follows the log and not a wall clock
}

// Setting is an adjuster and where it stands. At is nil when unknown.
// Disputed is set when two phones changed it without knowing of each other;
// a count settles it.
type Setting struct {
	Def
	ID       AdjusterID  `json:"id"`
	Retired  bool        `json:"retired,omitempty"`
	Standing Standing    `json:"standing"`
	At       *unit.Fixed `json:"at,omitempty"`
	Seen     *time.Time  `json:"seen,omitempty"` // when it was last known to be At
	Disputed []entry.ID  `json:"disputed,omitempty"`
	Line     []Mark      `json:"line,omitempty"` // oldest first
}

// Mark is one point in a setting's line: who moved it, whose idea, why. Kind
// is "change", "count" or "found". A found mark has no author until somebody
// owns up; After and Wall bound the time in which it must have happened.
type Mark struct {
	Entry    entry.ID       `json:"entry"`
	Kind     string         `json:"kind"`
	Wall     time.Time      `json:"wall"`
	After    *time.Time     `json:"after,omitempty"`
	From     *unit.Fixed    `json:"from,omitempty"`
	To       *unit.Fixed    `json:"to,omitempty"`
	Delta    *unit.Fixed    `json:"delta,omitempty"`
	Turned   entry.PersonID `json:"turned,omitempty"`
	Idea     entry.PersonID `json:"idea,omitempty"`
	Why      string         `json:"why,omitempty"`
	Owned    entry.ID       `json:"owned,omitempty"` // the entry that owned up
	Standing Standing       `json:"standing"`        // how well the position was known from then on
}

// Baseline is a line that was drawn.
type Baseline struct {
	ID    BaselineID                `json:"id"`
	Entry entry.ID                  `json:"entry"`
	Wall  time.Time                 `json:"wall"`
	Name  string                    `json:"name"`
	At    map[AdjusterID]unit.Fixed `json:"at"`
	Track TrackID                   `json:"track,omitempty"`
	Note  string                    `json:"note,omitempty"`
}

// Advice is what somebody said, and what came of it. Result is "" while open,
// "tried", "declined", "later" or "asked"; Verdict is that of the change it led to.
type Advice struct {
	Dated[AdviceBody]
	Result  string   `json:"result,omitempty"`
	Note    string   `json:"note,omitempty"`
	Change  entry.ID `json:"change,omitempty"`
	Verdict string   `json:"verdict,omitempty"`
}

// Open says that the rider has not decided yet.
func (a Advice) Open() bool { return a.Result == "" || a.Result == "later" || a.Result == "asked" }

// Trial is a change under test, or a plan to test one: then Body is the change
// that the plan makes, from A to B. Verdict is "" while it runs. Spoiled lists
// the other changes that were made meanwhile; Sides the runs that the rider
// placed by hand; Felt how it felt, told before the laps were looked at; Laps
// what those advised when it was judged; Forgotten that its verdict is to
// teach no more.
type Trial struct {
	Dated[ChangeBody]
	Plan    string       `json:"plan,omitempty"`
	Stops   []unit.Fixed `json:"stops,omitempty"`
	Wanted  *unit.Fixed  `json:"wanted,omitempty"` // s a lap
	Draws   []Draw       `json:"draws,omitempty"`
	Sides   []RunBody    `json:"sides,omitempty"`
	Felt    string       `json:"felt,omitempty"`
	Verdict string       `json:"verdict,omitempty"`
	Chosen  *unit.Fixed  `json:"chosen,omitempty"`
	Laps    string       `json:"laps,omitempty"`
	Judged  *time.Time   `json:"judged,omitempty"`
	Note    string       `json:"note,omitempty"`
	Spoiled []entry.ID   `json:"spoiled,omitempty"`

	Forgotten   bool `json:"forgotten,omitempty"`
	judgedAfter int
}

// Line returns the bike's baseline in force, the one drawn last, and whether
// there is one.
func (k *Bike) Line() (Baseline, bool) {
	if len(k.Baselines) == 0 {
		return Baseline{}, false
	}
	return k.Baselines[len(k.Baselines)-1], true
}

// Baseline returns the baseline with an id.
func (k *Bike) Baseline(id BaselineID) (Baseline, bool) {
	for _, l := range k.Baselines {
		if l.ID == id {
			return l, true
		}
	}
	return Baseline{}, false
}

// Active returns the bike's adjusters that are fitted, in their order.
func (k *Bike) Active() []*Setting {
	var out []*Setting
	for _, id := range k.Order {
		if s := k.Settings[id]; !s.Retired {
			out = append(out, s)
		}
	}
	return out
}

// Running returns the trials that have no verdict yet, oldest first.
func (k *Bike) Running() []Trial {
	var out []Trial
	for _, t := range k.Trials {
		if t.Runs() {
			out = append(out, t)
		}
	}
	return out
}

// Unowned returns the found differences that nobody has owned up to, by
// adjuster in the bike's order.
func (k *Bike) Unowned() []Mark {
	var out []Mark
	for _, s := range k.Active() {
		for _, m := range s.Line {
			if m.Kind == "found" && m.Owned == "" {
				out = append(out, m)
			}
		}
	}
	return out
}

// FallOpen returns the latest fall after which no straightness check came out
// good, and whether there is one. Until then the bike is not to be ridden.
func (k *Bike) FallOpen() (Dated[FallBody], bool) {
	if len(k.Falls) == 0 {
		return Dated[FallBody]{}, false
	}
	last := k.Falls[len(k.Falls)-1]
	c, ok := k.Checks[CheckStraight]
	if ok && c.Body.Result == "good" && c.after > last.after {
		return Dated[FallBody]{}, false
	}
	return last, true
}

// CheckStraight is the check that clears a fall: bars even, equal steering
// effort both ways, wheel in line, clamps tightened to the manual's torque.
const CheckStraight = "straight"
