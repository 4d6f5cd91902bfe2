package book

import (
	"slices"
	"strings"
	"time"

	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// TyreSet is a set of tyres; TyresBody says what its fields mean.
type TyreSet struct {
	ID     TyreSetID `json:"id"`
	Entry  entry.ID  `json:"entry"` // the one that first told of it
	Name   string    `json:"name"`
	Front  string    `json:"front,omitempty"`
	Rear   string    `json:"rear,omitempty"`
	Fitted string    `json:"fitted,omitempty"`
	Cycles int       `json:"cycles,omitempty"`
	Gone   bool      `json:"gone,omitempty"`
	Note   string    `json:"note,omitempty"`
}

func (b *Book) day(t *Told, n DayBody) {
	d, ok := b.Days[n.Day]
	if !ok {
		d = Day{ID: n.Day, Entry: t.Entry}
		b.DayOrder = append(b.DayOrder, n.Day)
	}
	d.Track, d.Date, d.Way, d.Note = or(n.Track, d.Track), or(n.Date, d.Date), or(n.Way, d.Way), or(n.Note, d.Note)
	b.Days[n.Day] = d
}

// laps takes the laps of a session. They may come before the session itself:
// two phones write in any order.
func (b *Book) laps(k *Bike, t *Told, n LapsBody) {
	k.Laps[n.Session] = dated(b, t, n)
	for _, s := range k.Sessions {
		if s.Body.Session == n.Session {
			t.Track = s.Body.Track
		}
	}
}

func tyres(k *Bike, t *Told, n TyresBody) {
	i := slices.IndexFunc(k.TyreSets, func(s TyreSet) bool { return s.ID == n.Set })
	if i < 0 {
		i = len(k.TyreSets)
		k.TyreSets = append(k.TyreSets, TyreSet{ID: n.Set, Entry: t.Entry})
	}
	s := &k.TyreSets[i]
	s.Name, s.Front, s.Rear, s.Fitted = or(n.Name, s.Name), or(n.Front, s.Front), or(n.Rear, s.Rear), or(n.Fitted, s.Fitted)
	s.Cycles, s.Note, s.Gone = or(n.Cycles, s.Cycles), or(n.Note, s.Note), n.Gone
}

// Session returns a session of the bike, and whether it is there.
func (k *Bike) Session(id SessionID) (Dated[SessionBody], bool) {
	i := slices.IndexFunc(k.Sessions, func(s Dated[SessionBody]) bool { return s.Body.Session == id })
	if i < 0 {
		return Dated[SessionBody]{}, false
	}
	return k.Sessions[i], true
}

// LapsOf returns the laps of a session: those of its latest laps entry, or
// those that an older book kept in the session itself.
func (k *Bike) LapsOf(id SessionID) []LapTime {
	if n, ok := k.Laps[id]; ok {
		return n.Body.Laps
	}
	s, _ := k.Session(id)
	out := make([]LapTime, len(s.Body.Laps))
	for i, t := range s.Body.Laps {
		out[i].Time = t
	}
	return out
}

// HeatCycles returns how many times a tyre set was heated up to and including
// a session, or in all when the session is "": once for each session, besides
// what it had before. That a session is one cycle is common practice, no
// source; warmers between sessions make fewer.
func (k *Bike) HeatCycles(set TyreSetID, until SessionID) int {
	if set == "" {
		return 0
	}
	n := 0
	for _, s := range k.TyreSets {
		if s.ID == set {
			n = s.Cycles
		}
	}
	for _, s := range k.Runs() {
		if s.Body.Tyres == set {
			n++
		}
		if s.Body.Session == until {
			break
		}
	}
	return n
}

// Ridden returns when a session was ridden: the time that the rider gave it,
// or that of its entry. A day without an hour is taken at noon.
func Ridden(s Dated[SessionBody]) time.Time {
	if s.Body.When == "" {
		return s.Wall
	}
	zone := s.Wall.Location()
	if at, err := time.ParseInLocation("2006-01-02T15:04", s.Body.When, zone); err == nil {
		return at
	}
	if day, err := time.ParseInLocation(time.DateOnly, s.Body.When, zone); err == nil {
		return day.Add(12 * time.Hour)
	}
	return s.Wall
}

// DateOf returns the day on which a session was ridden, "2025-06-14".
func DateOf(s Dated[SessionBody]) string { return Ridden(s).Format(time.DateOnly) }

// Runs returns the bike's sessions in the order they were ridden. Callers must
// not change them.
func (k *Bike) Runs() []Dated[SessionBody] {
	inOrder := func(a, b Dated[SessionBody]) int { return Ridden(a).Compare(Ridden(b)) }
	if slices.IsSortedFunc(k.Sessions, inOrder) { // as they mostly are
		return k.Sessions
	}
	return slices.SortedStableFunc(slices.Values(k.Sessions), inOrder)
}

// RidingDay is a day with its sessions of one bike, in the order ridden. Day
// is "" for sessions of older books, which knew no days: those of one date at
// one track belong together.
type RidingDay struct {
	Day      DayID
	Date     string
	Track    TrackID
	Way      string
	Note     string
	Sessions []Dated[SessionBody]
}

// RidingDays returns the days on which the bike was ridden, and those of the
// book that have no session of any bike yet, oldest first.
func (b *Book) RidingDays(k *Bike) []RidingDay {
	var out []RidingDay
	place := map[[3]string]int{}
	for _, s := range k.Runs() {
		r := RidingDay{Day: s.Body.Day, Date: DateOf(s), Track: s.Body.Track}
		key := [3]string{string(r.Day), "", ""}
		if d, ok := b.Days[r.Day]; ok {
			r.Track, r.Way, r.Note, r.Date = or(d.Track, r.Track), d.Way, d.Note, or(d.Date, r.Date)
		} else {
			key = [3]string{"", r.Date, string(r.Track)}
		}
		at, ok := place[key]
		if !ok {
			at, place[key] = len(out), len(out)
			out = append(out, r)
		}
		out[at].Sessions = append(out[at].Sessions, s)
	}
	for _, id := range b.DayOrder {
		if d := b.Days[id]; !b.wasRidden(id) {
			out = append(out, RidingDay{Day: id, Date: d.Date, Track: d.Track, Way: d.Way, Note: d.Note})
		}
	}
	slices.SortStableFunc(out, func(x, y RidingDay) int { return strings.Compare(x.Date, y.Date) })
	return out
}

func (b *Book) wasRidden(id DayID) bool {
	for _, k := range b.Bikes {
		if slices.ContainsFunc(k.Sessions, func(s Dated[SessionBody]) bool { return s.Body.Day == id }) {
			return true
		}
	}
	return false
}

// StoodAt returns where a bike's settings stood when an entry was written, and
// how well each was known, as the book tells it now: later corrections of
// earlier entries are in it. Settings that were not known are in standings
// only.
func (b *Book) StoodAt(k *Bike, id entry.ID) (at map[AdjusterID]unit.Fixed, standings map[AdjusterID]Standing) {
	end, ok := b.told[id]
	if !ok {
		end = len(b.Told)
	}
	return k.stood(func(m Mark) bool { return b.told[m.Entry] < end })
}

// StoodWhen is StoodAt for a moment instead of an entry: for sessions that
// were written down later than they were ridden.
func (k *Bike) StoodWhen(moment time.Time) (at map[AdjusterID]unit.Fixed, standings map[AdjusterID]Standing) {
	return k.stood(func(m Mark) bool { return m.Wall.Before(moment) })
}

// StoodIn returns where the settings stood in a session.
func (b *Book) StoodIn(k *Bike, s Dated[SessionBody]) (at map[AdjusterID]unit.Fixed, standings map[AdjusterID]Standing) {
	if s.Body.When == "" {
		return b.StoodAt(k, s.Entry)
	}
	return k.StoodWhen(Ridden(s))
}

func (k *Bike) stood(before func(Mark) bool) (at map[AdjusterID]unit.Fixed, standings map[AdjusterID]Standing) {
	at, standings = map[AdjusterID]unit.Fixed{}, map[AdjusterID]Standing{}
	for _, id := range k.Order {
		s := k.Settings[id]
		if !s.Retired {
			standings[id] = Unknown
		}
		for _, m := range s.Line {
			if !before(m) {
				continue
			}
			standings[id] = m.Standing
			delete(at, id)
			if m.To != nil {
				at[id] = *m.To
			}
		}
	}
	return at, standings
}
