package diagnosis

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Outcome is the verdict on one trial: the remedy of a cause was tried for a
// complaint of these findings, and it helped or it did not. A trial whose
// verdict is open teaches nothing and is left out.
type Outcome struct {
	Cause    string   `json:"cause"`
	Findings []string `json:"findings"`
	Helped   bool     `json:"helped"`
}

// Learnt is one link as a bike and rider have moved it: its published strength,
// its strength now, and the trials for and against.
type Learnt struct {
	Cause   string  `json:"cause"`
	Finding string  `json:"finding"`
	Before  float64 `json:"before"`
	Now     float64 `json:"now"`
	Helped  int     `json:"helped"`
	Not     int     `json:"not"`
	Words   string  `json:"words"`
}

// priorTrials is how many trials the published strength weighs; it takes that
// many verdicts of one's own to count as much. mostMoved bounds how far
// verdicts move a strength. Common practice, no source.
const (
	priorTrials = 8
	mostMoved   = 0.25
)

// Learn is the rule by which verdicts move the strengths of links: a published
// strength s stands as the mean of Beta(8s, 8(1−s)), a trial of the cause's
// remedy that helped adds one to the first count of each link from the cause
// to what was complained of, one that did not adds one to the second, and the
// strength is the new mean (8s + helped)/(8 + helped + not), moved by at most
// 0.25 and held within [0.02, 0.97]. It is a pure function of the outcomes and
// their order does not matter: to forget an outcome, leave it out.
// Source of the count rule: Spiegelhalter and Lauritzen, Sequential updating
// of conditional probabilities on directed graphical structures, Networks 1990.
func (n *Network) Learn(outcomes []Outcome) []Learnt {
	type key struct{ cause, finding int }
	counts := map[key][2]int{}
	for _, o := range outcomes {
		c, ok := n.cause[o.Cause]
		if !ok {
			continue
		}
		once := map[int]bool{}
		for _, id := range o.Findings {
			f, ok := n.finding[id]
			if !ok || once[f] || n.layer.Strength[f][c] == 0 {
				continue
			}
			once[f] = true
			k := counts[key{c, f}]
			if o.Helped {
				k[0]++
			} else {
				k[1]++
			}
			counts[key{c, f}] = k
		}
	}
	keys := slices.SortedFunc(maps.Keys(counts), func(a, b key) int {
		if a.cause != b.cause {
			return a.cause - b.cause
		}
		return a.finding - b.finding
	})
	var out []Learnt
	for _, k := range keys {
		out = append(out, n.learnt(k.cause, k.finding, counts[k][0], counts[k][1]))
	}
	return out
}

func (n *Network) learnt(cause, finding, helped, not int) Learnt {
	before := n.layer.Strength[finding][cause]
	now := learntStrength(before, helped, not)
	c, f := n.causes[cause], n.findings[finding]
	way := "as often as the books say"
	switch {
	case now > before:
		way = "more often than the books say"
	case now < before:
		way = "less often than the books say"
	}
	words := fmt.Sprintf("On this bike, “%s” comes from “%s” %s: mending it helped %d of %d times.", strings.TrimSuffix(f.Words, "."), c.Title, way, helped, helped+not)
	return Learnt{c.ID, f.ID, before, now, helped, not, words}
}

// learntStrength is Learn's rule for one link.
func learntStrength(before float64, helped, not int) float64 {
	mean := (priorTrials*before + float64(helped)) / (priorTrials + float64(helped+not))
	return min(max(mean, before-mostMoved, 0.02), before+mostMoved, 0.97)
}

// With is the network with what was learnt. The one it is called on stays.
func (n *Network) With(learnt []Learnt) *Network {
	out := *n
	out.layer.Strength = slices.Clone(n.layer.Strength)
	owned := map[int]bool{}
	for _, l := range learnt {
		f, known := n.finding[l.Finding]
		c, ok := n.cause[l.Cause]
		if !known || !ok || n.layer.Strength[f][c] == 0 {
			continue
		}
		if !owned[f] {
			out.layer.Strength[f], owned[f] = slices.Clone(n.layer.Strength[f]), true
		}
		out.layer.Strength[f][c] = l.Now
	}
	return &out
}
