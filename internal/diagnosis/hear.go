package diagnosis

import (
	"math"
	"strings"
)

// Case turns a vignette into what its rider would have entered: words through
// the matcher, numbers as facts, history as facts by its words.
func (n *Network) Case(v Vignette) Case {
	e := ear{n: n, at: map[string]int{}}
	e.c.Facts = v.facts()
	for _, o := range v.Observations {
		e.felt(said{o.Says, o.Phase, o.End, "felt"})
		if o.Side != "none" && o.Side != "" {
			e.note(Observed{Finding: "side-differs", Sure: 0.8})
		}
	}
	for _, w := range v.TyreLook {
		e.felt(said{words: w, kind: "tyre"})
	}
	for _, w := range v.ChecksFound {
		e.cleared(w)
		e.felt(said{words: w, kind: "check"})
	}
	for _, w := range append([]string{v.Bike.Falls, v.Bike.Service, v.Bike.Tyre}, v.Bike.RecentChanges...) {
		e.history(w)
	}
	e.history("springs " + v.Bike.Springs)
	for _, w := range v.ChecksFound {
		e.history(w)
	}
	e.c.Findings = append(e.c.Findings, v.gauged()...)
	e.c.Facts.Marks = append(e.c.Facts.Marks, v.day()...)
	e.c.Facts.Marks = append(e.c.Facts.Marks, v.springs()...)
	return e.c
}

// ear gathers a case from what is heard; each finding once, at its surest.
type ear struct {
	n  *Network
	c  Case
	at map[string]int
}

// The least score at which a match is taken without asking, and how close to
// the best another must come to be taken too. Set on the case files.
const leastScore, closeBy = 0.45, 0.92

func (e *ear) felt(s said) {
	e.c.Facts = e.c.Facts.filled(Read(s.words).Facts)
	for _, part := range e.n.matcher.heard(s) {
		for k, o := range part {
			if k > 1 || o.Score < leastScore || o.Score < closeBy*part[0].Score {
				break
			}
			seen := Observed{Finding: o.Finding, Absent: o.Negated, Sure: sure(o) / float64(k+1), End: s.end}
			if o.Negated && (o.Score < 0.6 || k > 0) {
				continue // a doubtful no is left out: the engine takes a no as certain
			}
			e.note(seen)
		}
	}
}

func (e *ear) note(o Observed) {
	k, twice := e.at[o.Finding]
	switch {
	case !twice:
		e.at[o.Finding] = len(e.c.Findings)
		e.c.Findings = append(e.c.Findings, o)
	case e.c.Findings[k].Absent == o.Absent && o.Sure > e.c.Findings[k].Sure:
		e.c.Findings[k].Sure = o.Sure
	}
}

// cleared hears that a part was looked at and is good.
func (e *ear) cleared(words string) {
	terms := e.n.matcher.lexicon.read(words)
	for _, part := range clauses(terms) {
		good := false
		for _, t := range part {
			for _, s := range t.senses {
				good = good || !s.not && (s.concept == "good" || s.concept == "square" || s.concept == "fresh")
			}
		}
		if !good {
			continue
		}
		for i, f := range e.n.clears.findings {
			for _, p := range e.n.clears.patterns[i] {
				if saysAll(part, p) {
					e.note(Observed{Finding: f.ID, Absent: true})
				}
			}
		}
	}
}

func saysAll(said []word, pattern []sense) bool {
	for _, p := range pattern {
		if k, s := saidAs(said, p.concept); k < 0 || s.not != p.not {
			return false
		}
	}
	return len(pattern) > 0
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

// history hears facts: what was turned, what was apart, how old things are.
func (e *ear) history(words string) {
	told := Read(words)
	e.c.Facts = e.c.Facts.filled(told.Facts)
	for _, t := range told.Turned {
		e.c.Facts.Marks = append(e.c.Facts.Marks, t.marks()...)
	}
	for _, part := range e.n.marks.heard(said{words: words}) {
		for k, o := range part {
			if k > 1 || o.Score < 0.55 || o.Score < 0.85*part[0].Score || o.Negated {
				break
			}
			e.c.Facts.Marks = append(e.c.Facts.Marks, o.Finding)
		}
	}
}

func sure(o Offer) float64 { return math.Min(0.97, 0.3+0.75*o.Score) }

func (v Vignette) day() []string {
	var out []string
	has := func(text, word, mark string) {
		if strings.Contains(strings.ToLower(text), word) {
			out = append(out, mark)
		}
	}
	for _, w := range []string{"bump", "rough", "rippl", "patch", "joint", "slab", "uneven"} {
		has(v.Track.Surface, w, "bumpy")
	}
	for _, w := range []string{"rippl", "one corner", "at turn", "in turn", "one bend"} {
		has(v.Track.Surface, w, "one-corner-rough")
	}
	for _, w := range []string{"wet", "rain", "damp", "shower"} {
		has(v.Track.Weather, w, "wet")
		has(v.Track.Surface, w, "wet")
	}
	for _, w := range []string{"gust", "wind", "breez"} {
		has(v.Track.Weather, w, "wind")
	}
	return out
}
