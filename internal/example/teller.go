package example

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// The example's own names. They are fixed, so that every phone shows the same
// book and a screenshot today is one tomorrow.
const (
	BookID   = entry.BookID("019621f0-0000-7000-8000-0000000e7a01")
	DeviceID = entry.DeviceID("019621f0-0000-7000-8000-0000000e7a02")
)

// Lines returns the season as log lines, the same on every call.
func Lines() []string {
	t := &teller{replica: book.Open(BookID, DeviceID)}
	season(t)
	return t.lines
}

// teller writes the season's entries, one after the other. A slip in the
// season is a bug of ours, so it panics; a test reads the whole season.
type teller struct {
	replica *book.Replica
	now     time.Time
	lines   []string
}

// at sets the clock: local time, two hours east of UTC.
func (t *teller) at(local string) {
	now, err := time.Parse("2006-01-02T15:04-07:00", local+"+02:00")
	if err != nil {
		panic(err)
	}
	t.now = now
}

func (t *teller) tell(kind string, body any) entry.ID {
	t.now = t.now.Add(20 * time.Second)
	chance := sha256.Sum256(binary.BigEndian.AppendUint64(nil, uint64(len(t.lines))))
	lines, err := t.replica.Stamp([]book.Draft{{Kind: kind, Body: body}}, nell, t.now, chance[:])
	if err != nil {
		panic(err)
	}
	if added, wrong := t.replica.Take(lines); added != 1 {
		panic(fmt.Sprint("the example's own entry was refused: ", wrong))
	}
	t.lines = append(t.lines, lines...)
	e, err := entry.Decode([]byte(lines[0]))
	if err != nil {
		panic(err)
	}
	return e.ID
}

func whole(n int) *unit.Fixed { f := unit.Whole(n); return &f }

func (t *teller) fact(fact, answer, when, note string) {
	t.tell(book.KindFact, book.FactBody{Bike: Heron, Fact: fact, Answer: answer, When: when, Note: note})
}

func (t *teller) check(check, result, note string) {
	t.tell(book.KindCheck, book.CheckBody{Bike: Heron, Check: check, Result: result, Note: note})
}

func (t *teller) count(a book.AdjusterID, n int) {
	t.tell(book.KindCount, book.CountBody{Bike: Heron, Adjuster: a, Standing: book.Counted, At: whole(n)})
}

func (t *teller) found(a book.AdjusterID, n int, note string) {
	t.tell(book.KindCount, book.CountBody{Bike: Heron, Adjuster: a, Standing: book.Counted, At: whole(n), Note: note})
}

func (t *teller) assumed(a book.AdjusterID, n int) {
	t.tell(book.KindCount, book.CountBody{Bike: Heron, Adjuster: a, Standing: book.Assumed, At: whole(n)})
}

func (t *teller) unknown(a book.AdjusterID) {
	t.tell(book.KindCount, book.CountBody{Bike: Heron, Adjuster: a, Standing: book.Unknown})
}

func (t *teller) pressure(a book.AdjusterID, at unit.Fixed) {
	t.tell(book.KindCount, book.CountBody{Bike: Heron, Adjuster: a, Standing: book.Counted, At: &at})
}

// readings are symbols and numbers by turns, the numbers whole or Fixed.
func readings(pairs ...any) map[string]unit.Fixed {
	out := map[string]unit.Fixed{}
	for i := 0; i+1 < len(pairs); i += 2 {
		switch n := pairs[i+1].(type) {
		case int:
			out[pairs[i].(string)] = unit.Whole(n)
		case unit.Fixed:
			out[pairs[i].(string)] = n
		}
	}
	return out
}

func (t *teller) measure(topic string, values map[string]unit.Fixed, words map[string]string) {
	t.tell(book.KindMeasure, book.MeasureBody{Bike: Heron, Topic: topic, Values: values, Words: words})
}

func (t *teller) line(id book.BaselineID, name string, track book.TrackID) {
	at := t.replica.Book().Bikes[Heron].SnapshotLine()
	t.tell(book.KindBaseline, book.BaselineBody{Bike: Heron, Baseline: id, Name: name, At: at, Track: track})
}

func (t *teller) symptom(track book.TrackID, session book.SessionID, corner, repeat, words string, findings ...string) entry.ID {
	n := book.SymptomBody{Bike: Heron, Session: session, Track: track, Corner: corner, Findings: map[string]string{}, Repeat: repeat, Words: words}
	for _, id := range findings {
		n.Findings[id] = "yes"
	}
	return t.tell(book.KindSymptom, n)
}

func (t *teller) advice(from entry.PersonID, a book.AdjusterID, steps int, what, why string) {
	t.tell(book.KindAdvice, book.AdviceBody{Bike: Heron, From: from, Adjuster: a, Delta: whole(steps), What: what, Why: why})
}

func (t *teller) change(c book.ChangeBody, from, to int) entry.ID {
	c.Bike, c.From, c.To, c.Delta = Heron, whole(from), whole(to), whole(to-from)
	return t.tell(book.KindChange, c)
}

func (t *teller) try(c book.ChangeBody, from, to int) entry.ID {
	c.Trial = true
	return t.change(c, from, to)
}

func (t *teller) verdict(change entry.ID, verdict, note string) {
	t.tell(book.KindVerdict, book.VerdictBody{Change: change, Verdict: verdict, Note: note})
}
