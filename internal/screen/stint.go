package screen

import (
	"plumbline/internal/book"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// stint returns the laps of a session with their marks: by the robust rule,
// and by the rider's word where it overrules.
func stint(k *book.Bike, id book.SessionID) []laps.Lap { return marked(k.LapsOf(id)) }

func marked(times []book.LapTime) []laps.Lap {
	all := make([]laps.Lap, len(times))
	for i, t := range times {
		all[i] = laps.Lap{Number: i + 1, Seconds: t.Time.Float(), Overruled: t.Mark != ""}
		if t.Mark != "counts" {
			all[i].Mark = laps.Mark(t.Mark)
		}
	}
	return laps.Marked(all)
}

// markWords say why a lap does not count, and short on a chip.
var markWords = map[laps.Mark]string{
	laps.Counts: "counts", laps.Out: "out lap", laps.In: "in lap", laps.Slow: "held up or a slip",
	laps.Cruising: "cruising", laps.Short: "too short to be a whole lap",
}

// lapSums are a session's laps in a few numbers, over the laps that count.
// Best and Middle are 0 where none count.
type lapSums struct {
	All, Counted int
	Best, Middle float64 // s; Middle is the median
}

func sums(all []laps.Lap) lapSums {
	out := lapSums{All: len(all)}
	var times []float64
	for _, l := range laps.Counted(all) {
		times = append(times, l.Seconds)
	}
	if out.Counted = len(times); out.Counted > 0 {
		out.Best, out.Middle = times[0], laps.Median(times)
		for _, t := range times {
			out.Best = min(out.Best, t)
		}
	}
	return out
}

// seconds prints a lap time in seconds as riders do: 1:52.4.
func seconds(s float64) string {
	at, _ := unit.FixedOf(s)
	return lapTime(at)
}
