package diagnosis

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// enumerate is the definition itself: every state of the causes in turn.
func enumerate(l Layer, evidence []Evidence) Result {
	out := Result{Posterior: make([]float64, len(l.Prior))}
	for state := 0; state < 1<<len(l.Prior); state++ {
		p := 1.0
		for c, prior := range l.Prior {
			if state>>c&1 == 1 {
				p *= prior
			} else {
				p *= 1 - prior
			}
		}
		for _, e := range evidence {
			absent := 1 - l.Leak[e.Finding]
			for c, w := range l.Strength[e.Finding] {
				if state>>c&1 == 1 {
					absent *= 1 - w
				}
			}
			if e.Present {
				p *= (1 - absent) + e.Ratio*absent
			} else {
				p *= absent
			}
		}
		out.Evidence += p
		for c := range l.Prior {
			if state>>c&1 == 1 {
				out.Posterior[c] += p
			}
		}
	}
	for c := range out.Posterior {
		out.Posterior[c] /= out.Evidence
	}
	return out
}

func TestPosteriorsAreThoseOfEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		chance := rapid.Float64Range(0.01, 0.95)
		causes := rapid.IntRange(1, 7).Draw(t, "causes")
		findings := rapid.IntRange(1, 7).Draw(t, "findings")
		l := Layer{}
		for range causes {
			l.Prior = append(l.Prior, chance.Draw(t, "prior"))
		}
		var evidence []Evidence
		for f := range findings {
			l.Leak = append(l.Leak, rapid.Float64Range(0.01, 0.3).Draw(t, "leak"))
			row := make([]float64, causes)
			for c := range row {
				if rapid.Bool().Draw(t, "linked") {
					row[c] = chance.Draw(t, "strength")
				}
			}
			l.Strength = append(l.Strength, row)
			switch rapid.IntRange(0, 2).Draw(t, "state") {
			case 0:
				evidence = append(evidence, Evidence{Finding: f})
			case 1:
				evidence = append(evidence, Evidence{f, true, rapid.Float64Range(0, 1).Draw(t, "ratio")})
			}
		}
		want := enumerate(l, evidence)
		got, err := l.Posteriors(evidence)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "evidence", got.Evidence, want.Evidence, 1e-10)
		for c := range want.Posterior {
			near(t, "posterior", got.Posterior[c], want.Posterior[c], 1e-6)
		}
	})
}

type failer interface {
	Helper()
	Errorf(string, ...any)
}

func near(t failer, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.9g, want %.9g within %g", what, got, want, within)
	}
}

func TestPosteriorsHoldToReference(t *testing.T) {
	three := Layer{
		Prior:    []float64{0.2, 0.1, 0.3},
		Leak:     []float64{0.02, 0.05, 0.01},
		Strength: [][]float64{{0.8, 0.3, 0}, {0.4, 0.7, 0.2}, {0, 0.5, 0.6}},
	}
	two := Layer{Prior: []float64{0.1, 0.1}, Leak: []float64{0}, Strength: [][]float64{{0.9, 0.9}}}
	const enumerated = "enumeration of all states of the model in Heckerman 1989, worked outside this program (check values C11.1, C11.2)"
	rows := []struct {
		layer    Layer
		evidence string
		want     []float64 // P(evidence), then posteriors
		within   float64
		source   string
	}{
		{three, "++-", []float64{0.06660438, 0.875611, 0.198439, 0.177167}, 1e-6, enumerated},
		{three, "+++", []float64{0.03498807, 0.667136, 0.561784, 0.661408}, 1e-6, enumerated},
		{three, "+??", []float64{0.201496, 0.803867, 0.210307, 0.3}, 1e-6, enumerated},
		{three, "-+?", []float64{0.13435675, 0.139032, 0.316177, 0.520865}, 1e-6, enumerated},
		{three, "---", []float64{0.55043381, 0.029126, 0.011532, 0.120603}, 1e-6, enumerated},
		{three, "???", []float64{1, 0.2, 0.1, 0.3}, 1e-6, enumerated},
		{two, "+", []float64{0.1719, 0.528796, 0.528796}, 1e-6, enumerated},
	}
	for _, row := range rows {
		if row.source == "" {
			t.Errorf("%s: no source", row.evidence)
		}
		var evidence []Evidence
		for f, sign := range row.evidence {
			if sign != '?' {
				evidence = append(evidence, Evidence{Finding: f, Present: sign == '+'})
			}
		}
		got, err := row.layer.Posteriors(evidence)
		if err != nil {
			t.Fatalf("%s: %v", row.evidence, err)
		}
		near(t, row.evidence, got.Evidence, row.want[0], row.within)
		for c, want := range row.want[1:] {
			near(t, row.evidence, got.Posterior[c], want, row.within)
		}
	}
}

func TestPairIsThatOfEnumeration(t *testing.T) {
	// P(a, b, +) / P(+) = 0.1·0.1·0.99 / 0.1719, from C11.2's model by hand.
	l := Layer{Prior: []float64{0.1, 0.1}, Leak: []float64{0}, Strength: [][]float64{{0.9, 0.9}}}
	near(t, "pair", l.Pair(0, 1, []Evidence{{Finding: 0, Present: true}}), 0.0099/0.1719, 1e-9)
}

func TestImpossibleEvidenceIsRefused(t *testing.T) {
	l := Layer{Prior: []float64{0.1}, Leak: []float64{0}, Strength: [][]float64{{0}}}
	if _, err := l.Posteriors([]Evidence{{Finding: 0, Present: true}}); err != ErrImpossible {
		t.Errorf("a finding that nothing can cause: got %v", err)
	}
}

// Virtual evidence: a neighbour's word, four times as likely if the alarm
// sounded, on a burglary of prior 1 in 10,000 that sets the alarm off 95 times
// in 100, against once in 100 without. With it P(burglary) is
// 0.0001·(4·0.95 + 0.05) / (that + 0.9999·(4·0.01 + 0.99)), 0.00037 in print.
// Source: Pearl 1988, section 2.2.2 (example from memory, worked by hand).
// In noisy-OR form P(alarm | burglary) = 1 − (1 − leak)(1 − strength).
func TestVirtualEvidenceHoldsToReference(t *testing.T) {
	l := Layer{Prior: []float64{0.0001}, Leak: []float64{0.01}, Strength: [][]float64{{1 - 0.05/0.99}}}
	got, err := l.Posteriors([]Evidence{{Finding: 0, Present: true, Ratio: 0.25}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "burglary on a neighbour's word", got.Posterior[0], 0.0001*3.85/(0.0001*3.85+0.9999*1.03), 1e-12)
	near(t, "burglary, as printed", got.Posterior[0], 0.00037, 5e-6)
	sure, _ := l.Posteriors([]Evidence{{Finding: 0, Present: true}})
	near(t, "burglary when the alarm is heard, as printed", sure.Posterior[0], 0.00941, 5e-6)
}

// The gain of a check, worked through the chance of its cause, is the one that
// asking for it both ways gives.
func TestGainIsThatOfAsking(t *testing.T) {
	n := Load()
	evidence := n.evidence(Case{Findings: felt("front-packs", "rear-wallow", "drifts-apex", "side-differs")})
	now, err := n.layer.Posteriors(evidence)
	if err != nil {
		t.Fatal(err)
	}
	for cause, c := range n.causes {
		if now.Posterior[cause] < 0.02 {
			continue
		}
		finding := n.finding[c.Check.Finding.ID]
		yes, err := n.layer.Posteriors(append(slices.Clone(evidence), Evidence{Finding: finding, Present: true}))
		no, err2 := n.layer.Posteriors(append(slices.Clone(evidence), Evidence{Finding: finding}))
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		p := yes.Evidence / now.Evidence
		want := 0.0
		for i, before := range now.Posterior {
			want += entropy(before) - p*entropy(yes.Posterior[i]) - (1-p)*entropy(no.Posterior[i])
		}
		s := &study{n.layer, evidence, now, map[int]Result{}}
		near(t, c.ID, s.gain(cause, finding, true), want, 1e-9)
		if own := s.gain(cause, finding, false); own > want+1e-9 {
			t.Errorf("%s: its own entropy drops by %.6f, all by %.6f", c.ID, own, want)
		}
	}
}
