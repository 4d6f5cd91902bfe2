package sheet_test

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"plumbline/internal/sheet"
	"plumbline/internal/unit"
)

func whole(n int) *unit.Fixed {
	f := unit.Whole(n)
	return &f
}

var small = sheet.Sheet{
	Made: "12 Sep 2026 14:05", Bike: sheet.Bike{Name: "Heron", Year: 2009},
	Settings: []sheet.Setting{{ID: "rear.rebound", Name: "Rear rebound", At: "9 clicks out", Standing: "counted", N: whole(9)}},
	Symptoms: []sheet.Row{{Title: "front washes wide", Says: "every lap", When: "12 Sep"}},
}

func TestPartsComeTogetherInAnyOrder(t *testing.T) {
	parts, err := sheet.Encode(small, 60)
	if err != nil {
		t.Fatal(err)
	}
	if len(parts) < 3 {
		t.Fatalf("%d parts, want several for this test", len(parts))
	}
	slices.Reverse(parts)
	got, missing, err := sheet.Decode(append(parts, parts[0]))
	if err != nil || missing != nil || !reflect.DeepEqual(*got, small) {
		t.Errorf("got %+v, missing %v, %v", got, missing, err)
	}
	_, missing, err = sheet.Decode(parts[1:])
	if err != nil || !slices.Equal(missing, []int{len(parts)}) {
		t.Errorf("without the last part: missing %v, %v", missing, err)
	}
	for _, p := range parts {
		if len(p) > 60 {
			t.Errorf("a part of %d characters, asked for 60", len(p))
		}
		if strings.Trim(p, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ$*+-./:") != "" {
			t.Errorf("part %q has a character that codes do not pack", p)
		}
	}
}

func TestEverySheetComesThrough(t *testing.T) {
	text := rapid.StringOfN(rapid.RuneFrom([]rune("abc äß→\"\\<>&\n九")), 0, 30, -1)
	rapid.Check(t, func(t *rapid.T) {
		want := sheet.Sheet{Made: text.Draw(t, "made"), Rider: text.Draw(t, "rider"), Settings: []sheet.Setting{}}
		for range rapid.IntRange(0, 20).Draw(t, "settings") {
			n := unit.Fixed(rapid.Int64Range(-1e9, 1e9).Draw(t, "n"))
			want.Settings = append(want.Settings, sheet.Setting{ID: text.Draw(t, "id"), At: text.Draw(t, "at"), N: &n})
		}
		parts, err := sheet.Encode(want, rapid.IntRange(300, 2000).Draw(t, "most"))
		if err != nil {
			t.Fatal(err)
		}
		got, missing, err := sheet.Decode(rapid.Permutation(parts).Draw(t, "scanned"))
		if err != nil || missing != nil || !reflect.DeepEqual(*got, want) {
			t.Fatalf("got %+v, missing %v, %v", got, missing, err)
		}
	})
}

// An independent reading, by the words of the package comment: base 41 with a
// plain polynomial, and flate by itself.
func TestCodeIsAsItsCommentSays(t *testing.T) {
	parts, err := sheet.Encode(small, 4000)
	if err != nil || len(parts) != 1 {
		t.Fatalf("%d parts, %v", len(parts), err)
	}
	fields := strings.SplitN(parts[0], ".", 5)
	var packed []byte
	const digits = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ$*+-:"
	for code := fields[4]; code != ""; {
		n, place := 0, 1
		take := min(3, len(code))
		for _, c := range code[:take] {
			n += place * strings.IndexRune(digits, c)
			place *= 41
		}
		if take == 3 {
			packed = append(packed, byte(n/256))
		}
		packed = append(packed, byte(n%256))
		code = code[take:]
	}
	dictionary, err := os.ReadFile("dictionary1.txt")
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(flate.NewReaderDict(bytes.NewReader(packed), dictionary))
	if err != nil {
		t.Fatal(err)
	}
	var got sheet.Sheet
	if err := json.Unmarshal(text, &got); err != nil || !reflect.DeepEqual(got, small) {
		t.Errorf("got %s, %v", text, err)
	}
}

// A code that was once on paper must be read for ever, so the dictionary of
// version 1 never changes, and neither does what this code says.
func TestVersionOneIsFrozen(t *testing.T) {
	dictionary, err := os.ReadFile("dictionary1.txt")
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(dictionary)
	if got := hex.EncodeToString(sum[:]); got != frozenDictionary {
		t.Errorf("dictionary1.txt has the hash %s; a change of it needs a version 2", got)
	}
	got, missing, err := sheet.Decode([]string{frozenCode})
	if err != nil || missing != nil || !reflect.DeepEqual(*got, small) {
		t.Errorf("got %+v, missing %v, %v", got, missing, err)
	}
}

func TestWrongCodes(t *testing.T) {
	parts, err := sheet.Encode(small, 4000)
	if err != nil {
		t.Fatal(err)
	}
	good := parts[0]
	for _, c := range []struct {
		why, code string
		want      error
	}{
		{"nothing", "", sheet.ErrNotASheet},
		{"another code", "HTTPS://SOMEWHERE.EXAMPLE", sheet.ErrNotASheet},
		{"a newer version", "2" + good[1:], sheet.ErrNewer},
		{"version nought", "0" + good[1:], sheet.ErrNotASheet},
		{"part 2 of 1", strings.Replace(good, ".1.1.", ".2.1.", 1), sheet.ErrNotASheet},
		{"41 parts", strings.Replace(good, ".1.1.", ".1.41.", 1), sheet.ErrNotASheet},
		{"a lost character", good[:len(good)-1], sheet.ErrDamaged},
		{"small letters", strings.ToLower(good), sheet.ErrDamaged},
		{"swapped tag", good[:2] + "00000000" + good[10:], sheet.ErrDamaged},
	} {
		t.Run(c.why, func(t *testing.T) {
			if s, _, err := sheet.Decode([]string{c.code}); !errors.Is(err, c.want) {
				t.Errorf("got %+v, %v; want %v", s, err, c.want)
			}
		})
	}
}

func TestTooLongIsRefused(t *testing.T) {
	if _, err := sheet.Encode(small, 18); !errors.Is(err, sheet.ErrTooLong) {
		t.Errorf("parts of 18 characters: %v", err)
	}
	long := sheet.Sheet{Made: strings.Repeat("x", 70_000)}
	if _, err := sheet.Encode(long, 2000); !errors.Is(err, sheet.ErrTooLong) {
		t.Errorf("a sheet of 70 kB: %v", err)
	}
}

func FuzzDecode(f *testing.F) {
	parts, err := sheet.Encode(small, 100)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(strings.Join(parts, "\n"))
	f.Add(frozenCode)
	f.Fuzz(func(t *testing.T, text string) {
		s, missing, err := sheet.Decode(strings.Split(text, "\n"))
		if (s == nil) != (err != nil || missing != nil) {
			t.Fatalf("sheet %v, missing %v, %v", s, missing, err)
		}
		if s == nil {
			return
		}
		again, err := sheet.Encode(*s, 4000)
		if err != nil {
			t.Fatal(err)
		}
		if got, _, err := sheet.Decode(again); err != nil || !reflect.DeepEqual(got, s) {
			t.Fatalf("written again it reads %+v, %v", got, err)
		}
	})
}

func TestCompareMarksWhatDiffers(t *testing.T) {
	at := func(id, words string, n *unit.Fixed) sheet.Setting {
		return sheet.Setting{ID: id, Name: id, At: words, N: n}
	}
	a := sheet.Sheet{Settings: []sheet.Setting{
		at("same", "30.0 psi", whole(207)), at("moved", "9 clicks", whole(9)), at("unknown", "not known", nil), at("only-a", "1", whole(1)), at("neither", "not known", nil),
	}}
	b := sheet.Sheet{Settings: []sheet.Setting{
		at("only-b", "2", whole(2)), at("unknown", "3", whole(3)), at("moved", "8 clicks", whole(8)), at("same", "2.07 bar", whole(207)), at("neither", "not known", nil),
	}}
	want := []sheet.Pair{
		{"same", "same", "30.0 psi", "2.07 bar", false}, {"moved", "moved", "9 clicks", "8 clicks", true},
		{"unknown", "unknown", "not known", "3", true}, {"only-a", "only-a", "1", "", true},
		{"neither", "neither", "not known", "not known", false}, {"only-b", "only-b", "", "2", true},
	}
	if got := sheet.Compare(a, b); !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
}
