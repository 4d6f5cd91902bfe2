package diagnosis

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The mean of a Beta posterior is (a + successes)/(a + b + trials): DeGroot
// and Schervish, Probability and Statistics, section on conjugate priors.
func TestLearntStrengthHoldsToReference(t *testing.T) {
	rows := []struct {
		before      float64
		helped, not int
		want        float64
		source      string
	}{
		{0.5, 0, 0, 0.5, "Beta(4, 4)"},
		{0.5, 2, 0, 0.6, "Beta(4, 4), 2 of 2: 6/10"},
		{0.8, 0, 2, 0.64, "Beta(6.4, 1.6), 0 of 2: 6.4/10"},
		{0.55, 8, 0, 0.775, "Beta(4.4, 3.6), 8 of 8: 12.4/16"},
		{0.55, 400, 0, 0.8, "bounded at a quarter above"},
		{0.3, 0, 400, 0.05, "bounded at a quarter below"},
		{0.1, 0, 400, 0.02, "never to nothing"},
	}
	for _, r := range rows {
		near(t, r.source, learntStrength(r.before, r.helped, r.not), r.want, 1e-12)
	}
}

func TestLearningMovesThisBikeAndCanBeForgotten(t *testing.T) {
	n := Load()
	helped := slices.Repeat([]Outcome{{Cause: "shock-rebound-low", Findings: []string{"rear-wallow", "no-such"}, Helped: true}}, 6)
	learnt := n.Learn(helped)
	if len(learnt) != 1 || learnt[0].Now <= learnt[0].Before || !strings.Contains(learnt[0].Words, "6 of 6") {
		t.Fatalf("learnt %+v", learnt)
	}
	chance := func(n *Network) float64 {
		return n.Diagnose(Case{Findings: felt("rear-wallow")}).of("shock-rebound-low").Posterior
	}
	before, after := chance(n), chance(n.With(learnt))
	if after <= before {
		t.Errorf("after six that helped %.3f, before %.3f", after, before)
	}
	if again := chance(n.With(n.Learn(nil))); again != before {
		t.Errorf("forgotten, it is %.6f, not %.6f", again, before)
	}
}

func TestLearningIsBoundedAndKnowsNoOrder(t *testing.T) {
	n := Load()
	rapid.Check(t, func(t *rapid.T) {
		var all []Outcome
		for range rapid.IntRange(0, 40).Draw(t, "trials") {
			c := n.causes[rapid.IntRange(0, len(n.causes)-1).Draw(t, "cause")]
			l := c.Links[rapid.IntRange(0, len(c.Links)-1).Draw(t, "link")]
			all = append(all, Outcome{c.ID, []string{l.Finding}, rapid.Bool().Draw(t, "helped")})
		}
		learnt := n.Learn(all)
		slices.Reverse(all)
		if !slices.Equal(learnt, n.Learn(all)) {
			t.Fatal("the order of the trials matters")
		}
		for _, l := range learnt {
			if d := l.Now - l.Before; d > mostMoved+1e-12 || d < -mostMoved-1e-12 || l.Now <= 0 || l.Now >= 1 {
				t.Fatalf("out of bounds: %+v", l)
			}
		}
	})
}
