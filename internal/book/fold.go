package book

import (
	"encoding/json"
	"slices"
	"time"

	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// Fold returns the book that entries add up to, in whatever order they came
// and however often. It does not fail: what it cannot place it keeps as an
// oddity, because an entry, once written, is history.
func Fold(entries []entry.Entry) *Book {
	ordered := entry.InOrder(entries)
	b := &Book{
		Units: map[string]string{}, Devices: map[entry.DeviceID]string{}, Holders: map[entry.DeviceID]entry.PersonID{}, People: map[entry.PersonID]Person{},
		Bikes: map[BikeID]*Bike{}, Tracks: map[TrackID]Track{}, Days: map[DayID]Day{}, Counted: map[string]int{},
		Told: make([]Told, 0, len(ordered)), told: make(map[entry.ID]int, len(ordered)),
	}
	b.addAll(ordered, editsOf(ordered))
	return b
}

// extend folds entries into the book that were not in it yet. It reports false,
// and changes nothing, unless all of them stand behind what was folded and none
// edits what came before: then only folding everything anew is right.
func (b *Book) extend(fresh []entry.Entry) bool {
	ordered := entry.InOrder(fresh)
	for _, e := range ordered {
		if b.last != nil && entry.Compare(*b.last, e) >= 0 || isEdit(e) {
			return false
		}
	}
	b.addAll(ordered, edits{})
	return true
}

func (b *Book) addAll(ordered []entry.Entry, ed edits) {
	for _, e := range ordered {
		b.add(e, ed)
	}
	if n := len(ordered); n > 0 {
		last := ordered[n-1]
		b.last = &last
	}
}

// FoldUntil returns the book as it stood at a reading of the clock, that
// reading included. Later corrections of earlier entries are not in it: it is
// what the rider could have read at that moment.
func FoldUntil(entries []entry.Entry, at entry.Clock) *Book {
	return Fold(slices.DeleteFunc(slices.Clone(entries), func(e entry.Entry) bool { return e.At > at }))
}

// edits is what corrections and strikes say about other entries.
type edits struct {
	struck map[entry.ID]entry.ID
	bodies map[entry.ID]rawBody
	by     map[entry.ID]entry.ID
}

func isEdit(e entry.Entry) bool { return e.Kind == KindStrike || e.Kind == KindCorrect }

// editsOf reads corrections and strikes from the last to the first, so that a
// strike may be struck and a correction corrected. Only an entry that stands
// earlier in the order can be edited.
func editsOf(ordered []entry.Entry) edits {
	if !slices.ContainsFunc(ordered, isEdit) {
		return edits{} // most books; the places of all entries would take time
	}
	ed := edits{map[entry.ID]entry.ID{}, map[entry.ID]rawBody{}, map[entry.ID]entry.ID{}}
	place := map[entry.ID]int{}
	for i, e := range ordered {
		if _, ok := place[e.ID]; !ok {
			place[e.ID] = i
		}
	}
	for i, e := range slices.Backward(ordered) {
		if ed.struck[e.ID] != "" {
			continue
		}
		switch e.Kind {
		case KindStrike:
			var s StrikeBody
			if at, ok := place[s.read(ed.body(e)).Entry]; ok && at < i {
				ed.struck[ordered[at].ID] = e.ID
			}
		case KindCorrect:
			var c CorrectBody
			_ = json.Unmarshal(ed.body(e), &c)
			at, ok := place[c.Entry]
			if ok && at < i && ed.by[c.Entry] == "" {
				ed.bodies[c.Entry], ed.by[c.Entry] = c.Body, e.ID
			}
		}
	}
	return ed
}

func (s *StrikeBody) read(b rawBody) *StrikeBody {
	_ = json.Unmarshal(b, s)
	return s
}

func (ed edits) body(e entry.Entry) rawBody {
	if b, ok := ed.bodies[e.ID]; ok {
		return b
	}
	return e.Body
}

func (b *Book) add(e entry.Entry, ed edits) {
	t := Told{
		Entry: e.ID, Kind: e.Kind, Wall: e.Wall, By: e.By, Device: e.Device,
		Body: ed.body(e), Struck: ed.struck[e.ID], Corrected: ed.by[e.ID],
	}
	if t.Corrected != "" {
		t.Was = e.Body
	}
	if _, twice := b.told[e.ID]; twice {
		b.odd(&t, "another entry with the same id came before it")
		return
	}
	b.told[e.ID] = len(b.Told)
	b.Counted[e.Kind]++
	b.Told = append(b.Told, t)
	b.apply(&b.Told[len(b.Told)-1])
}

func (b *Book) odd(t *Told, says string) {
	b.Oddities = append(b.Oddities, Oddity{t.Entry, t.Kind, says})
}

// apply folds one entry: one short method per kind.
func (b *Book) apply(t *Told) {
	switch t.Kind {
	case KindBook:
		read(b, t, b.book)
	case KindDevice:
		read(b, t, b.device)
	case KindBike:
		read(b, t, b.bike)
	case KindPerson:
		read(b, t, b.person)
	case KindTrack:
		read(b, t, b.track)
	case KindAdjuster:
		onBike(b, t, adjuster)
	case KindChange:
		onBike(b, t, b.change)
	case KindCount:
		onBike(b, t, b.count)
	case KindOwn:
		read(b, t, b.own)
	case KindBaseline:
		onBike(b, t, baseline)
	case KindFact:
		onBike(b, t, func(k *Bike, t *Told, f FactBody) { k.Facts[f.Fact] = dated(b, t, f) })
	case KindCheck:
		onBike(b, t, func(k *Bike, t *Told, c CheckBody) { k.Checks[c.Check] = dated(b, t, c) })
	case KindFall:
		onBike(b, t, func(k *Bike, t *Told, f FallBody) { k.Falls = append(k.Falls, dated(b, t, f)) })
	case KindService:
		onBike(b, t, func(k *Bike, t *Told, s ServiceBody) { k.Services = append(k.Services, dated(b, t, s)) })
	case KindPart:
		onBike(b, t, func(k *Bike, t *Told, p PartBody) { k.Parts = append(k.Parts, dated(b, t, p)) })
	case KindPhoto:
		onBike(b, t, func(k *Bike, t *Told, n PhotoBody) { k.Photos = append(k.Photos, dated(b, t, n)) })
	case KindMeasure:
		onBike(b, t, func(k *Bike, t *Told, m MeasureBody) { k.Measures[m.Topic] = dated(b, t, m) })
	case KindDay:
		read(b, t, b.day)
	case KindLaps:
		onBike(b, t, b.laps)
	case KindTyres:
		onBike(b, t, tyres)
	case KindInterval:
		onBike(b, t, func(k *Bike, t *Told, n IntervalBody) { k.Intervals[n.What] = dated(b, t, n) })
	case KindSession:
		onBike(b, t, func(k *Bike, t *Told, s SessionBody) { k.Sessions = append(k.Sessions, dated(b, t, s)) })
	case KindSymptom:
		onBike(b, t, func(k *Bike, t *Told, s SymptomBody) { k.Symptoms = append(k.Symptoms, dated(b, t, s)) })
	case KindRepeat:
		onBike(b, t, b.repeat)
	case KindForget:
		onBike(b, t, forget)
	case KindAdvice:
		onBike(b, t, b.advice)
	case KindOutcome:
		read(b, t, b.outcome)
	case KindTrial:
		onBike(b, t, b.trial)
	case KindRun:
		onBike(b, t, b.run)
	case KindDraw:
		onBike(b, t, b.draw)
	case KindReveal:
		onBike(b, t, b.reveal)
	case KindRating:
		onBike(b, t, b.rating)
	case KindVerdict:
		read(b, t, b.verdict)
	case KindCorrect, KindStrike:
		// Folded before the others, by editsOf.
	default:
		// Written by a newer app: kept in the log, passed on, not folded.
	}
}

// read decodes a body, notes what it is about, and hands it on; a body that
// does not read is an oddity. A struck entry is only read for history.
func read[B any](b *Book, t *Told, fold func(*Told, B)) {
	body, err := decode[B](t.Body)
	if err != nil {
		b.odd(t, "its body cannot be read: "+err.Error())
		return
	}
	if n, ok := any(body).(subject); ok {
		t.Bike, t.Adjuster, t.Track = n.about()
	}
	if t.Struck == "" {
		fold(t, body)
	}
}

// onBike is read for bodies that are about a bike which must be in the book.
func onBike[B any](b *Book, t *Told, fold func(*Bike, *Told, B)) {
	read(b, t, func(t *Told, body B) {
		k, ok := b.Bikes[t.Bike]
		if !ok {
			b.odd(t, "its bike is not in the book")
			return
		}
		fold(k, t, body)
	})
}

func dated[B any](b *Book, t *Told, body B) Dated[B] {
	return Dated[B]{Entry: t.Entry, Wall: t.Wall, By: t.By, Body: body, after: len(b.Told)}
}

func (b *Book) book(_ *Told, n BookBody) {
	b.Name = or(n.Name, b.Name)
	b.Rider = or(n.Rider, b.Rider)
	b.Example = b.Example || n.Example
	for quantity, choice := range n.Units {
		b.Units[quantity] = choice
	}
}

func (b *Book) bike(_ *Told, n BikeBody) {
	k, ok := b.Bikes[n.Bike]
	if !ok {
		k = &Bike{
			ID: n.Bike, Order: []AdjusterID{}, Settings: map[AdjusterID]*Setting{}, Facts: map[string]Dated[FactBody]{},
			Checks: map[string]Dated[CheckBody]{}, Measures: map[string]Dated[MeasureBody]{},
			Laps: map[SessionID]Dated[LapsBody]{}, Intervals: map[string]Dated[IntervalBody]{},
		}
		b.Bikes[n.Bike] = k
		b.BikeOrder = append(b.BikeOrder, n.Bike)
	}
	k.Name = or(n.Name, k.Name)
	k.Year = or(n.Year, k.Year)
	k.Class = or(n.Class, k.Class)
	k.Tyres = or(n.Tyres, k.Tyres)
	k.Note = or(n.Note, k.Note)
	k.RiderKg = or(n.Rider, k.RiderKg)
}

func (b *Book) device(t *Told, d DeviceBody) {
	if d.Name != "" {
		b.Devices[t.Device] = d.Name
	}
	if d.Holder != "" {
		b.Holders[t.Device] = d.Holder
	}
}

func (b *Book) person(_ *Told, n PersonBody) {
	p := b.People[n.Person]
	p.Name, p.Role = or(n.Name, p.Name), or(n.Role, p.Role)
	switch {
	case n.Same == n.Person:
		p.Same = ""
	case n.Same != "" && b.Who(n.Same) != n.Person: // two phones could merge two people both ways
		p.Same = n.Same
	}
	b.People[n.Person] = p
}

func (b *Book) track(_ *Told, n TrackBody) {
	t := b.Tracks[n.Track]
	t.Name, t.Bumpy, t.Way = or(n.Name, t.Name), or(n.Bumpy, t.Bumpy), or(n.Way, t.Way)
	t.Length, t.Map, t.Note = or(n.Length, t.Length), or(n.Map, t.Map), or(n.Note, t.Note)
	if n.Corners != nil {
		t.Corners = n.Corners
	}
	b.Tracks[n.Track] = t
}

// or returns the new value when one was given, and what was there otherwise.
func or[V comparable](given, was V) V {
	var none V
	if given == none {
		return was
	}
	return given
}

func adjuster(k *Bike, _ *Told, n AdjusterBody) {
	s, ok := k.Settings[n.Adjuster]
	if !ok {
		s = &Setting{ID: n.Adjuster, Standing: Unknown}
		k.Settings[n.Adjuster] = s
		k.Order = append(k.Order, n.Adjuster)
	}
	s.Def, s.Retired = n.Def, n.Retired
}

func (b *Book) change(k *Bike, t *Told, c ChangeBody) {
	s, ok := k.Settings[c.Adjuster]
	if !ok {
		b.odd(t, "its adjuster is not on the bike")
		return
	}
	m := Mark{Entry: t.Entry, Kind: "change", Wall: t.Wall, From: c.From, To: c.To, Delta: c.Delta, Turned: c.By, Idea: c.Idea, Why: c.Why}
	s.move(t, c)
	if m.To == nil {
		m.To = s.At
	}
	m.Standing = s.Standing
	s.Line = append(s.Line, m)
	k.spoil(t, s.ID, s.At)
	if c.Trial {
		k.Trials = append(k.Trials, Trial{Dated: dated(b, t, c)})
	}
	k.tried(c.Advice, t.Entry)
}

// move works out where a change leaves the setting. A change whose start is
// not where the book had the adjuster was made without knowing of another
// one: the later position stands, disputed until somebody counts.
func (s *Setting) move(t *Told, c ChangeBody) {
	start := s.At
	if c.From != nil {
		if start != nil && *start != *c.From && s.Standing == Counted {
			s.Disputed = append(s.Disputed, t.Entry)
		}
		start = c.From
	}
	switch {
	case c.To != nil:
		if s.Standing == Unknown && c.From == nil {
			s.Standing = Counted // counted as it was set
		}
		s.At = c.To
	case start != nil && c.Delta != nil:
		sum := *start + *c.Delta
		s.At = &sum
	default:
		s.At, s.Standing, s.Seen = nil, Unknown, nil
		return
	}
	if s.Standing == Unknown {
		s.Standing = Assumed
	}
	wall := t.Wall
	s.Seen = &wall
}

func (b *Book) count(k *Bike, t *Told, c CountBody) {
	s, ok := k.Settings[c.Adjuster]
	if !ok {
		b.odd(t, "its adjuster is not on the bike")
		return
	}
	m := Mark{Entry: t.Entry, Kind: "count", Wall: t.Wall, To: c.At, Why: c.Note, Standing: c.Standing}
	if c.Standing == Counted && s.differs(c.At) {
		delta := *c.At - *s.At
		m.Kind, m.From, m.Delta, m.After = "found", s.At, &delta, s.Seen
	}
	s.Line = append(s.Line, m)
	s.Standing, s.At, s.Seen, s.Disputed = c.Standing, c.At, nil, nil
	if c.At != nil {
		wall := t.Wall
		s.Seen = &wall
	}
}

// differs reports whether a count is not what the book had counted. Half a
// step is reading error, and an assumption that proves wrong has no culprit.
func (s *Setting) differs(at *unit.Fixed) bool {
	if at == nil || s.At == nil || s.Standing != Counted || len(s.Disputed) > 0 {
		return false
	}
	d := *at - *s.At
	return 2*max(d, -d) >= max(s.Step, 1)
}

func (b *Book) own(t *Told, o OwnBody) {
	for _, id := range b.BikeOrder {
		for _, s := range b.Bikes[id].Settings {
			for i := range s.Line {
				if m := &s.Line[i]; m.Entry == o.Found && m.Kind == "found" {
					m.Owned, m.Turned, m.Idea, m.Why = t.Entry, o.By, o.Idea, or(o.Why, m.Why)
					return
				}
			}
		}
	}
	b.odd(t, "the found difference that it owns up to is not in the book")
}

func baseline(k *Bike, t *Told, n BaselineBody) {
	k.Baselines = slices.DeleteFunc(k.Baselines, func(l Baseline) bool { return l.ID == n.Baseline })
	if !n.Dropped {
		k.Baselines = append(k.Baselines, Baseline{n.Baseline, t.Entry, t.Wall, n.Name, n.At, n.Track, n.Note})
	}
}

// advice keeps what somebody said. Two phones may fetch one proposal; it was
// made once.
func (b *Book) advice(k *Bike, t *Told, n AdviceBody) {
	if n.Proposal != "" && slices.ContainsFunc(k.Advice, func(a Advice) bool { return a.Body.Proposal == n.Proposal }) {
		return
	}
	k.Advice = append(k.Advice, Advice{Dated: dated(b, t, n)})
}

func (b *Book) outcome(t *Told, o OutcomeBody) {
	for _, id := range b.BikeOrder {
		for i := range b.Bikes[id].Advice {
			if a := &b.Bikes[id].Advice[i]; a.Entry == o.Advice {
				a.Result, a.Note = o.Result, o.Note
				return
			}
		}
	}
	b.odd(t, "the advice that it is about is not in the book")
}

func (b *Book) verdict(t *Told, v VerdictBody) {
	for _, id := range b.BikeOrder {
		k := b.Bikes[id]
		for i := range k.Trials {
			if k.Trials[i].Entry == v.Change {
				k.judge(&k.Trials[i], t.Wall, v)
				k.Trials[i].judgedAfter = len(b.Told)
				return
			}
		}
	}
	b.odd(t, "the trial that it judges is not in the book")
}

func (k *Bike) judge(r *Trial, wall time.Time, v VerdictBody) {
	r.Verdict, r.Judged, r.Note, r.Forgotten = v.Verdict, &wall, v.Note, false
	r.Chosen, r.Laps = v.Chosen, v.Laps
	for i := range k.Advice {
		if k.Advice[i].Change == r.Entry {
			k.Advice[i].Verdict = v.Verdict
		}
	}
}
