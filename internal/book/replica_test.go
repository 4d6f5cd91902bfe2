package book

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"plumbline/internal/entry"

	"pgregory.net/rapid"
)

func linesOf(entries []entry.Entry) []string {
	var out []string
	for _, e := range entries {
		out = append(out, string(e.Line()))
	}
	return out
}

// TestFoldingOnIsFoldingAll: whatever comes in whatever pieces, the book that
// grew with them is the one that they fold to in one go.
func TestFoldingOnIsFoldingAll(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		lines := linesOf(anyStory(r, t).log)
		if rapid.Bool().Draw(r, "out of order") {
			rand.New(rand.NewPCG(1, rapid.Uint64().Draw(r, "seed"))).Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		}
		rep := Open(testBook, phoneA)
		for len(lines) > 0 {
			n := rapid.IntRange(1, len(lines)).Draw(r, "piece")
			if _, wrong := rep.Take(lines[:n]); wrong != nil {
				r.Fatal(wrong)
			}
			lines = lines[n:]
			if rapid.Bool().Draw(r, "looks") {
				rep.Book()
			}
		}
		got, want := rep.Book(), Fold(rep.Log.Entries())
		if !reflect.DeepEqual(got, want) {
			g, _ := json.Marshal(got)
			w, _ := json.Marshal(want)
			r.Fatalf("folded on, the book is\n%s\nand not\n%s\n(same text: %v)", g, w, bytes.Equal(g, w))
		}
	})
}

// TestOnlyWhatIsNewIsFolded, unless it changes what was.
func TestOnlyWhatIsNewIsFolded(t *testing.T) {
	s := newStory(t)
	rep := Open(testBook, phoneB)
	rep.Take(linesOf(s.log))
	was := rep.Book()
	count := s.write(phoneA, KindCount, counted("rear.rebound", 12))
	late := s.log[len(s.log)-1:]
	rep.Take(linesOf(late))
	if rep.Book() != was {
		t.Error("one more entry at the end made everything be folded anew")
	}
	if at := rep.Book().Bikes[heron].Settings["rear.rebound"]; at.At == nil {
		t.Error("the new entry is not in the book")
	}
	s.write(phoneA, KindStrike, StrikeBody{Entry: count})
	rep.Take(linesOf(s.log[len(s.log)-1:]))
	if at := rep.Book().Bikes[heron].Settings["rear.rebound"]; rep.Book() == was || at.At != nil {
		t.Error("a struck count is still in the book")
	}
}

// TestReplicasMeet: two copies that hold overlapping parts, in any order of
// arrival, are one book after they sent each other what the other lacked.
func TestReplicasMeet(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		log := anyStory(r, t).log
		a, b := Open(testBook, phoneA), Open(testBook, phoneB)
		for _, rep := range []*Replica{a, b} {
			part := slices.Clone(log[:rapid.IntRange(0, len(log)).Draw(r, "knows")])
			rand.New(rand.NewPCG(2, rapid.Uint64().Draw(r, "seed"))).Shuffle(len(part), func(i, j int) { part[i], part[j] = part[j], part[i] })
			rep.Take(linesOf(part))
			rep.Book()
		}
		toA, toB := b.Log.Lacking(a.Log.Vector()), a.Log.Lacking(b.Log.Vector())
		a.Take(linesOf(toA))
		b.Take(linesOf(toB))
		if !reflect.DeepEqual(a.Book(), b.Book()) {
			r.Fatalf("after they met, one copy has %d entries and the other %d, or they fold to different books", a.Log.Len(), b.Log.Len())
		}
	})
}

// BenchmarkOneMore10000 folds one more entry into a book of 10,000.
func BenchmarkOneMore10000(b *testing.B) {
	s := manyEntries(b, 10_000)
	rep := Open(testBook, phoneA)
	rep.Take(linesOf(s.log))
	rep.Book()
	for b.Loop() {
		n := len(s.log)
		s.write(phoneA, KindCount, counted("rear.rebound", n%20))
		rep.Take(linesOf(s.log[n:]))
		rep.Book()
	}
}
