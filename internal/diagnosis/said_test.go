package diagnosis

import (
	"os"
	"strings"
	"testing"
)

// said.txt holds ways to say each finding. It was written, like fresh.json, to
// tune on; what is heard of it says that the matcher holds, not that it is good
// on words that nobody thought of.
func TestFindingsAreHeardInOtherWords(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/cases/said.txt")
	if err != nil {
		t.Fatal(err)
	}
	n := Load()
	first, three, all := 0, 0, 0
	for _, line := range strings.Split(strings.TrimSpace(string(raw)), "\n") {
		id, ways, ok := strings.Cut(line, ": ")
		at, known := n.finding[id]
		if !ok || !known {
			t.Fatalf("no finding: %s", line)
		}
		f := n.findings[at]
		for _, words := range strings.Split(ways, " / ") {
			all++
			place := 0
			offers := n.MatchAt(words, f.Phase, f.End)
			for k, o := range offers {
				if o.Finding == id && !o.Negated {
					place = k + 1
				}
			}
			switch {
			case place == 1:
				first++
				three++
			case place > 1 && place <= 3:
				three++
				t.Logf("second or third: %s %q after %s", id, words, offers[0].Finding)
			default:
				t.Logf("not heard: %s %q", id, words)
			}
		}
	}
	t.Logf("%d ways: first %.3f, in three %.3f", all, float64(first)/float64(all), float64(three)/float64(all))
	if float64(first) < 0.8*float64(all) || float64(three) < 0.9*float64(all) {
		t.Errorf("of %d ways %d are heard first, %d among three", all, first, three)
	}
}
