package screen

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"plumbline/internal/book"
)

// Season is the bike's time line: each session's middle lap against the best
// middle lap at the same track, and what happened to the bike between.
type Season struct {
	Points []SeasonPoint `json:"points"`
	Marks  []SeasonMark  `json:"marks"`
	Months []Tick        `json:"months"`
	Ticks  []Tick        `json:"ticks"` // seconds behind
	Says   string        `json:"says"`
}

// SeasonPoint is one session: when, as a share of the time line, and how far
// behind the track's best, as a share of the axis from none (0) upwards.
type SeasonPoint struct {
	ID     book.SessionID `json:"id"`
	At     float64        `json:"at"`
	Behind float64        `json:"behind"`
	Track  string         `json:"track"`
	Day    string         `json:"day"`
	Says   string         `json:"says"` // "+0.4 s behind, middle 1:52.4"
}

// SeasonMark is something that was done to the bike. Kind is "change",
// "service", "fall", "part" or "line".
type SeasonMark struct {
	At   float64 `json:"at"`
	Kind string  `json:"kind"`
	Day  string  `json:"day"`
	Says string  `json:"says"`
}

// behindMost is the most seconds behind that the season shows to scale; a
// session in the wet stands at the edge.
const behindMost = 5

func seasonOf(a Ask, k *book.Bike) Season {
	out := Season{Points: []SeasonPoint{}, Marks: []SeasonMark{}, Months: []Tick{}, Ticks: []Tick{}}
	shown, best := pacedRuns(k)
	if len(shown) == 0 {
		out.Says = "No session has laps that count yet."
		return out
	}
	from, to := seasonSpan(shown[0].when, shown[len(shown)-1].when)
	at := func(t time.Time) float64 { return share(float64(t.Unix()), float64(from.Unix()), float64(to.Unix())) }
	most := 1.0
	for _, s := range shown {
		most = max(most, min(behindMost, s.middle-best[s.track]))
	}
	for _, s := range shown {
		behind := s.middle - best[s.track]
		says := fmt.Sprintf("%.1f s behind this track's best, middle lap %s", behind, seconds(s.middle))
		if behind == 0 {
			says = "the best middle lap here, " + seconds(s.middle)
		}
		out.Points = append(out.Points, SeasonPoint{s.session, at(s.when), min(1, behind/most), trackName(a.Book, s.track), s.when.Format("2 Jan 15:04"), says})
	}
	for n := 0.0; n <= most; n++ {
		label := fmt.Sprintf("+%.0f s", n)
		if n == 0 {
			label = "0 s"
		}
		out.Ticks = append(out.Ticks, Tick{n / most, label})
	}
	out.Months = months(from, to, at)
	out.Marks = seasonMarks(a, k, from, to, at)
	out.Says = fmt.Sprintf("%s at %s; %s on the bike.", many(len(shown), "session"), many(len(best), "track"), many(len(out.Marks), "event"))
	return out
}

// pacedRun is a session with laps that count; middle is its middle lap in
// seconds.
type pacedRun struct {
	session book.SessionID
	track   book.TrackID
	when    time.Time
	middle  float64
}

// pacedRuns are a bike's sessions with laps that count, in the order ridden,
// and the best middle lap of each track.
func pacedRuns(k *book.Bike) (runs []pacedRun, best map[book.TrackID]float64) {
	best = map[book.TrackID]float64{}
	for _, s := range k.Runs() {
		sum := sums(stint(k, s.Body.Session))
		if sum.Counted == 0 {
			continue
		}
		runs = append(runs, pacedRun{s.Body.Session, s.Body.Track, book.Ridden(s), sum.Middle})
		if was := best[s.Body.Track]; was == 0 || sum.Middle < was {
			best[s.Body.Track] = sum.Middle
		}
	}
	return runs, best
}

// seasonSpan is the time line: from the first session to the last, with a
// tenth of air, two days at least.
func seasonSpan(first, last time.Time) (from, to time.Time) {
	air := max(24*time.Hour, last.Sub(first)/20)
	return first.Add(-air), last.Add(air)
}

func months(from, to time.Time, at func(time.Time) float64) []Tick {
	out := []Tick{}
	one := time.Date(from.Year(), from.Month(), 1, 0, 0, 0, 0, from.Location()).AddDate(0, 1, 0)
	for ; one.Before(to); one = one.AddDate(0, 1, 0) {
		out = append(out, Tick{at(one), one.Format("Jan")})
	}
	for len(out) > 8 { // several years: fewer names
		var fewer []Tick
		for i := 0; i < len(out); i += 2 {
			fewer = append(fewer, out[i])
		}
		out = fewer
	}
	return out
}

// seasonMarks are what was done to the bike within the time line, oldest
// first.
func seasonMarks(a Ask, k *book.Bike, from, to time.Time, at func(time.Time) float64) []SeasonMark {
	type event struct {
		when time.Time
		SeasonMark
	}
	var all []event
	add := func(when time.Time, kind, says string) {
		if when.After(from) && when.Before(to) {
			all = append(all, event{when, SeasonMark{at(when), kind, when.Format("2 Jan"), says}})
		}
	}
	show := shower{a.Book}
	for _, id := range k.Order {
		set := k.Settings[id]
		for _, m := range set.Line {
			if m.Kind != "count" && set.Group != "tyres" {
				add(m.Wall, "change", set.Name+": "+show.went(set, m))
			}
		}
	}
	for _, n := range k.Services {
		add(whenOr(n.Body.When, n.Wall), "service", workName(n.Body.What))
	}
	for _, n := range k.Falls {
		add(whenOr(n.Body.When, n.Wall), "fall", strings.TrimSuffix(join("Fall", n.Body.Speed, n.Body.Side), ", "))
	}
	for _, n := range k.Parts {
		add(whenOr(n.Body.When, n.Wall), "part", "Fitted: "+n.Body.Part)
	}
	for _, n := range k.TyreSets {
		if when := whenOr(n.Fitted, time.Time{}); !when.IsZero() {
			add(when, "part", "Tyres: "+n.Name)
		}
	}
	for _, n := range k.Baselines {
		add(n.Wall, "line", "Line drawn: "+n.Name)
	}
	slices.SortStableFunc(all, func(x, y event) int { return x.when.Compare(y.when) })
	out := []SeasonMark{}
	for _, e := range all {
		out = append(out, e.SeasonMark)
	}
	return out
}
