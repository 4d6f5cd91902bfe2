package screen

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/laps"
	"plumbline/internal/laps/trace"
	"plumbline/internal/unit"
)

// FileArgs is a file with laps in it, as text: a table, a GPX or an NMEA log.
// Columns are the rider's own for a table. At is where the rider tapped the
// picture of a trace to put the line, in metres east and north of its first
// point; Swap turns the line round.
type FileArgs struct {
	Session book.SessionID `json:"session"`
	Text    string         `json:"text"`
	Columns *FileColumns   `json:"columns"`
	At      *[2]float64    `json:"at"`
}

// FileColumns says which column, counted from 0, holds what; −1 for none.
type FileColumns struct {
	Time    int `json:"time"`
	Lap     int `json:"lap"`
	Session int `json:"session"`
}

// LapsFile is what was read of a file. Kind is "table", "gpx" or "nmea".
// Nothing is lost: what was not read is in Bad, of BadAll the first few.
type LapsFile struct {
	Kind   string     `json:"kind"`
	Says   string     `json:"says"`
	Stints []Stint    `json:"stints"`
	Bad    []BadPiece `json:"bad"`
	BadAll int        `json:"badAll"`
	Table  *TableRead `json:"table,omitempty"`
	Trace  *TraceRead `json:"trace,omitempty"`
}

// BadPiece is something that was not read: where, what stood there, and why.
type BadPiece struct {
	Where string `json:"where"`
	Text  string `json:"text,omitempty"`
	Says  string `json:"says"`
}

// Stint is a run of laps in a file: what one session may take.
type Stint struct {
	Name string         `json:"name"` // "09:41, 7 laps, best 1:52.4"
	Laps []book.LapTime `json:"laps"`
	Best string         `json:"best"`
}

// TableRead is how a table was understood, for the rider to confirm.
type TableRead struct {
	Columns FileColumns `json:"columns"`
	Names   []string    `json:"names"` // of the columns: the heading's, or "Column 1"
	Sample  [][]string  `json:"sample"`
}

// TraceRead is how a trace was understood: its picture in metres, the line
// that its laps were cut at, and what else it gives the track.
type TraceRead struct {
	Way      [][2]float64   `json:"way"` // the picture: east and north of the first point
	Line     *[2][2]float64 `json:"line,omitempty"`
	LineSays string         `json:"lineSays"`
	Backward string         `json:"backward,omitempty"`
	Accuracy unit.Fixed     `json:"accuracy"` // s, from the way it is sampled
	Map      *book.Map      `json:"map,omitempty"`
	Turns    string         `json:"turns"` // "clockwise" or "anticlockwise"
	Length   *unit.Fixed    `json:"length,omitempty"`
}

const (
	// longestFile is the most bytes of a file that are read: a day of fixes ten
	// times a second is shorter.
	longestFile = 60 << 20
	badShown    = 20
	sampleShown = 5
)

var _ = view("lapsfile", lapsFile)

func lapsFile(a Ask, args FileArgs) (any, []book.Refusal) {
	if len(args.Text) > longestFile {
		return nil, []book.Refusal{{Field: "file", Says: "This file is too long for the phone.", Mend: "Export one day, or one session, and take that."}}
	}
	head := strings.TrimLeft(args.Text[:min(len(args.Text), 4096)], "\ufeff \t\r\n")
	switch {
	case strings.HasPrefix(head, "<"):
		return readTrace(a, args, "gpx", trace.ReadGPX(args.Text)), nil
	case strings.HasPrefix(head, "$") || strings.Contains(head, "RMC,") || strings.Contains(head, "GGA,"):
		return readTrace(a, args, "nmea", trace.ReadNMEA(args.Text)), nil
	}
	return readTable(args), nil
}

func readTable(args FileArgs) LapsFile {
	var choice *laps.Columns
	if c := args.Columns; c != nil {
		choice = &laps.Columns{Time: c.Time, Lap: c.Lap, Session: c.Session}
	}
	t := laps.ReadTable(args.Text, choice)
	out := LapsFile{Kind: "table", Stints: []Stint{}, Bad: []BadPiece{}, BadAll: len(t.Bad)}
	out.Table = &TableRead{Columns: FileColumns{t.Columns.Time, t.Columns.Lap, t.Columns.Session}, Names: columnNames(t), Sample: sample(args.Text, t)}
	for _, b := range t.Bad[:min(len(t.Bad), badShown)] {
		out.Bad = append(out.Bad, BadPiece{fmt.Sprintf("Line %d", b.Line), cut(b.Text, 60), b.Says})
	}
	var order []string
	by := map[string][]book.LapTime{}
	for _, r := range t.Rows {
		if _, ok := by[r.Session]; !ok {
			order = append(order, r.Session)
		}
		at, _ := unit.FixedOf(r.Seconds)
		by[r.Session] = append(by[r.Session], book.LapTime{Time: at})
	}
	for _, name := range order {
		called := name
		if name != "" && t.Columns.Session < len(t.Names) {
			called = t.Names[t.Columns.Session] + " " + name
		}
		out.Stints = append(out.Stints, stintNamed(called, by[name]))
	}
	out.Says = fmt.Sprintf("%s read, %s not.", many(len(t.Rows), "lap"), many(len(t.Bad), "line"))
	if len(t.Rows) == 0 {
		out.Says = "No lap time was found in this file. Pick the column that holds them, or another file."
	}
	return out
}

func stintNamed(name string, all []book.LapTime) Stint {
	says := unstopped(lapSumsSay(marked(all)))
	if name != "" {
		says = name + ": " + says
	}
	return Stint{Name: says, Laps: all, Best: seconds(sums(marked(all)).Best)}
}

// columnNames are what a table's columns are called: by the heading, or by
// their number.
func columnNames(t laps.Table) []string {
	if t.Names != nil {
		return t.Names
	}
	out := []string{}
	for i := range t.Width {
		out = append(out, fmt.Sprintf("Column %d", i+1))
	}
	return out
}

// sample is the first lines of a table in cells, for the rider to look at.
func sample(text string, t laps.Table) [][]string {
	out := [][]string{}
	heading := t.Names != nil
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" && !heading {
			out = append(out, t.Cells(cut(line, 400)))
		}
		heading = heading && line == ""
		if len(out) == sampleShown {
			break
		}
	}
	return out
}

// cut shortens a text to n letters.
func cut(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n]) + "…"
	}
	return s
}

func readTrace(a Ask, args FileArgs, kind string, t trace.Trace) LapsFile {
	out := LapsFile{Kind: kind, Stints: []Stint{}, Bad: []BadPiece{}, BadAll: len(t.Bad)}
	what := "Point"
	if kind == "nmea" {
		what = "Line"
	}
	for _, b := range t.Bad[:min(len(t.Bad), badShown)] {
		out.Bad = append(out.Bad, BadPiece{Where: fmt.Sprintf("%s %d", what, b.Where), Says: b.Says})
	}
	if len(t.Points) == 0 {
		out.Says = "No point of this file has a place and a time. See below what stood there."
		return out
	}
	read, line, ok := lineFor(a, args, t.Points)
	out.Trace = read
	read.Way = picture(t.Points)
	if !ok {
		out.Says = fmt.Sprintf("%s read, but it never comes past one place twice, so there is no lap in it.", many(len(t.Points), "position"))
		return out
	}
	read.cutAt(a, line, args, t.Points, &out)
	return out
}

// lineFor picks the line that a trace is cut at: where the rider tapped, the
// track's own when the trace crosses it, or where the trace passes most often.
func lineFor(a Ask, args FileArgs, points []trace.Point) (*TraceRead, trace.Line, bool) {
	read := &TraceRead{}
	if args.At != nil {
		l, ok := trace.LineAt(points, trace.At(points[0], args.At[0], args.At[1]))
		if ok {
			read.LineSays = "The line is where you tapped."
			return read, l, true
		}
		read.LineSays = "You tapped beside the way, so the line is where it was found. "
	}
	if track, ok := trackOfSession(a.Book, args.Session); ok {
		if l, _, ok := startLine(track); ok && len(trace.Crossings(points, l)) > 1 {
			read.LineSays += "The line is the start and finish of " + track.Name + "."
			return read, l, true
		}
	}
	l, ok := trace.Find(points)
	read.LineSays += "The line is where the trace passes most often and fastest. Tap the picture to put it elsewhere."
	return read, l, ok
}

func trackOfSession(b *book.Book, id book.SessionID) (book.Track, bool) {
	if id == "" {
		return book.Track{}, false
	}
	_, s, refused := ridden(b, "", id)
	if refused != nil {
		return book.Track{}, false
	}
	t, ok := b.Tracks[s.Body.Track]
	return t, ok
}

// startLine returns a track's start and finish line and its sector lines on
// the earth, and false where its map has none.
func startLine(t book.Track) (start trace.Line, splits []trace.Line, ok bool) {
	if t.Map == nil || t.Map.Origin == nil || t.Map.Start == nil {
		return trace.Line{}, nil, false
	}
	o := originPoint(*t.Map.Origin)
	for _, s := range t.Map.Splits {
		splits = append(splits, trace.Line{Left: onEarth(o, s[0]), Right: onEarth(o, s[1])})
	}
	return trace.Line{Left: onEarth(o, t.Map.Start[0]), Right: onEarth(o, t.Map.Start[1])}, splits, true
}

func originPoint(o book.Origin) trace.Point {
	return trace.Point{Lat: float64(o.Lat) / 1e7, Lon: float64(o.Lon) / 1e7}
}

func onEarth(origin trace.Point, s book.Spot) trace.Point {
	return trace.At(origin, s[0].Float(), s[1].Float())
}

// backwards turns a track's lines round, for a day ridden the other way.
func backwards(start trace.Line, splits []trace.Line) (trace.Line, []trace.Line) {
	var out []trace.Line
	for _, l := range slices.Backward(splits) {
		out = append(out, trace.Line{Left: l.Right, Right: l.Left})
	}
	return trace.Line{Left: start.Right, Right: start.Left}, out
}

// cutAt cuts the trace into laps and stints at a line. When it is crossed the
// wrong way more often than the right one, it is turned round: the rider rode
// the other way.
func (r *TraceRead) cutAt(a Ask, line trace.Line, args FileArgs, points []trace.Point, out *LapsFile) {
	track, _ := trackOfSession(a.Book, args.Session)
	_, splits, _ := startLine(track)
	_, backward := trace.Laps(points, line, nil)
	forward := len(trace.Crossings(points, line)) - backward
	if backward > forward {
		line, splits = backwards(line, splits)
		r.Backward = "The line was crossed from the other side, so it is turned round."
	} else if backward > 0 {
		r.Backward = fmt.Sprintf("The line was crossed %s the wrong way; those crossings end no lap.", times(backward))
	}
	all, _ := trace.Laps(points, line, splits)
	east, north := trace.Place(points[0], line.Left)
	east2, north2 := trace.Place(points[0], line.Right)
	r.Line = &[2][2]float64{{round1(east), round1(north)}, {round1(east2), round1(north2)}}
	r.Accuracy = accuracyOf(points, line)
	for _, run := range runsOf(all) {
		out.Stints = append(out.Stints, stintNamed(clock(run[0].From, a.Now.Location()), lapTimes(run)))
	}
	out.Says = fmt.Sprintf("%s read, %s, %s.", many(len(points), "position"), many(len(all), "lap"), many(len(out.Stints), "run"))
	r.outline(all, line, points)
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

func round1(v float64) float64 { return math.Round(v*10) / 10 }

// clock is the local time of a fix.
func clock(at float64, zone *time.Location) string {
	return time.UnixMilli(int64(at * 1000)).In(zone).Format("15:04")
}

// pit is how many times the middle lap a lap lasts when it holds a stop:
// between runs. Common practice, no source.
const pit = 2

// runsOf parts laps into runs: a lap that lasts twice the middle one holds a
// stop in the pits, or an end and a beginning of recording.
func runsOf(all []trace.Lap) [][]trace.Lap {
	var secs []float64
	for _, l := range all {
		secs = append(secs, l.Seconds())
	}
	if len(secs) == 0 {
		return nil
	}
	middle := laps.Median(secs)
	var out [][]trace.Lap
	fresh := true
	for _, l := range all {
		if l.Seconds() > pit*middle || l.Seconds() > laps.LongestLap {
			fresh = true
			continue
		}
		if fresh || l.From > out[len(out)-1][len(out[len(out)-1])-1].To+1 {
			out = append(out, nil)
			fresh = false
		}
		out[len(out)-1] = append(out[len(out)-1], l)
	}
	return out
}

func lapTimes(run []trace.Lap) []book.LapTime {
	out := make([]book.LapTime, 0, len(run))
	for _, l := range run {
		at, ok := unit.FixedOf(l.Seconds())
		if !ok {
			continue
		}
		one := book.LapTime{Time: at, Gap: l.Gap}
		for _, s := range l.Sectors {
			sector, _ := unit.FixedOf(s)
			one.Sectors = append(one.Sectors, sector)
		}
		out = append(out, one)
	}
	return out
}

// accuracyOf says how far a lap time may be off by the way the trace is
// sampled: the median over the crossings, two of which end a lap.
func accuracyOf(points []trace.Point, line trace.Line) unit.Fixed {
	var all []float64
	for _, c := range trace.Crossings(points, line) {
		i := slices.IndexFunc(points, func(p trace.Point) bool { return p.At >= c.At })
		if i < 1 {
			continue
		}
		all = append(all, trace.Sampling(c.Step, trace.Distance(points[i-1], points[i])/c.Step))
	}
	if len(all) == 0 {
		return 0
	}
	at, _ := unit.FixedOf(math.Ceil(1000*math.Sqrt2*laps.Median(all)) / 1000)
	return at
}

// outlineMost is how many points a track's map is drawn with at most.
const outlineMost = 240

// outline makes the track's map of the quickest lap without a gap.
func (r *TraceRead) outline(all []trace.Lap, line trace.Line, points []trace.Point) {
	best := -1
	for i, l := range all {
		if !l.Gap && (best < 0 || l.Seconds() < all[best].Seconds()) {
			best = i
		}
	}
	if best < 0 {
		return
	}
	round := trace.Between(points, all[best].From, all[best].To)
	if len(round) < 10 {
		return
	}
	r.Turns = "anticlockwise"
	if trace.Clockwise(round) {
		r.Turns = "clockwise"
	}
	long, _ := unit.FixedOf(math.Round(trace.Long(append(slices.Clone(round), round[0]))))
	r.Length = &long
	r.Map = mapOf(round, &line)
}

// mapOf draws a map of a way round, with its line.
func mapOf(round []trace.Point, line *trace.Line) *book.Map {
	o := book.Origin{Lat: int64(math.Round(round[0].Lat * 1e7)), Lon: int64(math.Round(round[0].Lon * 1e7))}
	origin := originPoint(o)
	spot := func(p trace.Point) book.Spot {
		e, n := trace.Place(origin, p)
		x, _ := unit.FixedOf(round1(e))
		y, _ := unit.FixedOf(round1(n))
		return book.Spot{x, y}
	}
	m := &book.Map{Origin: &o}
	for _, p := range trace.Outline(round, outlineMost) {
		m.Points = append(m.Points, spot(p))
	}
	if line != nil {
		m.Start = &[2]book.Spot{spot(line.Left), spot(line.Right)}
	}
	return m
}

// pictureMost is how many points a trace is drawn with at most.
const pictureMost = 1500

func picture(points []trace.Point) [][2]float64 {
	out := [][2]float64{}
	for _, p := range trace.Outline(points, pictureMost) {
		e, n := trace.Place(points[0], p)
		out = append(out, [2]float64{round1(e), round1(n)})
	}
	return out
}
