package diagnosis

import (
	"math"
	"slices"
	"strings"
)

// Case turns a vignette into what its rider would have entered: words through
// the matcher, numbers as facts, history as facts by its words.
func (n *Network) Case(v Vignette) Case {
	e := ear{n: n, at: map[string]int{}, end: v.end()}
	e.c.Facts = v.facts()
	for _, o := range v.Observations {
		e.felt(said{words: o.Says, phase: o.Phase, end: o.End, kind: "felt"})
		if o.Side != "none" && o.Side != "" {
			e.note(Observed{Finding: "side-differs", Sure: 0.8})
		}
	}
	for _, w := range v.TyreLook {
		e.felt(said{words: w, kind: "tyre"})
	}
	for _, w := range v.ChecksFound {
		e.cleared(w)
		e.felt(said{words: w, end: e.end, kind: "check"})
	}
	e.unhappy()
	if fell(v.Bike.Falls) {
		e.c.Facts.Marks = append(e.c.Facts.Marks, "fall")
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
	// end is where all the complaints are, if at one end: changes that name
	// none were made there.
	end string
}

// The least score at which a match is taken without asking, and how close to
// the best another must come to be taken too. Set on the case files.
const leastScore, closeBy = 0.45, 0.92

func (e *ear) felt(s said) {
	e.c.Facts = e.c.Facts.filled(Read(s.words).Facts)
	understood := false
	for _, part := range e.n.matcher.heard(s) {
		for k, o := range part {
			if k > 1 || o.Score < leastScore || o.Score < closeBy*part[0].Score {
				break
			}
			understood = true
			if o.Negated && (o.Score < 0.6 || k > 0) {
				continue // a doubtful no is left out: the engine takes a no as certain
			}
			e.note(Observed{Finding: o.Finding, Absent: o.Negated, Sure: sure(o) / float64(k+1), End: s.end})
		}
	}
	if !understood && s.kind == "felt" {
		e.somewhere(s)
	}
}

// somewhere takes words of a complaint that were not understood for what they
// still say, where it is: each finding of that phase and end, faintly.
func (e *ear) somewhere(s said) {
	if slices.ContainsFunc(raws(s.words), func(w string) bool { return w == "nothing" || w == "none" }) {
		return // nothing there
	}
	for _, t := range e.n.matcher.lexicon.read(s.words) {
		for _, x := range t.senses {
			if x.not || wellWords[x.concept] || x.concept == "content" {
				return // it may well be no complaint
			}
		}
	}
	for _, f := range e.n.findings {
		if f.Kind == "felt" && f.Phase == s.phase && (f.End == s.end || f.End == "whole") {
			e.note(Observed{Finding: f.ID, Sure: faint, End: s.end})
		}
	}
}

// unhappy hears a plain complaint as one: where something is felt that a sound
// bike does not do, "no complaint" is denied.
func (e *ear) unhappy() {
	sound := e.n.cause["no-fault"]
	for _, o := range e.c.Findings {
		k, known := e.n.finding[o.Finding]
		if !known || o.Absent || o.Sure < plain || e.n.findings[k].Kind != "felt" || praises[o.Finding] {
			continue
		}
		if e.n.layer.Strength[k][sound] == 0 {
			e.note(Observed{Finding: "no-complaint", Absent: true})
			return
		}
	}
}

// plain is how surely a complaint must be heard to deny that there is none.
const plain = 0.85

// praises are the felt findings that say something good or nothing at all.
var praises = set("steady-straight bumps-fine front-plush tuned-no-change side-differs faster-pace-only one-place")

// faint is how much a place without understood words says of each finding
// there: common practice, no source.
const faint = 0.1

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

// cleared hears that parts were looked at and are good. A bare list of parts
// shares what is said at its end: "balance, bearings and disc ruled out".
func (e *ear) cleared(words string) {
	parts := clauses(e.n.matcher.lexicon.read(words))
	var praise []word // what the good part says of itself
	for k := len(parts) - 1; k >= 0; k-- {
		own := praised(parts[k])
		switch {
		case len(own) > 0:
			praise = own
		case len(parts[k]) <= 2 && len(praise) > 0:
			parts[k] = slices.Concat(parts[k], praise)
		default:
			praise = nil
			continue
		}
		for i, f := range e.n.clears.findings {
			for _, p := range e.n.clears.patterns[i] {
				if saysAll(parts[k], p) {
					e.note(Observed{Finding: f.ID, Absent: true})
				}
			}
		}
	}
}

// praised are the words by which a part is good, straight or no cure.
func praised(part []word) []word {
	if isStraight(part) || isCureless(part) {
		return part
	}
	if !isGood(part) {
		return nil
	}
	var out []word
	for _, t := range part {
		if isGood([]word{t}) {
			out = append(out, t)
		}
	}
	return out
}

// isCureless says whether a part tells of a job that cured nothing:
// "balanced again, no better" clears the balance.
func isCureless(part []word) bool {
	k, _ := saidAs(part, "nochange")
	if k < 0 {
		return false
	}
	_, old := part[k].means("old")
	return !old // "never changed" is an age
}

// isStraight says whether a short part calls something straight: "fork tubes
// straight", but not "a notch felt straight ahead".
func isStraight(part []word) bool {
	k, s := saidAs(part, "straight")
	if k <= 0 || s.not || len(part) > 3 {
		return false
	}
	_, ahead := part[k].means("centre")
	return !ahead
}

func saysAll(said []word, pattern []sense) bool {
	for _, p := range pattern {
		if k, s := saidAs(said, p.concept); k < 0 || s.not != p.not {
			return false
		}
	}
	return len(pattern) > 0
}

// history hears facts: what was turned, what was apart, how old things are.
func (e *ear) history(words string) {
	told := readAt(words, e.end)
	e.c.Facts = e.c.Facts.filled(told.Facts)
	for _, t := range told.Turned {
		e.c.Facts.Marks = append(e.c.Facts.Marks, t.marks()...)
	}
	for _, part := range clauses(e.n.marks.lexicon.read(words)) {
		for i, f := range e.n.marks.findings {
			for _, p := range e.n.marks.patterns[i] {
				if saysAll(part, p) {
					e.c.Facts.Marks = append(e.c.Facts.Marks, f.ID)
				}
			}
		}
	}
}

// fell says whether the words for falls tell of any.
func fell(words string) bool {
	all := raws(words)
	return len(all) > 0 && !slices.ContainsFunc(all, func(w string) bool {
		return set("none no never saved nearly almost unknown n nil nothing zero not")[w]
	})
}

// end is the one end that the observations speak of, or none.
func (v Vignette) end() string {
	end := ""
	for _, o := range v.Observations {
		if o.End == "whole" || o.End == end {
			continue
		}
		if end != "" {
			return ""
		}
		end = o.End
	}
	return end
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
	for _, w := range []string{"road", "street", "commut", "motorway"} {
		has(v.Track.Name, w, "on-road")
	}
	for _, w := range []string{"gust", "wind", "breez"} {
		has(v.Track.Weather, w, "wind")
	}
	return out
}
