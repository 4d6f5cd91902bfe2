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
	DayID      string
	SessionID  string
	TyreSetID  string
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
	KindDay      = "day"      // DayBody: a day at a track
	KindSession  = "session"  // SessionBody: a run on a track
	KindLaps     = "laps"     // LapsBody: the laps of a session
	KindTyres    = "tyres"    // TyresBody: a set of tyres
	KindPhoto    = "photo"    // PhotoBody: a photo of a tyre, a part or the bike
	KindInterval = "interval" // IntervalBody: how often a service is due
	KindSymptom  = "symptom"  // SymptomBody: what the rider felt
	KindRepeat   = "repeat"   // RepeatBody: a symptom to bring about on purpose, and what came of it
	KindForget   = "forget"   // ForgetBody: what verdicts taught is to count no more
	KindAdvice   = "advice"   // AdviceBody: what somebody said, instead of turning it
	KindOutcome  = "outcome"  // OutcomeBody: what came of advice
	KindTrial    = "trial"    // TrialBody: a trial with a plan
	KindRun      = "run"      // RunBody: which side of a trial a session belongs to
	KindDraw     = "draw"     // DrawBody: a blind draw, sealed
	KindReveal   = "reveal"   // RevealBody: what the rider said, and the draw opened
	KindRating   = "rating"   // RatingBody: how a change felt, before the laps were looked at
	KindVerdict  = "verdict"  // VerdictBody: keep, put back or ride more
	KindCorrect  = "correct"  // CorrectBody: replaces the body of an earlier entry
	KindStrike   = "strike"   // StrikeBody: takes an earlier entry out of the fold
)

// BookBody names the book and says how numbers are shown. Units holds a choice
// per quantity: pressure "kPa", "bar" or "psi"; temperature "C" or "F"; mass
// "kg" or "lb"; rate "N/mm", "kgf/mm" or "lbf/in"; length "mm" or "in".
type BookBody struct {
	Name    string            `json:"name,omitempty"`
	Rider   entry.PersonID    `json:"rider,omitempty"`
	Units   map[string]string `json:"units,omitempty"`
	Example bool              `json:"example,omitempty"`
}

// DeviceBody says what the writing device is called and who holds it. An empty
// field leaves what was said before.
type DeviceBody struct {
	Name   string         `json:"name"`
	Holder entry.PersonID `json:"holder,omitempty"` // who holds it
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
// "rider", "tuner", "friend" or "other". Same says that this is another one who
// is in the book already; the person's own id takes that back.
type PersonBody struct {
	Person entry.PersonID `json:"person"`
	Name   string         `json:"name,omitempty"`
	Role   string         `json:"role,omitempty"`
	Same   entry.PersonID `json:"same,omitempty"`
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
// "head-bearings", "chain", "brake-fluid", "tyres", "other". Km and Hours are
// what the bike's meters read at that time.
type ServiceBody struct {
	Bike  BikeID         `json:"bike"`
	What  string         `json:"what"`
	When  string         `json:"when,omitempty"`
	By    entry.PersonID `json:"done,omitempty"`
	Km    *unit.Fixed    `json:"km,omitempty"`
	Hours *unit.Fixed    `json:"hours,omitempty"`
	Note  string         `json:"note,omitempty"`
}

// IntervalBody says how often a service is due: whichever of its limits is
// reached first; 0 is no limit. What is a service's word. Source is "manual"
// where the limits are the service manual's, "own" where they are the rider's.
// Off says that this bike does not have it, or that the rider wants no word of
// it. A later body for the same service replaces the earlier one as a whole.
type IntervalBody struct {
	Bike   BikeID `json:"bike"`
	What   string `json:"what"`
	Days   int    `json:"days,omitempty"` // track days
	Hours  int    `json:"hours,omitempty"`
	Km     int    `json:"km,omitempty"`
	Months int    `json:"months,omitempty"`
	Source string `json:"source,omitempty"`
	Off    bool   `json:"off,omitempty"`
	Note   string `json:"note,omitempty"`
}

// TyresBody is a set of tyres. A later body for the same set replaces the
// fields that it gives. Cycles is how many heat cycles the set had when it
// came into the book; every session on it counts one more. Fitted is a date as
// the rider knows it. Gone says that the set is no longer used.
type TyresBody struct {
	Bike   BikeID    `json:"bike"`
	Set    TyreSetID `json:"set"`
	Name   string    `json:"name,omitempty"`
	Front  string    `json:"front,omitempty"` // free words: size and compound
	Rear   string    `json:"rear,omitempty"`
	Fitted string    `json:"fitted,omitempty"`
	Cycles int       `json:"cycles,omitempty"`
	Gone   bool      `json:"gone,omitempty"`
	Note   string    `json:"note,omitempty"`
}

// PartBody is something fitted or swapped.
type PartBody struct {
	Bike BikeID         `json:"bike"`
	Part string         `json:"part"`
	When string         `json:"when,omitempty"`
	By   entry.PersonID `json:"done,omitempty"`
	Note string         `json:"note,omitempty"`
}

// MeasureBody holds readings of one topic in canonical units, by symbol. Words
// are what was read and is no number, by symbol: a tyre size, a chain size.
type MeasureBody struct {
	Bike   BikeID                `json:"bike"`
	Topic  string                `json:"topic"`
	Values map[string]unit.Fixed `json:"values"`
	Words  map[string]string     `json:"words,omitempty"`
	Note   string                `json:"note,omitempty"`
}

// TrackBody describes a circuit. A later body for the same track replaces the
// fields that it gives; a map or a list of corners is replaced as a whole.
// Bumpy is "smooth", "some", "bumpy" or ""; Way is the direction in which it is
// usually ridden, "clockwise" or "anticlockwise"; Length is in metres.
type TrackBody struct {
	Track   TrackID     `json:"track"`
	Name    string      `json:"name,omitempty"`
	Bumpy   string      `json:"bumpy,omitempty"`
	Way     string      `json:"way,omitempty"`
	Length  *unit.Fixed `json:"length,omitempty"`
	Corners []Corner    `json:"corners,omitzero"`
	Map     *Map        `json:"map,omitempty"`
	Note    string      `json:"note,omitempty"`
}

// Corner is a corner of a track, in the order of Way. Name may be empty: then
// it is called by its number. At is its place on the map.
type Corner struct {
	Name string `json:"name,omitempty"`
	At   *Spot  `json:"at,omitempty"`
}

// Spot is a place on a map: to the right (east) and up (north). On a map with
// an origin they are metres from it; on a sketch they are in 0 to 1000 with
// no scale.
type Spot [2]unit.Fixed

// Map is a rough map of a track: its line, in the order of Way, ending where
// it begins. Origin is nil for a sketch by finger. Start is the start and
// finish line, its left end first as one rides in the order of Way; Splits are
// sector lines in that order.
type Map struct {
	Origin *Origin   `json:"origin,omitempty"`
	Points []Spot    `json:"points,omitempty"`
	Start  *[2]Spot  `json:"start,omitempty"`
	Splits [][2]Spot `json:"splits,omitempty"`
}

// Origin is a place on the earth, in ten-millionths of a degree (about 1 cm),
// north and east above zero, WGS 84.
type Origin struct {
	Lat int64 `json:"lat"`
	Lon int64 `json:"lon"`
}

// DayBody is a day at a track. A later body for the same day replaces the
// fields that it gives. Date is "2025-06-14"; Way is the direction ridden,
// "clockwise", "anticlockwise" or "" for the track's usual one.
type DayBody struct {
	Day   DayID   `json:"day"`
	Track TrackID `json:"track,omitempty"`
	Date  string  `json:"date,omitempty"`
	Way   string  `json:"way,omitempty"`
	Note  string  `json:"note,omitempty"`
}

// SessionBody is one run on a track. Felt is "better", "same", "worse" or "".
// Pressures are gauge pressures in kPa, cold before and hot right after. When
// is the local time of a session that is written down later, "2025-06-14" or
// "2025-06-14T09:40"; empty means the entry's own time. Laps are what older
// books kept here; a LapsBody for the session comes before them.
type SessionBody struct {
	Bike      BikeID       `json:"bike"`
	Session   SessionID    `json:"session"`
	Day       DayID        `json:"day,omitempty"`
	Track     TrackID      `json:"track,omitempty"`
	When      string       `json:"when,omitempty"`
	Air       *unit.Fixed  `json:"air,omitempty"`    // °C
	Ground    *unit.Fixed  `json:"ground,omitempty"` // °C, the track's surface
	Wet       bool         `json:"wet,omitempty"`    // the track was wet
	Wind      string       `json:"wind,omitempty"`   // free words: "strong, head wind on the straight"
	Fuel      *unit.Fixed  `json:"fuel,omitempty"`   // l, on going out
	Tyres     TyreSetID    `json:"tyres,omitempty"`
	ColdFront *unit.Fixed  `json:"coldFront,omitempty"`
	ColdRear  *unit.Fixed  `json:"coldRear,omitempty"`
	Front     *unit.Fixed  `json:"front,omitempty"` // hot
	Rear      *unit.Fixed  `json:"rear,omitempty"`  // hot
	Laps      []unit.Fixed `json:"laps,omitempty"`  // s
	Felt      string       `json:"felt,omitempty"`
	Note      string       `json:"note,omitempty"`
}

// LapsBody holds the laps of a session, in order, the out lap first where it
// was timed. A later body for the same session replaces the earlier one as a
// whole. Source says where the times come from: "hand", "table", "trace" or
// "live"; Accuracy, in seconds, how far a time may be off where the source
// knows it.
type LapsBody struct {
	Bike     BikeID      `json:"bike"`
	Session  SessionID   `json:"session"`
	Laps     []LapTime   `json:"laps"`
	Source   string      `json:"source,omitempty"`
	Accuracy *unit.Fixed `json:"accuracy,omitempty"`
	Note     string      `json:"note,omitempty"`
}

// LapTime is one lap: its time in seconds to the thousandth, and its sector
// times where there are any. Mark is the rider's own word against the
// automatic mark: "counts", "out", "in", "slow", "cruising" or "short"; empty
// leaves it to the rule. Gap says that the receiver was silent or jumped on
// this lap, so that it may be two.
type LapTime struct {
	Time    unit.Fixed   `json:"t"`
	Sectors []unit.Fixed `json:"s,omitempty"`
	Mark    string       `json:"mark,omitempty"`
	Gap     bool         `json:"gap,omitempty"`
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
	Ends     map[string]string `json:"ends,omitempty"` // "front" or "rear", of findings that belong to neither
	Repeat   string            `json:"repeat,omitempty"`
	Words    string            `json:"words,omitempty"`
}

// AdviceBody is what somebody said one should change. Adjuster and Delta are
// empty where the advice was not that exact. Proposal is the id of the one that
// it came as, by a shared link; Expect is what the adviser says will be felt.
type AdviceBody struct {
	Bike     BikeID         `json:"bike"`
	From     entry.PersonID `json:"from"`
	Adjuster AdjusterID     `json:"adjuster,omitempty"`
	Delta    *unit.Fixed    `json:"delta,omitempty"`
	What     string         `json:"what,omitempty"`
	Why      string         `json:"why,omitempty"`
	Expect   string         `json:"expect,omitempty"`
	Proposal string         `json:"proposal,omitempty"`
}

// OutcomeBody says what came of advice: "tried", "declined", "later", or
// "asked", with the rider's question in Note.
type OutcomeBody struct {
	Advice entry.ID `json:"advice"`
	Result string   `json:"result"`
	Note   string   `json:"note,omitempty"`
}

// VerdictBody judges a trial: "keep", "back" or "more". Change is the entry
// that began it: a change on trial, or a trial with a plan. Chosen is the
// position that a sweep ended on; Laps what the laps advised at that moment,
// "keep", "put back" or "ride more", and "" when they were not looked at.
type VerdictBody struct {
	Change  entry.ID    `json:"change"`
	Verdict string      `json:"verdict"`
	Chosen  *unit.Fixed `json:"chosen,omitempty"`
	Laps    string      `json:"laps,omitempty"`
	Note    string      `json:"note,omitempty"`
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
