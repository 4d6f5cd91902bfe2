package screen

import (
	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// planWords are the plans of a trial, as they are called.
var planWords = map[string]string{"": "just try it", book.PlanBack: "there and back", book.PlanSweep: "a sweep", book.PlanBlind: "blind"}

// sideWords are the sides of a trial, as they are called.
var sideWords = map[string]string{book.SideA: "the old setting", book.SideB: "the new setting", book.SideOut: "left out"}

// trial puts the entries of trials into words. A draw under seal tells nothing.
func (w teller) trial(t book.Told, l *HistoryLine) bool {
	switch t.Kind {
	case book.KindTrial:
		return told(t, l, w.planned)
	case book.KindRun:
		return told(t, l, func(_ book.Told, l *HistoryLine, n book.RunBody) {
			l.Title = "A run was placed by hand: as it was worked out"
			switch {
			case n.Side != "":
				l.Title = "A run was placed by hand: " + sideWords[n.Side]
			case n.At != nil:
				l.Title = "A run was placed by hand: at " + n.At.String()
			}
		})
	case book.KindDraw:
		return told(t, l, func(_ book.Told, l *HistoryLine, n book.DrawBody) {
			l.Title, l.Turned, l.Detail = "Blind draw, sealed", nameOf(w.b, n.By), "seal "+n.Seal[:min(8, len(n.Seal))]
		})
	case book.KindReveal:
		return told(t, l, func(_ book.Told, l *HistoryLine, n book.RevealBody) {
			word := "right"
			if n.Said != n.Side {
				word = "wrong"
			}
			l.Title, l.Detail = "Blind draw opened: "+word, "said "+sideWords[n.Said]+", it was "+sideWords[n.Side]
		})
	case book.KindRating:
		return told(t, l, func(_ book.Told, l *HistoryLine, n book.RatingBody) {
			l.Title = "It felt " + n.Felt + ", said before looking at the laps"
		})
	}
	return told(t, l, func(_ book.Told, l *HistoryLine, n book.VerdictBody) {
		l.Title, l.Detail = "Verdict: "+verdictWords[n.Verdict], n.Note
		if n.Laps != "" {
			l.Detail = join("the laps said: "+n.Laps, n.Note)
		}
	})
}

func (w teller) planned(t book.Told, l *HistoryLine, n book.TrialBody) {
	s := w.setting(t)
	l.Title = "Trial, " + planWords[n.Plan] + ": " + s.Name
	if n.Plan != book.PlanSweep && n.A != nil && n.B != nil {
		l.Title += ", " + w.move(s, n.A, n.B, nil)
	}
	l.Idea, l.Why = nameOf(w.b, n.Idea), n.Why
	if n.Expect != "" {
		l.Detail = "Expected: " + n.Expect
	}
}

// trialTitle says what a trial tries: "Rear rebound: 2 clicks in, from 9 to 7
// out", "Rear rebound: a sweep over 4 positions".
func trialTitle(s shower, k *book.Bike, t book.Trial) string {
	set, ok := k.Settings[t.Body.Adjuster]
	if !ok {
		return string(t.Body.Adjuster)
	}
	if t.Plan == book.PlanSweep {
		return set.Name + ": a sweep over " + many(len(t.Stops), "position")
	}
	return set.Name + ": " + s.move(set, t.Body.From, t.Body.To, t.Body.Delta)
}

// trialOf finds a trial and its bike.
func trialOf(b *book.Book, id entry.ID) (*book.Bike, book.Trial, []book.Refusal) {
	for _, bike := range b.BikeOrder {
		k := b.Bikes[bike]
		if t, ok := k.Trial(id); ok && k.Settings[t.Body.Adjuster] != nil {
			return k, *t, nil
		}
	}
	return nil, book.Trial{}, []book.Refusal{{Field: "trial", Says: "This trial is not in the book.", Mend: "Open Today and look at what is on trial."}}
}
