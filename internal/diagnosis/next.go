package diagnosis

import (
	"fmt"
	"math"
	"sort"
)

// stages are the order of work. Source: the order that the trade's manuals
// give, safety and straightness before tyres, springs, geometry and damping.
var stages = map[string]int{"safety": 0, "straightness": 1, "tyres": 2, "springs": 3, "geometry": 4, "damping": 5, "rider": 6}

// Order returns the indices of actions in the order that costs least to mend
// one fault: by probability over cost, falling. Costs are above zero.
// Source: Breese and Heckerman, Decision-theoretic troubleshooting, UAI 1996.
func Order(p, cost []float64) []int {
	out := make([]int, len(p))
	for i := range out {
		out[i] = i
	}
	sort.SliceStable(out, func(i, j int) bool { return p[out[i]]/cost[out[i]] > p[out[j]]/cost[out[j]] })
	return out
}

// ExpectedCost is the expected cost of trying actions in an order until one
// mends the fault; p sums to one. Source: as Order.
func ExpectedCost(p, cost []float64, order []int) float64 {
	left, total := 1.0, 0.0
	for _, i := range order {
		total += left * cost[i]
		left -= p[i]
	}
	return total
}

// next chooses among the checks of the likelier causes: what safety and
// straightness ask first, then by information gain per minute.
func (n *Network) next(l Layer, evidence []Evidence, now Result, ranked []Ranked) *Step {
	var best *Step
	bestKey := 0.0
	for k, r := range ranked {
		c := n.causes[n.cause[r.ID]]
		if k >= 6 || r.Posterior < 0.05 {
			break
		}
		if n.state(c.Check.Finding.ID, evidence) != unchecked {
			continue
		}
		gain := n.gain(l, evidence, now, n.finding[c.Check.Finding.ID])
		key := gain / float64(c.Check.Minutes+2)
		if c.Stop != "" && r.Posterior >= 0.15 || stages[c.Stage] < 2 && r.Posterior >= 0.25 {
			key += 10 * float64(2-min(stages[c.Stage], 1))
		}
		if best == nil || key > bestKey {
			bestKey = key
			best = &Step{Cause: c.ID, Finding: c.Check.Finding.ID, How: c.Check.How, Why: c.Tell, Minutes: c.Check.Minutes, Tools: c.Check.Tools, Gain: gain, Order: stages[c.Stage]}
		}
	}
	return best
}

// gain is the drop in the sum of the causes' entropies, in bits, that knowing
// a finding is expected to bring.
func (n *Network) gain(l Layer, evidence []Evidence, now Result, finding int) float64 {
	with := append(append([]Evidence(nil), evidence...), Evidence{Finding: finding})
	no, err := l.Posteriors(with)
	if err != nil {
		return 0
	}
	absent := clamp(no.Evidence / now.Evidence)
	if absent >= 1 {
		return 0
	}
	var gain float64
	for i, p := range now.Posterior {
		yes := clamp((p - absent*no.Posterior[i]) / (1 - absent))
		gain += entropy(p) - absent*entropy(no.Posterior[i]) - (1-absent)*entropy(yes)
	}
	return math.Max(gain, 0)
}

func entropy(p float64) float64 {
	if p <= 0 || p >= 1 {
		return 0
	}
	return -p*math.Log2(p) - (1-p)*math.Log2(1-p)
}

// change suggests one change, or none and why not.
func (n *Network) change(c Case, a Answer, evidence []Evidence) (*Change, string) {
	for _, r := range c.Recent {
		if r.Worse && a.Stop == nil {
			back := Remedy{Adjuster: r.Adjuster, Direction: opposite(r.Direction), Steps: r.Steps, Words: "Put back what was just changed: it made it worse.",
				Expect: "It is as it was before the change.", Wrong: "It stays as bad at the same pace.", Undo: "Make the change again.", Side: "None expected."}
			return &Change{Remedy: back, PutBack: true}, ""
		}
	}
	top := a.Causes[0]
	cause := n.causes[n.cause[top.ID]]
	if a.Stop != nil && a.Stop.Cause != top.ID {
		return nil, a.Stop.Words
	}
	if top.Posterior < 0.3 {
		return nil, "Nothing stands out yet. Do the check first."
	}
	if cause.Remedy.Adjuster != "" {
		if first := n.uncheckedFault(a.Causes, evidence, top); first != "" {
			return nil, "Check this first: " + first
		}
		if s, ok := settingOf(c.Settings, cause.Remedy.Adjuster); ok && !s.has(cause.Remedy.Direction, cause.Remedy.Steps) {
			return nil, fmt.Sprintf("%s is at the end of its range. The spring or a service is next, not a click.", cause.Remedy.Adjuster)
		}
	}
	return &Change{Cause: top.ID, Remedy: cause.Remedy}, ""
}

// uncheckedFault returns the check of a mechanical fault that is half as
// likely as the top cause and not looked at yet.
func (n *Network) uncheckedFault(ranked []Ranked, evidence []Evidence, top Ranked) string {
	for _, r := range ranked {
		c := n.causes[n.cause[r.ID]]
		if r.ID == top.ID || r.Posterior < top.Posterior/2 {
			continue
		}
		earlier := stages[c.Stage] < 2 && stages[c.Stage] < stages[top.Stage]
		if earlier && n.state(c.Check.Finding.ID, evidence) == unchecked {
			return c.Check.How
		}
	}
	return ""
}

func settingOf(all []Setting, adjuster string) (Setting, bool) {
	for _, s := range all {
		if s.Adjuster == adjuster {
			return s, true
		}
	}
	return Setting{}, false
}

// has says whether steps in a physical direction stay within the range.
func (s Setting) has(direction string, steps int) bool {
	if (direction == "less") != s.MoreIsLess {
		steps = -steps
	}
	return s.At+steps >= s.Least && s.At+steps <= s.Most
}

func opposite(direction string) string {
	if direction == "more" {
		return "less"
	}
	return "more"
}
