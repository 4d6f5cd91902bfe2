package diagnosis

import (
	"os"
	"testing"
)

func cases(t *testing.T) []Vignette {
	t.Helper()
	raw, err := os.ReadFile("../../testdata/cases/cases.json")
	if err != nil {
		t.Fatal(err)
	}
	all, err := Vignettes(raw)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestCases(t *testing.T) {
	s := Load().Evaluate(cases(t))
	t.Logf("top1 %.3f top3 %.3f safe %.3f brier %.3f", s.Top1, s.Top3, s.FirstSafe, s.Brier)
	for _, m := range s.Misses {
		t.Logf("%s: want %s at %d, got %v %s", m.Case, m.Want, m.Place, m.Ranked, m.Wrong)
	}
	t.Logf("%+v", s.Reliability)
}
