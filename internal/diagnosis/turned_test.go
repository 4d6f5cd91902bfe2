package diagnosis

import "testing"

func TestChangesAreRead(t *testing.T) {
	rows := []struct{ words, end, adjuster, direction string }{
		{"front rebound +2 clicks", "front", "rebound", "more"},
		{"rebound in 3 at the rear", "rear", "rebound", "more"},
		{"fork rebound opened right up", "front", "rebound", "less"},
		{"shock rebound backed off 4", "rear", "rebound", "less"},
		{"took two clicks of compression out of the fork", "front", "compression", "less"},
		{"rear compression closed 6 clicks", "rear", "compression", "more"},
		{"rear comp softened by 4 clicks", "rear", "compression", "less"},
		{"high-speed comp two clicks in on the shock", "rear", "compression-high", "more"},
		{"fork damping stiffened all round", "front", "damping", "more"},
		{"compression -5 front", "front", "compression", "less"},
		{"compression screwed in 3 clicks on the forks", "front", "compression", "more"},
		{"both ends softened, compression out 4", "both", "compression", "less"},
		{"front and rear rebound in two", "both", "rebound", "more"},
		{"added 3 turns of preload to the shock", "rear", "preload", "more"},
		{"4 turns of preload on the fork", "front", "preload", "more"},
		{"fork preload wound off", "front", "preload", "less"},
		{"rear preload reduced by 5 mm", "rear", "preload", "less"},
		{"wound the rear spring up", "rear", "preload", "more"},
		{"less preload at the back", "rear", "preload", "less"},
		{"front preload all out", "front", "preload", "less"},
		{"raised the rear 5 mm", "rear", "height", "more"},
		{"rear ride height up 4 mm", "rear", "height", "more"},
		{"8 mm longer shock", "rear", "height", "more"},
		{"shock spacer of 3 mm fitted, back end higher", "rear", "height", "more"},
		{"rear lowered by 10 mm", "rear", "height", "less"},
		{"lowering links at the back", "rear", "height", "less"},
		{"forks pushed up through the yokes 6 mm", "front", "height", "less"},
		{"dropped the front 5 mm in the clamps", "front", "height", "less"},
		{"yokes lowered 5 mm on the forks", "front", "height", "less"},
		{"clamps slid down the tubes", "front", "height", "less"},
		{"forks raised 5 mm in the yokes", "front", "height", "less"},
		{"fork tubes lowered through the yokes", "front", "height", "more"},
		{"forks set flush with the top yoke", "front", "height", "more"},
		{"front raised 4 mm", "front", "height", "more"},
		{"rear tyre pressure up 3 psi", "rear", "pressure", "more"},
		{"let 4 psi out of the front tyre", "front", "pressure", "less"},
		{"front pressure dropped to 28", "front", "pressure", "less"},
		{"steering damper turned up to the max", "steering", "damper", "more"},
		{"steering damper wound in 8 clicks", "steering", "damper", "more"},
		{"steering damper backed off", "steering", "damper", "less"},
	}
	for _, r := range rows {
		got, ok := readTurned(r.words, "")
		if want := (Turned{r.end, r.adjuster, r.direction}); !ok || got != want {
			t.Errorf("%q: %+v %v, want %+v", r.words, got, ok, want)
		}
	}
	for _, words := range []string{"new tyres fitted", "front wheel out for pads", "none", "", "chain adjusted", "rode it to the track"} {
		if got, ok := readTurned(words, ""); ok {
			t.Errorf("%q is read as %+v", words, got)
		}
	}
}

func TestNumbersAreRead(t *testing.T) {
	rows := []struct {
		words string
		got   func(Facts) *float64
		want  float64
	}{
		{"sag 45 mm at the rear", func(f Facts) *float64 { return f.RiderSagRear }, 45},
		{"front sag is 31", func(f Facts) *float64 { return f.RiderSagFront }, 31},
		{"rear free sag 12mm", func(f Facts) *float64 { return f.FreeSagRear }, 12},
		{"pressures 31 front 29 rear", func(f Facts) *float64 { return f.PressureColdFront }, 31 * kPaPerPsi},
		{"pressures 31 front 29 rear", func(f Facts) *float64 { return f.PressureColdRear }, 29 * kPaPerPsi},
		{"2.4 bar in the front", func(f Facts) *float64 { return f.PressureColdFront }, 240},
		{"rear 34 psi hot", func(f Facts) *float64 { return f.PressureHotRear }, 34 * kPaPerPsi},
	}
	for _, r := range rows {
		if got := r.got(Read(r.words).Facts); got == nil || *got != r.want {
			t.Errorf("%q: %v", r.words, got)
		}
	}
	for _, words := range []string{"lost 6 psi overnight", "sag 450 mm front", "rebound 3 clicks", "at 160 km/h"} {
		if f := Read(words).Facts; f.PressureColdFront != nil || f.PressureColdRear != nil || f.RiderSagFront != nil {
			t.Errorf("%q: %+v", words, f)
		}
	}
}
