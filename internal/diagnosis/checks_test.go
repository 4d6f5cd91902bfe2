package diagnosis

import (
	"slices"
	"testing"
)

// What is said of a check counts most, so a find must name its own part and
// its own fault, and what cured nothing is cleared.
func TestChecksFindWhatTheyName(t *testing.T) {
	rows := []struct {
		check        string
		finds        string
		clears, hush []string
	}{
		{check: "no weights on the rim", finds: "found-wheel-unbalanced"},
		{check: "wheel bearings tight", clears: []string{"found-wheel-bearing-worn"}, hush: []string{"found-wheel-bearing-worn"}},
		{check: "swingarm firm as a rock", clears: []string{"found-swingarm-play"}, hush: []string{"found-swingarm-play"}},
		{check: "wheels balanced twice, no better", clears: []string{"found-wheel-unbalanced"}, hush: []string{"no-complaint"}},
		{check: "yokes and bars square", clears: []string{"found-forks-twisted", "found-bars-or-controls-bent"}, hush: []string{"t-flat-centre", "found-forks-twisted"}},
		{check: "front balanced, no difference", clears: []string{"found-wheel-unbalanced"}},
		{check: "oil in the forks never changed", finds: "found-fork-oil-old"},
		{check: "balance, bearings, disc looked at and ruled out", finds: "found-chatter-cause-open", clears: []string{"found-disc-runout", "found-wheel-unbalanced"}},
		{check: "fork oil changed in spring", hush: []string{"found-fork-seal-leak"}},
		{check: "wheel off the ground, rim tilts at top and bottom", finds: "found-wheel-bearing-worn"},
	}
	n := Load()
	for _, row := range rows {
		c := n.Case(Vignette{ChecksFound: []string{row.check}})
		has := func(id string, absent bool) bool {
			return slices.ContainsFunc(c.Findings, func(o Observed) bool { return o.Finding == id && o.Absent == absent })
		}
		if row.finds != "" && !has(row.finds, false) {
			t.Errorf("%q does not find %s: %v", row.check, row.finds, c.Findings)
		}
		for _, id := range row.clears {
			if !has(id, true) {
				t.Errorf("%q does not clear %s: %v", row.check, id, c.Findings)
			}
		}
		for _, id := range row.hush {
			if has(id, false) {
				t.Errorf("%q is heard as %s", row.check, id)
			}
		}
	}
}

// A plain complaint denies that there is none; praise does not.
func TestAComplaintIsHeardAsOne(t *testing.T) {
	n := Load()
	for words, unhappy := range map[string]bool{"rear wallows": true, "rock steady on the straight": false} {
		v := Vignette{}
		v.Observations = append(v.Observations, struct {
			Phase string `json:"phase"`
			End   string `json:"end"`
			Side  string `json:"side"`
			Says  string `json:"says"`
		}{Phase: "straight", End: "rear", Says: words})
		denied := slices.ContainsFunc(n.Case(v).Findings, func(o Observed) bool { return o.Finding == "no-complaint" && o.Absent })
		if denied != unhappy {
			t.Errorf("%q: no complaint denied %v, want %v", words, denied, unhappy)
		}
	}
}
