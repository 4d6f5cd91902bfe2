package diagnosis

import (
	"strings"
	"testing"
)

// of returns a cause of an answer.
func (a Answer) of(id string) Ranked {
	for _, r := range a.Causes {
		if r.ID == id {
			return r
		}
	}
	return Ranked{}
}

func TestAdviceIsWeighed(t *testing.T) {
	packs := Case{Findings: felt("front-packs", "found-fork-rebound-high")}
	rows := []struct {
		why    string
		c      Case
		advice Advice
		tried  []Tried
		want   string
	}{
		{"it fits", packs, Advice{"front.rebound", "less", 2}, nil, "worth-a-try"},
		{"it is the opposite", packs, Advice{"front.rebound", "more", 2}, nil, "against"},
		{"it touches something else", packs, Advice{"rear.height", "more", 2}, nil, "against"},
		{"a fault stands before it", Case{Findings: felt("one-side-heavier", "bars-off-straight"), Facts: Facts{Marks: []string{"fall"}}}, Advice{"front.rebound", "more", 2}, nil, "stop"},
		{"no way left", Case{Findings: felt("front-packs"), Settings: []Setting{{Adjuster: "front.rebound", At: 20, Most: 20, MoreIsLess: true}}}, Advice{"front.rebound", "less", 2}, nil, "no-way-left"},
		{"nothing is known", Case{}, Advice{"front.rebound", "less", 2}, nil, "cannot-say"},
	}
	for _, r := range rows {
		if w := Load().WeighAdvice(r.c, r.advice, r.tried, ""); w.Verdict != r.want || w.Words == "" {
			t.Errorf("%s: %s (%s), want %s; first %+v against %v", r.why, w.Verdict, w.Words, r.want, w.First, w.Against)
		}
	}
}

func TestAdviceTriedBeforeIsTold(t *testing.T) {
	a := Advice{"front.rebound", "less", 2}
	tried := []Tried{{a, "Ferncliff", "May", "better"}, {a, "Hazelmoor", "June", "worse"}, {Advice{"rear.rebound", "less", 2}, "Hazelmoor", "", "worse"}}
	w := Load().WeighAdvice(Case{Findings: felt("front-packs")}, a, tried, "Hazelmoor")
	if len(w.Before) != 2 || w.Before[0].Track != "Hazelmoor" || !strings.Contains(strings.Join(w.Against, " "), "Hazelmoor (June) and was worse") {
		t.Errorf("before %+v, against %v", w.Before, w.Against)
	}
}

func TestRepeatCard(t *testing.T) {
	n := Load()
	card, ok := n.RepeatCard("front-packs", "the dip before turn 4")
	if !ok || card.Passes != 3 || card.Where != "the dip before turn 4" || card.Stop == "" || card.Dont != "" {
		t.Errorf("card %+v", card)
	}
	if card, _ := n.RepeatCard("brake-weak", ""); card.Dont == "" || card.Passes != 0 {
		t.Errorf("a weak brake is to be repeated: %+v", card)
	}
	if _, ok := n.RepeatCard("found-chain-tight", ""); ok {
		t.Error("a check has a card")
	}
	for _, f := range n.Findings() {
		if card, ok := n.RepeatCard(f.ID, ""); ok && card.Dont == "" && (card.Where == "" || card.How == "" || card.Watch == "") {
			t.Errorf("%s: %+v", f.ID, card)
		}
	}
	for _, r := range []struct {
		came, of int
		away     bool
		want     string
	}{{0, 3, false, "once"}, {1, 3, true, "some-laps"}, {3, 3, false, "every-lap"}, {3, 3, true, "on-purpose"}} {
		if got := RepeatOf(r.came, r.of, r.away); got != r.want {
			t.Errorf("%d of %d: %s", r.came, r.of, got)
		}
	}
}

func TestPairsExplainTogether(t *testing.T) {
	a := Load().Diagnose(Case{Findings: felt("lever-pulse", "rear-wallow", "found-disc-runout", "found-shock-rebound-low")})
	if len(a.Pairs) == 0 || a.Pairs[0].Posterior < 0.5 {
		t.Fatalf("pairs %+v", a.Pairs)
	}
	both := map[string]bool{a.Pairs[0].A: true, a.Pairs[0].B: true}
	if !both["disc-runout"] || !both["shock-rebound-low"] {
		t.Errorf("pair %+v", a.Pairs[0])
	}
	if p := a.Pairs[0].Posterior; p > a.of(a.Pairs[0].A).Posterior || p > a.of(a.Pairs[0].B).Posterior {
		t.Errorf("both at once are likelier than one: %+v", a.Pairs[0])
	}
}

func TestPressureRemedyNamesTheRightEnd(t *testing.T) {
	low := func(psi float64) *float64 { v := psi * kPaPerPsi; return &v }
	rows := []struct {
		c    Case
		want string
	}{
		{Case{Findings: felt("turn-heavy", "found-tyre-pressure-low"), Facts: Facts{PressureColdFront: low(20), PressureColdRear: low(29)}}, "front.pressure"},
		{Case{Findings: felt("found-tyre-pressure-low"), Facts: Facts{PressureColdFront: low(31), PressureColdRear: low(19)}}, "rear.pressure"},
		{Case{Findings: []Observed{{Finding: "t-outer-thirds", End: "front"}, {Finding: "found-tyre-pressure-low", End: "front"}}}, "front.pressure"},
	}
	for _, r := range rows {
		if a := Load().Diagnose(r.c); a.Change == nil || a.Change.Adjuster != r.want || a.Change.Direction != "more" {
			t.Errorf("want %s: %+v, first %+v, note %q", r.want, a.Change, a.First, a.Note)
		}
	}
}

func TestDisputesShow(t *testing.T) {
	a := Load().Diagnose(Case{Findings: felt("chatter-lean")})
	if len(a.Doubts) == 0 || !a.Unsure {
		t.Errorf("the sources disagree on chatter and nobody says so: %+v", a.Doubts)
	}
}
