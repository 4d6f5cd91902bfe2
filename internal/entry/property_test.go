package entry

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// anyChains draws the entries of two devices that see each other now and then
// and whose wall clocks jump as they like.
func anyChains(r *rapid.T, t testing.TB) []Entry {
	pens := []*Pen{{Book: bookX, Device: phone}, {Book: bookX, Device: tower}}
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
		all := anyChains(r, t)
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
		for name, got := range map[string][]Entry{
			"a b c": union(r, a, b, c), "c b a": union(r, c, b, a), "b c a": union(r, b, c, a), "all twice": union(r, all, all),
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
		for _, e := range anyChains(r, t) {
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
