package unit

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParse(t *testing.T) {
	rows := []struct {
		in     string
		kind   Kind
		want   float64
		within float64
		source string
	}{
		{"95kg", Mass, 95, 0, "canonical"},
		{"209.4 lb", Mass, 94.98224, 1e-5, "NIST SP 811 B.8: 1 lb = 0.45359237 kg"},
		{"10.0kgf/mm", Rate, 98.0665, 1e-9, "NIST SP 811 B.8: 1 kgf = 9.80665 N"},
		{"1lbf/in", Rate, 0.175126835, 1e-9, "NIST SP 811 B.8"},
		{"36psi", Pressure, 248.2113, 1e-4, "NIST SP 811 B.8: 1 psi = 6.894757 kPa"},
		{"2,1bar", Pressure, 210, 1e-9, "1 bar = 100 kPa"},
		{"30mm", Length, 30, 0, "canonical"},
		{"5/8in", Length, 15.875, 1e-12, "1 in = 25.4 mm"},
		{"24deg", Angle, 24, 0, "canonical"},
		{"24°30'", Angle, 24.5, 1e-12, "60 minutes are a degree"},
		{"70F", Temperature, 21.11111, 1e-5, "NIST SP 811: (t-32)/1.8"},
		{"0K", Temperature, -273.15, 1e-9, "NIST SP 811"},
		{"11.85e6psi", Stress, 81702.87, 0.01, "NIST SP 811 B.8, psi"},
		{"100mph", Speed, 160.9344, 1e-9, "1 mile = 1609.344 m"},
		{"10000rpm", Turning, 10000, 0, "canonical"},
		{"−5mm", Length, -5, 0, "typographic minus"},
		{"1 lbf·ft", Torque, 1.355818, 1e-6, "NIST SP 811 B.8: pound-force foot"},
		{"1 ft-lb", Torque, 1.355818, 1e-6, "NIST SP 811 B.8: foot pound-force"},
		{"1kgf-m", Torque, 9.80665, 1e-9, "NIST SP 811 B.8"},
		{"1 lbf·in", Torque, 0.1129848, 1e-7, "NIST SP 811 B.8: pound-force inch"},
		{"1PS", Power, 0.7354988, 1e-7, "NIST SP 811 B.8: horsepower (metric)"},
		{"1hp", Power, 0.7456999, 1e-7, "NIST SP 811 B.8: horsepower (550 ft lbf/s)"},
		{"1inHg", Pressure, 3.386388640341, 1e-12, "conventional inch of mercury, 13 595.1 kg/m³ × 9.80665 m/s² × 25.4 mm, exact; NIST SP 811 B.8 prints 3.386389"},
		{"760mmHg", Pressure, 101.3250144354, 1e-10, "conventional millimetre of mercury, exact; NIST SP 811 B.8 prints 0.1333224"},
		{"2.1 kgf/cm²", Pressure, 205.93965, 1e-9, "NIST SP 811 B.8: 1 kgf/cm² = 98.0665 kPa"},
		{"2in²", Area, 1290.32, 1e-9, "1 in = 25.4 mm"},
		{"300cm3", Volume, 300, 0, "canonical, without the raised figure"},
		{"1 3/8in", Length, 34.925, 1e-12, "11 eighths of 25.4 mm, as an inch tape is read"},
		{"22 5/16″", Length, 566.7375, 1e-12, "357 sixteenths of 25.4 mm"},
		{"−1½in", Length, -38.1, 1e-12, "3 halves of 25.4 mm"},
		{"¾in", Length, 19.05, 1e-12, "3 quarters of 25.4 mm"},
		{"1 fl oz", Volume, 29.57353, 1e-5, "NIST SP 811 B.8: fluid ounce (U.S.)"},
		{"1oz", Mass, 0.02834952, 1e-8, "NIST SP 811 B.8: ounce (avoirdupois)"},
		{"4.6N/mm", Rate, 0.4690695 * 9.80665, 1e-6, "C4.8: 4.6 N/mm is 0.4690695 kgf/mm"},
		{"319.7683 lbf/in", Rate, 56, 2e-5, "C4.9: 56 N/mm is 319.7683 lbf/in"},
		{"55.9974146lbf/in", Rate, 9.80665, 1e-8, "C4.10: 1 kgf/mm is 55.9974146 lbf/in"},
		{"9,5", Number, 9.5, 0, "decimal comma"},
	}
	for _, r := range rows {
		q, err := Parse(r.in, r.kind)
		if err != nil || math.Abs(q.Value-r.want) > r.within {
			t.Errorf("Parse(%q, %s) = %v, %v; want %v within %v (%s)", r.in, r.kind, q.Value, err, r.want, r.within, r.source)
		}
	}
}

func TestParseReading(t *testing.T) {
	for in, want := range map[string]Quantity{
		"30±1mm":      {30, 1, "mm"},
		"30mm±1":      {30, 1, "mm"},
		"1in±1mm":     {25.4, 1, "in"},
		"30 +- 0,5":   {30, 0.5, ""},
		"3±0.1cm":     {30, 1, "cm"},
		"30mm ± 0.05": {30, 0.05, "mm"},
	} {
		if q, err := Parse(in, Length); err != nil || math.Abs(q.Value-want.Value) > 1e-9 || math.Abs(q.Reading-want.Reading) > 1e-9 || q.Typed != want.Typed {
			t.Errorf("Parse(%q) = %+v, %v; want %+v", in, q, err, want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	rows := []struct {
		in    string
		kind  Kind
		words string
	}{
		{"", Length, "nothing"},
		{"abc", Length, "not a number"},
		{"NaN", Length, "not a number"},
		{"Inf", Length, "not a number"},
		{"1e999", Length, "not a number"},
		{"1,234.5", Length, "comma and a point"},
		{"30kg", Length, "not a unit of length"},
		{"5/0in", Length, "divided by 0"},
		{"30±xmm", Length, "after the ±"},
		{strings.Repeat("9", 65), Number, "too long"},
		{"3mm", Number, "plain number"},
		{"1 200mm", Length, "not a unit of length"},
		{"1 9/8in", Length, "not a unit of length"},
		{"1.5 3/8in", Length, "not a unit of length"},
	}
	for _, r := range rows {
		if _, err := Parse(r.in, r.kind); err == nil || !strings.Contains(err.Error(), r.words) {
			t.Errorf("Parse(%q, %s) says %v; want words %q", r.in, r.kind, err, r.words)
		}
	}
}

func TestParseList(t *testing.T) {
	rows := []struct {
		in   string
		want []float64
	}{
		{"0.85,0.45,0.25", []float64{0.85, 0.45, 0.25}},
		{"0,85;0,45;0,25", []float64{0.85, 0.45, 0.25}},
		{"500, 466, 472mm", []float64{500, 466, 472}},
		{"1;2in", []float64{25.4, 50.8}},
		{"7", []float64{7}},
	}
	for _, r := range rows {
		got, err := ParseList(r.in, Length)
		if err != nil || len(got) != len(r.want) {
			t.Errorf("ParseList(%q) = %v, %v", r.in, got, err)
			continue
		}
		for i := range got {
			if math.Abs(got[i].Value-r.want[i]) > 1e-9 {
				t.Errorf("ParseList(%q)[%d] = %v, want %v", r.in, i, got[i].Value, r.want[i])
			}
		}
	}
	for _, bad := range []string{"", ",", "1,,2", "1mm,2,3", "1;x"} {
		if got, err := ParseList(bad, Length); err == nil {
			t.Errorf("ParseList(%q) = %v; want a refusal", bad, got)
		}
	}
}

// Every unit of every kind converts back to what it was.
func TestUnitsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "v")
		for kind, all := range measures {
			for _, m := range all {
				c, ok := kind.ToCanonical(v, m.Name)
				back, ok2 := kind.FromCanonical(c, m.Name)
				if !ok || !ok2 || math.Abs(back-v) > 1e-6*math.Max(1, math.Abs(v)) {
					t.Fatalf("%s %q: %v went to %v and came back as %v", kind, m.Name, v, c, back)
				}
			}
		}
	})
}

func TestFirstMeasureIsCanonical(t *testing.T) {
	for kind, all := range measures {
		if all[0].Factor != 1 || all[0].Offset != 0 {
			t.Errorf("%s: %+v stands first but is not canonical", kind, all[0])
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"95kg", "10.0kgf/mm", "24°30'", "5/8in", "30±1mm", "0,85;0,45", "1e6", "-", "±", "1/", "9e", "''"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for kind := range measures {
			if q, err := Parse(s, kind); err == nil && !finite(q) {
				t.Errorf("Parse(%q, %s) = %+v", s, kind, q)
			}
			list, err := ParseList(s, kind)
			for _, q := range list {
				if err == nil && !finite(q) {
					t.Errorf("ParseList(%q, %s) has %+v", s, kind, q)
				}
			}
		}
	})
}

func finite(q Quantity) bool {
	return math.Abs(q.Value) < 1e20 && q.Reading >= 0 && q.Reading < 1e20
}
