package screen

import (
	"encoding/json"
	"strings"
	"testing"

	"plumbline/internal/book"
)

func askWhy(t *testing.T, a Ask, args WhyArgs) Why {
	t.Helper()
	raw, err := json.Marshal(args)
	if err != nil {
		t.Fatal(err)
	}
	got, refused := View("why", a, raw)
	if refused != nil {
		t.Fatal(refused)
	}
	return got.(Why)
}

func TestWhyOffersButDoesNotChoose(t *testing.T) {
	a := exampleAsk(t)
	w := askWhy(t, a, WhyArgs{Words: "turns easier left than right"})
	if len(w.Offers) == 0 || w.Offers[0].ID != "one-side-heavier" || len(w.Chosen)+len(w.Causes) > 0 {
		t.Errorf("offers %+v, chosen %v; want one-side-heavier offered and nothing chosen", w.Offers, w.Chosen)
	}
	if w = askWhy(t, a, WhyArgs{Words: "front washes wide when I pick up the throttle"}); len(w.Offers) == 0 || w.Offers[0].ID != "runs-wide-drive" || len(w.Chosen) > 0 {
		t.Errorf("offers %+v; want runs-wide-drive first", w.Offers)
	}
	if w = askWhy(t, a, WhyArgs{Side: "left"}); len(w.Offers) == 0 || w.Offers[0].ID != "one-side-heavier" {
		t.Errorf("left-handers only offers %+v", w.Offers)
	}
	if w = askWhy(t, a, WhyArgs{Phase: "turn-in", End: "front"}); len(w.Offers) < 3 {
		t.Errorf("a tap on the corner offers %+v", w.Offers)
	}
}

func TestWhyPutsStraightnessFirstAfterAFall(t *testing.T) {
	a := exampleAsk(t)
	k := a.Book.Bikes["heron"]
	k.Checks = map[string]book.Dated[book.CheckBody]{}
	w := askWhy(t, a, WhyArgs{Findings: map[string]string{"one-side-heavier": "yes", "bars-off-straight": "yes"}, Repeat: "every"})
	if len(w.Causes) == 0 || w.Causes[0].ID != "forks-twisted" || w.Next == nil || w.Causes[0].Check.How == "" {
		t.Fatalf("causes %+v, next %+v; want twisted forks first, and a check", w.Causes, w.Next)
	}
	if w.Change != nil && strings.Contains(string(w.Change.Adjuster), "rebound") {
		t.Errorf("a click was suggested over a twist: %+v", w.Change)
	}
}

func TestWhySymptomIsWrittenDown(t *testing.T) {
	drafts, refused := Act("symptom", exampleAsk(t), json.RawMessage(`{"findings":{"front-vague":"yes"},"repeat":"some","words":"nothing comes through the bars"}`))
	if refused != nil || len(drafts) != 1 || drafts[0].Kind != book.KindSymptom {
		t.Errorf("drafts %+v, refused %v", drafts, refused)
	}
	if _, refused = Act("symptom", exampleAsk(t), json.RawMessage(`{}`)); len(refused) != 1 || refused[0].Field != "findings" {
		t.Errorf("an empty symptom: %v", refused)
	}
}
