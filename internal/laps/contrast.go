package laps

import (
	"math"
	"slices"
)

// A trial is judged by its stints, not by its laps: what makes one run faster
// than another as a whole (a track that dries, a rider who wakes up, who else
// is out) shifts all laps of a stint together. Laps say where the middle of a
// stint is; only other stints say how far middles move by themselves. Source:
// A. Donner, N. Klar, Design and Analysis of Cluster Randomization Trials,
// chapter 6, analysis at the cluster level; from memory.

// centres returns where each stint lies against the others, in seconds around
// zero: the average of its Hodges–Lehmann shifts to all stints. A difference
// of centres with weights that sum to zero is a contrast. Source: E. L.
// Lehmann, Annals of Mathematical Statistics 34 (1963), robust estimation in
// analysis of variance.
func centres(times [][]float64) []float64 {
	out := make([]float64, len(times))
	for i := range times {
		for j := range i {
			s := middleShift(times[i], times[j])
			out[i] += s / float64(len(times))
			out[j] -= s / float64(len(times))
		}
	}
	return out
}

// design is how the stints of a trial are compared: the weights that turn
// their centres into the shift, the weights' degrees of freedom left over, and
// an orthonormal basis of everything held steady, the change included.
type design struct {
	weights []float64
	basis   [][]float64
	held    []string
	rest    int
}

// contrast returns the least-squares weights for the change with the other
// columns held, by taking from it all that they explain (Frisch–Waugh). False
// when they explain all of it.
func contrast(changed []float64, others ...[]float64) (design, bool) {
	d := design{}
	for _, o := range others {
		if q, ok := beside(d.basis, o); ok {
			d.basis = append(d.basis, q)
		}
	}
	q, ok := beside(d.basis, changed)
	if !ok {
		return design{}, false
	}
	d.basis = append(d.basis, q)
	scale := dot(q, changed)
	for _, v := range q {
		d.weights = append(d.weights, v/scale)
	}
	d.rest = len(changed) - len(d.basis)
	return d, true
}

// beside returns the part of x that the basis does not explain, at length 1;
// false when, to seven digits, nothing is left of it.
func beside(basis [][]float64, x []float64) ([]float64, bool) {
	rest := append([]float64{}, x...)
	for range 2 { // twice is enough: W. Kahan, in B. Parlett, The Symmetric Eigenvalue Problem
		for _, q := range basis {
			along := dot(q, rest)
			for i := range rest {
				rest[i] -= along * q[i]
			}
		}
	}
	length := norm(rest)
	if !(length > 1e-7*norm(x)) {
		return nil, false
	}
	for i := range rest {
		rest[i] /= length
	}
	return rest, true
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// norm is the length of a column.
func norm(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s = math.Hypot(s, v)
	}
	return s
}

// squares is Σw²: how many times the variance of one stint the shift has.
func (d design) squares() float64 { return dot(d.weights, d.weights) }

// leftover returns what the design does not explain of the centres: the sum
// of squares, and for each stint the share of its own variance that is in it.
func (d design) leftover(centres []float64) (squares float64, shares []float64) {
	rest := append([]float64{}, centres...)
	shares = make([]float64, len(centres))
	for i := range shares {
		shares[i] = 1
	}
	for _, q := range d.basis {
		along := dot(q, centres)
		for i, v := range q {
			rest[i] -= along * v
			shares[i] -= v * v
		}
	}
	return dot(rest, rest), shares
}

// RunSpread is how far the runs of a rider lie apart by themselves, with
// nothing changed: a standard deviation in seconds, and the degrees of freedom
// that it was learned from. The zero value knows nothing.
type RunSpread struct{ Seconds, DF float64 }

// A rider of whom nothing is known is taken to have runs that lie runShare of
// the lap apart (standard deviation), as if learned from runFreedom runs.
// Common practice, no source; the rider's own runs soon outweigh it.
const (
	runShare   = 0.0015
	runFreedom = 6
)

// UsualRunSpread is what to take of a rider of whom nothing is known, from a
// lap time in seconds.
func UsualRunSpread(lap float64) RunSpread { return RunSpread{runShare * lap, runFreedom} }

// surplus is a sum of squares with its degrees of freedom, out of which runs
// lie apart; luck can make it negative, and it must stay so until all of it
// is added up.
type surplus struct{ squares, df float64 }

func (r RunSpread) surplus() surplus { return surplus{r.DF * r.Seconds * r.Seconds, r.DF} }

func (s surplus) and(o surplus) surplus { return surplus{s.squares + o.squares, s.df + o.df} }

func (s surplus) spread() RunSpread {
	if !(s.df > 0) {
		return RunSpread{}
	}
	return RunSpread{math.Sqrt(max(0, s.squares) / s.df), s.df}
}

// FitRunSpread learns the spread between runs from groups of stints in which
// nothing was changed: those of one day on one setting. The spread of the laps
// themselves is taken out. Zero when no group has two stints with two counted
// laps each.
func FitRunSpread(groups [][]Stint) RunSpread {
	var all surplus
	for _, g := range groups {
		var stints [][]Lap
		for _, s := range g {
			if c := Counted(s.Laps); len(c) >= 2 {
				stints = append(stints, c)
			}
		}
		if len(stints) < 2 {
			continue
		}
		drift, _ := FitDrift(stints)
		times := drift.WithoutDrift(stints)
		flat := design{basis: [][]float64{level(len(stints))}, rest: len(stints) - 1}
		at := centres(times)
		if slices.Max(at)-slices.Min(at) > slowShare*Median(times[0]) {
			continue
		}
		all = all.and(flat.surplus(at, lapVariances(times)))
	}
	return all.spread()
}

// level is the constant column at length 1.
func level(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = 1 / math.Sqrt(float64(n))
	}
	return out
}

// lapVariances are the variances of the stints' middles from their own laps.
func lapVariances(times [][]float64) []float64 {
	out := make([]float64, len(times))
	for i, t := range times {
		out[i] = SD(t) * SD(t) / float64(len(t))
	}
	return out
}

// surplus is how far stints lie off the design beyond what their laps explain.
func (d design) surplus(centres, fromLaps []float64) surplus {
	if d.rest < 1 {
		return surplus{}
	}
	squares, shares := d.leftover(centres)
	for i, s := range shares {
		squares -= s * fromLaps[i]
	}
	return surplus{squares, float64(d.rest)}
}
