package diagnosis

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
)

// Offer is a finding that words may mean. Score is in (0, 1]; Negated says
// that the words deny it. The rider chooses; nothing is chosen silently.
type Offer struct {
	Finding string  `json:"finding"`
	Words   string  `json:"words"`
	Score   float64 `json:"score"`
	Negated bool    `json:"negated,omitempty"`
	used    []bool  // which terms of the part it explains
}

// Match offers the findings that words may mean, best first, at most eight.
// It works by composition: words become concepts (which end, where in the
// corner, what it does), whole and clause by clause, and each finding is told
// in concepts. It forgives spelling, knows the trade's slang and hears a
// denial. Words that mean nothing here get no offer.
func (n *Network) Match(words string) []Offer { return n.MatchAt(words, "", "") }

// MatchAt is Match for words said of a phase of the corner and an end, which
// lift the findings that belong there. Either may be empty.
func (n *Network) MatchAt(words, phase, end string) []Offer {
	out := merged(n.matcher.heard(said{words: words, phase: phase, end: end}))
	return out[:min(8, len(out))]
}

// MatchFacts offers the facts of history that words may mean.
func (n *Network) MatchFacts(words string) []Offer {
	out := merged(n.marks.heard(said{words: words}))
	return out[:min(8, len(out))]
}

// said is what somebody said, of which phase and end, and what kind of finding
// it was asked for: felt, tyre, check or any.
type said struct {
	words, phase, end, kind string
	denying                 bool // the part denies something
}

// matcher finds the findings of a list whose patterns are said.
type matcher struct {
	lexicon  *lexicon
	findings []Finding
	patterns [][][]sense
	rarity   map[string]float64
}

func newMatcher(l *lexicon, findings []Finding) (*matcher, error) {
	m := &matcher{lexicon: l, findings: findings, rarity: map[string]float64{}}
	seen := map[string]int{}
	for _, f := range findings {
		var all [][]sense
		own := map[string]bool{}
		for _, p := range f.Phrases {
			t, err := l.pattern(p)
			if err != nil || len(t) == 0 {
				return nil, fmt.Errorf("%s: %q says nothing: %w", f.ID, p, err)
			}
			all = append(all, t)
			for _, w := range t {
				own[w.concept] = true
			}
		}
		for w := range own {
			seen[w]++
		}
		m.patterns = append(m.patterns, all)
	}
	for w, k := range seen {
		m.rarity[w] = math.Log(1 + float64(len(findings))/float64(k))
	}
	return m, nil
}

// heard returns the offers of each part of what was said, best first: of the
// whole, or of its clauses where those are heard better, and then of what the
// best offer leaves unexplained.
func (m *matcher) heard(s said) [][]Offer {
	terms := m.lexicon.read(s.words)
	if !slices.ContainsFunc(terms, func(t word) bool { return len(t.senses) > 0 }) {
		return nil
	}
	whole := m.explained(terms, terms, s)
	parts := clauses(terms)
	if len(parts) == 1 {
		return whole
	}
	var byClause [][]Offer
	var subject []word // clauses of a check that find nothing by themselves: "a friend rode it, …"
	sum, count := 0.0, 0
	for _, p := range parts {
		own := m.explained(p, terms, s)
		if joined := append(subject, p...); len(subject) > 0 {
			if with := m.explained(joined, terms, s); better(with, own) {
				own = with
			}
		}
		if subject = append(subject, p...); len(own) > 0 || s.kind != "check" {
			subject = nil
		}
		if len(own) > 0 {
			byClause = append(byClause, own...)
			sum += own[0][0].Score
			count++
		}
	}
	if s.kind == "check" && isGood(terms) && len(whole) > 0 && !whole[0][0].Negated {
		return append(byClause, whole[0]) // a list of parts may be one find: all are good
	}
	if count == 0 || s.kind != "check" && len(whole) > 0 && whole[0][0].Score >= sum/float64(count) {
		return whole
	}
	return byClause
}

// better says whether the best of some offers is heard no worse than that of others.
func better(a, b [][]Offer) bool {
	return len(a) > 0 && (len(b) == 0 || a[0][0].Score >= b[0][0].Score)
}

// explained are the offers of one part, then those of what they leave.
func (m *matcher) explained(part, all []word, s said) [][]Offer {
	var out [][]Offer
	s.denying = denies(part)
	for k := range 3 {
		offers := m.offers(part, all, s)
		if len(offers) == 0 || k > 0 && offers[0].Score < leastRest {
			break
		}
		out = append(out, offers)
		if part = unexplained(part, offers[0].used); len(part) == 0 {
			break
		}
	}
	return out
}

// unexplained are the terms that an offer did not use; ends stay.
func unexplained(part []word, used []bool) []word {
	var out []word
	rest := false
	for k, t := range part {
		_, front := t.means("front")
		_, rear := t.means("rear")
		switch {
		case front || rear:
			out = append(out, t)
		case !used[k] && !saidIn(part, used, t):
			out = append(out, t)
			rest = rest || len(t.senses) > 0
		}
	}
	if !rest {
		return nil
	}
	return out
}

// saidIn says whether a used term means the same as another.
func saidIn(part []word, used []bool, t word) bool {
	for k, u := range part {
		if used[k] && u.same(t) {
			return true
		}
	}
	return false
}

// clauses cuts terms where their clause changes.
func clauses(terms []word) [][]word {
	var out [][]word
	for i, t := range terms {
		if i == 0 || t.clause != terms[i-1].clause {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], t)
	}
	return out
}

// leastOffer is the score from which a finding is offered at all: below it one
// common word in two is all there is.
const leastOffer = 0.43

// leastRest is what a second finding in the same words must score.
const leastRest = 0.6

// offers scores every finding against one part of what was said.
func (m *matcher) offers(part, all []word, s said) []Offer {
	var out []Offer
	named := ends(part, all)
	well := s.kind == "check" && (isGood(part) || isStraight(part) || isCureless(part))
	for i, f := range m.findings {
		var best fit
		for _, p := range m.patterns[i] {
			if well && !(f.Kind == "tyre" && ofTyre(part)) && !speaksWell(p) {
				continue // "disc true" is no find, and "bars square" is no tyre
			}
			x := m.fit(part, p, s)
			if f.Kind == "check" && x.said < wholeSaid {
				continue // another part is another find, and so is another fault
			}
			if s.kind == "check" && f.Kind == "check" && s.denying && !denied(p) && !speaksWell(p) {
				x.negated = true // "no knock when rocked" finds no play
			}
			if x.score > best.score || x.score == best.score && !x.negated {
				best = x
			}
		}
		if best.score == 0 {
			continue
		}
		best.score *= place(f, s, named) * kindly(f, s)
		if best.score >= leastOffer {
			out = append(out, Offer{f.ID, f.Words, math.Min(1, best.score), best.negated, best.used})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Score > out[j].Score })
	return out
}

// ofTyre says whether a part names the tyre or a place on it.
func ofTyre(part []word) bool {
	return slices.ContainsFunc(part, func(t word) bool {
		return slices.ContainsFunc(t.senses, func(s sense) bool { return tyreWords[s.concept] })
	})
}

var tyreWords = set("tyre newtyre shoulder centre tear cut wear wornout smooth scallop")

// isGood says whether a part calls something good, square or fresh.
func isGood(part []word) bool {
	for _, t := range part {
		if _, flat := t.means("flat"); flat && ofTyre(part) {
			continue // a square tyre is not a good one
		}
		for _, s := range t.senses {
			if !s.not && wellWords[s.concept] {
				return true
			}
		}
	}
	return false
}

// denies says whether anything in a part is denied.
func denies(part []word) bool {
	return slices.ContainsFunc(part, func(t word) bool { return denied(t.senses) })
}

func denied(senses []sense) bool {
	return slices.ContainsFunc(senses, func(s sense) bool { return s.not })
}

func speaksWell(pattern []sense) bool {
	for _, s := range pattern {
		if wellWords[s.concept] {
			return true
		}
	}
	return false
}

var wellWords = set("good square fresh stable checked")

// merged is one list of the parts' offers: the best of each finding.
func merged(parts [][]Offer) []Offer {
	at := map[string]int{}
	var out []Offer
	for _, p := range parts {
		for _, o := range p {
			k, twice := at[o.Finding]
			switch {
			case !twice:
				at[o.Finding] = len(out)
				out = append(out, o)
			case o.Score > out[k].Score:
				out[k] = o
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Score > out[j].Score })
	return out
}

// ends are the ends that a part names, or else the whole does.
func ends(part, all []word) map[string]bool {
	named := func(terms []word) map[string]bool {
		out := map[string]bool{}
		for _, t := range terms {
			for _, s := range t.senses {
				switch s.concept {
				case "front", "rear":
					out[s.concept] = true
				case "shock":
					out["rear"] = true
				case "both":
					out["front"], out["rear"] = true, true
				}
			}
		}
		return out
	}
	if out := named(part); len(out) > 0 {
		return out
	}
	return named(all)
}

// place lifts or lowers a finding by where the rider says it happens.
func place(f Finding, s said, named map[string]bool) float64 {
	by := 1.0
	switch {
	case s.phase == "" || f.Phase == "" || f.Phase == "whole-lap":
	case f.Phase == s.phase:
		by = 1.2
	default:
		by = 0.85
	}
	if f.End == "whole" || f.End == "" {
		return by
	}
	told := s.end != "" && s.end != "whole" && (s.kind != "check" || len(named) == 0)
	switch {
	case named[f.End] || told && s.end == f.End:
		return by * 1.1
	case len(named) > 0 || told:
		return by * 0.5
	}
	return by
}

// kindly lifts the kind of finding that was asked for.
func kindly(f Finding, s said) float64 {
	switch {
	case s.kind == "" || s.kind == f.Kind:
		return 1
	case s.kind == "felt" && f.Kind == "check" && s.phase != "standstill":
		return 0.6 // what is felt finds no part
	case s.kind == "check" && f.Kind == "felt":
		return 0.7
	case s.kind == "tyre":
		return 0.5
	case f.Kind == "tyre":
		return 0.55
	}
	return 0.9
}

// implied are the concepts that a phase says by itself.
var implied = map[string]map[string]bool{
	"braking": set("brake"), "turn-in": set("entry"), "mid-corner": set("mid"), "drive-out": set("exit gas"), "straight": set("straight"),
	"side-to-side": set("flick"), "over-bumps": set("bump"), "standstill": set("slowspeed"),
}

// whereSaid are the concepts that say where, not what: "no shake on the exit"
// denies a shake.
var whereSaid = func() map[string]bool {
	all := set("front rear shock both whole")
	for _, says := range implied {
		maps.Copy(all, says)
	}
	return all
}()

// fit is how well a pattern fits what was said.
type fit struct {
	score   float64
	said    float64 // share of the pattern
	negated bool
	used    []bool
}

// leastSaid is the share of a pattern that must be said, and wholeSaid that of
// a check's, which leaves out no more than an end.
const leastSaid, wholeSaid = 0.66, 0.9

// fit is how far a pattern was said and how far what was said is the
// pattern, by rarity of the concepts; ends count through place alone.
func (m *matcher) fit(part []word, pattern []sense, s said) fit {
	var common, deeds, denied, inPattern, inSaid, covered float64
	used := make([]bool, len(part))
	heard := false
	for _, p := range pattern {
		w := m.weight(p.concept)
		inPattern += w
		k, as := saidAs(part, p.concept)
		switch {
		case k >= 0:
			common += w
			heard = heard || w > 0.2
			used[k] = true
			if !whereSaid[p.concept] {
				deeds += w
			}
			if as.not != p.not {
				denied += w
			}
		case implied[s.phase][p.concept], s.end == "whole" && (p.concept == "both" || p.concept == "whole"):
			common += w * 0.9
		case p.concept == "oneway":
			return fit{} // worse one way: a side must be said
		}
	}
	if !heard || common < leastSaid*inPattern {
		return fit{}
	}
	for k, t := range part {
		w := m.lightest(t, s.phase)
		if slices.ContainsFunc(part[:k], t.same) {
			continue // said again
		}
		inSaid += w
		if used[k] {
			covered += w
		}
	}
	negated := denied > 0 && denied > deeds/2
	if s.kind == "check" && denied > 0 && !negated {
		return fit{} // half a find is none
	}
	use := 1.0
	if inSaid > 0 {
		use = covered / inSaid
	}
	return fit{math.Pow(common/inPattern, 1.2) * math.Pow(math.Max(use, 0.02), 0.4), common / inPattern, negated, used}
}

// saidAs finds the term that means a concept, rather one that is not denied.
func saidAs(said []word, concept string) (int, sense) {
	at, found := -1, sense{}
	for k, t := range said {
		if s, ok := t.means(concept); ok && (at < 0 || found.not && !s.not) {
			at, found = k, s
		}
	}
	return at, found
}

// unknownWeight is what a word that the lexicon lacks leaves unexplained.
const unknownWeight = 0.6

// lightest is the weight of a term as something left unexplained: that of its
// commonest sense, and none if the phase says it anyway.
func (m *matcher) lightest(t word, phase string) float64 {
	least := unknownWeight
	if len(t.senses) > 0 {
		least = math.Inf(1)
	}
	for _, s := range t.senses {
		if implied[phase][s.concept] {
			return 0.2
		}
		least = math.Min(least, m.weight(s.concept))
	}
	return least
}

// weight is a concept's rarity among the patterns. Ends weigh little, for they
// are heard apart.
func (m *matcher) weight(concept string) float64 {
	switch concept {
	case "front", "rear", "shock":
		return 0.2
	}
	return m.rarity[concept]
}
