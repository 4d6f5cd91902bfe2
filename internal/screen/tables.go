package screen

import (
	"encoding/json"
	"maps"
	"slices"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// Table is a part of a whole book as rows, the heading first, for people who
// open it with another program. About says what it holds.
type Table struct {
	Name  string // "changes"
	About string
	Rows  [][]string
}

// Tables returns a book's changes, sessions and laps, bike after bike. They
// follow from the entries alone, so one log always gives the same rows.
func Tables(b *book.Book) []Table {
	return []Table{
		{"changes", aboutChanges, ofAllBikes(b, changeRows)},
		{"sessions", aboutSessions, ofAllBikes(b, SessionRows)},
		{"laps", aboutLaps, ofAllBikes(b, LapRows)},
	}
}

const (
	aboutChanges = `Every movement of an adjuster, in the order of the log. what is
'change' when somebody said so, 'found' when a count showed that it had been
moved. from, to and moved are in the unit of their line, moved being to less
from; clicks count out from fully closed where the adjuster says so. Corrected
lines are as corrected; what was struck out is left out.`
	aboutSessions = `Every run on a track. Units stand in the heading; best and middle
(the median) are of the laps that count.`
	aboutLaps = `Every lap. mark is 'counts', or why it does not; whose mark says
whether a rule or the rider set it.`
)

// ofAllBikes puts the rows of each bike behind each other, with the bike's
// name in front. A heading may be longer for one bike than for another, by
// sectors; the longest is everybody's.
func ofAllBikes(b *book.Book, rows func(*book.Book, *book.Bike) [][]string) [][]string {
	out := [][]string{nil}
	for _, id := range slices.Sorted(maps.Keys(b.Bikes)) {
		of := rows(b, b.Bikes[id])
		if len(of[0]) >= len(out[0]) {
			out[0] = append([]string{"bike"}, of[0]...)
		}
		for _, row := range of[1:] {
			out = append(out, append([]string{b.Bikes[id].Name}, row...))
		}
	}
	if out[0] == nil { // a book without a bike
		out[0] = append([]string{"bike"}, rows(b, &book.Bike{})[0]...)
	}
	for i, row := range out {
		out[i] = append(row, make([]string, len(out[0])-len(row))...)
	}
	return out
}

// changeRows are a bike's movements in the order of the log, the heading first.
func changeRows(b *book.Book, k *book.Bike) [][]string {
	out := [][]string{{"date", "time", "track", "adjuster", "unit", "what", "from", "to", "moved", "turned by", "whose idea", "why", "expected", "verdict", "entry"}}
	tell := teller{shower{b}, unowned(b)}
	for _, t := range b.Told {
		if t.Bike != k.ID || t.Struck != "" {
			continue
		}
		m, expected, ok := tell.movement(t)
		if !ok {
			continue
		}
		s := tell.setting(t)
		out = append(out, []string{
			t.Wall.Format(time.DateOnly), t.Wall.Format("15:04"), b.Tracks[t.Track].Name, s.Name, s.Unit, m.Kind, plain(m.From), plain(m.To), plain(moved(m)),
			nameOf(b, m.Turned), nameOf(b, m.Idea), m.Why, expected, verdictOn(k, t.Entry), string(t.Entry),
		})
	}
	return out
}

// movement returns what an entry says about something that moved, and false
// for an entry that says no such thing.
func (w teller) movement(t book.Told) (m book.Mark, expected string, ok bool) {
	if t.Kind != book.KindChange {
		m, ok = w.found[t.Entry]
		return m, "", ok
	}
	var c book.ChangeBody
	if json.Unmarshal(t.Body, &c) != nil {
		return book.Mark{}, "", false
	}
	return book.Mark{Kind: "change", From: c.From, To: c.To, Delta: c.Delta, Turned: c.By, Idea: c.Idea, Why: c.Why}, c.Expect, true
}

func moved(m book.Mark) *unit.Fixed {
	if m.Delta != nil || m.From == nil || m.To == nil {
		return m.Delta
	}
	by := *m.To - *m.From
	return &by
}

// verdictOn is the rider's word on a trial, empty when there is none yet or
// the change was none.
func verdictOn(k *book.Bike, change entry.ID) string {
	at := slices.IndexFunc(k.Trials, func(t book.Trial) bool { return t.Entry == change })
	if at < 0 {
		return ""
	}
	return k.Trials[at].Verdict
}
