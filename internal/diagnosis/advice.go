package diagnosis

import (
	"fmt"
	"sort"
)

// Advice is a change that somebody in the paddock suggests. Steps may be 0 if
// no one said how far.
type Advice struct {
	Adjuster  string `json:"adjuster"`
	Direction string `json:"direction"` // more or less, physically
	Steps     int    `json:"steps,omitempty"`
}

// Tried is a trial of the past: When is as the rider wrote it, Verdict is
// better, worse, same or open.
type Tried struct {
	Advice
	Track   string `json:"track,omitempty"`
	When    string `json:"when,omitempty"`
	Verdict string `json:"verdict"`
}

// Weighing is what the evidence says of a piece of advice.
type Weighing struct {
	Verdict string   `json:"verdict"` // stop, check-first, worth-a-try, against, no-way-left, cannot-say
	Words   string   `json:"words"`
	Helps   []Ranked `json:"helps"`   // causes that it would help, likeliest first
	Against []string `json:"against"` // what speaks against it
	First   []Step   `json:"first"`   // what should be checked before
	Before  []Tried  `json:"before"`  // the same turned before, here first
}

// WeighAdvice weighs advice like a suggestion of the engine's own: what it
// would help, what speaks against it, what should be checked first and whether
// it was tried before. A network With what was learnt weighs with that.
func (n *Network) WeighAdvice(c Case, advice Advice, tried []Tried, track string) Weighing {
	a := n.Diagnose(c)
	w := Weighing{Before: triedBefore(advice, tried, track)}
	likeliest := 0.0
	for _, r := range a.Causes {
		cause := n.causes[n.cause[r.ID]]
		if r.Posterior < 0.03 {
			break
		}
		switch {
		case cause.Remedy.moves(advice.Adjuster, advice.Direction):
			w.Helps = append(w.Helps, r)
			likeliest = max(likeliest, r.Posterior)
		case cause.Remedy.moves(advice.Adjuster, opposite(advice.Direction)) && r.Posterior >= 0.15:
			w.Against = append(w.Against, fmt.Sprintf("%s is %s, and asks for the opposite.", cause.Title, r.Doubt))
		}
	}
	against := len(w.Against)
	for _, t := range w.Before {
		if t.Verdict == "worse" || t.Verdict == "same" {
			w.Against = append(w.Against, triedWords(t))
		}
	}
	if top := a.Causes[0]; top.Posterior >= 0.3 && likeliest < top.Posterior/2 {
		w.Against = append(w.Against, fmt.Sprintf("%s is %s, and this does not touch it.", top.Title, top.Doubt))
	}
	for _, s := range a.Plan {
		if cause := n.causes[n.cause[s.Cause]]; s.Posterior >= likeliest/2 && (cause.IsFault() || s.Order < 3) {
			w.First = append(w.First, s)
		}
	}
	s, known := settingOf(c.Settings, advice.Adjuster)
	noWay := known && s.left(advice.Direction) < max(1, advice.Steps)
	w.Verdict, w.Words = judge(a, w, likeliest, against, noWay, advice)
	return w
}

// judge picks the verdict: what forbids comes before what advises.
func judge(a Answer, w Weighing, likeliest float64, opposed int, noWay bool, advice Advice) (verdict, words string) {
	switch {
	case a.Stop != nil:
		return "stop", a.Stop.Words
	case noWay:
		return "no-way-left", spoken(advice.Adjuster) + " has no such way left. " + instead(advice.Adjuster, advice.Direction)
	case a.Causes[0].Posterior < 0.15 && likeliest < 0.15:
		return "cannot-say", "Too little is known to weigh it. Say what the bike does first."
	case len(w.First) > 0:
		return "check-first", "Check this first: " + w.First[0].How
	case likeliest >= 0.15 && opposed == 0:
		return "worth-a-try", "It fits what you felt: try it alone, at the same pace, and note the way back."
	}
	return "against", "What you felt speaks against it. Write it down and leave it for now."
}

func triedBefore(advice Advice, tried []Tried, track string) []Tried {
	var out []Tried
	for _, t := range tried {
		if t.Adjuster == advice.Adjuster && t.Direction == advice.Direction {
			out = append(out, t)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Track == track && out[j].Track != track })
	return out
}

func triedWords(t Tried) string {
	words := "It was tried before"
	if t.Track != "" {
		words += " at " + t.Track
	}
	if t.When != "" {
		words += " (" + t.When + ")"
	}
	if t.Verdict == "worse" {
		return words + " and was worse."
	}
	return words + " and changed nothing."
}

// moves says whether a remedy turns this adjuster this way; a pressure or a
// height remedy that names no end of its own counts at both.
func (r Remedy) moves(adjuster, direction string) bool {
	if r.Adjuster == adjuster {
		return r.Direction == direction
	}
	pressure := func(a string) bool { return a == "front.pressure" || a == "rear.pressure" }
	return pressure(r.Adjuster) && pressure(adjuster) && r.Direction == direction
}
