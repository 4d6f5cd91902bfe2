package screen

import "testing"

func TestSummaryOfTheSeason(t *testing.T) {
	got, refused := View("summary", exampleAsk(t), nil)
	if refused != nil {
		t.Fatal(refused)
	}
	s := got.(Summary)
	if s.Line != "Fresh oil, dry" || s.Stop != "" || s.Unowned != 2 {
		t.Errorf("line %q, stop %q, %d unowned; want the line of July, no stop, 2", s.Line, s.Stop, s.Unowned)
	}
	want := map[string]SummarySetting{
		"rear.rebound":   {At: "10 clicks out", Drift: "3 clicks out from the line"},
		"rear.height":    {At: "not known"},
		"front.height":   {At: "4 mm"},
		"front.pressure": {At: "30.0 psi"},
	}
	for _, row := range s.Settings {
		if w, ok := want[string(row.ID)]; ok && (row.At != w.At || row.Drift != w.Drift) {
			t.Errorf("%s is %q, drift %q; want %q, %q", row.ID, row.At, row.Drift, w.At, w.Drift)
		}
	}
}
