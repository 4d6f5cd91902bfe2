package screen

import (
	"fmt"
	"slices"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/laps"
)

// FeelArgs asks for the rider's record on a bike.
type FeelArgs struct {
	Bike book.BikeID `json:"bike"`
}

// Feel is the rider's own rating as a witness: how often it named a blind draw
// right, and how often it agreed with the laps. Advisers have a record too.
type Feel struct {
	Bike     book.BikeID   `json:"bike"`
	Draws    Witness       `json:"draws"`
	Laps     Witness       `json:"laps"`
	Marks    []FeelMark    `json:"marks"` // both kinds, oldest first
	Advisers []AdviserLine `json:"advisers"`
	Past     []PastTrial   `json:"past"` // judged trials, the latest first
}

// Witness is a record of right and wrong with what it is worth. Low and High
// are the exact 95 % interval of the share.
type Witness struct {
	Yes   int     `json:"yes"`
	Of    int     `json:"of"`
	Share float64 `json:"share"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	Says  string  `json:"says"`
	Span  string  `json:"span,omitempty"` // the interval in words
}

// FeelMark is one test of the rider's feel.
type FeelMark struct {
	Right bool   `json:"right"`
	Kind  string `json:"kind"` // "draw" or "laps"
	Day   string `json:"day"`
	Says  string `json:"says"`
	at    time.Time
}

// PastTrial is a trial that was judged.
type PastTrial struct {
	Entry entry.ID `json:"entry"`
	Title string   `json:"title"`
	Says  string   `json:"says"`
}

var _ = view("feel", feel)

func feel(a Ask, args FeelArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	out := Feel{Bike: k.ID, Marks: []FeelMark{}, Past: []PastTrial{}, Advisers: advisers(a.Book, k)}
	s := shower{a.Book}
	var draws, agreed laps.Tally
	for _, t := range k.Trials {
		if k.Settings[t.Body.Adjuster] == nil {
			continue
		}
		title := trialTitle(s, k, t)
		tally := drawTally(t)
		draws.Yes, draws.Of = draws.Yes+tally.Yes, draws.Of+tally.Of
		for _, d := range t.Draws {
			if d.Side != "" {
				out.Marks = append(out.Marks, FeelMark{d.Right(), "draw", s.day(*d.Opened, a.Now), title + ": said " + sideWords[d.Said] + ", it was " + sideWords[d.Side], *d.Opened})
			}
		}
		if right, known, says := agrees(t, weigh(a.Book, k, t).says); known {
			agreed.Of++
			if right {
				agreed.Yes++
			}
			out.Marks = append(out.Marks, FeelMark{right, "laps", s.day(t.Wall, a.Now), title + ": " + says, t.Wall})
		}
		if !t.Runs() {
			out.Past = append(out.Past, pastTrial(a, title, t))
		}
	}
	slices.Reverse(out.Past)
	slices.SortStableFunc(out.Marks, func(x, y FeelMark) int { return x.at.Compare(y.at) })
	out.Draws, out.Laps = witness(draws, "draws"), witness(agreed, "trials that the laps settled")
	return out, nil
}

// agrees reports whether the rider's word on a trial is what the laps settled
// later; known is false when there is no word or the laps settled nothing.
func agrees(t book.Trial, v laps.Verdict) (right, known bool, says string) {
	way := decided(v)
	if t.Felt == "" || way == 0 {
		return false, false, ""
	}
	word := map[int]string{1: "better", -1: "worse"}[way]
	return t.Felt == word, true, "felt " + t.Felt + ", by the laps " + faster(v.Shift.Middle)
}

func witness(t laps.Tally, of string) Witness {
	out := Witness{Yes: t.Yes, Of: t.Of, Says: t.FeelRecord(), High: 1}
	if t.Of == 0 {
		return out
	}
	out.Share = float64(t.Yes) / float64(t.Of)
	out.Low, out.High = t.Interval()
	out.Span = fmt.Sprintf("Right in %d of %d %s; in the long run between %d and %d in 10. Guessing gives 5 in 10.", t.Yes, t.Of, of, inTen(out.Low), inTen(out.High))
	return out
}

// inTen rounds a share to tenths.
func inTen(p float64) int { return int(10*p + 0.5) }

func pastTrial(a Ask, title string, t book.Trial) PastTrial {
	says := verdictWords[t.Verdict]
	if t.Felt != "" {
		says = join(says, "felt "+t.Felt)
	}
	if t.Laps != "" {
		says = join(says, "the laps said "+t.Laps)
	}
	return PastTrial{t.Entry, title, capital(join(says, shower{a.Book}.day(*t.Judged, a.Now)))}
}
