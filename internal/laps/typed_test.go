package laps

import (
	"math"
	"testing"
)

func TestParseTime(t *testing.T) {
	for in, want := range map[string]float64{
		"1:52.4": 112.4, "52.4": 52.4, "112.4": 112.4, "1:52,4": 112.4, "52,415": 52.415,
		"1'52\"4": 112.4, "1m52.4s": 112.4, "1 52 4": 112.4, "1.52.4": 112.4, "1 52": 112,
		"52 4": 52.4, "one fifty-two point four": 112.4, "One fifty two four": 112.4,
		"1 minute 52.4 seconds": 112.4, "two oh": 0, "0:01:52.4": 112.4, " 1:02.045 ": 62.045,
		"1 min and 3 sec": 63, "2:00": 120, "forty-eight point nine": 48.9,
	} {
		got, err := ParseTime(in)
		if want == 0 {
			if err == nil {
				t.Errorf("ParseTime(%q) = %v, want a refusal", in, got)
			}
			continue
		}
		if err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("ParseTime(%q) = %v, %v; want %v", in, got, err, want)
		}
	}
	for _, in := range []string{"", "fast", "1:72.4", "1.52", "9", "1:2:3:4:5", "-", ":", "4000", "1:52.4x", "99999999999999999999", "1:523"} {
		if got, err := ParseTime(in); err == nil {
			t.Errorf("ParseTime(%q) = %v, want a refusal", in, got)
		}
	}
}

func TestParseKeyed(t *testing.T) {
	for in, want := range map[string]float64{
		"1524": 112.4, "15243": 112.43, "152431": 112.431, "524": 52.4, "58": 58, "1:52.4": 112.4, "1 52 4": 112.4, "1720": 0, "1524319": 0, "": 0,
	} {
		got, err := ParseKeyed(in)
		if (err != nil) != (want == 0) || math.Abs(got-want) > 1e-9 {
			t.Errorf("ParseKeyed(%q) = %v, %v; want %v", in, got, err, want)
		}
	}
}

func FuzzParseTime(f *testing.F) {
	for _, s := range []string{"1:52.4", "one fifty-two", "1'52\"4", "::", ". .", "52,4"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := ParseTime(s)
		if err == nil && !(got >= ShortestLap && got <= LongestLap) {
			t.Fatalf("ParseTime(%q) = %v, outside its range", s, got)
		}
		if err != nil && err.Error() == "" {
			t.Fatal("refused without a sentence")
		}
	})
}
