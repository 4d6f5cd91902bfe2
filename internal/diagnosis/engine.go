package diagnosis

import (
	"errors"
	"math"
	"sort"
)

// Layer is a two-layer noisy-OR network in its bare form: prior of each cause,
// leak of each finding and Strength[finding][cause], the chance that the cause
// alone produces the finding. All are probabilities in [0, 1).
// Source: Pearl, Probabilistic Reasoning in Intelligent Systems, 1988, 4.3.2.
type Layer struct {
	Prior    []float64
	Leak     []float64
	Strength [][]float64
}

// Evidence is what was learnt of one finding. Ratio is
// P(this report | finding absent) / P(this report | finding present), in
// [0, 1]: 0 is certain, 1 says nothing. An absent finding is taken as certain.
// Source: Pearl 1988, section 2.2.2 (virtual evidence).
type Evidence struct {
	Finding int
	Present bool
	Ratio   float64
}

// MaxPositive is the largest number of present findings that the engine takes:
// the work doubles with each.
const MaxPositive = 16

// Result holds the exact chance of the evidence and each cause's posterior.
// Evidence is relative to reports that are certain of a present finding.
type Result struct {
	Evidence  float64
	Posterior []float64
}

// ErrImpossible is returned when the evidence has no chance under the network,
// or one too small to be told from rounding.
var ErrImpossible = errors.New("the evidence cannot happen in this network")

// Posteriors computes every cause's exact posterior. It is Quickscore
// (Heckerman, A tractable inference algorithm for diagnosing multiple
// diseases, UAI 1989) over the causes that are linked to the evidence, with
// the sum over subsets done as a recursion that multiplies in place; a cause
// is accounted for at the depth where no finding below can touch it.
// More than MaxPositive present findings: the ones that say least are left out.
func (l Layer) Posteriors(evidence []Evidence) (Result, error) {
	q := newQuick(l, evidence)
	total := q.sum(0)
	if !(total > 1e-13) {
		return Result{Posterior: append([]float64(nil), l.Prior...)}, ErrImpossible
	}
	out := Result{Evidence: total * q.outside, Posterior: append([]float64(nil), l.Prior...)}
	for k, c := range q.causes {
		out.Posterior[c] = clamp(q.acc[k] / total)
	}
	return out, nil
}

// Pair returns the exact chance that both causes are present, given the
// evidence, by the chain rule: P(a)·P(b | a), with a's prior set to one.
func (l Layer) Pair(a, b int, evidence []Evidence) float64 {
	first, err := l.Posteriors(evidence)
	if err != nil {
		return 0
	}
	given := l
	given.Prior = append([]float64(nil), l.Prior...)
	given.Prior[a] = 1
	second, err := given.Posteriors(evidence)
	if err != nil {
		return 0
	}
	return first.Posterior[a] * second.Posterior[b]
}

// quick is the working state of one Quickscore run over the linked causes. A
// cause's part in the product depends only on which of its own findings are
// chosen, its mask, so those parts and their ratios are worked out once.
type quick struct {
	causes  []int       // index into the layer
	prior   []float64   // of each linked cause
	absent  []float64   // P(absent findings | cause present)
	acc     []float64   // sum that goes with the cause being present
	share   [][]float64 // by mask: how much of the product has the cause present
	mask    []uint32    // which of a cause's own findings are chosen
	terms   []term      // one per present finding
	closing [][]int     // causes to account for at each depth
	product float64     // of (prior·gain + 1 − prior) over all causes
	outside float64     // leak factor of the absent findings
}

type term struct {
	weight float64 // −(1 − ratio)·(1 − leak)
	links  []link
}

type link struct {
	cause int // index into quick.causes
	keep  float64
	bit   uint32
	ratio []float64 // by mask: product with this finding chosen, over without
}

func newQuick(l Layer, evidence []Evidence) *quick {
	positive := make([]Evidence, 0, len(evidence))
	q := &quick{outside: 1, product: 1}
	slot := make([]int, len(l.Prior)) // one more than the index; 0 is none
	add := func(cause int) int {
		if slot[cause] == 0 {
			q.causes = append(q.causes, cause)
			q.prior = append(q.prior, l.Prior[cause])
			q.absent = append(q.absent, 1)
			slot[cause] = len(q.causes)
		}
		return slot[cause] - 1
	}
	for _, e := range evidence {
		if e.Present {
			positive = append(positive, e)
			continue
		}
		q.outside *= 1 - l.Leak[e.Finding]
		for c, w := range l.Strength[e.Finding] {
			if w > 0 {
				q.absent[add(c)] *= 1 - w
			}
		}
	}
	for _, e := range strongest(positive) {
		t := term{weight: -(1 - clamp(e.Ratio)) * (1 - l.Leak[e.Finding])}
		for c, w := range l.Strength[e.Finding] {
			if w > 0 {
				t.links = append(t.links, link{cause: add(c), keep: 1 - w})
			}
		}
		q.terms = append(q.terms, t)
	}
	sort.SliceStable(q.terms, func(i, j int) bool { return len(q.terms[i].links) > len(q.terms[j].links) })
	q.close()
	return q
}

// close works out the ratios, and at which depth each cause is accounted for.
func (q *quick) close() {
	count := len(q.causes)
	q.acc, q.mask, q.share = make([]float64, count), make([]uint32, count), make([][]float64, count)
	q.closing = make([][]int, len(q.terms)+1)
	last, gains := make([]int, count), make([][]float64, count)
	for k := range gains {
		gains[k] = []float64{q.absent[k]} // by mask
	}
	state := func(k int, gain float64) float64 { return q.prior[k]*gain + 1 - q.prior[k] }
	for d, t := range q.terms {
		for i := range t.links {
			l := &t.links[i]
			last[l.cause] = d + 1
			own := gains[l.cause]
			l.bit = uint32(len(own))
			l.ratio = make([]float64, len(own))
			for m, gain := range own {
				own = append(own, gain*l.keep)
				if s := state(l.cause, gain); s > 0 {
					l.ratio[m] = state(l.cause, gain*l.keep) / s
				}
			}
			gains[l.cause] = own
		}
	}
	for k, d := range last {
		q.closing[d] = append(q.closing[d], k)
		q.product *= state(k, q.absent[k])
		q.share[k] = gains[k]
		for m, gain := range gains[k] {
			if s := state(k, gain); s > 0 {
				q.share[k][m] = q.prior[k] * gain / s
			} else {
				q.share[k][m] = 0
			}
		}
	}
}

// sum returns the signed sum over all choices among terms[depth:], given the
// choices made above, each scaled by the running product.
func (q *quick) sum(depth int) float64 {
	var total float64
	if depth == len(q.terms) {
		total = q.product
	} else {
		total = q.sum(depth+1) + q.chosen(depth)
	}
	for _, k := range q.closing[depth] {
		q.acc[k] += total * q.share[k][q.mask[k]]
	}
	return total
}

func (q *quick) chosen(depth int) float64 {
	t := &q.terms[depth]
	before := q.product
	p := before * t.weight
	for i := range t.links {
		l := &t.links[i]
		p *= l.ratio[q.mask[l.cause]]
		q.mask[l.cause] |= l.bit
	}
	q.product = p
	total := q.sum(depth + 1)
	for i := range t.links {
		q.mask[t.links[i].cause] &^= t.links[i].bit
	}
	q.product = before
	return total
}

// strongest keeps the MaxPositive findings that say most.
func strongest(e []Evidence) []Evidence {
	if len(e) <= MaxPositive {
		return e
	}
	sort.SliceStable(e, func(i, j int) bool { return e[i].Ratio < e[j].Ratio })
	return e[:MaxPositive]
}

// Weight is the weight of evidence that a report of a finding lends a cause:
// ten times the common logarithm of the ratio of the report's chance with the
// cause to that without it, in decibans; positive speaks for the cause. The
// other causes stand at their priors.
// Source: Good, Probability and the Weighing of Evidence, 1950, chapter 6.
func (l Layer) Weight(cause int, e Evidence) float64 {
	absent := 1 - l.Leak[e.Finding]
	for c, w := range l.Strength[e.Finding] {
		if c != cause {
			absent *= 1 - l.Prior[c]*w
		}
	}
	with := absent * (1 - l.Strength[e.Finding][cause])
	if !e.Present {
		return 10 * math.Log10(math.Max(with, 1e-9)/math.Max(absent, 1e-9))
	}
	say := func(absent float64) float64 { return math.Max(1-(1-e.Ratio)*absent, 1e-9) }
	return 10 * math.Log10(say(with)/say(absent))
}

func clamp(p float64) float64 { return math.Min(1, math.Max(0, p)) }
