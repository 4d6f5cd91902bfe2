package book

import (
	"bytes"
	"encoding/json"
	"reflect"
	"testing"

	"plumbline/internal/unit"
)

// bodies are one of each kind's body, as full as a writer can make it.
func bodies() []any {
	n, neg, when := unit.Fixed(9500), unit.Fixed(-250), "2025-06-14"
	at := map[AdjusterID]unit.Fixed{"rear.rebound": n, "front.height": neg}
	spot := Spot{n, neg}
	return []any{
		&BookBody{Name: "Nell's", Rider: "nell", Units: map[string]string{"pressure": "psi"}, Example: true}, &DeviceBody{Name: "phone"},
		&BikeBody{Bike: heron, Name: "Heron", Year: 2012, Rider: &n}, &PersonBody{Person: "ivo", Name: "Ivo", Role: "tuner"},
		&AdjusterBody{Bike: heron, Adjuster: "rear.rebound", Def: clicks("Rear rebound", "rear", 40, "closed", "quicker", "slower"), Retired: true},
		&ChangeBody{Bike: heron, Adjuster: "rear.rebound", From: &n, To: &n, Delta: &neg, Why: "café", Trial: true},
		&CountBody{Bike: heron, Adjuster: "rear.rebound", Standing: Counted, At: &n}, &OwnBody{Found: "f", By: "ivo"},
		&BaselineBody{Bike: heron, Baseline: "line", Name: "line", At: at}, &FactBody{Bike: heron, Fact: "oil", Answer: "no", When: when},
		&CheckBody{Bike: heron, Check: "chain", Result: "good"}, &FallBody{Bike: heron, When: when, Side: "left"},
		&ServiceBody{Bike: heron, What: "chain", Km: &n}, &PartBody{Bike: heron, Part: "spring"},
		&MeasureBody{Bike: heron, Topic: "sag", Values: map[string]unit.Fixed{"free": n}},
		&TrackBody{Track: "saltmarsh", Corners: []Corner{{Name: "1", At: &spot}, {}}, Map: &Map{Points: []Spot{spot, spot}, Start: &[2]Spot{spot, spot}}},
		&DayBody{Day: "d", Date: when}, &SessionBody{Bike: heron, Session: "s", Laps: []unit.Fixed{n, n}, Wet: true},
		&LapsBody{Bike: heron, Session: "s", Laps: []LapTime{{Time: n, Sectors: []unit.Fixed{n, n}, Gap: true}, {Time: n}}},
		&TyresBody{Bike: heron, Set: "t", Cycles: 3}, &IntervalBody{Bike: heron, What: "chain", Days: 4},
		&SymptomBody{Bike: heron, Findings: map[string]string{"a": "yes", "b": "no"}}, &AdviceBody{Bike: heron, From: "ivo", Delta: &neg},
		&OutcomeBody{Advice: "a", Result: "later"}, &VerdictBody{Change: "c", Verdict: "keep"}, &StrikeBody{Entry: "e", Why: "wrong bike"},
	}
}

// TestBodiesAsWrittenAreRead the short way, or opening a book is slow.
func TestBodiesAsWrittenAreReadTheShortWay(t *testing.T) {
	for _, body := range bodies() {
		raw, err := json.Marshal(body)
		if err != nil {
			t.Fatal(err)
		}
		got := reflect.New(reflect.TypeOf(body).Elem())
		if !readPlain(raw, got.Interface()) {
			t.Errorf("%T is read the long way: %s", body, raw)
		} else if !reflect.DeepEqual(got.Interface(), body) {
			t.Errorf("%s reads as %+v", raw, got.Interface())
		}
	}
	if readPlain([]byte(`{"entry":"e","body":{}}`), new(CorrectBody)) {
		t.Error("a body within a body was read the short way, which does not know raw JSON")
	}
}

// FuzzReadPlain holds the short way to encoding/json.
func FuzzReadPlain(f *testing.F) {
	all := bodies()
	for i, body := range all {
		raw, err := json.Marshal(body)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(i, raw)
		f.Add(i, bytes.Replace(raw, []byte("9.5"), []byte("null"), 1))
		f.Add(i, bytes.Replace(raw, []byte("9.5"), []byte("09.5"), 1))
		f.Add(i, bytes.Replace(raw, []byte(`"bike"`), []byte(`"Bike"`), 1))
		f.Add(i, bytes.Replace(raw, []byte(`,`), []byte(`,,`), 1))
		f.Add(i, bytes.Replace(raw, []byte(`heron`), []byte("h\xffron"), 1))
		f.Add(i, bytes.Replace(raw, []byte(`{`), []byte(`{"bike":"x",`), 1))
	}
	f.Fuzz(func(t *testing.T, i int, raw []byte) {
		kind := reflect.TypeOf(all[uint(i)%uint(len(all))]).Elem()
		short, long := reflect.New(kind), reflect.New(kind)
		if !readPlain(raw, short.Interface()) {
			return
		}
		if err := json.Unmarshal(raw, long.Interface()); err != nil {
			t.Fatalf("%s: the short way takes what encoding/json refuses: %q: %v", kind, raw, err)
		}
		if !reflect.DeepEqual(short.Interface(), long.Interface()) {
			t.Fatalf("%s: %q reads as %+v the short way and as %+v the long way", kind, raw, short, long)
		}
	})
}
