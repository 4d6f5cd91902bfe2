package book

import (
	"strings"
	"testing"

	"plumbline/internal/unit"
)

func TestCheck(t *testing.T) {
	s := newStory(t)
	s.write(phoneA, KindCount, counted("rear.rebound", 2))
	b := s.book()
	delta := unit.Whole(-3)
	zero := unit.Fixed(0)
	rows := []struct {
		name  string
		body  any
		field string // "" when it is fine
		says  string
	}{
		{"a change in range", change("rear.rebound", 2, 1, ""), "", ""},
		{"past the end by steps", ChangeBody{Bike: heron, Adjuster: "rear.rebound", Delta: &delta}, "to", "-1 is outside"},
		{"no distance", ChangeBody{Bike: heron, Adjuster: "rear.rebound"}, "to", "How far"},
		{"zero steps", ChangeBody{Bike: heron, Adjuster: "rear.rebound", Delta: &zero}, "delta", "zero"},
		{"no such adjuster", ChangeBody{Bike: heron, Adjuster: "rear.wing", To: at(1)}, "adjuster", "no such"},
		{"a retired adjuster", CountBody{Bike: heron, Adjuster: "steering.damper", Standing: Counted, At: at(1)}, "adjuster", "no such"},
		{"no such bike", CountBody{Bike: "x", Adjuster: "rear.rebound", Standing: Counted, At: at(1)}, "bike", "not in the book"},
		{"a count without number", CountBody{Bike: heron, Adjuster: "rear.rebound", Standing: Counted}, "at", "no number"},
		{"don't know", CountBody{Bike: heron, Adjuster: "rear.rebound", Standing: Unknown}, "", ""},
		{"advice from nobody", AdviceBody{Bike: heron, What: "softer"}, "from", "Who"},
		{"advice of nothing", AdviceBody{Bike: heron, From: "kit"}, "what", "What"},
		{"a date", FallBody{Bike: heron, When: "2025-06"}, "", ""},
		{"not a date", FallBody{Bike: heron, When: "last summer"}, "when", "not a date"},
		{"a feather of a rider", BikeBody{Bike: heron, Rider: at(3)}, "rider", "between 30 and 250"},
		{"an upside-down range", AdjusterBody{Bike: heron, Def: Def{Name: "wing", Step: 1000, Min: 5, Max: 5}}, "max", "above"},
		{"a silent symptom", SymptomBody{Bike: heron}, "findings", "Nothing"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			got := b.Check(r.body)
			if r.field == "" {
				if len(got) != 0 {
					t.Fatalf("refused: %v", got)
				}
				return
			}
			if len(got) != 1 || got[0].Field != r.field || !strings.Contains(got[0].Says, r.says) || got[0].Mend == "" {
				t.Fatalf("Check = %+v; want a refusal at %q that says %q and how to mend it", got, r.field, r.says)
			}
		})
	}
}
