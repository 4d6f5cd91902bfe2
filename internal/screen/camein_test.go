package screen

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"plumbline/internal/book"
	"plumbline/internal/unit"
)

func minting(a Ask) Ask {
	n := 0
	a.Mint = func() string { n++; return fmt.Sprintf("new-%d", n) }
	return a
}

func TestCameInWritesASession(t *testing.T) {
	form := `{"track":{"name":"Cold Ness"},"felt":"better","front":33,"rear":30.5,"coldFront":30,"air":14,"fuel":11,"wind":"light","tyres":"set-2","laps":"1:52.4\n1:51,9\n\n112.1","words":"runs wide","corner":"Turn 3","repeat":"every"}`
	drafts, refused := Act("session", minting(exampleAsk(t)), json.RawMessage(form))
	if refused != nil || len(drafts) != 5 {
		t.Fatalf("drafts %+v, refused %v", drafts, refused)
	}
	track, day := drafts[0].Body.(book.TrackBody), drafts[1].Body.(book.DayBody)
	s, l := drafts[2].Body.(book.SessionBody), drafts[3].Body.(book.LapsBody)
	if day.Track != track.Track || day.Date != "2026-09-12" || s.Track != track.Track || s.Day != day.Day || s.Tyres != "set-2" || *s.Fuel != unit.Whole(11) {
		t.Errorf("track %+v, day %+v, session %+v", track, day, s)
	}
	if l.Session != s.Session || l.Source != "hand" || len(l.Laps) != 3 || l.Laps[1].Time != 111_900 || s.Laps != nil {
		t.Errorf("laps %+v", l)
	}
	if y := drafts[4].Body.(book.SymptomBody); y.Session != s.Session || y.Corner != "Turn 3" || y.Words != "runs wide" {
		t.Errorf("symptom %+v", y)
	}
	// 33 psi × 6.894757 kPa (NIST SP 811, appendix B.8) = 227.527 kPa.
	if s.Front == nil || *s.Front != 227_527 {
		t.Errorf("front is %v kPa; want 227.527", s.Front)
	}
}

func TestCameInKnowsTheTrackAndTheDay(t *testing.T) {
	drafts, _ := Act("session", minting(exampleAsk(t)), json.RawMessage(`{"track":{"name":"tarn hollow"}}`))
	if len(drafts) != 1 || drafts[0].Body.(book.SessionBody).Track != "tarn-hollow" || drafts[0].Body.(book.SessionBody).Day != "sep" {
		t.Errorf("drafts %+v; want the track and the day that are in the book", drafts)
	}
	drafts, _ = Act("session", minting(exampleAsk(t)), json.RawMessage(`{"track":{"id":"tarn-hollow"},"when":"2026-09-05T10:00"}`))
	if len(drafts) != 2 || drafts[0].Body.(book.DayBody).Date != "2026-09-05" {
		t.Errorf("drafts %+v; want a day of its own for another date", drafts)
	}
}

func TestCameInBeginsWhereTheLastSessionEnded(t *testing.T) {
	got, refused := View("camein", exampleAsk(t), nil)
	if refused != nil {
		t.Fatal(refused)
	}
	c := got.(CameIn)
	if c.Title != "Session 4 today" || c.Track != "tarn-hollow" || c.Set != "set-2" || len(c.Tyres) != 1 || c.Pressure != "psi" {
		t.Errorf("came in: %+v", c)
	}
	if l := c.Last; !l.Day || l.Front == nil || *l.Front != 33_800 || l.Hot != "33.8 psi in front, 33.0 psi at the rear" || *l.Air != unit.Whole(18) || l.Wind != "light" {
		t.Errorf("the last session: %+v", l)
	}
	if want := (Pressures{33_800, 33_000, 30_000, 29_000}); c.Begin != want {
		t.Errorf("the thumb begins at %+v; want %+v", c.Begin, want)
	}
	later := exampleAsk(t)
	later.Now = later.Now.AddDate(0, 1, 0)
	got, _ = View("camein", later, nil)
	if c := got.(CameIn); c.Title != "Session 1 today" || c.Last.Day || c.Last.Air != nil || c.Last.Front == nil {
		t.Errorf("a month later: %+v", c)
	}
}

// A cold pressure that was counted this morning is the session's.
func TestCameInTakesThisMorningsColdPressures(t *testing.T) {
	a := exampleAsk(t)
	set := a.Book.Bikes["heron"].Settings["rear.pressure"]
	set.Seen = &a.Now
	drafts, refused := Act("session", minting(a), json.RawMessage(`{"track":{"id":"tarn-hollow"},"felt":"same"}`))
	if refused != nil {
		t.Fatal(refused)
	}
	if s := drafts[0].Body.(book.SessionBody); s.ColdFront != nil || s.ColdRear == nil || *s.ColdRear != *set.At {
		t.Errorf("session %+v; want the rear's cold pressure only", s)
	}
}

func TestASessionIsCorrectedWithoutLoss(t *testing.T) {
	a := exampleAsk(t)
	got, refused := View("run", a, json.RawMessage(`{"session":"jul-2"}`))
	if refused != nil {
		t.Fatal(refused)
	}
	form := got.(Run).Form
	form.Note = "a cloud came over"
	raw, err := json.Marshal(form)
	if err != nil {
		t.Fatal(err)
	}
	drafts, refused := Act("session-mend", minting(a), raw)
	if refused != nil || len(drafts) != 1 {
		t.Fatalf("drafts %+v, refused %v", drafts, refused)
	}
	var body book.SessionBody
	if err := json.Unmarshal(drafts[0].Body.(book.CorrectBody).Body, &body); err != nil {
		t.Fatal(err)
	}
	was, _ := a.Book.Bikes["heron"].Session("jul-2")
	want := was.Body
	want.Note = "a cloud came over"
	if !reflect.DeepEqual(body, want) {
		t.Errorf("corrected to %+v; want only the note to differ from %+v", body, want)
	}
}

func TestCameInRefuses(t *testing.T) {
	for form, field := range map[string]string{
		`{"laps":"1:52.4\nquick"}`: "laps", `{"front":3}`: "front", `{"rear":300}`: "rear",
	} {
		if _, refused := Act("session", minting(exampleAsk(t)), json.RawMessage(form)); len(refused) != 1 || refused[0].Field != field {
			t.Errorf("%s: refused %v; want one at %s", form, refused, field)
		}
	}
}

func TestCameInReadsLapsBack(t *testing.T) {
	got, refused := View("camein", exampleAsk(t), json.RawMessage(`{"laps":"112.4\n1 51 9"}`))
	if refused != nil {
		t.Fatal(refused)
	}
	if c := got.(CameIn); !slices.Equal(c.Read, []string{"1:52.4", "1:51.9"}) || c.Track != "tarn-hollow" {
		t.Errorf("read %v at %s", c.Read, c.Track)
	}
}
