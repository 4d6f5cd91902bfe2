package unit

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"
)

func TestParseFixed(t *testing.T) {
	rows := []struct {
		in   string
		want Fixed
		ok   bool
	}{
		{"9.5", 9500, true},
		{"-0.25", -250, true},
		{"206.843", 206843, true},
		{"0", 0, true},
		{"1.2345", 0, false},
		{"1e3", 0, false},
		{"", 0, false},
		{"-", 0, false},
		{".5", 0, false},
		{"5.", 0, false},
		{"1234567890", 0, false},
	}
	for _, r := range rows {
		got, err := ParseFixed(r.in)
		if got != r.want || (err == nil) != r.ok {
			t.Errorf("ParseFixed(%q) = %v, %v; want %v, ok %v", r.in, got, err, r.want, r.ok)
		}
	}
}

func TestFixedRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Fixed(rapid.Int64Range(-999_999_999_999, 999_999_999_999).Draw(t, "f"))
		b, err := json.Marshal(f)
		if err != nil {
			t.Fatal(err)
		}
		var back Fixed
		if err := json.Unmarshal(b, &back); err != nil || back != f {
			t.Fatalf("%d went out as %s and came back as %d, %v", f, b, back, err)
		}
	})
}

func TestFixedOf(t *testing.T) {
	for in, want := range map[float64]Fixed{2.0005: 2001, -2.0005: -2001, 0: 0} {
		if got, ok := FixedOf(in); got != want || !ok {
			t.Errorf("FixedOf(%v) = %v, %v; want %v", in, got, ok, want)
		}
	}
	if _, ok := FixedOf(1e12); ok {
		t.Error("FixedOf(1e12) was taken")
	}
}
