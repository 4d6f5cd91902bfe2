package screen

import (
	"cmp"
	"fmt"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// LapsArgs asks for the laps of a session, the bike's latest when empty. With
// Laps given, those are marked instead of the book's: what the rider is about
// to write down. Typed is the lap on the keypad, to be read back.
type LapsArgs struct {
	Bike    book.BikeID    `json:"bike"`
	Session book.SessionID `json:"session"`
	Laps    []book.LapTime `json:"laps"`
	Given   bool           `json:"given"`
}

// LapsPage is the laps of a session with their marks, and the book's own to
// begin with.
type LapsPage struct {
	Session book.SessionID `json:"session"`
	Title   string         `json:"title"` // "Session 2, Sat 18 Apr, Fenwick Moor"
	Kept    []book.LapTime `json:"kept"`  // as the book has them
	Rows    []LapRow       `json:"rows"`
	Dots    LapDots        `json:"dots"`
	Says    string         `json:"says"`
	Source  string         `json:"source,omitempty"` // of the kept ones, in words
	Sectors int            `json:"sectors"`          // how many a lap has at most
	Marks   []Choice       `json:"marks"`
	Live    bool           `json:"live"` // the track has a line on the earth to time at
}

// LapRow is one lap. Rule is what the rule says of it, shown where the rider
// overruled it.
type LapRow struct {
	Number    int      `json:"number"`
	Time      string   `json:"time"`
	Mark      string   `json:"mark"` // "counts", "out", …
	Says      string   `json:"says"`
	Counts    bool     `json:"counts"`
	Overruled bool     `json:"overruled,omitempty"`
	Best      bool     `json:"best,omitempty"`
	Gap       bool     `json:"gap,omitempty"`
	Sectors   []string `json:"sectors"`
}

// LapRead is how a typed lap was understood: as a time, or why not.
type LapRead struct {
	Time *unit.Fixed `json:"time"`
	Says string      `json:"says"`
}

var _ = view("laps", lapsPage)

func lapsPage(a Ask, args LapsArgs) (any, []book.Refusal) {
	k, s, refused := ridden(a.Book, args.Bike, args.Session)
	if refused != nil {
		return nil, refused
	}
	kept := k.LapsOf(s.Body.Session)
	out := LapsPage{Session: s.Body.Session, Title: runTitle(a, k, s), Kept: kept, Marks: markChoices(), Source: lapsSource(a, k, s.Body.Session)}
	times := kept
	if args.Given {
		times = args.Laps
	}
	out.Rows, out.Sectors = lapRows(times)
	all := marked(times)
	out.Dots, out.Says = dotsOf(all), lapSumsSay(all)
	m := a.Book.Tracks[s.Body.Track].Map
	out.Live = m != nil && m.Origin != nil && m.Start != nil
	return out, nil
}

// ridden returns a session of a bike, its latest when id is empty.
func ridden(b *book.Book, bike book.BikeID, id book.SessionID) (*book.Bike, book.Dated[book.SessionBody], []book.Refusal) {
	var none book.Dated[book.SessionBody]
	for _, one := range b.BikeOrder {
		if s, ok := b.Bikes[one].Session(id); ok && id != "" {
			return b.Bikes[one], s, nil
		}
	}
	k, refused := bikeOf(b, bike)
	if refused != nil {
		return nil, none, refused
	}
	runs := k.Runs()
	if id != "" || len(runs) == 0 {
		return nil, none, []book.Refusal{{Field: "session", Says: "This session is not in the book.", Mend: "Begin with 'Came in' on Today."}}
	}
	return k, runs[len(runs)-1], nil
}

func markChoices() []Choice {
	out := []Choice{{"", "As the rule says"}, {"counts", "Counts"}}
	for _, m := range []laps.Mark{laps.Out, laps.In, laps.Slow, laps.Cruising, laps.Short} {
		out = append(out, Choice{string(m), capital(markWords[m])})
	}
	return out
}

func lapsSource(a Ask, k *book.Bike, id book.SessionID) string {
	n, ok := k.Laps[id]
	if !ok {
		return ""
	}
	says := capital(cmp.Or(sourceWords[n.Body.Source], "noted")) + " " + (shower{a.Book}).moment(n.Wall, a.Now)
	if n.Body.Accuracy != nil {
		says += fmt.Sprintf("; a time may be off by about %s s", n.Body.Accuracy)
	}
	return says + "."
}

// lapRows puts laps into rows with their marks in words.
func lapRows(times []book.LapTime) (rows []LapRow, sectors int) {
	all := marked(times)
	best := sums(all).Best
	digits := 1
	for _, t := range times {
		digits = max(digits, lapDigits(t.Time))
	}
	rows = []LapRow{}
	for i, l := range all {
		row := LapRow{
			Number: i + 1, Time: lapTo(times[i].Time, digits), Mark: cmp.Or(string(l.Mark), "counts"), Says: markWords[l.Mark], Counts: l.Mark == laps.Counts,
			Overruled: l.Overruled, Best: l.Mark == laps.Counts && l.Seconds == best, Gap: times[i].Gap, Sectors: []string{},
		}
		for _, s := range times[i].Sectors {
			row.Sectors = append(row.Sectors, s.String())
		}
		sectors = max(sectors, len(row.Sectors))
		rows = append(rows, row)
	}
	return rows, sectors
}

// lapExact prints a lap time to what it was given in, a tenth at least:
// 1:52.4, 1:52.43.
func lapExact(t unit.Fixed) string { return lapTo(t, lapDigits(t)) }

// lapDigits is to how many digits of a second a lap was given, one at least.
func lapDigits(t unit.Fixed) int {
	switch {
	case t%10 != 0:
		return 3
	case t%100 != 0:
		return 2
	}
	return 1
}

// lapTo prints a lap time with so many digits of a second, three at most.
func lapTo(t unit.Fixed, digits int) string {
	whole := fmt.Sprintf("%d:%02d.%03d", t/60_000, t/1000%60, t%1000)
	return whole[:len(whole)-3+digits]
}

func lapSumsSay(all []laps.Lap) string {
	s := sums(all)
	switch {
	case s.All == 0:
		return "No laps yet."
	case s.Counted == 0:
		return many(s.All, "lap") + ", none of which counts."
	}
	return fmt.Sprintf("%s, %d count: best %s, middle %s.", many(s.All, "lap"), s.Counted, seconds(s.Best), seconds(s.Middle))
}

func understood(s float64, err error) LapRead {
	if err != nil {
		return LapRead{Says: err.Error()}
	}
	at, _ := unit.FixedOf(s) // what is read is bounded
	return LapRead{Time: &at, Says: lapExact(at)}
}

// LapTyped is a lap as it is tapped on the keys.
type LapTyped struct {
	Typed string `json:"typed"`
}

// LapKeyed is how a tapped lap is read. It names what it read, because a thumb
// is faster than an answer.
type LapKeyed struct {
	Typed string  `json:"typed"`
	Read  LapRead `json:"read"`
}

// LapsTyped is many laps, one on each line.
type LapsTyped struct {
	Text string `json:"text"`
}

// LapsRead is how each line is read; empty lines are left out.
type LapsRead struct {
	Rows []LineRead `json:"rows"`
}

// LineRead is one line as it was typed and as it is read.
type LineRead struct {
	Typed string `json:"typed"`
	LapRead
}

var (
	_ = view("lapkeyed", func(_ Ask, args LapTyped) (any, []book.Refusal) {
		return LapKeyed{args.Typed, understood(laps.ParseKeyed(args.Typed))}, nil
	})
	_ = view("lapsread", func(_ Ask, args LapsTyped) (any, []book.Refusal) {
		out := LapsRead{Rows: []LineRead{}}
		for line := range strings.Lines(args.Text) {
			if line = strings.TrimSpace(line); line != "" {
				out.Rows = append(out.Rows, LineRead{line, understood(laps.ParseTime(line))})
			}
		}
		return out, nil
	})
)

// LapDots is the picture of a stint: a dot for each lap, and what the axis
// goes from and to, in seconds. Laps far above the others stand at the top
// edge, over, and laps far below at the bottom.
type LapDots struct {
	Dots   []LapDot `json:"dots"`
	Low    float64  `json:"low"`
	High   float64  `json:"high"`
	Ticks  []Tick   `json:"ticks"`
	Middle float64  `json:"middle"` // of the laps that count; 0 for none
	Says   string   `json:"says"`
}

// LapDot is one lap in the picture: its place above the axis, in shares of it.
type LapDot struct {
	Number int     `json:"number"`
	At     float64 `json:"at"`
	Time   string  `json:"time"`
	Mark   string  `json:"mark"`
	Over   bool    `json:"over,omitempty"`
}

// Tick is a mark on an axis, at a share of it.
type Tick struct {
	At    float64 `json:"at"`
	Label string  `json:"label"`
}

func dotsOf(all []laps.Lap) LapDots {
	low, high := lapSpan(laps.Counted(all))
	if len(laps.Counted(all)) == 0 {
		low, high = lapSpan(all)
	}
	out := LapDots{Dots: []LapDot{}, Low: low, High: high, Ticks: lapTicks(low, high)}
	if s := sums(all); s.Counted > 0 {
		out.Middle = share(s.Middle, low, high)
	}
	off := 0
	for _, l := range all {
		d := LapDot{Number: l.Number, At: max(0, min(1, share(l.Seconds, low, high))), Time: seconds(l.Seconds), Mark: cmp.Or(string(l.Mark), "counts"), Over: l.Seconds > high}
		if l.Mark != laps.Counts {
			off++
		}
		out.Dots = append(out.Dots, d)
	}
	out.Says = unstopped(lapSumsSay(all))
	if off > 0 {
		out.Says += fmt.Sprintf("; %d marked as not counting", off)
	}
	out.Says += "."
	return out
}

func share(v, low, high float64) float64 {
	if high <= low {
		return 0.5
	}
	return (v - low) / (high - low)
}

// lapSpan is what an axis of lap times goes from and to: half a second of air
// on either side, and at least two seconds long.
func lapSpan(all []laps.Lap) (low, high float64) {
	if len(all) == 0 {
		return 0, 1
	}
	low, high = all[0].Seconds, all[0].Seconds
	for _, l := range all {
		low, high = min(low, l.Seconds), max(high, l.Seconds)
	}
	low, high = low-0.5, high+0.5
	if short := 2 - (high - low); short > 0 {
		low, high = low-short/2, high+short/2
	}
	return low, high
}

// tickSteps are the steps between ticks on an axis of seconds.
var tickSteps = []float64{0.5, 1, 2, 5, 10, 20, 60, 120, 300, 600}

// lapTicks marks round times on an axis, five at most.
func lapTicks(low, high float64) []Tick {
	out := []Tick{}
	for _, step := range tickSteps {
		if (high-low)/step > 5 {
			continue
		}
		first := int(low/step) + 1
		for n := first; float64(n)*step <= high; n++ {
			out = append(out, Tick{share(float64(n)*step, low, high), seconds(float64(n) * step)})
		}
		break
	}
	return out
}

// LapsForm writes the laps of a session down. Map, where given, becomes the
// track's map: the line that the laps were cut at.
type LapsForm struct {
	Session  book.SessionID `json:"session"`
	Laps     []book.LapTime `json:"laps"`
	Source   string         `json:"source"`
	Accuracy *unit.Fixed    `json:"accuracy,omitempty"`
	Note     string         `json:"note"`
	Map      *book.Map      `json:"map,omitempty"`
	Way      string         `json:"way,omitempty"`
	Length   *unit.Fixed    `json:"length,omitempty"`
}

var _ = action("laps", lapsWritten)

func lapsWritten(a Ask, f LapsForm) ([]book.Draft, []book.Refusal) {
	if f.Session == "" {
		return nil, []book.Refusal{{Field: "session", Says: "Which session are they of?", Mend: "Begin with 'Came in' on Today."}}
	}
	k, s, refused := ridden(a.Book, "", f.Session)
	if refused != nil {
		return nil, refused
	}
	body := book.LapsBody{Bike: k.ID, Session: f.Session, Laps: f.Laps, Source: cmp.Or(f.Source, "hand"), Accuracy: f.Accuracy, Note: f.Note}
	drafts := []book.Draft{{Kind: book.KindLaps, Body: body}}
	if f.Map != nil && s.Body.Track != "" {
		drafts = append(drafts, book.Draft{Kind: book.KindTrack, Body: book.TrackBody{Track: s.Body.Track, Map: f.Map, Way: f.Way, Length: f.Length}})
	}
	return drafts, nil
}
