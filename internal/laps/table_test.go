package laps

import (
	"math"
	"strings"
	"testing"
)

func TestReadTable(t *testing.T) {
	for name, k := range map[string]struct {
		text string
		want []float64
		bad  int
	}{
		"commas and a heading":    {"Lap,Time,Speed\n1,1:52.4,201\n2,1:51.9,203\n", []float64{112.4, 111.9}, 0},
		"semicolons and commas":   {"Runde;Zeit;v\r\n1;1:52,4;201,5\r\n2;1:51,9;203\r\n", []float64{112.4, 111.9}, 0},
		"quoted decimal commas":   {"\"1\",\"1:52,4\"\n\"2\",\"1:51,9\"\n", []float64{112.4, 111.9}, 0},
		"tabs, no heading":        {"1\t98.412\n2\t98.105\n", []float64{98.412, 98.105}, 0},
		"a bare list":             {"1:52,4\n1:51,9\n\nlunch\n1:52.0\n", []float64{112.4, 111.9, 112}, 1},
		"a bad row is kept":       {"lap;time\n1;1:52.4\n2;DNF\n3;\n4;1:53.0\n", []float64{112.4, 113}, 2},
		"twelve and more laps":    {"10,98.4\n11,98.5\n12,98.6\n13,98.1\n", []float64{98.4, 98.5, 98.6, 98.1}, 0},
		"nothing in it":           {"", nil, 0},
		"a letter to the steward": {"Dear sir,\nthe laps, alas, are lost.\n", nil, 2},
	} {
		got := ReadTable(k.text, nil)
		if len(got.Rows) != len(k.want) {
			t.Errorf("%s: rows %+v, bad %+v; want %v", name, got.Rows, got.Bad, k.want)
			continue
		}
		for i, r := range got.Rows {
			if math.Abs(r.Seconds-k.want[i]) > 1e-9 {
				t.Errorf("%s: lap %d is %v, want %v", name, i, r.Seconds, k.want[i])
			}
		}
		if name != "a letter to the steward" && len(got.Bad) != k.bad {
			t.Errorf("%s: bad rows %+v, want %d", name, got.Bad, k.bad)
		}
	}
}

func TestReadTableTakesTheRidersColumns(t *testing.T) {
	got := ReadTable("time,best\n1:52.4,1:50.0\n", &Columns{Time: 1, Lap: -1, Session: -1})
	if len(got.Rows) != 1 || got.Rows[0].Seconds != 110 {
		t.Errorf("rows %+v, want the second column", got.Rows)
	}
}

func FuzzReadTable(f *testing.F) {
	for _, s := range []string{"Lap,Time\n1,1:52.4\n", "1;1:52,4\r\n2;x", "\"1,\"\"\n", "\ufeff\t|\n|"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := ReadTable(s, nil)
		lines := 0
		for _, l := range strings.FieldsFunc(strings.TrimPrefix(strings.ToValidUTF8(s, "�"), "\ufeff"), func(r rune) bool { return r == '\n' || r == '\r' }) {
			if strings.TrimSpace(l) != "" {
				lines++
			}
		}
		seen := len(got.Rows) + len(got.Bad)
		if got.Names != nil {
			seen++
		}
		if seen != lines {
			t.Fatalf("%d lines went in, %d came out", lines, seen)
		}
	})
}
