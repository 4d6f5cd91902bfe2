package book

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"time"

	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// The plans of a trial. Without one a change is simply tried.
const (
	PlanBack  = "back"  // there and back: the old setting, the new one, the old one again
	PlanSweep = "sweep" // one adjuster through several positions, a lap or two at each
	PlanBlind = "blind" // a friend sets one of two by a secret draw; the rider says which
)

// The sides of a trial: the old setting and the new one.
const (
	SideA   = "a"
	SideB   = "b"
	SideOut = "out" // left out by the rider's word
)

// TrialBody begins a trial with a plan, or gives a plan to the trial of a
// change that is made already (Change). A is how the adjuster stands, B the
// other position; a sweep has Stops instead, in the order to ride. Wanted is
// the smallest difference worth having, in seconds a lap.
type TrialBody struct {
	Bike     BikeID         `json:"bike"`
	Adjuster AdjusterID     `json:"adjuster"`
	Plan     string         `json:"plan"`
	Change   entry.ID       `json:"change,omitempty"`
	A        *unit.Fixed    `json:"a,omitempty"`
	B        *unit.Fixed    `json:"b,omitempty"`
	Stops    []unit.Fixed   `json:"stops,omitempty"`
	Wanted   *unit.Fixed    `json:"wanted,omitempty"`
	Idea     entry.PersonID `json:"idea,omitempty"`
	Why      string         `json:"why,omitempty"`
	Expect   string         `json:"expect,omitempty"`
	Advice   entry.ID       `json:"advice,omitempty"`
	Symptom  entry.ID       `json:"symptom,omitempty"`
	Track    TrackID        `json:"track,omitempty"`
}

// RunBody is the rider's word on which side of a trial a session belongs to:
// SideA, SideB or SideOut; in a sweep At is the stop. An empty Side takes the
// word back.
type RunBody struct {
	Bike    BikeID      `json:"bike"`
	Trial   entry.ID    `json:"trial"`
	Session SessionID   `json:"session"`
	Side    string      `json:"side,omitempty"`
	At      *unit.Fixed `json:"at,omitempty"`
}

// DrawBody is one blind draw of a trial. Seal is SealDraw of what was drawn:
// it tells nothing until the draw is opened, and cannot be changed afterwards.
// By is the friend who sets it.
type DrawBody struct {
	Bike  BikeID         `json:"bike"`
	Trial entry.ID       `json:"trial"`
	Seal  string         `json:"seal"`
	By    entry.PersonID `json:"set,omitempty"`
}

// RevealBody opens a draw after the rider said which it was. Side and Salt
// must give the draw's seal.
type RevealBody struct {
	Bike BikeID   `json:"bike"`
	Draw entry.ID `json:"draw"`
	Said string   `json:"said"` // SideA or SideB
	Side string   `json:"side"` // what it was
	Salt string   `json:"salt"` // hexadecimal
}

// RatingBody is how the rider felt a change before the laps were looked at:
// "better", "same" or "worse".
type RatingBody struct {
	Bike  BikeID   `json:"bike"`
	Trial entry.ID `json:"trial"`
	Felt  string   `json:"felt"`
}

// drawChance is how many random bytes a draw takes: one for the side, the
// others as salt.
const drawChance = 17

// DrawSide draws a side out of the phone's randomness, with the salt of its
// seal. False for fewer than 17 bytes.
func DrawSide(chance []byte) (side string, salt []byte, ok bool) {
	if len(chance) < drawChance {
		return "", nil, false
	}
	if chance[0]&1 == 0 {
		return SideA, chance[1:drawChance], true
	}
	return SideB, chance[1:drawChance], true
}

// SealDraw commits to a side: the SHA-256, in hexadecimal, of trial, side and
// salt. Without the salt, 128 random bits, nobody can tell which side it
// hides; with it, everybody can check that it was not changed afterwards.
func SealDraw(trial entry.ID, side string, salt []byte) string {
	sum := sha256.Sum256([]byte("plumbline draw\n" + string(trial) + "\n" + side + "\n" + hex.EncodeToString(salt)))
	return hex.EncodeToString(sum[:])
}

// Draw is a blind draw, folded. Said and Side are "" until it is opened.
type Draw struct {
	Entry  entry.ID       `json:"entry"`
	Wall   time.Time      `json:"wall"`
	Seal   string         `json:"seal"`
	By     entry.PersonID `json:"set,omitempty"`
	Said   string         `json:"said,omitempty"`
	Side   string         `json:"side,omitempty"`
	Opened *time.Time     `json:"opened,omitempty"`
	after  int
	until  int // place in Told of the reveal; 0 while sealed
}

// Right reports whether the rider named the side that it was.
func (d Draw) Right() bool { return d.Side != "" && d.Said == d.Side }

// Open returns the trial's draw that is still sealed, the latest, and whether
// there is one.
func (t Trial) Open() (Draw, bool) {
	for _, d := range slices.Backward(t.Draws) {
		if d.Side == "" {
			return d, true
		}
	}
	return Draw{}, false
}

// Runs reports whether a trial waits for more runs.
func (t Trial) Runs() bool { return t.Verdict == "" || t.Verdict == "more" }

// at returns the position of a side.
func (t Trial) at(side string) *unit.Fixed {
	if side == SideA {
		return t.Body.From
	}
	return t.Body.To
}

// Trial returns the trial with an id, and whether it is on the bike.
func (k *Bike) Trial(id entry.ID) (*Trial, bool) {
	for i := range k.Trials {
		if k.Trials[i].Entry == id {
			return &k.Trials[i], true
		}
	}
	return nil, false
}

func (b *Book) trial(k *Bike, t *Told, n TrialBody) {
	if k.Settings[n.Adjuster] == nil {
		b.odd(t, "its adjuster is not on the bike")
		return
	}
	if n.Change != "" {
		r, ok := k.Trial(n.Change)
		if !ok {
			b.odd(t, "the change that it plans is not on trial")
			return
		}
		r.Plan, r.Stops, r.Wanted = n.Plan, n.Stops, or(n.Wanted, r.Wanted)
		r.Body.Expect = or(n.Expect, r.Body.Expect)
		return
	}
	c := ChangeBody{
		Bike: n.Bike, Adjuster: n.Adjuster, From: n.A, To: n.B, Idea: n.Idea, Why: n.Why, Expect: n.Expect, Trial: true,
		Advice: n.Advice, Symptom: n.Symptom, Track: n.Track,
	}
	if n.A != nil && n.B != nil {
		d := *n.B - *n.A
		c.Delta = &d
	}
	k.Trials = append(k.Trials, Trial{Dated: dated(b, t, c), Plan: n.Plan, Stops: n.Stops, Wanted: n.Wanted})
	k.tried(n.Advice, t.Entry)
}

// tried notes that advice was followed by a change or a trial.
func (k *Bike) tried(advice, by entry.ID) {
	for i := range k.Advice {
		if a := &k.Advice[i]; advice != "" && a.Entry == advice {
			a.Result, a.Note, a.Change = "tried", "", by
		}
	}
}

func (b *Book) run(k *Bike, t *Told, n RunBody) {
	r, ok := k.Trial(n.Trial)
	if !ok {
		b.odd(t, "the trial that it is about is not on the bike")
		return
	}
	r.Sides = slices.DeleteFunc(r.Sides, func(w RunBody) bool { return w.Session == n.Session })
	if n.Side != "" || n.At != nil {
		r.Sides = append(r.Sides, n)
	}
}

// WhySealed is why an adjuster moved that a blind draw set; where to is not
// told before the rider has said which.
const WhySealed = "set blind, sealed"

// draw seals a side: from now on nobody but the friend knows where the
// adjuster stands.
func (b *Book) draw(k *Bike, t *Told, n DrawBody) {
	r, ok := k.Trial(n.Trial)
	if !ok || k.Settings[r.Body.Adjuster] == nil {
		b.odd(t, "the trial that it is about is not on the bike")
		return
	}
	r.Draws = append(r.Draws, Draw{Entry: t.Entry, Wall: t.Wall, Seal: n.Seal, By: n.By, after: len(b.Told)})
	s := k.Settings[r.Body.Adjuster]
	s.At, s.Standing, s.Seen, s.Disputed = nil, Unknown, nil, nil
	s.Line = append(s.Line, Mark{Entry: t.Entry, Kind: "change", Wall: t.Wall, Turned: n.By, Why: WhySealed, Standing: Unknown})
}

func (b *Book) reveal(k *Bike, t *Told, n RevealBody) {
	r, d := k.drawn(n.Draw)
	salt, err := hex.DecodeString(n.Salt)
	switch {
	case d == nil:
		b.odd(t, "the draw that it opens is not on the bike")
		return
	case d.Side != "":
		b.odd(t, "the draw was opened before")
		return
	case err != nil || SealDraw(r.Entry, n.Side, salt) != d.Seal:
		b.odd(t, "it does not fit the draw's seal: one of the two was changed")
		return
	}
	wall := t.Wall
	d.Said, d.Side, d.Opened, d.until = n.Said, n.Side, &wall, len(b.Told)
	s := k.Settings[r.Body.Adjuster]
	if at := r.at(n.Side); s != nil && at != nil && s.At == nil {
		s.At, s.Standing, s.Seen = at, Counted, &wall
		s.Line = append(s.Line, Mark{Entry: t.Entry, Kind: "change", Wall: t.Wall, To: at, Turned: d.By, Why: "the draw was opened", Standing: Counted})
	}
}

func (k *Bike) drawn(id entry.ID) (*Trial, *Draw) {
	for i := range k.Trials {
		for j := range k.Trials[i].Draws {
			if k.Trials[i].Draws[j].Entry == id {
				return &k.Trials[i], &k.Trials[i].Draws[j]
			}
		}
	}
	return nil, nil
}

func (b *Book) rating(k *Bike, t *Told, n RatingBody) {
	r, ok := k.Trial(n.Trial)
	if !ok {
		b.odd(t, "the trial that it rates is not on the bike")
		return
	}
	r.Felt = n.Felt
}

// spoil marks the running trials of a bike with a change that was made while
// they ran. A move between the trial's own positions does not spoil it.
func (k *Bike) spoil(t *Told, adjuster AdjusterID, at *unit.Fixed) {
	for i := range k.Trials {
		r := &k.Trials[i]
		if !r.Runs() || r.Body.Adjuster == adjuster && r.belongs(at) {
			continue
		}
		r.Spoiled = append(r.Spoiled, t.Entry)
	}
}

// belongs reports whether a position is one of the trial's.
func (t Trial) belongs(at *unit.Fixed) bool {
	if t.Plan == PlanSweep {
		return true
	}
	return at != nil && (t.Body.From != nil && *at == *t.Body.From || t.Body.To != nil && *at == *t.Body.To)
}

// TrialRun is a session as a trial sees it. Side is SideA or SideB, in a sweep
// "" with At the stop; Out says why it is left out: "wet", "day", "other",
// "unknown", "sealed" or "rider", and is "" when it counts. Mixed are other
// adjusters that stood elsewhere than when the trial began.
type TrialRun struct {
	Session   Dated[SessionBody]
	Side      string
	At        *unit.Fixed
	Out       string
	Mixed     []AdjusterID
	Overruled bool
}

// Counts reports whether the run's laps count.
func (r TrialRun) Counts() bool { return r.Out == "" }

// RunsOf returns the sessions that bear on a trial, in the order ridden: those
// of its day before it began, while nothing else was changed in between (but
// none for a sweep or a blind trial), and those since, until its verdict; all
// on its track. Which side each was ridden
// on follows from where the adjuster stood, or from the draws, and can be
// overruled by the rider.
func (b *Book) RunsOf(k *Bike, t Trial) []TrialRun {
	base, _ := b.StoodAt(k, t.Entry)
	delete(base, t.Body.Adjuster)
	track, date := t.Body.Track, t.Wall.Format(time.DateOnly)
	out := []TrialRun{}
	for _, s := range k.Runs() {
		begun := t.begunBefore(s)
		if t.overBefore(s) || !begun && (DateOf(s) != date || t.Plan == PlanSweep || t.Plan == PlanBlind) {
			continue
		}
		track = or(track, s.Body.Track)
		if s.Body.Track != track {
			continue
		}
		r := TrialRun{Session: s}
		at, _ := b.StoodIn(k, s)
		r.Mixed = k.apart(base, at)
		if !begun && len(r.Mixed) > 0 {
			r.Out = "other"
		}
		t.place(&r, at[t.Body.Adjuster], begun, has(at, t.Body.Adjuster))
		if r.Out == "" && len(out) > 0 && s.Body.Wet != out[0].Session.Body.Wet {
			r.Out = "wet"
		}
		if r.Out == "" && DateOf(s) != date {
			r.Out = "day"
		}
		t.overrule(&r)
		out = append(out, r)
	}
	return out
}

func has(at map[AdjusterID]unit.Fixed, id AdjusterID) bool {
	_, ok := at[id]
	return ok
}

// begunBefore reports whether the trial had begun when a session was ridden.
func (t Trial) begunBefore(s Dated[SessionBody]) bool {
	if s.Body.When == "" {
		return s.after > t.after
	}
	return Ridden(s).After(t.Wall)
}

func (t Trial) overBefore(s Dated[SessionBody]) bool {
	if t.Runs() {
		return false
	}
	if s.Body.When == "" {
		return s.after > t.judgedAfter
	}
	return Ridden(s).After(*t.Judged)
}

// apart are the adjusters that stand half a step or more from where they
// stood, of those that were known both times.
func (k *Bike) apart(base, at map[AdjusterID]unit.Fixed) []AdjusterID {
	var out []AdjusterID
	for _, id := range k.Order {
		was, known := base[id]
		now, still := at[id]
		if !known || !still {
			continue
		}
		if d := now - was; 2*max(d, -d) >= max(k.Settings[id].Step, 1) {
			out = append(out, id)
		}
	}
	return out
}

// place finds the side on which a run was ridden.
func (t Trial) place(r *TrialRun, at unit.Fixed, begun, known bool) {
	if known {
		r.At = &at
	}
	if t.Plan == PlanBlind {
		t.placeBlind(r)
	}
	switch {
	case r.Side != "" || r.Out != "":
	case t.Plan == PlanSweep:
		if !known {
			r.Out = "unknown"
		}
	case t.Body.From == nil || t.Body.To == nil: // turned from or to nobody knows where: the order decides
		r.Side = SideA
		if begun {
			r.Side = SideB
		}
	case known && at == *t.Body.From:
		r.Side = SideA
	case known && at == *t.Body.To:
		r.Side = SideB
	default:
		r.Out = "unknown"
	}
}

// placeBlind takes the side from the draw that the run was ridden under.
func (t Trial) placeBlind(r *TrialRun) {
	for _, d := range t.Draws {
		if r.Session.after < d.after || d.until > 0 && r.Session.after > d.until {
			continue
		}
		r.Side = d.Side
		if d.Side == "" {
			r.Out = "sealed"
			continue
		}
		r.Out = ""
		r.At = t.at(d.Side)
	}
}

// overrule puts the rider's word in the place of what was worked out; a draw
// that is still sealed stays so.
func (t Trial) overrule(r *TrialRun) {
	for _, w := range t.Sides {
		if w.Session != r.Session.Body.Session || r.Out == "sealed" {
			continue
		}
		r.Overruled = true
		if w.Side == SideOut {
			r.Out = "rider"
			continue
		}
		r.Out, r.Side = "", w.Side
		if w.At != nil {
			r.At = w.At
		}
	}
}
