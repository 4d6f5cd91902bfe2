package screen

import (
	"testing"

	"plumbline/internal/diagnosis"
)

// TestMeasurementsReachTheDiagnosis: what was measured is evidence until a
// setting that it stands on moves.
func TestMeasurementsReachTheDiagnosis(t *testing.T) {
	d := openDesk(t)
	d.do("measure", `{"topic":"sag-rear","typed":{"extended":"560mm","free_pushed":"548mm","free_lifted":"552mm","rider_pushed":"510mm","rider_lifted":"520mm"}}`)
	d.do("measure", `{"topic":"bars","typed":{"left":"1012mm","right":"1000mm","half":"360mm","away":"950mm"}}`)
	d.do("measure", `{"topic":"alignment","typed":{"left":"560mm","right":"560mm","apart":"240mm"}}`)
	d.do("measure", `{"topic":"travel-front","typed":{"used":"118mm","travel":"120mm"}}`)
	f, found := measuredFacts(d.ask(), d.bike())
	if f.RiderSagRear == nil || *f.RiderSagRear != 45 || *f.FreeSagRear != 10 || *f.SagSpreadRear != 10 || *f.ForkTravelUsed != 118 {
		t.Errorf("facts %+v", f)
	}
	want := map[string]bool{"found-bars-or-controls-bent": false, "found-wheel-misaligned": true, "found-chain-tight": true} // by whether it is absent
	for _, o := range found {
		if absent, ok := want[o.Finding]; !ok || absent != o.Absent {
			t.Errorf("found %+v", o)
		}
		delete(want, o.Finding)
	}
	if len(want) > 0 {
		t.Errorf("not found: %v", want)
	}
	d.do("turned", `{"adjuster":"rear.preload","steps":2}`)
	if f, _ := measuredFacts(d.ask(), d.bike()); f.RiderSagRear != nil {
		t.Error("the rear sag is evidence although the preload was turned since")
	}
}

// TestFindingsOfMeasuresAreKnown to the diagnosis by their ids.
func TestFindingsOfMeasuresAreKnown(t *testing.T) {
	known := map[string]bool{}
	for _, f := range diagnosis.Load().Findings() {
		known[f.ID] = true
	}
	for _, id := range []string{"found-bars-or-controls-bent", "found-wheel-misaligned", "found-chain-tight", "found-chain-worn"} {
		if !known[id] {
			t.Errorf("the diagnosis knows no finding %s", id)
		}
	}
}
