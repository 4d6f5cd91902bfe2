package diagnosis

import (
	"os"
	"path/filepath"
	"testing"
)

const (
	published  = "../../testdata/cases/cases.json"
	secondHand = "../../testdata/cases/second.json"
	thirdHand  = "../../testdata/cases/third.json"
	fourthHand = "../../testdata/cases/fourth.json"
)

func cases(t *testing.T, file string) []Vignette {
	t.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	all, err := Vignettes(raw)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestCasesHoldTheTargets(t *testing.T) {
	s := Load().Evaluate(cases(t, published))
	if s.Top1 < 0.8 || s.Top3 < 0.95 || s.Brier >= 0.15 || s.FirstSafe < 1 {
		t.Errorf("top-1 %.3f, top-3 %.3f, first safe %.3f, Brier %.3f", s.Top1, s.Top3, s.FirstSafe, s.Brier)
	}
	for _, m := range s.Misses {
		t.Logf("%s: want %s at %d, got %v %s", m.Case, m.Want, m.Place, m.Ranked, m.Wrong)
	}
}

func TestEveryCaseKeyIsACause(t *testing.T) {
	files, err := filepath.Glob("../../testdata/cases/*.json")
	if err != nil || len(files) < 4 {
		t.Fatalf("%v: %v", files, err)
	}
	for _, file := range files {
		if err := Load().Known(cases(t, file)); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
}

func TestActionsAreRead(t *testing.T) {
	rows := []struct {
		words, adjuster, direction string
		want                       bool
	}{
		{"more fork compression", "front.compression", "more", true},
		{"more fork compression", "rear.compression", "more", false},
		{"open compression and rebound fully", "rear.rebound", "less", true},
		{"turn the steering damper up", "steering.damper", "less", false},
		{"close high-speed compression", "rear.compression", "more", false},
		{"lower pressure", "rear.pressure", "less", true},
		{"warm the tyres longer at the same pressure", "rear.pressure", "less", false},
	}
	for _, row := range rows {
		if got := isAction(row.words, row.adjuster, row.direction); got != row.want {
			t.Errorf("%q as %s %s: %v", row.words, row.adjuster, row.direction, got)
		}
	}
}

func FuzzWords(f *testing.F) {
	for _, words := range []string{"", "no no no", "front washes wide, rear hops", "sag 45 mm; 2.4 bar in the front", "+", "-1", "1,000 km", "’’", "\xff"} {
		f.Add(words)
	}
	n := Load()
	f.Fuzz(func(t *testing.T, words string) {
		for _, o := range n.MatchAt(words, "braking", "front") {
			if !(o.Score > 0 && o.Score <= 1) {
				t.Errorf("%q: %+v", words, o)
			}
		}
		n.MatchFacts(words)
		Read(words)
	})
}

func FuzzVignettes(f *testing.F) {
	f.Add([]byte(`{"format":"symptom-cases/1","cases":[{"bike":{"rider_kg":-1,"springs":"for 70 kg","falls":"none"},"measurements":{"pressure_hot_rear_bar":2.5,"rider_sag_front_mm_readings":[],"x":null},"checks_found":["balance, disc ruled out"],"tyre_look":["blue"],"accepted_causes":[{"rank":1,"key":"nobody"}],"wrong_actions":[""]}]}`))
	f.Add([]byte(`{"format":"symptom-cases/1","cases":[{"observations":[{"says":"front shakes","end":"front"}],"measurements":{"rider_sag_front_mm":99}}]}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		all, err := Vignettes(raw)
		if err != nil {
			return
		}
		s := Load().Evaluate(all[:min(3, len(all))])
		if !(s.Brier >= 0 && s.Brier <= 1) {
			t.Errorf("Brier is %v", s.Brier)
		}
	})
}
