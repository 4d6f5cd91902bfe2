package calc

import (
	"math"
	"testing"
)

func valueOf(t *testing.T, r Result, symbol string) Value {
	t.Helper()
	for _, v := range r.Values {
		if v.Symbol == symbol {
			return v
		}
	}
	t.Fatalf("there is no %s in %+v", symbol, r.Values)
	return Value{}
}

// The numeric partials against what the law of propagation gives by hand.
// Source: JCGM 100:2008 (GUM), 5.1.2.
func TestSpreadAgainstPaper(t *testing.T) {
	rad := math.Pi / 180
	sin, cos := math.Sincos(24 * rad)
	perDegree := rad * (300 - 30*sin) / (cos * cos)
	for _, r := range []struct {
		topic, args, symbol string
		want                float64
		by                  string
	}{
		{"sag", "extended=500mm pushed=466mm lifted=472mm", "sag", math.Sqrt(1 + 0.25 + 0.25), "three readings of ±1 mm, two of them halved"},
		{"sag", "extended=500±0mm pushed=466±2mm lifted=472±0mm", "sag", 1, "half of 2 mm"},
		{"sag", "extended=500mm pushed=466,466,466,466mm lifted=472±0mm", "sag", math.Sqrt(1 + 4*0.125*0.125), "four averaged readings"},
		{"sag", "extended=500±0 pushed=466±0 lifted=472±0", "sag", 0, "nothing is uncertain"},
		{"sag", "extended=20.0±0.04in pushed=466±0mm lifted=472±0mm", "sag", 0.04 * 25.4, "a reading in inches"},
		{"geometry", "rake=24±0.1deg radius=300±2mm offset=30±0.5mm", "trail", math.Sqrt(math.Pow(0.1*perDegree, 2) + math.Pow(2*sin/cos, 2) + math.Pow(0.5/cos, 2)), "derivatives of the trail formula"},
		{"springs", "rates=9±0.1,9.5±0.2N/mm", "parallel", math.Sqrt(0.1*0.1 + 0.2*0.2), "a sum"},
		{"spring-wire", "wire=11.5±0.05mm mean=61.5mm active=6", "rate", 124.2218 * 4 * 0.05 / 11.5, "fourth power of the wire"},
		{"pressure", "pressure=200±2kPa from=20±0C to=75±0C", "pressure", 2 * 348.15 / 293.15, "scaled by the temperatures"},
	} {
		got := valueOf(t, run(t, r.topic, r.args), r.symbol).PlusMinus
		if math.Abs(got-r.want) > 0.003*r.want+1e-12 {
			t.Errorf("%s %s: %s is ±%v, want ±%v: %s", r.topic, r.args, r.symbol, got, r.want, r.by)
		}
	}
}

func TestShown(t *testing.T) {
	for _, r := range []struct{ topic, args, symbol, want string }{
		{"sag", "extended=500mm pushed=466mm lifted=472mm", "sag", "31 ± 1 mm"},
		{"sag", "extended=500±0 pushed=466±0 lifted=472±0", "sag", "31.0 mm"},
		{"pressure", "pressure=36±0psi from=15±0C to=60±0C", "pressure", "43.9 psi"},
		{"pressure", "pressure=2.5±0bar from=15±0C to=60±0C", "pressure", "3.05 bar"},
		{"pressure", "pressure=250±0 from=15±0C to=60±0C", "pressure", "305 kPa"},
		{"geometry-change", "wheelbase=1400 rake=24±0 offset=30±0 front-radius=300 rear-radius=315", "pitch", "0.00°"},
	} {
		if got := valueOf(t, run(t, r.topic, r.args), r.symbol).Shown; got != r.want {
			t.Errorf("%s %s: shows %q, want %q", r.topic, r.args, got, r.want)
		}
	}
	for v, want := range map[float64]int{0.012: 2, 0.12: 1, 0.3: 1, 0.96: 0, 1.2: 0, 3: 0, 31: 0, 1e-9: 6} {
		if got := digitsOf(v); got != want {
			t.Errorf("±%v leaves %d digits, want %d", v, got, want)
		}
	}
}
