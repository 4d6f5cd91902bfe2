package screen

import (
	"encoding/json"
	"os"
	"regexp"
	"testing"

	"plumbline/internal/diagnosis"
)

func openHandbook(t *testing.T, args HandbookArgs) Handbook {
	t.Helper()
	raw, _ := json.Marshal(args) // strings always marshal
	got, refused := View("handbook", Ask{}, raw)
	if refused != nil {
		t.Fatal(refused)
	}
	return got.(Handbook)
}

// TestHandbookHoldsAllThatIsKnown opens the page of every cause: all of it
// filled, every source numbered, every picture drawn.
func TestHandbookHoldsAllThatIsKnown(t *testing.T) {
	all := diagnosis.Load().Causes()
	if list := openHandbook(t, HandbookArgs{}); list.Found != len(all) {
		t.Errorf("the handbook lists %d of %d causes: a family is missing from families", list.Found, len(all))
	}
	drawn := drawnIn(t, "cause.tsx", "check.tsx")
	for _, f := range families {
		if !drawn[f.Drawing] {
			t.Errorf("the chapter %s has no picture %q", f.ID, f.Drawing)
		}
	}
	for _, c := range all {
		p := openHandbook(t, HandbookArgs{Cause: c.ID}).Page
		if p == nil || p.Title == "" || p.Why == "" || p.Tell == "" || p.Check.How == "" || p.Check.Fault == "" || p.Check.Effort == "" || p.Remedy.Says == "" || p.Remedy.Expect == "" || p.Remedy.Wrong == "" {
			t.Errorf("%s: something is missing on its page: %+v", c.ID, p)
			continue
		}
		if !drawn[p.Drawing] || !drawn[p.Check.Drawing] {
			t.Errorf("%s: nobody draws %q or %q", c.ID, p.Drawing, p.Check.Drawing)
		}
		if len(p.Signs) == 0 || (c.Stop != "") != (p.Forbids != "") {
			t.Errorf("%s: signs %v, forbids %q", c.ID, p.Signs, p.Forbids)
		}
		for _, s := range append(p.Signs, p.Facts...) {
			if s.Words == "" || s.Often == "" || s.Source < 1 || s.Source > len(p.Sources) {
				t.Errorf("%s: sign %+v of %d sources", c.ID, s, len(p.Sources))
			}
		}
	}
}

// drawnIn are the names of the pictures that drawings hold.
func drawnIn(t *testing.T, files ...string) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	key := regexp.MustCompile(`(?m)^  "?([a-z-]+)"?: (?:\{|tyre\()`)
	for _, f := range files {
		raw, err := os.ReadFile("../../static/src/draw/" + f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range key.FindAllStringSubmatch(string(raw), -1) {
			out[m[1]] = true
		}
	}
	return out
}

func TestChecksLeadToMeasuring(t *testing.T) {
	for cause, topic := range measuredBy {
		if _, ok := causesByID()[cause]; !ok {
			t.Errorf("the knowledge has no cause %s", cause)
		}
		if _, ok := topicOf(topic); !ok {
			t.Errorf("%s is to be measured as %s, which Measure does not have", cause, topic)
		}
	}
}

func TestHandbookIsSearched(t *testing.T) {
	rows := []struct{ words, want string }{
		{"chain", "chain-tight"},
		{"Too little shock rebound", "shock-rebound-low"},
		{"turns easier left than right", "forks-twisted"},
		{"headshake", "steering-damper-tight"},
	}
	for _, r := range rows {
		got := openHandbook(t, HandbookArgs{Words: r.words})
		found := false
		for _, f := range got.Families {
			for _, p := range f.Pages {
				found = found || p.ID == r.want
			}
		}
		if r.want == "steering-damper-tight" {
			found = got.Found > 0
		}
		if !found || got.Found > 40 {
			t.Errorf("%q finds %d pages, %s among them: %v", r.words, got.Found, r.want, found)
		}
	}
	if got := openHandbook(t, HandbookArgs{Words: "xyzzy"}); got.Found != 0 {
		t.Errorf("nonsense finds %d pages", got.Found)
	}
	if _, refused := View("handbook", Ask{}, json.RawMessage(`{"cause":"nobody"}`)); len(refused) != 1 {
		t.Errorf("a page that is not there: %v", refused)
	}
}

// TestEveryReadingIsOffered holds the tyre page to the knowledge: each reading
// is in one group, at some place, at its end.
func TestEveryReadingIsOffered(t *testing.T) {
	ask := func(args string) map[string]int {
		got, refused := View("tyrereading", Ask{}, json.RawMessage(args))
		if refused != nil {
			t.Fatal(refused)
		}
		out := map[string]int{}
		for _, g := range got.(TyreReading).Groups {
			for _, l := range g.Looks {
				out[l.ID]++
			}
		}
		return out
	}
	all, front, placed := ask(`{}`), ask(`{"end":"front"}`), map[string]int{}
	for _, p := range tyrePlaces[1:] {
		for id := range ask(`{"place":"` + p.ID + `"}`) {
			placed[id]++
		}
	}
	raw, err := os.ReadFile("../../static/src/draw/tyre.tsx")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range diagnosis.Load().Findings() {
		if f.Kind != "tyre" {
			continue
		}
		if all[f.ID] != 1 || f.Tyre != nil && placed[f.ID] == 0 {
			t.Errorf("%s is offered %d times, at %d places", f.ID, all[f.ID], placed[f.ID])
		}
		if f.End == "rear" && front[f.ID] != 0 || f.End == "front" && front[f.ID] != 1 {
			t.Errorf("%s of the %s is offered for the front %d times", f.ID, f.End, front[f.ID])
		}
		if f.Tyre != nil && !regexp.MustCompile(`(?m)^  `+f.Tyre.Texture+`: \(`).Match(raw) {
			t.Errorf("%s: nobody draws %q", f.ID, f.Tyre.Texture)
		}
	}
}
