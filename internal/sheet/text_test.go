package sheet_test

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"plumbline/internal/sheet"
)

var update = flag.Bool("update", false, "write the golden files anew")

// full has something in every place of a sheet.
var full = sheet.Sheet{
	Made:  "12 Sep 2026 14:05",
	Bike:  sheet.Bike{Name: "Calder Heron 600", Year: 2009, Class: "600 sport bike", Tyres: "120/70R17, 180/55R17"},
	Rider: "N. H., 82 kg in kit",
	Stop:  "Do not ride until the front end was checked after the fall.",
	Line:  "Fresh oil, dry, drawn 11 Jul 2026",
	Settings: []sheet.Setting{
		{ID: "rear.rebound", Name: "Rear rebound", At: "9 clicks out", Standing: "counted", Drift: "2 clicks out", N: whole(9)},
		{ID: "rear.height", Name: "Rear ride height", At: "not known", Standing: "unknown"},
	},
	Measures: []sheet.Row{{Title: "Sag, rear", Says: "free 9 mm, rider 33 mm", When: "11 Apr 2026"}},
	History:  []sheet.Row{{Title: "Standing fall on the left", Says: "6 Jun 2026"}},
	Changes: []sheet.Change{
		{Title: "Rear rebound: found moved 3 clicks out, from 7 to 10 out", When: "12 Sep 2026", Who: "nobody who owned up"},
		{Title: "Rear compression: 2 clicks in, from 12 to 10 out", When: "8 Aug 2026", Who: "N. H.", Idea: "T. O.", Why: "pumps out of the hairpin", Verdict: "keep it"},
		{Title: "Bar position: 2 mm up", When: "8 Aug 2026"},
	},
	Symptoms: []sheet.Row{{Title: "rear pumps on the drive", Says: "every lap, Tarn Hollow", When: "12 Sep 2026"}},
	Causes:   []sheet.Row{{Title: "Rear rebound too quick", Says: "likely"}},
	Checks:   []sheet.Row{{Title: "Brakes", Says: "never looked at"}},
}

func TestTextGolden(t *testing.T) {
	name := filepath.Join("..", "..", "testdata", "sheets", "full.golden.txt")
	got := sheet.Text(full)
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("the text differs from %s (-want +got), see -update:\n%s", name, diff)
	}
}
