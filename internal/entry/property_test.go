package entry

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// anyChains draws the entries of two devices that see each other now and then
// and whose wall clocks jump as they like. AtEnd may let one of them come to
// the end of what a clock can claim.
func anyChains(r *rapid.T, t testing.TB, atEnd bool) []Entry {
	pens := []*Pen{{Book: bookX, Device: phone}, {Book: bookX, Device: tower}}
	if atEnd && rapid.Bool().Draw(r, "a clock at its end") {
		pens[0].at = lastClaim - Clock(rapid.IntRange(1, 4).Draw(r, "before the end"))
	}
	var all []Entry
	for range rapid.IntRange(0, 20).Draw(r, "entries") {
		p := rapid.SampledFrom(pens).Draw(r, "pen")
		if rapid.Bool().Draw(r, "sees all") {
			for _, e := range InOrder(all) {
				p.See(e)
			}
		}
		wall := time.UnixMilli(rapid.Int64Range(-1e12, 1e13).Draw(r, "wall")).In(noon.Location())
		if wall.Year() > 9999 || wall.Year() < 0 {
			continue
		}
		e := mustWrite(t, p, "change", fmt.Sprintf(`{"n":%d}`, len(all)), wall)
		if e.At <= p.at {
			r.Fatalf("the clock went from %s to %s at wall time %s", p.at, e.At, wall)
		}
		p.See(e)
		all = append(all, e)
	}
	return all
}

func union(r *rapid.T, parts ...[]Entry) []Entry {
	var l Log
	for _, part := range parts {
		for _, e := range part {
			if _, err := l.Add(e); err != nil {
				r.Fatal(err)
			}
		}
	}
	return l.Entries()
}

func same(a, b []Entry) bool {
	return slices.EqualFunc(a, b, func(x, y Entry) bool { return bytes.Equal(x.line, y.line) })
}

func TestMergeIsAUnion(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		all := anyChains(r, t, true)
		want := union(r, all)
		var a, b, c []Entry
		for _, e := range all {
			switch rapid.IntRange(0, 3).Draw(r, "part") {
			case 0:
				a = append(a, e)
			case 1:
				b = append(b, e)
			case 2:
				c = append(c, e)
			default: // in two parts
				a, c = append(a, e), append(c, e)
			}
		}
		shuffled := slices.Clone(all)
		shuffled = append(shuffled, shuffled[:len(shuffled)/2]...)
		rand.New(rand.NewPCG(1, rapid.Uint64().Draw(r, "seed"))).Shuffle(len(shuffled), func(i, j int) {
			shuffled[i], shuffled[j] = shuffled[j], shuffled[i]
		})
		for name, got := range map[string][]Entry{
			"shuffled, with repeats": union(r, shuffled),
			"a b c":                  union(r, a, b, c), "c b a": union(r, c, b, a), "b c a": union(r, b, c, a), "all twice": union(r, all, all),
		} {
			if !same(got, want) {
				r.Fatalf("merged as %s there are %d entries, in one go %d", name, len(got), len(want))
			}
		}
	})
}

func TestOneExchangeIsEnough(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var a, b Log
		for _, e := range anyChains(r, t, false) {
			l := &a
			if e.Device == tower {
				l = &b
			}
			if _, err := l.Add(e); err != nil {
				r.Fatal(err)
			}
		}
		toB, toA := a.Lacking(b.Vector()), b.Lacking(a.Vector())
		for _, e := range toB {
			if _, err := b.Add(e); err != nil {
				r.Fatal(err)
			}
		}
		for _, e := range toA {
			if _, err := a.Add(e); err != nil {
				r.Fatal(err)
			}
		}
		if !same(a.Entries(), b.Entries()) {
			r.Fatal("after one exchange the two still differ")
		}
	})
}

// TestForgedClocksStopNoPen: whatever an outsider claims, and in whatever
// order it comes, honest pens write on, each entry after all that stood.
func TestForgedClocksStopNoPen(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		forger := &Pen{Book: bookX, Device: tower, at: lastClaim - Clock(rapid.IntRange(1, 3).Draw(r, "before the end"))}
		own := &Pen{Book: bookX, Device: phone}
		var a, b Log // b gets the same, all at once and backwards
		var all []Entry
		for i := range rapid.IntRange(1, 12).Draw(r, "entries") {
			p := own
			if rapid.Bool().Draw(r, "forged") {
				forger.at = max(forger.at, lastClaim-1) + Clock(rapid.SampledFrom([]uint64{0, 1, 7, 1 << 31}).Draw(r, "leap"))
				p = forger
			}
			stood := a.Entries()
			e, err := p.Write("change", "", fmt.Appendf(nil, `{"n":%d}`, i), noon, Chance{15: byte(i)})
			if p == forger && err != nil {
				break // claimed too much even for an envelope
			}
			if err != nil {
				r.Fatalf("the honest pen is stopped: %v", err)
			}
			if _, err := a.Add(e); err != nil {
				r.Fatal(err)
			}
			all = append(all, e)
			forger.See(e)
			for _, e := range a.Since(0) {
				own.See(e)
			}
			if p == own && (a.Vector()[phone] != e.Seq || len(stood) > 0 && Compare(stood[len(stood)-1], e) >= 0) {
				r.Fatalf("the honest entry at %s does not stand behind the %d that stood", e.At, len(stood))
			}
		}
		for _, e := range slices.Backward(all) {
			if _, err := b.Add(e); err != nil {
				r.Fatal(err)
			}
		}
		if !same(a.Entries(), b.Entries()) {
			r.Fatalf("backwards %d entries stand, forwards %d", b.Len(), a.Len())
		}
	})
}

func FuzzParseClock(f *testing.F) {
	for _, s := range []string{"0000000000000000", "019de82175000000", "ffffffffffffffff", "019DE82175000000", "+19de82175000000", "0x9de82175000000"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if c, err := ParseClock(s); err == nil && c.String() != s {
			t.Errorf("%q reads as a clock that is written %q", s, c)
		}
	})
}

func FuzzDecode(f *testing.F) {
	p := &Pen{Book: bookX, Device: phone}
	f.Add(mustWrite(f, p, "change", `{"why":"it wallows","to":9.5}`, noon).Line())
	f.Add(mustWrite(f, p, "change", `{"why":"caf\u00e9 \\u2028","a":{"b":[1,2]}}`, noon).Line())
	f.Add([]byte(`{"v":1}`))
	f.Fuzz(func(t *testing.T, line []byte) {
		e, err := Decode(line)
		if err == nil && !bytes.Equal(e.Line(), line) {
			t.Errorf("decoding changed %q to %q", line, e.Line())
		}
		slow, slowErr := decodeAny(line)
		if len(line) <= MaxLine && ((err == nil) != (slowErr == nil) || !reflect.DeepEqual(e, slow)) {
			t.Errorf("%q reads as %+v, %v the short way and as %+v, %v the long way", line, e, err, slow, slowErr)
		}
	})
}

func FuzzIsCompact(f *testing.F) {
	for _, s := range []string{`{}`, `[1,-0.5e+3,"a\u00e9\\",null,{"b":[true,false]}]`, `01`, `[1,]`, `{"a":}`, `"\u12g4"`, ` 1`, "\"\x01\"", "\"\xff\"", `-`, `1.`, `1e`, `nul`, `{"a"`, `{"a"1}`, `{"a":1`, `[0,9]`, `[:]`, `["\`, `"\u00`, `{"a":[{"b":1}]}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if depth(b) >= maxDepth {
			return
		}
		var out bytes.Buffer
		if want := json.Compact(&out, b) == nil && bytes.Equal(out.Bytes(), b); isCompact(b) != want {
			t.Errorf("%q: compact JSON %v; encoding/json says %v", b, !want, want)
		}
	})
}

func FuzzParseWall(f *testing.F) {
	for _, s := range []string{"2026-05-02T12:00:00.000+02:00", "2024-02-29T23:59:59.999-11:30", "2026-02-29T00:00:00.000+00:00", "2026-05-02T12:00:00.000-00:00", "2026-05-02T12:00:00.000Z", "0000-01-01T00:00:00.000+00:00", "2026-05-02T12:00:00.000+24:00", "2026-05-02T12:00:00.000+23:59", "2026-00-02T12:00:00.000+02:00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := parseWall(s)
		want, wantErr := time.Parse(wallForm, s)
		if err == nil && (wantErr != nil || !got.Equal(want) || got.Format(wallForm) != s) {
			t.Errorf("%q reads as %s; time.Parse says %s, %v", s, got, want, wantErr)
		}
		if err != nil && wantErr == nil && want.Format(wallForm) == s && s[23:] < "+24" && s[24:26] < "24" {
			t.Errorf("%q is refused: %v", s, err)
		}
	})
}

func BenchmarkAdd10000(b *testing.B) {
	p := &Pen{Book: bookX, Device: phone}
	var chain []Entry
	for range 10_000 {
		e := mustWrite(b, p, "change", `{"bike":"heron","adjuster":"rear.rebound","from":9,"to":7,"why":"wallows on the drive out"}`, noon)
		p.See(e)
		chain = append(chain, e)
	}
	b.ReportAllocs()
	for b.Loop() {
		var l Log
		for _, e := range chain {
			if _, err := l.Add(e); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkDecode10000(b *testing.B) {
	p := &Pen{Book: bookX, Device: phone}
	line := mustWrite(b, p, "change", `{"bike":"heron","adjuster":"rear.rebound","from":9,"to":7,"delta":-2,"why":"wallows on the drive out"}`, noon).Line()
	b.ReportAllocs()
	for b.Loop() {
		for range 10_000 {
			if _, err := Decode(line); err != nil {
				b.Fatal(err)
			}
		}
	}
}
