package screen

import (
	"encoding/json"
	"fmt"
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
	form := `{"track":{"name":"Cold Ness"},"felt":"better","front":33,"rear":30.5,"air":14,"laps":"1:52.4\n1:51,9\n\n112.1"}`
	drafts, refused := Act("session", minting(exampleAsk(t)), json.RawMessage(form))
	if refused != nil || len(drafts) != 2 {
		t.Fatalf("drafts %+v, refused %v", drafts, refused)
	}
	s := drafts[1].Body.(book.SessionBody)
	if s.Track != drafts[0].Body.(book.TrackBody).Track || !slices.Equal(s.Laps, []unit.Fixed{112_400, 111_900, 112_100}) {
		t.Errorf("session %+v", s)
	}
	// 33 psi × 6.894757 kPa (NIST SP 811, appendix B.8) = 227.527 kPa.
	if s.Front == nil || *s.Front != 227_527 {
		t.Errorf("front is %v kPa; want 227.527", s.Front)
	}
}

func TestCameInKnowsTheTrackByName(t *testing.T) {
	drafts, _ := Act("session", minting(exampleAsk(t)), json.RawMessage(`{"track":{"name":"tarn hollow"}}`))
	if len(drafts) != 1 || drafts[0].Body.(book.SessionBody).Track != "tarn-hollow" {
		t.Errorf("drafts %+v; want the track that is in the book", drafts)
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
