package screen

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// TestEveryAskIsOfTheArithmetic: an ask that names no input would be taken
// unchecked.
func TestEveryAskIsOfTheArithmetic(t *testing.T) {
	for _, top := range topics() {
		if len(sentences(top.why)) != 3 {
			t.Errorf("%s says why in %d sentences; want 3", top.id, len(sentences(top.why)))
		}
		for _, q := range top.asks {
			if q.kind == "bounce" {
				continue
			}
			if in, ok := calcTopics()[q.calc].Input(q.input); !ok {
				t.Errorf("%s asks %s, which is no input %q of %q", top.id, q.symbol, q.input, q.calc)
			} else if q.named() == "" || q.how == "" && in.Hint == "" {
				t.Errorf("%s asks %s without saying what or how", top.id, q.symbol)
			}
		}
	}
}

// TestEveryPageDraws walks through every step of every topic, with nothing
// known and with the example's book.
func TestEveryPageDraws(t *testing.T) {
	d := openDesk(t)
	for _, top := range topics() {
		for _, q := range slices.Concat(top.asks, []ask{{}}) {
			m := see[Measuring](d, "measuring", fmt.Sprintf(`{"topic":%q,"at":%q,"typed":{"x":"?"}}`, top.id, q.symbol))
			if m.Scene.Says == "" || len(m.Scene.Shapes) == 0 || len(m.Why) != 3 || len(m.Steps) == 0 {
				t.Errorf("%s at %q draws nothing: %+v", top.id, q.symbol, m.Scene)
			}
			for _, v := range m.Scene.Box {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Errorf("%s at %q has no frame", top.id, q.symbol)
				}
			}
			if _, err := json.Marshal(m); err != nil {
				t.Errorf("%s at %q: %v", top.id, q.symbol, err)
			}
		}
	}
}

// fillTopic fills a topic with typed numbers and says what they say.
func fillTopic(d *desk, topic string, typed map[string]string) Measuring {
	raw, _ := json.Marshal(MeasuringArgs{Topic: topic, At: "=", Typed: typed}) // strings always marshal
	return see[Measuring](d, "measuring", string(raw))
}

func TestSagRound(t *testing.T) {
	d := openDesk(t)
	// Reference C3.1: 500, 466, 472 give 31 mm and 6 mm of stiction.
	m := fillTopic(d, "sag-front", map[string]string{"extended": "500mm", "free_pushed": "478mm", "free_lifted": "482mm", "rider_pushed": "466mm", "rider_lifted": "472mm"})
	if !m.Ready || m.Reading.Says[0] != "31 mm under you, 20 mm by itself." || len(m.Reading.Gauges) == 0 {
		t.Fatalf("ready %v, %+v", m.Ready, m.Reading)
	}
	d.do("measure", `{"topic":"sag-front","typed":{"extended":"500mm","free_pushed":"478mm","free_lifted":"482mm","rider_pushed":"466mm","rider_lifted":"472mm"}}`)
	if line := topicLine(see[Measure](d, "measure", `{}`), "sag-front"); line.State != "fresh" || !strings.Contains(line.Says, "31 mm under you") {
		t.Errorf("the list says %+v", line)
	}
	again := see[Measuring](d, "measuring", `{"topic":"sag-front"}`)
	if again.Of == "" || again.Reading == nil || len(again.Earlier) != 3 || again.Steps[0].Last != "500 mm" {
		t.Errorf("seen again: of %q, %d earlier, last %q", again.Of, len(again.Earlier), again.Steps[0].Last)
	}
	d.do("turned", `{"adjuster":"front.preload","steps":1}`)
	if line := topicLine(see[Measure](d, "measure", `{}`), "sag-front"); line.State != "stale" || !strings.Contains(line.Says, "Front preload was moved") {
		t.Errorf("after a turn of preload the list says %+v", line)
	}
}

func topicLine(m Measure, topic string) MeasureLine {
	for _, g := range m.Groups {
		for _, l := range g.Lines {
			if l.Topic == topic {
				return l
			}
		}
	}
	return MeasureLine{}
}

// TestBadInputIsRefusedAtItsField and never saved.
func TestBadInputIsRefusedAtItsField(t *testing.T) {
	d := openDesk(t)
	sag := `"extended":"500mm","rider_pushed":"466mm","rider_lifted":"472mm"`
	rows := []struct{ topic, typed, field string }{
		{"sag-front", `"extended":"500mm","rider_pushed":"480mm","rider_lifted":"470mm"`, "rider_pushed"},
		{"sag-front", `"extended":"460mm","rider_pushed":"466mm","rider_lifted":"472mm"`, "rider_lifted"},
		{"sag-front", sag + `,"free_pushed":"440mm","free_lifted":"450mm"`, "free_pushed"},
		{"sag-front", sag + `,"travel":"0mm"`, "travel"},
		{"sag-front", `"extended":"-5mm","rider_pushed":"466mm","rider_lifted":"472mm"`, "extended"},
		{"geometry", `"rake":"0deg"`, "rake"},
		{"geometry", `"front_tyre":"round"`, "front_tyre"},
		{"cold-front", `"wanted":"-3psi","today":"20°C"`, "wanted"},
		{"bars", `"left":"1000mm","right":"200mm","half":"360mm"`, "left"},
		{"gearing", `"links":"40","teeth_front":"16","teeth_rear":"44","new_rear":"45"`, "links"},
		{"tyre-age", `"front":"5514"`, "front"},
	}
	for _, r := range rows {
		form := fmt.Sprintf(`{"topic":%q,"typed":{%s}}`, r.topic, r.typed)
		before := len(d.r.Book().Told)
		if refusal := d.refused("measure", form); refusal.Field != r.field || refusal.Says == "" {
			t.Errorf("%s is refused with %+v; want at %s", form, refusal, r.field)
		}
		if len(d.r.Book().Told) != before {
			t.Errorf("%s was saved", form)
		}
	}
}

func TestUnitsOfTheRider(t *testing.T) {
	d := openDesk(t)
	d.do("measure", `{"topic":"sag-rear","units":{"length":"in"},"typed":{"extended":"22.5in","rider_pushed":"21.125in","rider_lifted":"21.375in","travel":"?"}}`)
	k := d.bike()
	if got := k.Measures["sag-rear"].Body.Values["extended"].String(); got != "571.5" {
		t.Errorf("22.5 in is kept as %s mm", got)
	}
	if got := d.r.Book().Units["length"]; got != "in" {
		t.Errorf("the rider's unit is kept as %q", got)
	}
	m := see[Measuring](d, "measuring", `{"topic":"sag-rear"}`)
	// Reference C3.2: these readings give 31.75 mm.
	if m.Steps[0].Unit != "in" || m.Steps[0].Last != "22.5 in" || m.Reading.Says[0] != "32 mm under you." {
		t.Errorf("step %+v, says %q", m.Steps[0], m.Reading.Says[0])
	}
	if mm := see[Measuring](d, "measuring", `{"topic":"sag-rear","units":{"length":"mm"},"typed":{"extended":"22.5in"}}`).Steps[0]; mm.Value != "571.5" || mm.Unit != "mm" {
		t.Errorf("in mm it stands as %s %s", mm.Value, mm.Unit)
	}
}

func TestNotKnownIsSaid(t *testing.T) {
	d := openDesk(t)
	m := see[Measuring](d, "measuring", `{"topic":"sag-front","typed":{"extended":"?"}}`)
	if m.Ready || m.Reading != nil || !slices.Contains(m.Missing, "fully extended") || !m.Steps[0].Unknown {
		t.Errorf("ready %v, missing %v", m.Ready, m.Missing)
	}
}

// bounceTrace is a phone on the seat: at rest, pushed, and a decay of a known
// damping ratio and frequency, read 60 times a second with a little noise.
func bounceTrace(zeta, hz float64) string {
	var out strings.Builder
	noise := uint32(7)
	for i := range 360 {
		t := float64(i) / 60
		a := 9.81
		if s := t - 1.5; s > 0 {
			w := 2 * math.Pi * hz
			a += 3 * math.Exp(-zeta*w*s) * math.Cos(w*math.Sqrt(1-zeta*zeta)*s)
		}
		noise = noise*1664525 + 1013904223
		a += (float64(noise>>16)/65536 - 0.5) * 0.06
		fmt.Fprintf(&out, "%.3f,%.3f,%.3f,%.3f\n", t, 0.02, -0.1, a)
	}
	return out.String()
}

// TestBounceIsFoundInARecording of a made decay, and refused in noise.
func TestBounceIsFoundInARecording(t *testing.T) {
	d := openDesk(t)
	m := fillTopic(d, "bounce-rear", map[string]string{"trace": bounceTrace(0.25, 2)})
	if !m.Ready || len(m.Reading.Charts) != 1 || len(m.Reading.Charts[0].Lines) != 2 {
		t.Fatalf("ready %v, missing %v, step %+v, reading %+v", m.Ready, m.Missing, m.Steps[0].Refusal, m.Reading)
	}
	b, refused := bounceIn(bounceTrace(0.25, 2))
	zeta := numberOf(b, "zeta")
	if refused != nil || math.Abs(zeta-0.25) > 0.03 || math.Abs(numberOf(b, "natural-hz")-2) > 0.1 {
		t.Errorf("a decay of 0.25 at 2 Hz is found as %.3f at %.2f Hz (%v)", zeta, numberOf(b, "natural-hz"), refused)
	}
	raw, _ := json.Marshal(MeasuringArgs{Topic: "bounce-rear", Typed: map[string]string{"trace": bounceTrace(0.25, 2)}}) // strings always marshal
	d.do("measure", string(raw))
	kept := d.bike().Measures["bounce-rear"].Body.Words["trace"]
	again, refused := bounceIn(kept)
	if refused != nil || math.Abs(numberOf(again, "zeta")-zeta) > 0.03 || len(kept) > 6000 {
		t.Errorf("kept %d bytes, which show %.3f (%v)", len(kept), numberOf(again, "zeta"), refused)
	}
	var flat strings.Builder
	noise := uint32(3)
	for i := range 300 {
		noise = noise*1664525 + 1013904223
		fmt.Fprintf(&flat, "%.3f,0,0,%.3f\n", float64(i)/60, 9.81+(float64(noise>>16)/65536-0.5)*2)
	}
	raw, _ = json.Marshal(MeasuringArgs{Topic: "bounce-rear", Typed: map[string]string{"trace": flat.String()}}) // as above
	if r := d.refused("measure", string(raw)); r.Field != "trace" || r.Says == "" {
		t.Errorf("noise is refused with %+v", r)
	}
}

// TestBounceByHand: reference C9.2, peaks 0.85, 0.45, 0.25 give 0.097 over two
// cycles (the text prints 0.101 from the first two).
func TestBounceByHand(t *testing.T) {
	d := openDesk(t)
	m := fillTopic(d, "bounce-front", map[string]string{"peak_1": "0.85", "peak_2": "0.45", "peak_3": "0.25"})
	if !m.Ready || !strings.Contains(m.Reading.Says[0]+m.Reading.Says[1], "0.09") {
		t.Errorf("ready %v, missing %v, reading %+v", m.Ready, m.Missing, m.Reading)
	}
}

// TestNothingIsEverNotANumber fills every topic with numbers of all sizes: the
// page can always be encoded, and what it calls ready can be saved and read
// again.
func TestNothingIsEverNotANumber(t *testing.T) {
	d := openDesk(t)
	chance := uint32(1)
	next := func(n uint32) uint32 {
		chance = chance*1664525 + 1013904223
		return (chance >> 8) % n
	}
	ready := 0
	for _, top := range topics() {
		for range 15 {
			typed := map[string]string{}
			for _, q := range top.asks {
				in := q.calcIn()
				switch {
				case q.kind == "bounce" || next(12) == 0:
					typed[q.symbol] = "?"
				case len(q.options) > 0:
					typed[q.symbol] = q.options[next(uint32(len(q.options)))].ID
				case in.Kind == "":
					typed[q.symbol] = []string{"120/70R17", "2723", "525", "x"}[next(4)]
				case q.typed:
					typed[q.symbol] = []string{"2.7,2.0,1.6", "0", "9;"}[next(3)]
				default:
					lo, hi := in.Min, in.Max
					if in.High > in.Low {
						lo, hi = in.Low, in.High
					}
					v := lo + (hi-lo)*float64(next(1000))/999
					if next(8) == 0 {
						v = []float64{0, -1, 1e9, in.Max * 2}[next(4)]
					}
					if in.Whole {
						v = math.Round(v)
					}
					typed[q.symbol] = fmt.Sprintf("%.6g%s", v, in.Unit)
				}
			}
			m := fillTopic(d, top.id, typed)
			if _, err := json.Marshal(m); err != nil {
				t.Fatalf("%s of %v: %v", top.id, typed, err)
			}
			if !m.Ready {
				continue
			}
			ready++
			raw, _ := json.Marshal(MeasuringArgs{Topic: top.id, Typed: typed}) // strings always marshal
			d.do("measure", string(raw))
			if again := see[Measuring](d, "measuring", fmt.Sprintf(`{"topic":%q}`, top.id)); again.Reading == nil {
				t.Errorf("%s was saved with %v and cannot be read again", top.id, typed)
			}
		}
	}
	if ready < 30 {
		t.Errorf("only %d rounds were ready: this tries too little", ready)
	}
}

// TestUnitsThatBeginWithADigit: 13000 and 1/min is not 130001 of anything.
func TestUnitsThatBeginWithADigit(t *testing.T) {
	d := openDesk(t)
	m := fillTopic(d, "gearing", map[string]string{"rpm": "13000"})
	for _, s := range m.Steps {
		if s.Symbol == "rpm" && (s.Value != "13000" || s.Refusal != nil) {
			t.Errorf("13000 stands as %q (%v)", s.Value, s.Refusal)
		}
	}
	if got := see[Measuring](d, "measuring", `{"topic":"gearing"}`); got.Reading == nil || len(got.Reading.Says) == 0 {
		t.Error("the example's gearing cannot be read again")
	}
}
