package chassis

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestBounceReference(t *testing.T) {
	const rao = "S. S. Rao, Mechanical Vibrations, 'Shock absorber for a motorcycle' (statement read, results from memory)"
	const notes = "university vibration notes, AER 403 lecture 12, example 8.4, prints 0.64 and 0.101"
	zeta := value(func(d Decay) float64 { return d.Zeta })
	log := value(func(d Decay) float64 { return d.LogDecrement })
	d, err := Decrement(1, 0.25, 0.5)
	o, errO := OscillatorOf(2, d.Zeta, 200)
	p, errP := PeaksFrom([]float64{0.85, 0.45, 0.25})
	check(t, []row{
		{"C9.1 decrement", plain(d.LogDecrement, err), 2.772589, 5e-5, rao},
		{"C9.1 zeta", plain(d.Zeta, err), 0.4037128, 5e-5, rao + ", prints 0.4037"},
		{"C9.1 wn", plain(o.Natural, errO), 3.433863, 5e-4, rao + ", prints 3.4338"},
		{"C9.1 cc", plain(o.CriticalAt, errO), 1373.545, rel(1373.545, 1e-6), rao},
		{"C9.1 c", plain(o.Damping, errO), 554.5177, rel(554.5177, 1e-6), rao},
		{"C9.1 k", plain(o.Stiffness, errO), 2358.283, rel(2358.283, 1e-6), rao},
		{"C9.1 c as printed", plain(o.Damping, errO), 554.4981, rel(554.4981, 5e-5), rao},
		{"C9.1 k as printed", plain(o.Stiffness, errO), 2358.2652, rel(2358.2652, 5e-5), rao},
		{"C9.2 D12", log(Decrement(0.85, 0.45, 1)), 0.6359888, 5e-5, notes},
		{"C9.2 D13", plain(p.LogDecrement, errP), 0.6118877, 5e-5, notes},
		{"C9.2 zeta12", zeta(Decrement(0.85, 0.45, 1)), 0.1007062, 5e-5, notes},
		{"C9.2 shortcut", func() (float64, error) {
			v, err := Decrement(0.85, 0.45, 1)
			return v.LogDecrement / (2 * math.Pi), err
		}, 0.1012208, 5e-5, notes},
		{"C9.3", zeta(Decrement(1, 0.1, 0.5)), 0.591155, 1e-6, "formula, derived"},
		{"C9.4", zeta(Decrement(1, 0.3, 0.5)), 0.3578571, 1e-6, "formula, derived"},
		{"C9.5 D", log(Decrement(40, 2.5, 3)), 0.9241962, 1e-6, "formula, derived"},
		{"C9.5 zeta", zeta(Decrement(40, 2.5, 3)), 0.1455246, 1e-6, "formula, derived"},
		{"ride frequency", plain(RideFrequency(19, 100)), math.Sqrt(190) / (2 * math.Pi), 1e-9, "√(K/m)/2π with 19 N/mm and 100 kg"},
	})
}

// Peaks made from a damping ratio give it back, on one side and on both.
func TestPeaksInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		zeta := rapid.Float64Range(0.01, 0.9).Draw(t, "zeta")
		n := rapid.IntRange(2, 5).Draw(t, "n")
		per := 2 * math.Pi * zeta / math.Sqrt(1-zeta*zeta)
		var one, both []float64
		for i := range n {
			one = append(one, 30*math.Exp(-per*float64(i)))
			both = append(both, 30*math.Exp(-per/2*float64(i))*math.Pow(-1, float64(i)))
		}
		if one[n-1] < 1e-8 {
			return // smaller than what is read as a peak
		}
		for _, peaks := range [][]float64{one, both} {
			p, err := PeaksFrom(peaks)
			if err != nil || math.Abs(p.Zeta-zeta) > 1e-9 || p.Least > p.Zeta+1e-9 || p.Most < p.Zeta-1e-9 {
				t.Fatalf("%v: %+v, %v; want %v", peaks, p, err, zeta)
			}
		}
		o, err := OscillatorOf(0.5, zeta, 100)
		if err != nil || math.Abs(o.Natural*math.Sqrt(1-zeta*zeta)-o.Damped) > 1e-9 || math.Abs(o.Damping/o.CriticalAt-zeta) > 1e-9 {
			t.Fatalf("%+v, %v", o, err)
		}
	})
}

func TestBounceRefuses(t *testing.T) {
	for name, peaks := range map[string][]float64{
		"one peak": {3}, "none": nil, "growing": {3, 4}, "equal": {3, 3}, "zero": {3, 0}, "mixed sides": {9, -5, -3}, "NaN": {9, math.NaN()}, "endless": {math.Inf(1), 2},
	} {
		_, err := PeaksFrom(peaks)
		refused(t, name, err)
	}
	_, err := OscillatorOf(0, 0.2, 100)
	refused(t, "no period", err)
	_, err = OscillatorOf(1, 1, 100)
	refused(t, "critical", err)
	_, err = RideFrequency(19, 0)
	refused(t, "no mass", err)
}

func TestBarsReference(t *testing.T) {
	// A bar of 360 mm turned 1.5° to the right, ends 40 mm behind the axis and
	// 200 mm above the point, which lies 950 mm behind.
	angle, half, setback, up, behind := 1.5*degree, 360.0, 40.0, 200.0, 950.0
	at := func(side float64) float64 {
		x, y := -setback*math.Cos(angle)+side*half*math.Sin(angle), setback*math.Sin(angle)+side*half*math.Cos(angle)
		return math.Sqrt((x+behind)*(x+behind) + y*y + up*up)
	}
	left, right := at(1), at(-1)
	if left <= right {
		t.Fatalf("turned to the right the left end is %v away, the right %v", left, right)
	}
	turn := value(func(b Bars) float64 { return b.Angle })
	grip := value(func(b Bars) float64 { return b.AtGrip })
	check(t, []row{
		{"angle", turn(BarsFromDistances(left, right, half, -behind, 2)), 1.5, 1e-9, "ends placed in space, derived"},
		{"at the grip", grip(BarsFromDistances(left, right, half, -behind, 2)), 360 * math.Sin(angle), 1e-9, "ends placed in space, derived"},
		{"point ahead", turn(BarsFromDistances(right, left, half, behind, 2)), 1.5, 1e-9, "the same seen from ahead"},
		{"twist", grip(BarsFromTwist(1.5, 360, 2)), 9.4237, 1e-4, "360·sin 1.5°, by hand"},
	})
	straight, err := BarsFromDistances(1001, 1000, 360, -950, 2)
	if err != nil || !straight.Neutral {
		t.Errorf("1 mm apart is %+v, %v; want neutral", straight, err)
	}
	crooked, err := BarsFromDistances(1012, 1000, 360, -950, 2)
	if err != nil || crooked.Neutral || crooked.Angle <= 0 {
		t.Errorf("12 mm apart is %+v, %v; want turned to the right", crooked, err)
	}
	for name, call := range map[string]func() error{
		"point on the axis": func() error { _, err := BarsFromDistances(400, 410, 360, 10, 2); return err },
		"far apart":         func() error { _, err := BarsFromDistances(1400, 700, 360, -950, 2); return err },
		"NaN":               func() error { _, err := BarsFromDistances(math.NaN(), 700, 360, -950, 2); return err },
		"no bar":            func() error { _, err := BarsFromTwist(1, 0, 2); return err },
		"broken fork":       func() error { _, err := BarsFromTwist(90, 360, 2); return err },
	} {
		refused(t, name, call())
	}
}

func TestAxleMove(t *testing.T) {
	d := Drive{16, 43, 15.875}
	check(t, []row{
		{"C5.4", plain(d.AxleMove(Drive{16, 44, 15.875}, 114, 114)), -4.255927, 0.01, "derived from a sport 600's chain"},
		{"C5.5", plain(d.AxleMove(Drive{15, 43, 15.875}, 114, 114)), 3.726478, 0.01, "derived from a sport 600's chain"},
		{"C5.6", plain(d.AxleMove(d, 114, 116)), 15.95645, 0.01, "derived from a sport 600's chain"},
	})
	_, err := d.AxleMove(Drive{16, 90, 15.875}, 114, 40)
	refused(t, "chain too short for the new sprocket", err)
}

// Ends placed in space by any twist, sweep and height give the twist back.
func TestBarsInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-6, 6).Draw(t, "angle") * degree
		half := rapid.Float64Range(300, 420).Draw(t, "half")
		sweep := rapid.Float64Range(-80, 150).Draw(t, "sweep")
		up := rapid.Float64Range(-300, 300).Draw(t, "up")
		ahead := rapid.SampledFrom([]float64{-1100, -700, 400, 900}).Draw(t, "ahead")
		away := func(side float64) float64 {
			x := -sweep*math.Cos(angle) + side*half*math.Sin(angle)
			y := sweep*math.Sin(angle) + side*half*math.Cos(angle)
			return math.Sqrt((x-ahead)*(x-ahead) + y*y + up*up)
		}
		b, err := BarsFromDistances(away(1), away(-1), half, ahead, 2)
		if err != nil || math.Abs(b.Angle-angle/degree) > 1e-8 {
			t.Fatalf("twisted by %v, found %+v, %v", angle/degree, b, err)
		}
		back, err := BarsFromTwist(b.Angle, half, 2)
		if err != nil || math.Abs(back.AtGrip-b.AtGrip) > 1e-9 || back.Neutral != b.Neutral {
			t.Fatalf("twist gives %+v, distances %+v, %v", back, b, err)
		}
	})
}
