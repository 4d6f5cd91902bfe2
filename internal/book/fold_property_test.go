package book

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"slices"
	"testing"

	"plumbline/internal/entry"

	"pgregory.net/rapid"
)

// anyStory writes a random history of two phones that sync now and then.
func anyStory(t *rapid.T, tb testing.TB) *story {
	s := newStory(tb)
	s.sync()
	adjusters := []AdjusterID{"rear.rebound", "front.height", "front.preload", "not.there"}
	for range rapid.IntRange(0, 25).Draw(t, "entries") {
		d := rapid.SampledFrom([]entry.DeviceID{phoneA, phoneB}).Draw(t, "device")
		a := rapid.SampledFrom(adjusters).Draw(t, "adjuster")
		n := rapid.IntRange(0, 20).Draw(t, "n")
		old := s.log[rapid.IntRange(0, len(s.log)-1).Draw(t, "old")]
		switch rapid.IntRange(0, 8).Draw(t, "what") {
		case 0:
			s.write(d, KindCount, counted(a, n))
		case 1, 2:
			s.write(d, KindChange, change(a, rapid.IntRange(0, 20).Draw(t, "from"), n, "why"))
		case 3:
			s.write(d, KindStrike, StrikeBody{Entry: old.ID})
		case 4:
			s.write(d, KindCorrect, CorrectBody{Entry: old.ID, Body: old.Body})
		case 5:
			s.write(d, KindOwn, OwnBody{Found: old.ID, By: "kit"})
		case 6:
			s.write(d, "from-a-newer-app", map[string]int{"n": n})
		case 7:
			if k := s.bike(); k != nil { // the bike itself may be struck
				s.write(d, KindBaseline, BaselineBody{Bike: heron, Baseline: "line", Name: "line", At: k.SnapshotLine()})
			}
		case 8:
			s.sync()
		}
	}
	return s
}

func folded(t *rapid.T, log []entry.Entry) []byte {
	out, err := json.Marshal(Fold(log))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestFoldIsIndependentOfArrival(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := anyStory(r, t)
		want := folded(r, s.log)
		shuffled := append(slices.Clone(s.log), s.log[:len(s.log)/2]...) // some twice
		rand.New(rand.NewPCG(1, rapid.Uint64().Draw(r, "seed"))).Shuffle(len(shuffled), func(i, j int) {
			shuffled[i], shuffled[j] = shuffled[j], shuffled[i]
		})
		if got := folded(r, shuffled); !bytes.Equal(got, want) {
			r.Fatalf("shuffled and repeated, the log folds to\n%s\nand not to\n%s", got, want)
		}
	})
}

func TestHistoryIsNeverLost(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := anyStory(r, t)
		b := s.book()
		if len(b.Told) != len(s.log) {
			r.Fatalf("history tells %d of %d entries", len(b.Told), len(s.log))
		}
	})
}

func TestReplicaStampsWhatItTakes(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		rep := Open(testBook, phoneA)
		for i := range rapid.IntRange(1, 10).Draw(r, "writes") {
			drafts := []Draft{{KindBike, BikeBody{Bike: heron, Name: "Heron"}}, {KindCount, counted("rear.rebound", i)}}
			chance := rapid.SliceOfN(rapid.Byte(), 32, 32).Draw(r, "chance")
			lines, err := rep.Stamp(drafts, "", newStory(t).now, chance)
			if err != nil {
				r.Fatal(err)
			}
			if rapid.Bool().Draw(r, "storage fails") {
				continue // nothing was stored, so the next stamp must fill the same place
			}
			if added, wrong := rep.Take(lines); added != len(drafts) || wrong != nil {
				r.Fatalf("took %d of %d, wrong: %v", added, len(drafts), wrong)
			}
		}
	})
}
