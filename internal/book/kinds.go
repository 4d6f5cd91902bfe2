package book

import (
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// Names of things that live inside a book. They are short words or UUIDs that
// the writing device makes; nothing reads meaning out of them.
type (
	BikeID     string
	AdjusterID string // unique within a bike: "rear.rebound"
	BaselineID string
	TrackID    string
	SessionID  string
)

// The kinds of entry. A kind that is not here is a newer app's.
const (
	KindBook     = "book"     // BookBody: the book's name and display units
	KindDevice   = "device"   // DeviceBody: what this phone is called
	KindBike     = "bike"     // BikeBody: a bike, or what changed of its description
	KindPerson   = "person"   // PersonBody
	KindAdjuster = "adjuster" // AdjusterBody: defines or redefines an adjuster
	KindChange   = "change"   // ChangeBody: somebody turned something
	KindCount    = "count"    // CountBody: a position was counted, told or is unknown
	KindOwn      = "own"      // OwnBody: somebody owns up to a found difference
	KindBaseline = "baseline" // BaselineBody: a line is drawn
	KindFact     = "fact"     // FactBody: an answer about the bike's history
	KindCheck    = "check"    // CheckBody: an inspection and its result
	KindFall     = "fall"     // FallBody
	KindService  = "service"  // ServiceBody
	KindPart     = "part"     // PartBody
	KindMeasure  = "measure"  // MeasureBody: readings of one topic
	KindTrack    = "track"    // TrackBody
	KindSession  = "session"  // SessionBody: a run on a track
	KindSymptom  = "symptom"  // SymptomBody: what the rider felt
	KindRepeat   = "repeat"   // RepeatBody: a symptom to bring about on purpose, and what came of it
	KindForget   = "forget"   // ForgetBody: what verdicts taught is to count no more
	KindAdvice   = "advice"   // AdviceBody: what somebody said, instead of turning it
	KindOutcome  = "outcome"  // OutcomeBody: what came of advice
	KindVerdict  = "verdict"  // VerdictBody: keep, put back or ride more
	KindCorrect  = "correct"  // CorrectBody: replaces the body of an earlier entry
	KindStrike   = "strike"   // StrikeBody: takes an earlier entry out of the fold
)

// BookBody names the book and says how numbers are shown. Units holds a choice
// per quantity: pressure "kPa", "bar" or "psi"; temperature "C" or "F"; mass
// "kg" or "lb"; rate "N/mm" or "kgf/mm".
type BookBody struct {
	Name    string            `json:"name,omitempty"`
	Rider   entry.PersonID    `json:"rider,omitempty"`
	Units   map[string]string `json:"units,omitempty"`
	Example bool              `json:"example,omitempty"`
}

// DeviceBody says what the writing device is called.
type DeviceBody struct {
	Name string `json:"name"`
}

// BikeBody describes a bike. A later body for the same bike replaces the
// fields that it gives. MassKg is the rider's in kit where Rider is meant.
type BikeBody struct {
	Bike  BikeID      `json:"bike"`
	Name  string      `json:"name,omitempty"`
	Year  int         `json:"year,omitempty"`
	Class string      `json:"class,omitempty"` // free words: "600 sport bike"
	Tyres string      `json:"tyres,omitempty"`
	Rider *unit.Fixed `json:"rider,omitempty"` // kg, in full kit
	Note  string      `json:"note,omitempty"`
}

// PersonBody describes somebody who turns things or gives advice. Role is
// "rider", "tuner", "friend" or "other".
type PersonBody struct {
	Person entry.PersonID `json:"person"`
	Name   string         `json:"name,omitempty"`
	Role   string         `json:"role,omitempty"`
}

// AdjusterBody defines an adjuster of a bike, or redefines it. Positions are
// in Unit and lie in [Min, Max]; Step is the smallest move. MoreIs and LessIs
// say what a higher and a lower number do ("softer", "harder"), In says which
// way 'in' (clockwise, closing) moves the number: -1, +1, or 0 where there is
// no in and out. From says where counting starts.
type AdjusterBody struct {
	Bike     BikeID     `json:"bike"`
	Adjuster AdjusterID `json:"adjuster"`
	Def
	Retired bool `json:"retired,omitempty"`
}

// ChangeBody says that somebody moved an adjuster. From is nil where the
// position before was not known; To is nil where only Delta is known. Delta is
// To − From in the adjuster's unit. By turned it, Idea had the idea; empty
// means not said, "unknown" means nobody knows.
type ChangeBody struct {
	Bike     BikeID         `json:"bike"`
	Adjuster AdjusterID     `json:"adjuster"`
	From     *unit.Fixed    `json:"from,omitempty"`
	To       *unit.Fixed    `json:"to,omitempty"`
	Delta    *unit.Fixed    `json:"delta,omitempty"`
	By       entry.PersonID `json:"turned,omitempty"`
	Idea     entry.PersonID `json:"idea,omitempty"`
	Why      string         `json:"why,omitempty"`
	Expect   string         `json:"expect,omitempty"`
	Trial    bool           `json:"trial,omitempty"`
	Advice   entry.ID       `json:"advice,omitempty"`   // the advice that it follows
	Back     BaselineID     `json:"back,omitempty"`     // a move of the way back to this line
	Undoes   entry.ID       `json:"undoes,omitempty"`   // the change that it puts back
	Track    TrackID        `json:"track,omitempty"`    // where the bike was
	Session  SessionID      `json:"session,omitempty"`  // the session after which it was made
	Symptom  entry.ID       `json:"symptom,omitempty"`  // the symptom that it is meant to mend
	Cause    string         `json:"cause,omitempty"`    // the diagnosis's cause that it is a test of
	Proposal string         `json:"proposal,omitempty"` // the shared proposal that it follows
}

// CountBody says what an adjuster's position is. Standing is Counted (seen
// with own eyes), Assumed (told, or from a manual) or Unknown, and At is nil
// only for Unknown.
type CountBody struct {
	Bike     BikeID      `json:"bike"`
	Adjuster AdjusterID  `json:"adjuster"`
	Standing Standing    `json:"standing"`
	At       *unit.Fixed `json:"at,omitempty"`
	Note     string      `json:"note,omitempty"`
}

// OwnBody gives a found difference its author. Found is the id of the count
// entry that found it.
type OwnBody struct {
	Found entry.ID       `json:"found"`
	By    entry.PersonID `json:"turned,omitempty"`
	Idea  entry.PersonID `json:"idea,omitempty"`
	Why   string         `json:"why,omitempty"`
}

// BaselineBody draws a line: a named, complete set of positions. An adjuster
// whose position was unknown when the line was drawn is not in At.
type BaselineBody struct {
	Bike     BikeID                    `json:"bike"`
	Baseline BaselineID                `json:"baseline"`
	Name     string                    `json:"name"`
	At       map[AdjusterID]unit.Fixed `json:"at"`
	Track    TrackID                   `json:"track,omitempty"`
	Note     string                    `json:"note,omitempty"`
	Dropped  bool                      `json:"dropped,omitempty"`
}

// FactBody answers a question about the bike's history. Answer is "yes", "no",
// "unknown" or one of the question's own words. When is a date as well as the
// rider knows it: "2025", "2025-06" or "2025-06-14".
type FactBody struct {
	Bike   BikeID         `json:"bike"`
	Fact   string         `json:"fact"`
	Answer string         `json:"answer"`
	When   string         `json:"when,omitempty"`
	Who    entry.PersonID `json:"who,omitempty"`
	Note   string         `json:"note,omitempty"`
}

// CheckBody is an inspection. Result is "good", "fault" or "unsure".
type CheckBody struct {
	Bike   BikeID `json:"bike"`
	Check  string `json:"check"`
	Result string `json:"result"`
	Note   string `json:"note,omitempty"`
}

// FallBody is a tip-over or a crash. Side is "left", "right", "both" or "".
// Speed is "standing", "slow" or "fast".
type FallBody struct {
	Bike  BikeID  `json:"bike"`
	When  string  `json:"when,omitempty"`
	Side  string  `json:"side,omitempty"`
	Speed string  `json:"speed,omitempty"`
	Track TrackID `json:"track,omitempty"`
	Note  string  `json:"note,omitempty"`
}

// ServiceBody is work done on the bike: "fork-oil", "shock-oil",
// "head-bearings", "chain", "brake-fluid", "other".
type ServiceBody struct {
	Bike BikeID         `json:"bike"`
	What string         `json:"what"`
	When string         `json:"when,omitempty"`
	By   entry.PersonID `json:"done,omitempty"`
	Note string         `json:"note,omitempty"`
}

// PartBody is something fitted or swapped.
type PartBody struct {
	Bike BikeID         `json:"bike"`
	Part string         `json:"part"`
	When string         `json:"when,omitempty"`
	By   entry.PersonID `json:"done,omitempty"`
	Note string         `json:"note,omitempty"`
}

// MeasureBody holds readings of one topic in canonical units, by symbol.
type MeasureBody struct {
	Bike   BikeID                `json:"bike"`
	Topic  string                `json:"topic"`
	Values map[string]unit.Fixed `json:"values"`
	Note   string                `json:"note,omitempty"`
}

// TrackBody describes a circuit. Bumpy is "smooth", "some", "bumpy" or "".
type TrackBody struct {
	Track TrackID `json:"track"`
	Name  string  `json:"name,omitempty"`
	Bumpy string  `json:"bumpy,omitempty"`
	Note  string  `json:"note,omitempty"`
}

// SessionBody is one run on a track. Felt is "better", "same", "worse" or "".
type SessionBody struct {
	Bike    BikeID       `json:"bike"`
	Session SessionID    `json:"session"`
	Track   TrackID      `json:"track,omitempty"`
	Air     *unit.Fixed  `json:"air,omitempty"`   // °C
	Wet     bool         `json:"wet,omitempty"`   // the track was wet
	Front   *unit.Fixed  `json:"front,omitempty"` // hot pressure, kPa
	Rear    *unit.Fixed  `json:"rear,omitempty"`  // hot pressure, kPa
	Laps    []unit.Fixed `json:"laps,omitempty"`  // s
	Felt    string       `json:"felt,omitempty"`
	Note    string       `json:"note,omitempty"`
}

// SymptomBody is what the rider felt. Findings are the diagnosis's finding
// ids with "yes" or "no"; Repeat is "once", "some", "every" or "purpose". Side
// is "left" or "right" where it comes in one kind of corner only.
type SymptomBody struct {
	Bike     BikeID            `json:"bike"`
	Session  SessionID         `json:"session,omitempty"`
	Track    TrackID           `json:"track,omitempty"`
	Corner   string            `json:"corner,omitempty"`
	Side     string            `json:"side,omitempty"`
	Findings map[string]string `json:"findings"`
	Repeat   string            `json:"repeat,omitempty"`
	Words    string            `json:"words,omitempty"`
}

// AdviceBody is what somebody said one should change. Adjuster and Delta are
// empty where the advice was not that exact.
type AdviceBody struct {
	Bike     BikeID         `json:"bike"`
	From     entry.PersonID `json:"from"`
	Adjuster AdjusterID     `json:"adjuster,omitempty"`
	Delta    *unit.Fixed    `json:"delta,omitempty"`
	What     string         `json:"what,omitempty"`
	Why      string         `json:"why,omitempty"`
}

// OutcomeBody says what came of advice: "tried", "declined" or "later".
type OutcomeBody struct {
	Advice entry.ID `json:"advice"`
	Result string   `json:"result"`
	Note   string   `json:"note,omitempty"`
}

// VerdictBody judges a change: "keep", "back" or "more".
type VerdictBody struct {
	Change  entry.ID `json:"change"`
	Verdict string   `json:"verdict"`
	Note    string   `json:"note,omitempty"`
}

// CorrectBody replaces the body of an earlier entry of the same kind. The
// earlier entry keeps its place in the order and its author.
type CorrectBody struct {
	Entry entry.ID `json:"entry"`
	Body  rawBody  `json:"body"`
	Why   string   `json:"why,omitempty"`
}

// StrikeBody takes an entry out of the fold. History keeps it, struck through.
type StrikeBody struct {
	Entry entry.ID `json:"entry"`
	Why   string   `json:"why,omitempty"`
}
