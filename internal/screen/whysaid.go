package screen

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
	"plumbline/internal/unit"
)

// Weighed is a piece of advice held against what was felt last: what it would
// help, what speaks against it, what to check before, whether it was tried.
// Verdict is "stop", "check-first", "worth-a-try", "against", "no-way-left" or
// "cannot-say".
type Weighed struct {
	Verdict string    `json:"verdict"`
	Title   string    `json:"title"` // the verdict in two or three words
	Says    string    `json:"says"`
	Of      string    `json:"of,omitempty"` // the symptom that it is held against
	Helps   []string  `json:"helps"`
	Against []string  `json:"against"`
	First   []WhyLine `json:"first"`
	Before  []string  `json:"before"`
}

// weighedAtOnce is how many pieces of open advice are weighed, the newest: each
// asks the engine anew.
const weighedAtOnce = 8

// weighedTitles say a verdict shortly.
var weighedTitles = map[string]string{
	"stop": "Not now: do not ride", "check-first": "Check something first", "worth-a-try": "Worth a try", "against": "Speaks against it",
	"no-way-left": "No way left", "cannot-say": "Cannot say yet",
}

// weighedAdvice weighs a move of an adjuster; nil where the advice is not that
// exact.
func weighedAdvice(a Ask, k *book.Bike, id book.AdjusterID, delta *unit.Fixed) *Weighed {
	set, ok := k.Settings[id]
	if !ok || delta == nil || *delta == 0 {
		return nil
	}
	args := WhyArgs{Bike: k.ID}
	out := &Weighed{Helps: []string{}, Against: []string{}, First: []WhyLine{}, Before: []string{}}
	if last, ok := lastFelt(k); ok {
		args = argsOf(last)
		out.Of = symptomTitle(last.Body) + " (" + join(shower{a.Book}.moment(last.Wall, a.Now), a.Book.Tracks[last.Body.Track].Name) + ")"
	}
	c, _ := caseOf(a, k, args)
	c.Recent = nil // advice is weighed by what is felt, not by what was turned last
	network, _ := learnedBy(k)
	steps := set.Steps(*delta)
	advice := diagnosis.Advice{Adjuster: string(id), Direction: direction(set, *delta), Steps: int(max(steps, -steps) / unit.Whole(1))}
	w := network.WeighAdvice(c, advice, triedMoves(a, k), a.Book.Tracks[trackNow(a, k)].Name)
	out.Verdict, out.Says = w.Verdict, w.Words
	if w.Verdict == "check-first" && len(w.Helps) == 0 {
		out.Verdict, out.Says = "against", "Nothing that is likely now would be helped by it."
	}
	out.Title = weighedTitles[out.Verdict]
	for _, r := range w.Helps {
		out.Helps = append(out.Helps, r.Title+", "+r.Doubt)
	}
	for _, s := range w.First {
		out.First = append(out.First, WhyLine{s.Cause, s.Title, s.How, effort(s.Minutes, s.Tools)})
	}
	out.Against = append(append(out.Against, w.Against...), bookAgainst(a, k, set, *delta)...)
	out.Before = triedBefore(a, k, advice)
	return out
}

// lastFelt is the latest symptom that holds findings: words alone cannot be
// weighed.
func lastFelt(k *book.Bike) (book.Dated[book.SymptomBody], bool) {
	for _, n := range slices.Backward(k.Symptoms) {
		if len(n.Body.Findings) > 0 {
			return n, true
		}
	}
	return book.Dated[book.SymptomBody]{}, false
}

// bookAgainst is what the book itself has against turning an adjuster now.
func bookAgainst(a Ask, k *book.Bike, set *book.Setting, delta unit.Fixed) []string {
	var out []string
	if set.Standing == book.Unknown {
		out = append(out, set.Name+" is not known: count it first, or there is no way back.")
	}
	if set.Standing == book.Assumed {
		out = append(out, set.Name+" is only assumed: count it first.")
	}
	for _, t := range k.Running() {
		if t.Verdict == "" {
			out = append(out, trialTitle(shower{a.Book}, k, t)+" is on trial: one change at a time.")
		}
	}
	c := causeTestedBy(string(set.ID), direction(set, delta))
	if c.Remedy.Side != "" && !strings.HasPrefix(c.Remedy.Side, "None") {
		out = append(out, "It also does something else: "+c.Remedy.Side)
	}
	return out
}

// causeTestedBy is the first cause that a move mends; its zero value when none.
func causeTestedBy(adjuster, way string) diagnosis.Cause {
	for _, c := range diagnosis.Load().Causes() {
		if c.Remedy.Adjuster == adjuster && c.Remedy.Direction == way {
			return c
		}
	}
	return diagnosis.Cause{}
}

func trackNow(a Ask, k *book.Bike) book.TrackID {
	if _, track := whereNow(k, a.Now); track != "" || len(k.Sessions) == 0 {
		return track
	}
	return k.Sessions[len(k.Sessions)-1].Body.Track
}

// triedVerdicts are the rider's verdicts in the engine's words. A change that
// was put back is taken to have been worse: it was not worth keeping.
var triedVerdicts = map[string]string{"keep": "better", "back": "worse"}

func triedMoves(a Ask, k *book.Bike) []diagnosis.Tried {
	var out []diagnosis.Tried
	for _, t := range k.Trials {
		set, delta := k.Settings[t.Body.Adjuster], t.Body.Delta
		if set == nil || delta == nil {
			continue
		}
		verdict := triedVerdicts[t.Verdict]
		if verdict == "" {
			verdict = "open"
		}
		out = append(out, diagnosis.Tried{
			Advice: diagnosis.Advice{Adjuster: string(set.ID), Direction: direction(set, *delta)}, Track: a.Book.Tracks[t.Body.Track].Name,
			When: shower{a.Book}.day(t.Wall, a.Now), Verdict: verdict,
		})
	}
	return out
}

// triedBefore says every time that the same was turned the same way.
func triedBefore(a Ask, k *book.Bike, advice diagnosis.Advice) []string {
	out := []string{}
	for _, t := range k.Trials {
		set, delta := k.Settings[t.Body.Adjuster], t.Body.Delta
		if set == nil || delta == nil || string(set.ID) != advice.Adjuster || direction(set, *delta) != advice.Direction {
			continue
		}
		verdict := verdictWords[t.Verdict]
		if verdict == "" {
			verdict = "no verdict yet"
		}
		out = append(out, fmt.Sprintf("%s: %s", join(trialTitle(shower{a.Book}, k, t), shower{a.Book}.day(t.Wall, a.Now), a.Book.Tracks[t.Body.Track].Name), join(verdict, t.Note)))
	}
	return out
}
