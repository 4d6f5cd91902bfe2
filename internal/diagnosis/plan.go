package diagnosis

import (
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

// worthChecking is the posterior from which a cause's check is worth its
// minutes: a fault that can throw the rider counts from far lower. Common
// practice, no source.
func (c Cause) worthChecking() float64 {
	switch {
	case c.Stage == "safety":
		return 0.05
	case c.Stop != "" || c.Stage == "straightness":
		return 0.08
	}
	return 0.12
}

// IsFault says whether a cause is something worn, loose, crooked, leaking or
// flat that stands before any setting: no click is judged over it.
func (c Cause) IsFault() bool {
	switch c.Family {
	case "straightness", "head", "rolling", "brake", "worn":
		return true
	}
	return c.Stop != "" || c.Stage == "tyres"
}

// plan lists the checks of the causes that are worth one and not yet settled:
// safety, straightness, tyres, springs, geometry, damping, rider; within a
// stage by probability over minutes. A check that settles several is told once.
func (n *Network) plan(s *study, ranked []Ranked) []Step {
	var out []Step
	for k, r := range ranked[:min(10, len(ranked))] {
		c := n.causes[n.cause[r.ID]]
		if r.Posterior < c.worthChecking() || n.state(c.Check.Finding.ID, s.evidence) != unchecked {
			continue
		}
		out = append(out, n.step(c, r, s.gain(n.cause[r.ID], n.finding[c.Check.Finding.ID], k < closelyStudied)))
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if a.Order != b.Order {
			return a.Order < b.Order
		}
		return a.Posterior/float64(a.Minutes+2) > b.Posterior/float64(b.Minutes+2)
	})
	return out
}

func (n *Network) step(c Cause, r Ranked, gain float64) Step {
	return Step{
		Cause: c.ID, Title: c.Title, Finding: c.Check.Finding.ID, How: c.Check.How, Why: c.Tell, Minutes: c.Check.Minutes,
		Tools: c.Check.Tools, Gain: gain, Order: stages[c.Stage], Stage: c.Stage, Posterior: r.Posterior, Because: because(c, r),
	}
}

// because says why a check comes before a change.
func because(c Cause, r Ranked) string {
	switch {
	case c.Stage == "safety":
		return "Safety first: " + r.Doubt + ", and it can throw you."
	case c.Stage == "straightness":
		return "A crooked, binding or worn part makes every click a guess."
	case c.Stage == "tyres":
		return "Tyres are the quickest check and work on everything else."
	case c.Stage == "springs":
		return "Springs and sag carry the damping: measure before you click."
	case c.IsFault():
		return "A worn part does not come right with a click."
	case c.Stage == "geometry":
		return "Heights move the weight: know them before you click."
	}
	return "This settles it with the least work."
}

// next is the check with the best expected gain per minute among those of the
// foremost stage that is likely enough to hold all others up.
func next(plan []Step, n *Network) *Step {
	best, key := -1, 0.0
	for i, s := range plan {
		k := s.Gain / float64(s.Minutes+2)
		c := n.causes[n.cause[s.Cause]]
		if c.Stop != "" && s.Posterior >= 0.15 || c.IsFault() && s.Order < 2 && s.Posterior >= 0.2 {
			k += 10 * float64(7-s.Order)
		}
		if best < 0 || k > key {
			best, key = i, k
		}
	}
	if best < 0 {
		return nil
	}
	return &plan[best]
}

// dangerous returns the first unchecked fault of the plan that forbids riding
// and is likely enough to come before anything else, putting back included.
func (n *Network) dangerous(plan []Step) *Step {
	for i, s := range plan {
		if c := n.causes[n.cause[s.Cause]]; c.Stop != "" && c.IsFault() && s.Posterior >= 0.25 {
			return &plan[i]
		}
	}
	return nil
}

// standsBefore returns the first step of the plan that must be done before a
// change that belongs to a cause: any unchecked fault at least half as likely,
// one that forbids riding from a quarter, and what an earlier stage asks that
// is at least as likely.
func (n *Network) standsBefore(plan []Step, top Ranked) *Step {
	for i, s := range plan {
		if s.Cause == top.ID {
			continue
		}
		c := n.causes[n.cause[s.Cause]]
		share := s.Posterior / math.Max(top.Posterior, 1e-9)
		switch {
		case c.Stop != "" && c.IsFault() && share >= 0.25,
			c.IsFault() && share >= 0.5,
			s.Order < stages[top.Stage] && share >= 0.8:
			return &plan[i]
		}
	}
	return nil
}

// closelyStudied is how many of the likeliest causes are worked out against all
// others: each costs a run of the whole sum, and a phone has to wait for it.
const closelyStudied = 4

// study is one complaint under study: the evidence, what it makes of each
// cause, and what it would if one cause were known to be there.
type study struct {
	layer    Layer
	evidence []Evidence
	now      Result
	known    map[int]Result
}

// given is the posteriors if a cause were known to be there.
func (s *study) given(cause int) Result {
	r, ok := s.known[cause]
	if !ok {
		r = s.layer.Given(cause, s.evidence)
		s.known[cause] = r
	}
	return r
}

// gain is the drop in the sum of the causes' entropies, in bits, that making a
// cause's check is expected to bring. The check's finding must hang on that
// cause alone, so that all else depends on it through the cause only. Not
// closely, it is the drop in that cause's own entropy, which is less.
func (s *study) gain(cause, finding int, closely bool) float64 {
	p := s.now.Posterior[cause]
	if p <= 0 || p >= 1 {
		return 0
	}
	leak := s.layer.Leak[finding]
	hit := 1 - (1-leak)*(1-s.layer.Strength[finding][cause])
	yes := p*hit + (1-p)*leak
	ifYes, ifNo := p*hit/yes, p*(1-hit)/(1-yes)
	if !closely {
		return math.Max(entropy(p)-yes*entropy(ifYes)-(1-yes)*entropy(ifNo), 0)
	}
	with := s.given(cause).Posterior
	var gain float64
	for i, now := range s.now.Posterior {
		without := clamp((now - p*with[i]) / (1 - p))
		mix := func(share float64) float64 { return clamp(share*with[i] + (1-share)*without) }
		gain += entropy(now) - yes*entropy(mix(ifYes)) - (1-yes)*entropy(mix(ifNo))
	}
	return math.Max(gain, 0)
}

func entropy(p float64) float64 {
	if p <= 0 || p >= 1 {
		return 0
	}
	return -p*math.Log2(p) - (1-p)*math.Log2(1-p)
}
