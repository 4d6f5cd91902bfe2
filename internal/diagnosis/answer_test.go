package diagnosis

import (
	"strings"
	"testing"
)

func felt(ids ...string) []Observed {
	var out []Observed
	for _, id := range ids {
		out = append(out, Observed{Finding: id, Repeat: "every-lap"})
	}
	return out
}

func TestOrderHoldsToReference(t *testing.T) {
	const tried = "all permutations tried outside this program, rule of Breese and Heckerman 1996 (check values C11.3, C11.4)"
	rows := []struct {
		p, cost []float64
		order   []int
		want    float64
		within  float64
		source  string
	}{
		{[]float64{0.4, 0.3, 0.2, 0.1}, []float64{60, 20, 5, 2}, []int{3, 2, 1, 0}, 44.5, 1e-9, tried},
		{[]float64{0.5, 0.3, 0.2}, []float64{30, 15, 20}, []int{1, 0, 2}, 40, 1e-9, tried},
	}
	for _, row := range rows {
		if row.source == "" {
			t.Error("no source")
		}
		got := Order(row.p, row.cost)
		for i := range got {
			if got[i] != row.order[i] {
				t.Errorf("order is %v, want %v", got, row.order)
				break
			}
		}
		near(t, "expected cost", ExpectedCost(row.p, row.cost, got), row.want, row.within)
	}
}

func TestStopOutranksClicks(t *testing.T) {
	a := Load().Diagnose(Case{Findings: append(felt("front-packs"), Observed{Finding: "found-fork-seal-leak"})})
	if a.Stop == nil || a.Stop.Cause != "fork-seal-leak" {
		t.Fatalf("a wet leg does not stop the ride: %+v", a.Stop)
	}
	if a.Change != nil && a.Change.Adjuster != "" {
		t.Errorf("a click is suggested over a stop: %+v", a.Change)
	}
}

// Whatever two things are felt, no setting is turned while a fault that is half
// as likely, or one that forbids riding and is a quarter as likely, is unchecked.
func TestNoClickOverAnUncheckedFault(t *testing.T) {
	n := Load()
	all := n.Findings()
	changes, firsts := 0, 0
	for i, f := range all {
		for j, g := range all[:i] {
			if f.Kind == "check" || g.Kind == "check" || (i+j)%5 != 0 {
				continue
			}
			a := n.Diagnose(Case{Findings: felt(f.ID, g.ID)})
			if a.First != nil {
				firsts++
				if a.Change != nil && a.Change.Adjuster != "" {
					t.Errorf("%s and %s: %s is turned before %s", f.ID, g.ID, a.Change.Adjuster, a.First.How)
				}
			}
			if a.Change == nil || a.Change.Adjuster == "" {
				continue
			}
			changes++
			top := a.Causes[0]
			for _, r := range a.Causes[1:] {
				c := n.causes[n.cause[r.ID]]
				if c.IsFault() && r.Posterior >= c.worthChecking() && (r.Posterior >= top.Posterior/2 || c.Stop != "" && r.Posterior >= top.Posterior/4) {
					t.Errorf("%s and %s: %s is turned while %s is unchecked", f.ID, g.ID, a.Change.Adjuster, r.ID)
				}
			}
		}
	}
	if changes == 0 || firsts == 0 {
		t.Errorf("%d changes and %d checks first: nothing was tried", changes, firsts)
	}
}

// The plan keeps the order of work: safety, straightness, tyres, springs,
// geometry, damping, rider.
func TestPlanKeepsTheOrderOfWork(t *testing.T) {
	n := Load()
	for _, f := range n.Findings() {
		plan := n.Diagnose(Case{Findings: felt(f.ID, "side-differs", "runs-wide-drive")}).Plan
		for k := 1; k < len(plan); k++ {
			if plan[k].Order < plan[k-1].Order || plan[k].Because == "" {
				t.Errorf("%s: %s after %s", f.ID, plan[k].Cause, plan[k-1].Cause)
			}
		}
	}
}

func TestDangerComesBeforePuttingBack(t *testing.T) {
	c := Case{Findings: felt("one-side-heavier", "front-packs"), Facts: Facts{Marks: []string{"fall"}}, Recent: []Recent{{"front.rebound", "more", 3, true}}}
	if a := Load().Diagnose(c); a.Stop == nil && (a.First == nil || a.First.Cause != "forks-twisted") || a.Change != nil {
		t.Errorf("after a fall %+v %+v %+v", a.Stop, a.First, a.Change)
	}
}

func TestWhatMadeItWorseGoesBackFirst(t *testing.T) {
	a := Load().Diagnose(Case{Findings: felt("front-packs"), Recent: []Recent{{"front.rebound", "more", 3, true}}})
	if a.Change == nil || !a.Change.PutBack || a.Change.Direction != "less" || a.Change.Steps != 3 {
		t.Errorf("change is %+v", a.Change)
	}
}

func TestEndOfRangeIsRefusedWithTheAlternative(t *testing.T) {
	c := Case{Findings: felt("front-packs", "found-fork-rebound-high"), Settings: []Setting{{Adjuster: "front.rebound", At: 20, Most: 20, MoreIsLess: true}}}
	if a := Load().Diagnose(c); a.Change != nil || a.Refused == nil || !strings.Contains(a.Refused.Instead, "service") {
		t.Errorf("no click is left: %+v %+v", a.Change, a.Refused)
	}
	c.Settings[0].At = 19
	if a := Load().Diagnose(c); a.Change == nil || a.Change.Steps != 1 || *a.Change.From != 19 || *a.Change.To != 20 {
		t.Errorf("one click is left: %+v %q", a.Change, a.Note)
	}
	c.Settings[0].At = 10
	if a := Load().Diagnose(c); a.Change == nil || *a.Change.To != 13 || a.Change.Direction != "less" || a.Change.Where != "over the same bumps" {
		t.Errorf("in the middle of the range: %+v %q", a.Change, a.Note)
	}
}

func TestRepeatingItRaisesTheCause(t *testing.T) {
	last := 0.0
	for _, repeat := range []string{"once", "some-laps", "every-lap", "on-purpose"} {
		a := Load().Diagnose(Case{Findings: []Observed{{Finding: "front-packs", Repeat: repeat}}})
		p := 0.0
		for _, r := range a.Causes {
			if r.ID == "fork-rebound-high" {
				p = r.Posterior
			}
		}
		if p <= last {
			t.Errorf("%s: %.3f, before %.3f", repeat, p, last)
		}
		last = p
	}
}

func TestAnswerGivesEvidenceBothWays(t *testing.T) {
	a := Load().Diagnose(Case{
		Findings: append(felt("front-packs"), Observed{Finding: "found-fork-rebound-high", Absent: true}),
		Facts:    Facts{Marks: []string{"front-rebound-in"}},
	})
	for _, r := range a.Causes {
		if r.ID == "fork-rebound-high" {
			if len(r.For) != 2 || len(r.Against) != 1 || r.Against[0].Weight >= 0 {
				t.Errorf("for %+v, against %+v", r.For, r.Against)
			}
			return
		}
	}
	t.Error("the cause is not ranked")
}

func TestEmptyCaseAsks(t *testing.T) {
	a := Load().Diagnose(Case{})
	if a.Note == "" || a.Change != nil || !a.Unsure {
		t.Errorf("an empty case is answered: %+v", a)
	}
}

func TestMatchOffers(t *testing.T) {
	rows := []struct {
		words, want string
		negated     bool
	}{
		{"front washes wide when I pick up the throttle", "runs-wide-drive", false},
		{"understeer on the gas", "runs-wide-drive", false},
		{"the fork pumps down over a row of bumps", "front-packs", false},
		{"rear squatts under powr", "rear-squats", false},
		{"rear does not wallow", "rear-wallow", true},
		{"lever is pulsing", "lever-pulse", false},
		{"chattering front at full lean", "chatter-lean", false},
		{"tank slapper", "headshake", false},
		{"hard to turn in", "turn-heavy", false},
	}
	for _, row := range rows {
		got := Load().Match(row.words)
		placed := false
		for i, o := range got[:min(3, len(got))] {
			placed = placed || o.Finding == row.want && (o.Negated == row.negated || i > 0)
		}
		if !placed {
			t.Errorf("%q: want %s, got %+v", row.words, row.want, got)
		}
	}
	if got := Load().Match("lovely weather for sandwiches"); len(got) > 0 {
		t.Errorf("idle words are offered %+v", got)
	}
	if got := Load().Match(""); got != nil {
		t.Errorf("no words are offered %+v", got)
	}
}

// twelve are the findings with the most links, so the hardest to sum over.
func twelve() []Observed {
	var out []Observed
	for _, id := range []string{"runs-wide-drive", "front-vague", "rear-harsh-bump", "turn-heavy", "headshake", "rear-skips", "skates", "rear-squats", "drifts-apex", "no-bite", "front-harsh-bump", "one-side-heavier"} {
		out = append(out, Observed{Finding: id})
	}
	return out
}

func BenchmarkPosteriorsOfTwelve(b *testing.B) {
	n := Load()
	evidence := n.evidence(Case{Findings: twelve()})
	for b.Loop() {
		if _, err := n.layer.Posteriors(evidence); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDiagnoseTwelve(b *testing.B) {
	n := Load()
	c := Case{Findings: twelve()}
	for b.Loop() {
		n.Diagnose(c)
	}
}
