package book

import (
	"slices"

	"plumbline/internal/unit"
)

// maxStops is the most positions of a sweep: more cannot be ridden in a day.
const maxStops = 12

func (b *Book) checkTrial(n TrialBody) []Refusal {
	s, out := b.setting(n.Bike, n.Adjuster)
	if out != nil {
		return out
	}
	if !slices.Contains([]string{PlanBack, PlanSweep, PlanBlind}, n.Plan) {
		return []Refusal{{"plan", "How do you want to try it?", "Choose there and back, a sweep, or blind."}}
	}
	if n.Wanted != nil && (*n.Wanted <= 0 || *n.Wanted > unit.Whole(20)) {
		out = append(out, Refusal{"wanted", "The difference worth having lies above 0 and up to 20 s a lap.", "0.3 is a usual one."})
	}
	if n.Plan == PlanSweep {
		return append(out, s.checkStops(n.Stops)...)
	}
	switch {
	case n.Change != "":
	case n.A == nil:
		out = append(out, Refusal{"a", "Where it stands now is not known, so there is no going back to it.", "Count it first."})
	case n.B == nil || *n.A == *n.B:
		out = append(out, Refusal{"b", "The new setting is the same as the old one.", "Step at least one."})
	default:
		out = append(out, s.checkRange(n.B, "b")...)
	}
	return out
}

func (s *Setting) checkStops(stops []unit.Fixed) []Refusal {
	if len(stops) < 3 {
		return []Refusal{{"stops", "A sweep wants at least three positions.", "Choose a wider range or smaller steps."}}
	}
	if len(stops) > maxStops {
		return []Refusal{{"stops", "That is more than can be ridden in a day.", "Choose larger steps: at most 12 positions."}}
	}
	var out []Refusal
	for i, at := range stops {
		if slices.Contains(stops[:i], at) {
			return []Refusal{{"stops", "One position is there twice.", "Choose each once."}}
		}
		if len(out) == 0 {
			out = s.checkRange(&at, "stops")
		}
	}
	return out
}

func (b *Book) checkRun(n RunBody) []Refusal {
	k, ok := b.Bikes[n.Bike]
	if !ok {
		return []Refusal{{"bike", "This bike is not in the book.", "Put the bike in the book first."}}
	}
	if _, ok := k.Trial(n.Trial); !ok {
		return []Refusal{{"trial", "This trial is not in the book.", "Open it from Today."}}
	}
	if _, ok := k.Session(n.Session); !ok {
		return []Refusal{{"session", "This session is not in the book.", "Pick it again."}}
	}
	if !slices.Contains([]string{"", SideA, SideB, SideOut}, n.Side) {
		return []Refusal{{"side", "Old setting, new setting, or left out?", "Choose one."}}
	}
	return nil
}

func (b *Book) checkDraw(n DrawBody) []Refusal {
	k, ok := b.Bikes[n.Bike]
	if !ok {
		return []Refusal{{"bike", "This bike is not in the book.", "Put the bike in the book first."}}
	}
	t, ok := k.Trial(n.Trial)
	switch {
	case !ok || t.Plan != PlanBlind || !t.Runs():
		return []Refusal{{"trial", "No blind trial is running here.", "Begin one from 'Try something'."}}
	case t.Body.From == nil || t.Body.To == nil:
		return []Refusal{{"trial", "A blind trial wants two known positions.", "Count the adjuster and begin again."}}
	}
	if _, open := t.Open(); open {
		return []Refusal{{"trial", "The last draw is still sealed.", "Say first which you think it was."}}
	}
	return nil
}

func (b *Book) checkReveal(n RevealBody) []Refusal {
	if n.Said != SideA && n.Said != SideB {
		return []Refusal{{"said", "Which one was it?", "Choose one; guess if you cannot tell."}}
	}
	return nil
}

func checkRating(n RatingBody) []Refusal {
	if !slices.Contains([]string{"better", "same", "worse"}, n.Felt) {
		return []Refusal{{"felt", "Better, the same, or worse?", "Choose one."}}
	}
	return nil
}
