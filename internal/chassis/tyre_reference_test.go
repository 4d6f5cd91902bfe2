package chassis

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

const psi = 6.894757293168 // kPa, NIST SP 811 (2008), B.8

func celsius(f float64) float64 { return (f - 32) / 1.8 }

func TestPressureReference(t *testing.T) {
	in := func(unit float64, gauge, ambient, from, to float64) func() (float64, error) {
		p, err := PressureAt(gauge*unit, Air{ambient * unit, from}, Air{ambient * unit, to})
		return plain(p/unit, err)
	}
	gain := func(gauge float64) func() (float64, error) {
		p, err := PressureAt(gauge*psi, Air{14.696 * psi, celsius(70)}, Air{14.696 * psi, celsius(80)})
		return plain(p/psi-gauge, err)
	}
	high, errHigh := StandardAtmosphere(1000)
	risen, errRisen := PressureAt(210, Air{101.325, 20}, Air{high.Pressure, 20})
	const example = "worked example on a riders' mailing list, July 2002, prints 18.7 and 23.9"
	const rule = "a tyre maker's rule, 1 psi for 10 °F; numbers derived"
	check(t, []row{
		{"C7.1 cooled", in(psi, 20, 14.7, celsius(70), celsius(50)), 18.69057, 0.005, example},
		{"C7.1 heated", in(psi, 20, 14.7, celsius(70), celsius(130)), 23.9283, 0.005, example},
		{"C7.1 cooled as printed", in(psi, 20, 14.7, celsius(70), celsius(50)), 18.7, 0.05, example},
		{"C7.1 heated as printed", in(psi, 20, 14.7, celsius(70), celsius(130)), 23.9, 0.05, example},
		{"C7.2", in(psi, 33, 14.696, 15, 70), 42.10387, 0.005, "gas law, derived; scaling the gauge would give 39.3"},
		{"C7.3 24", gain(24), 0.7305681, 0.001, rule},
		{"C7.3 30", gain(30), 0.8438462, 0.001, rule},
		{"C7.3 38", gain(38), 0.9948836, 0.001, rule},
		{"C7.4", in(100, 2.1, 1.01325, 20, 75), 2.684099, 0.0005, "gas law, derived"},
		{"C7.5", in(100, 2.4, 1.01325, 80, 15), 1.771765, 0.0005, "gas law, derived"},
		{"C7.11", plain(risen/100, firstOf(errHigh, errRisen)), 2.214504, 0.0005, "gas law and ISO 2533, derived"},
		{"fit of one exact pair", value(func(c ColdFor) float64 { return c.Cold })(ColdPressure([]HotPair{{177.1765, 240, 15}}, 240, 15, 101.325)), 177.1765, 1e-6, "C7.5 the other way round"},
	})
}

func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func TestAtmosphereReference(t *testing.T) {
	geometric, err := Geopotential(1000)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []struct {
		id              string
		altitude        float64
		kelvin, pa, rho float64
	}{
		{"C7.6", 0, 288.15, 101325, 1.225},
		{"C7.7", 500, 284.9, 95460.835, 1.1672688},
		{"C7.8", 1000, 281.65, 89874.563, 1.1116425},
		{"C7.9", 2000, 275.15, 79495.202, 1.0064901},
		{"C7.10", geometric, 281.65102, 89876.278, 1.1116597},
	} {
		a, err := StandardAtmosphere(r.altitude)
		const table = "ISO 2533:1975 / ICAO Doc 7488 (from memory), recomputed"
		check(t, []row{
			{r.id + " T", plain(a.Temperature+273.15, err), r.kelvin, 0.001, table},
			{r.id + " p", plain(1000*a.Pressure, err), r.pa, 0.5, table},
			{r.id + " rho", plain(a.Density, err), r.rho, 1e-5, table},
		})
	}
}

func TestColdPressureLearns(t *testing.T) {
	pairs := []HotPair{{190, 235, 20}, {190, 230, 20}, {200, 245, 20}}
	c, err := ColdPressure(pairs, 240, 20, 101.325)
	// By hand: filling temperatures 338.43, 333.40 and 336.93 K, mean
	// 336.25, deviation 2.583; t(0.975, 2) = 4.303.
	check(t, []row{
		{"cold", plain(c.Cold, err), 196.246, 0.01, "by hand from the formula"},
		{"hot at", plain(c.HotAt, err), 63.10, 0.01, "by hand from the formula"},
		{"half", plain(c.Half, err), 4.303 * 2.583 * math.Sqrt(4.0/3) / 336.25 * 341.325 * 293.15 / 336.25, 0.01, "Student's t with 2 degrees of freedom, by hand"},
	})
	more, err := ColdPressure(append(pairs, pairs...), 240, 20, 101.325)
	if err != nil || more.Half >= c.Half || math.Abs(more.Cold-c.Cold) > 1e-9 {
		t.Errorf("with twice the pairs %+v, %v; before %+v", more, err, c)
	}
	one, err := ColdPressure(pairs[:1], 240, 20, 101.325)
	if err != nil || one.Half != 0 {
		t.Errorf("one pair has an interval: %+v, %v", one, err)
	}
	check(t, []row{
		{"t, 1", plain(studentT975(1), nil), 12.706, 1e-3, "NIST/SEMATECH e-Handbook 1.3.6.7.2 (from memory)"},
		{"t, 31", plain(studentT975(31), nil), 2.0395134, 1e-4, "SciPy 1.10, stats.t.ppf"},
		{"t, 40", plain(studentT975(40), nil), 2.021, 2e-3, "NIST/SEMATECH e-Handbook 1.3.6.7.2 (from memory)"},
		{"t, 60", plain(studentT975(60), nil), 2.0002978, 1e-4, "SciPy 1.10, stats.t.ppf"},
		{"t, 100", plain(studentT975(100), nil), 1.984, 1e-3, "NIST/SEMATECH e-Handbook 1.3.6.7.2 (from memory)"},
	})
}

func TestTyresRefuse(t *testing.T) {
	sea := Air{101.325, 20}
	for name, call := range map[string]func() error{
		"negative pressure":  func() error { _, err := PressureAt(-10, sea, sea); return err },
		"no pressure left":   func() error { _, err := PressureAt(5, Air{101.325, 100}, sea); return err },
		"NaN":                func() error { _, err := PressureAt(math.NaN(), sea, sea); return err },
		"absolute zero":      func() error { _, err := PressureAt(200, sea, Air{101.325, -273.15}); return err },
		"no air around":      func() error { _, err := PressureAt(200, Air{0, 20}, sea); return err },
		"stratosphere":       func() error { _, err := StandardAtmosphere(20000); return err },
		"geometric NaN":      func() error { _, err := Geopotential(math.NaN()); return err },
		"no pairs":           func() error { _, err := ColdPressure(nil, 240, 20, 101.325); return err },
		"hot below cold":     func() error { _, err := ColdPressure([]HotPair{{230, 190, 20}}, 240, 20, 101.325); return err },
		"colder than today":  func() error { _, err := ColdPressure([]HotPair{{190, 191, -20}}, 240, 40, 101.325); return err },
		"frozen tread":       func() error { _, err := TreadFrom(-100, 60, 60); return err },
		"cool above hot":     func() error { _, err := HeatCycles([]float64{20}, 40, 60); return err },
		"week 55":            func() error { _, err := ParseTyreDate("5514"); return err },
		"week 0":             func() error { _, err := ParseTyreDate("0014"); return err },
		"no digits":          func() error { _, err := ParseTyreDate("DOT"); return err },
		"two digits":         func() error { _, err := ParseTyreDate("14"); return err },
		"letters at the end": func() error { _, err := ParseTyreDate("2714AB"); return err },
		"week to come":       func() error { _, err := TyreDate{27, 2030, 0}.Age(day(2026, 11, 25)); return err },
		"decade unknown":     func() error { _, err := TyreDate{3, 0, 9}.Age(day(2026, 11, 25)); return err },
	} {
		refused(t, name, call())
	}
}

func day(year int, month time.Month, d int) time.Time {
	return time.Date(year, month, d, 0, 0, 0, 0, time.UTC)
}

func TestTyreDate(t *testing.T) {
	for code, want := range map[string]TyreDate{
		"XXXXXXX2714":        {27, 2014, 4}, // C12.1, a page quoting a tyre seller
		"2714":               {27, 2014, 4},
		"DOT AB3C XY7 27 14": {27, 2014, 4},
		"27/14":              {27, 2014, 4},
		"039":                {3, 0, 9}, // C12.2, an owners' site: third week of a year in 9
		"DOT XYZ 039":        {3, 0, 9},
		"5320":               {53, 2020, 0},
	} {
		if got, err := ParseTyreDate(code); err != nil || got != want {
			t.Errorf("%q reads %+v, %v; want %+v", code, got, err, want)
		}
	}
	// ISO 8601: week 27 of 2014 begins on Monday 30 June 2014; week 1 of 2021
	// on 4 January 2021.
	for _, r := range []struct {
		d      TyreDate
		monday time.Time
	}{{TyreDate{27, 2014, 4}, day(2014, 6, 30)}, {TyreDate{1, 2021, 1}, day(2021, 1, 4)}, {TyreDate{1, 2020, 0}, day(2019, 12, 30)}} {
		years, err := r.d.Age(r.monday.AddDate(0, 0, 365))
		if err != nil || math.Abs(years-365/365.25) > 1e-9 {
			t.Errorf("%+v is %v years old a year after %v, %v", r.d, years, r.monday, err)
		}
	}
}

func TestTreadAndCycles(t *testing.T) {
	tread, err := TreadFrom(72, 86, 70)
	if err != nil || tread.Middle != 15 || tread.Inside != 2 || tread.Spread != 16 || tread.Mean != 76 {
		t.Errorf("tread is %+v, %v", tread, err)
	}
	n, err := HeatCycles([]float64{20, 75, 70, 50, 80, 30, 65, 34, 61}, 60, 35)
	if err != nil || n != 3 {
		t.Errorf("%d cycles, %v; want 3: the dip to 50 °C is none", n, err)
	}
}

// There and back leads home; hotter means more; thinner air means more.
func TestPressureInvertsAndIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(100, 400).Draw(t, "gauge")
		from := Air{rapid.Float64Range(80, 105).Draw(t, "pa"), rapid.Float64Range(-10, 40).Draw(t, "from")}
		to := Air{rapid.Float64Range(80, 105).Draw(t, "pa2"), rapid.Float64Range(0, 100).Draw(t, "to")}
		there, err := PressureAt(p, from, to)
		if err != nil {
			t.Fatal(err)
		}
		if home, err := PressureAt(there, to, from); err != nil || math.Abs(home-p) > 1e-9 {
			t.Fatalf("%v came back as %v, %v", p, home, err)
		}
		if hot, err := PressureAt(p, from, Air{to.Ambient, to.Temperature + 1}); err != nil || hot <= there {
			t.Fatalf("hotter reads %v, before %v, %v", hot, there, err)
		}
		if high, err := PressureAt(p, from, Air{to.Ambient - 1, to.Temperature}); err != nil || high <= there {
			t.Fatalf("higher reads %v, before %v, %v", high, there, err)
		}
	})
	last := math.Inf(1)
	for h := -1000.0; h <= 11000; h += 250 {
		a, err := StandardAtmosphere(h)
		if err != nil || a.Pressure >= last {
			t.Fatalf("at %v m: %+v, %v", h, a, err)
		}
		last = a.Pressure
	}
}
