package chassis

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestTrailReference(t *testing.T) {
	ground := value(func(v Trail) float64 { return v.Ground })
	normal := value(func(v Trail) float64 { return v.Normal })
	flop := value(func(v Trail) float64 { return v.Flop })
	perDeg := value(func(v Sensitivity) float64 { return v.PerDegree })
	perR := value(func(v Sensitivity) float64 { return v.PerRadius })
	perD := value(func(v Sensitivity) float64 { return v.PerOffset })
	basic := Steering{24, 30, 300}
	slack, steep := Steering{24.5, 36, 299.9}, Steering{23.5, 36, 299.9}
	const books = "Cossalter 2006 ch. 1 and Foale 2002 (formula, from memory); numbers derived"
	const twoSettings = "owners' manual of a superbike with an adjustable head; offset from memory"
	a, errA := OffsetFor(24.5, 299.9, 97)
	b, errB := OffsetFor(23.5, 299.9, 91)
	if errA != nil || errB != nil {
		t.Fatal(errA, errB)
	}
	rake, errRake := RakeOfHead(63.5)
	check(t, []row{
		{"C1.1 trail", ground(basic.Trail()), 100.7295, 0.001, books},
		{"C1.1 normal", normal(basic.Trail()), 92.02099, 0.001, books},
		{"C1.1 flop", flop(basic.Trail()), 37.42831, 0.001, books},
		{"C1.2", ground(slack.Trail()), 97.11018, 0.001, twoSettings},
		{"C1.2 as printed", ground(slack.Trail()), 97, 1, twoSettings},
		{"C1.3", ground(steep.Trail()), 91.14435, 0.001, twoSettings},
		{"C1.3 as printed", ground(steep.Trail()), 91, 1, twoSettings},
		{"C1.4 slack", plain(a, nil), 36.10026, 0.001, twoSettings + "; offset not needed"},
		{"C1.4 steep", plain(b, nil), 36.13238, 0.001, twoSettings + "; offset not needed"},
		{"C1.4 one offset", plain(a-b, nil), 0, 0.5, "trail printed to 1 mm"},
		{"C1.5", plain(OffsetFor(24, 299.9, 102)), 28.79868, 0.001, "published specification of a litre sport machine, 2003; offset derived"},
		{"C1.6 rake", plain(rake, errRake), 26.5, 0.001, "published specification, head angle from horizontal"},
		{"C1.6 offset", plain(OffsetFor(26.5, 299.9, 100.7)), 43.69483, 0.001, "published specification; offset derived"},
		{"C1.7 per degree", perDeg(basic.Sensitivity()), 6.018727, 0.0005, "derived from the formula"},
		{"C1.7 per mm radius", perR(basic.Sensitivity()), 0.4452287, 0.0005, "derived from the formula"},
		{"C1.7 per mm offset", perD(basic.Sensitivity()), -1.094636, 0.0005, "derived from the formula"},
	})
}

func TestTyreSizeReference(t *testing.T) {
	const chart = "a tyre retailer's circumference chart; ETRTO design sizes from memory"
	for _, r := range []struct {
		id, code          string
		od, circumference float64
		printed, girth    float64
		within            float64
	}{
		{"C1.8", "120/70-17", 599.8, 1884.327, 600, 1883, 3},
		{"C1.9", "180/55-17", 629.8, 1978.575, 630, 1977, 3},
		{"C1.10", "180/60-17", 647.8, 2035.124, 648, 2034, 3},
		{"C1.11", "190/50-17", 621.8, 1953.442, 622, math.Pi * 622, 0.01 * 622},
		{"C1.12", "190/55-17", 640.8, 2013.133, 641, math.Pi * 641, 0.01 * 641},
	} {
		size, err := ParseTyreSize(r.code)
		if err != nil {
			t.Fatal(err)
		}
		od := value(func(w Wheel) float64 { return w.Diameter })
		girth := value(func(w Wheel) float64 { return w.Circumference })
		check(t, []row{
			{r.id + " diameter", od(size.Wheel(0, 0)), r.od, 0.01, "formula, derived"},
			{r.id + " circumference", girth(size.Wheel(0, 0)), r.circumference, 0.01, "formula, derived"},
			{r.id + " diameter as printed", od(size.Wheel(0, 0)), r.printed, r.within, chart},
			{r.id + " circumference as printed", girth(size.Wheel(0, 0)), r.girth, math.Max(3, r.within), chart},
		})
	}
	check(t, []row{
		{"C12.4 58", plain(LoadOfIndex(58)), 236, 1e-9, "a tyre seller's load-index table"},
		{"C12.4 73", plain(LoadOfIndex(73)), 365, 1e-9, "a tyre maker's page"},
		{"C12.4 75", plain(LoadOfIndex(75)), 387, 1e-9, "a tyre seller's load-index table"},
	})
}

func TestParseTyreSize(t *testing.T) {
	for in, want := range map[string]TyreSize{
		"120/70-17":              {120, 70, 17, 0},
		"120/70R17":              {120, 70, 17, 0},
		"120/70ZR17":             {120, 70, 17, 0},
		"120/70 ZR 17 M/C (58W)": {120, 70, 17, 58},
		"180/55zr17 73W":         {180, 55, 17, 73},
		"120/70 B 21":            {120, 70, 21, 0},
		"100/90-19 57H":          {100, 90, 19, 57},
		"120/70 (ZR) 17":         {120, 70, 17, 0},
		"130/90B16 M/C 67H TL":   {130, 90, 16, 67},
		"110/90-12.5 TT":         {110, 90, 12.5, 0},
	} {
		if got, err := ParseTyreSize(in); err != nil || got != want {
			t.Errorf("%q reads %+v, %v; want %+v", in, got, err, want)
		}
	}
	for _, bad := range []string{"", "3.00-18", "MT90-16", "120/70", "120/0-17", "999/70-17", "120/70-99", "120/70-17 (58W", "120/70-17 wide", "1200/70-17", "120/70", "120/70R", "120/70-17 58W 73W", strings.Repeat("1", 50)} {
		_, err := ParseTyreSize(bad)
		refused(t, bad, err)
	}
}

var baseline = Stance{Wheelbase: 1400, Rake: 24, Offset: 30, FrontRadius: 299.9, RearRadius: 314.9}

func TestMoveReference(t *testing.T) {
	arm := baseline
	arm.Swingarm, arm.SwingarmDecline = 580, 11
	const source = "rigid-body geometry, derived independently of this code"
	for _, r := range []struct {
		id                                string
		from                              Stance
		move                              Move
		rake, trail, wheelbase, pitch, by float64
	}{
		{"C2.1", baseline, Move{}, 24, 100.685, 1400, 0, 0},
		{"C2.2", baseline, Move{ForkRaised: 10}, 23.62503, 98.43475, 1395.864, 0.3749708, 0.3738736},
		{"C2.3", baseline, Move{ForkRaised: -5}, 24.18666, 101.8095, 1402.09, -0.1866617, -0.1869368},
		{"C2.4", baseline, Move{RearRaised: 10}, 23.59074, 98.22953, 1399.929, 0.4092643, 0.4092556},
		{"C2.5", arm, Move{RearRaised: 10}, 23.59014, 98.22596, 1397.893, 0.4098601, 0.4092556},
		{"C2.6", baseline, Move{ForkRaised: 5, RearRaised: 5}, 23.60786, 98.33198, 1397.896, 0.3921425, 0.3915646},
		{"C2.7", baseline, Move{RearRadius: 320.4}, 23.7749, 99.33278, 1399.93, 0.2250959, 0.2250906},
		{"C2.8", baseline, Move{FrontRadius: 295.9}, 23.8363, 97.93392, 1399.951, 0.163705, 0.1637022},
	} {
		s, err := r.from.After(r.move)
		check(t, []row{
			{r.id + " rake", plain(s.Rake, err), r.rake, 0.0005, source},
			{r.id + " trail", plain(s.Trail.Ground, err), r.trail, 0.005, source},
			{r.id + " wheelbase", plain(s.Wheelbase, err), r.wheelbase, 0.005, source},
			{r.id + " pitch", plain(s.Pitch, err), r.pitch, 0.0005, source},
			{r.id + " rule of thumb", plain(s.RulePitch, err), r.by, 1e-6, "small-angle rule, derived"},
			{r.id + " rule's error in %", plain(s.RuleError, err), 0, 3, "small-angle rule against exact"},
		})
	}
}

func TestGeometryRefuses(t *testing.T) {
	for name, s := range map[string]Steering{
		"zero rake": {0, 30, 300}, "NaN": {math.NaN(), 30, 300}, "no wheel": {24, 30, 0}, "far offset": {24, 900, 300},
	} {
		_, err := s.Trail()
		refused(t, name, err)
	}
	_, err := Stance{}.After(Move{})
	refused(t, "empty stance", err)
	_, err = baseline.After(Move{ForkRaised: math.Inf(1)})
	refused(t, "endless fork", err)
	arm := baseline
	arm.Swingarm, arm.SwingarmDecline = 150, 40
	_, err = arm.After(Move{RearRaised: 100})
	refused(t, "short swingarm", err)
	_, err = OffsetFor(24, 300, 5000)
	refused(t, "trail of metres", err)
	_, err = RakeOfHead(0)
	refused(t, "flat head", err)
	_, err = LoadOfIndex(200)
	refused(t, "load index", err)
}

// Offset and trail invert each other; trail grows with rake and radius and
// shrinks with offset.
func TestTrailInvertsAndIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Steering{rapid.Float64Range(15, 40).Draw(t, "rake"), rapid.Float64Range(0, 80).Draw(t, "offset"), rapid.Float64Range(200, 380).Draw(t, "radius")}
		here, err := s.Trail()
		if err != nil {
			t.Fatal(err)
		}
		d, err := OffsetFor(s.Rake, s.Radius, here.Ground)
		if err != nil || math.Abs(d-s.Offset) > 1e-9 {
			t.Fatalf("offset %v came back as %v, %v", s.Offset, d, err)
		}
		for name, more := range map[string]Steering{"rake": {s.Rake + 0.5, s.Offset, s.Radius}, "radius": {s.Rake, s.Offset, s.Radius + 1}, "offset": {s.Rake, s.Offset - 1, s.Radius}} {
			if there, err := more.Trail(); err != nil || there.Ground <= here.Ground {
				t.Fatalf("%s: trail went from %v to %v, %v", name, here.Ground, there.Ground, err)
			}
		}
	})
}

// A move and then its opposite lead home; the constraint that the axles keep
// their distance in the frame holds for a tyre change.
func TestMovesLeadHome(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := baseline
		s.Swingarm, s.SwingarmDecline = 580, rapid.Float64Range(0, 15).Draw(t, "decline")
		s.FrontShare, s.CentreHeight = 50, 600
		m := Move{FrontRadius: 299.9 + rapid.Float64Range(-10, 10).Draw(t, "front"), RearRadius: 314.9 + rapid.Float64Range(-10, 10).Draw(t, "rear")}
		there, err := s.After(m)
		if err != nil {
			t.Fatal(err)
		}
		home, err := there.Stance.After(Move{FrontRadius: s.FrontRadius, RearRadius: s.RearRadius})
		if err != nil || math.Abs(home.Rake-s.Rake) > 1e-6 || math.Abs(home.Wheelbase-s.Wheelbase) > 1e-6 || math.Abs(home.FrontShare-50) > 1e-6 {
			t.Fatalf("home at %+v, %v", home, err)
		}
		h := rapid.Float64Range(0.1, 20).Draw(t, "fork")
		up, err := s.After(Move{ForkRaised: h})
		if err != nil || up.Rake >= s.Rake || up.DTrail >= 0 || up.Wheelbase >= s.Wheelbase || up.DFrontShare <= 0 {
			t.Fatalf("fork up %v: %+v, %v", h, up, err)
		}
	})
}
