package diagnosis

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// said.txt holds ways to say each finding and fact. It was written, like
// fresh.json, to tune on; what is heard of it says that the matcher holds, not
// that it is good on words that nobody thought of.
func TestFindingsAreHeardInOtherWords(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/cases/said.txt")
	if err != nil {
		t.Fatal(err)
	}
	n := Load()
	first, three, all := 0, 0, 0
	for _, line := range strings.Split(strings.TrimSpace(string(raw)), "\n") {
		id, ways, ok := strings.Cut(line, ": ")
		if !ok {
			t.Fatalf("no finding: %s", line)
		}
		for _, words := range strings.Split(ways, " / ") {
			all++
			place, instead := n.heardAt(t, id, words)
			switch {
			case place == 1:
				first++
				three++
			case place > 1 && place <= 3:
				three++
				t.Logf("second or third: %s %q after %s", id, words, instead)
			default:
				t.Logf("not heard: %s %q but %s", id, words, instead)
			}
		}
	}
	t.Logf("%d ways: first %.3f, in three %.3f", all, float64(first)/float64(all), float64(three)/float64(all))
	if float64(first) < 0.85*float64(all) || float64(three) < 0.93*float64(all) {
		t.Errorf("of %d ways %d are heard first, %d among three", all, first, three)
	}
}

// heardAt is the place at which words are heard as a finding or a fact, 0 if
// they are not, and what is heard first.
func (n *Network) heardAt(t *testing.T, id, words string) (int, string) {
	t.Helper()
	if fact, ok := strings.CutPrefix(id, "fact "); ok {
		e := ear{n: n, at: map[string]int{}}
		e.history(words)
		if slices.Contains(e.c.Facts.Marks, fact) {
			return 1, ""
		}
		return 0, strings.Join(e.c.Facts.Marks, ", ")
	}
	at, known := n.finding[id]
	if !known {
		t.Fatalf("no finding %s", id)
	}
	f := n.findings[at]
	kind := f.Kind
	offers := merged(n.matcher.heard(said{words: words, phase: f.Phase, end: f.End, kind: kind}))
	for k, o := range offers {
		if o.Finding == id && !o.Negated {
			return k + 1, offers[0].Finding
		}
	}
	if len(offers) == 0 {
		return 0, ""
	}
	return 0, offers[0].Finding
}
