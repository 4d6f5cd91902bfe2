package sheet

import "plumbline/internal/unit"

// Pair is one setting of two sheets side by side. Differs says that they are
// not the same; a position that one of them does not know differs from any.
type Pair struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	A       string `json:"a"` // "" when the sheet has no such adjuster
	B       string `json:"b"`
	Differs bool   `json:"differs"`
}

// Compare lays two sheets' settings side by side: in a's order, then what
// only b has.
func Compare(a, b Sheet) []Pair {
	other := map[string]Setting{}
	for _, s := range b.Settings {
		other[s.ID] = s
	}
	pairs := []Pair{}
	for _, s := range a.Settings {
		o, both := other[s.ID]
		delete(other, s.ID)
		pairs = append(pairs, Pair{s.ID, s.Name, s.At, o.At, !both || !same(s.N, o.N)})
	}
	for _, s := range b.Settings {
		if _, left := other[s.ID]; left {
			pairs = append(pairs, Pair{s.ID, s.Name, "", s.At, true})
		}
	}
	return pairs
}

func same(a, b *unit.Fixed) bool {
	if a == nil || b == nil {
		return a == b
	}
	return *a == *b
}
