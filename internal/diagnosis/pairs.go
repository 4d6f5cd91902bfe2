package diagnosis

import "sort"

// Pair is two causes that may both be there. Posterior is the exact chance of
// both, given the evidence, in [0, 1]; Words says it.
type Pair struct {
	A         string  `json:"a"`
	B         string  `json:"b"`
	Posterior float64 `json:"posterior"`
	Doubt     string  `json:"doubt"`
	Words     string  `json:"words"`
}

// pairs finds the causes that explain together what one of them leaves over:
// among the four likeliest, those whose chance of both is at least 0.1 and
// where each explains a present finding that the other cannot. Three at most.
func (n *Network) pairs(s *study) []Pair {
	now, evidence := s.now, s.evidence
	likely := make([]int, 0, len(now.Posterior))
	for c, p := range now.Posterior {
		if p >= 0.1 {
			likely = append(likely, c)
		}
	}
	sort.SliceStable(likely, func(i, j int) bool { return now.Posterior[likely[i]] > now.Posterior[likely[j]] })
	likely = likely[:min(closelyStudied, len(likely))]
	var out []Pair
	for i, a := range likely {
		given := s.given(a)
		for _, b := range likely[i+1:] {
			p := now.Posterior[a] * given.Posterior[b]
			if p < 0.1 || !n.explainsMore(a, b, evidence) || !n.explainsMore(b, a, evidence) {
				continue
			}
			ca, cb := n.causes[a], n.causes[b]
			out = append(out, Pair{ca.ID, cb.ID, p, Doubt(p), ca.Title + ", and also: " + cb.Title + "."})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Posterior > out[j].Posterior })
	return out[:min(3, len(out))]
}

// explainsMore says whether a produces some present finding that b does not.
func (n *Network) explainsMore(a, b int, evidence []Evidence) bool {
	for _, e := range evidence {
		if s := n.layer.Strength[e.Finding]; e.Present && s[a] > 0 && s[b] == 0 {
			return true
		}
	}
	return false
}

// Given is the exact posteriors if a cause were known to be present.
func (l Layer) Given(cause int, evidence []Evidence) Result {
	given := l
	given.Prior = append([]float64(nil), l.Prior...)
	given.Prior[cause] = 1
	out, err := given.Posteriors(evidence)
	if err != nil {
		return Result{Posterior: make([]float64, len(l.Prior))}
	}
	return out
}

// doubts are the disputes that touch what speaks for a cause, once each.
func doubts(r Ranked) []string {
	var out []string
	told := map[string]bool{}
	for _, w := range r.For {
		if w.Disputed != "" && !told[w.Disputed] {
			told[w.Disputed] = true
			out = append(out, w.Disputed)
		}
	}
	return out
}

func (n *Network) disputeOf(cause int, finding string) string {
	for _, l := range n.causes[cause].Links {
		if l.Finding == finding {
			return n.disputes[l.Disputed]
		}
	}
	return ""
}
