package screen

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/laps/trace"
	"plumbline/internal/unit"
)

// look asks for a view model with arguments that are encoded on the way.
func look[M any](t *testing.T, a Ask, name string, args any) M {
	t.Helper()
	raw, err := json.Marshal(args)
	if err != nil {
		t.Fatal(err)
	}
	got, refused := View(name, a, raw)
	if refused != nil {
		t.Fatalf("%s %s: %v", name, raw, refused)
	}
	return got.(M)
}

// hand acts with a form that is encoded on the way.
func hand(t *testing.T, a Ask, name string, form any) ([]book.Draft, []book.Refusal) {
	t.Helper()
	raw, err := json.Marshal(form)
	if err != nil {
		t.Fatal(err)
	}
	return Act(name, minting(a), raw)
}

func TestLapsAreReadBackAndMarked(t *testing.T) {
	a := exampleAsk(t)
	page := look[LapsPage](t, a, "laps", LapsArgs{Session: "jul-2"})
	if len(page.Rows) != 8 || page.Rows[0].Mark != "out" || page.Rows[7].Mark != "in" || page.Sectors != 3 || !page.Live {
		t.Errorf("page %+v", page)
	}
	mine := []book.LapTime{{Time: 118_000}, {Time: 112_000}, {Time: 112_300, Mark: "slow"}, {Time: 112_100}, {Time: 112_430}}
	page = look[LapsPage](t, a, "laps", LapsArgs{Session: "jul-2", Laps: mine, Given: true})
	if page.Rows[0].Mark != "out" || page.Rows[2].Mark != "slow" || !page.Rows[2].Overruled || page.Rows[4].Time != "1:52.43" {
		t.Errorf("rows %+v", page.Rows)
	}
	if want := "5 laps, 3 count: best 1:52.0, middle 1:52.1."; page.Says != want {
		t.Errorf("says %q; want %q", page.Says, want)
	}
}

func TestLapsAreReadAsTheyAreTyped(t *testing.T) {
	a := exampleAsk(t)
	if got := look[LapKeyed](t, a, "lapkeyed", LapTyped{"1524"}).Read; got.Time == nil || *got.Time != 112_400 || got.Says != "1:52.4" {
		t.Errorf("1524 was read as %+v", got)
	}
	if got := look[LapKeyed](t, a, "lapkeyed", LapTyped{"17204"}).Read; got.Time != nil || got.Says == "" {
		t.Errorf("72 seconds were read as %+v", got)
	}
	rows := look[LapsRead](t, a, "lapsread", LapsTyped{"one fifty two four\n\nquick\n52,4"}).Rows
	if len(rows) != 3 || rows[0].Says != "1:52.4" || rows[1].Time != nil || *rows[2].Time != 52_400 {
		t.Errorf("rows %+v", rows)
	}
}

func TestLapsAreWrittenAndRefused(t *testing.T) {
	a := exampleAsk(t)
	drafts, refused := hand(t, a, "laps", LapsForm{Session: "sep-3", Laps: []book.LapTime{{Time: 98_000}}})
	if refused != nil || len(drafts) != 1 || drafts[0].Body.(book.LapsBody).Source != "hand" {
		t.Errorf("drafts %+v, refused %v", drafts, refused)
	}
	for _, f := range []LapsForm{{Session: "never"}, {}, {Session: "sep-3", Laps: []book.LapTime{{Time: 1}}}} {
		if _, refused := hand(t, a, "laps", f); len(refused) != 1 || refused[0].Mend == "" {
			t.Errorf("%+v: refused %v", f, refused)
		}
	}
}

func TestATableIsConfirmedAndNothingIsLost(t *testing.T) {
	text := "Turn;Runde;Zeit\n1;1;1:52,4\n1;2;1:51,9\n1;3;DNF\n2;1;1:50,0\n"
	got := look[LapsFile](t, exampleAsk(t), "lapsfile", FileArgs{Session: "jul-2", Text: text})
	if got.Kind != "table" || len(got.Stints) != 2 || len(got.Stints[0].Laps) != 2 || got.BadAll != 1 {
		t.Fatalf("read %+v", got)
	}
	if c := got.Table.Columns; c != (FileColumns{2, 1, 0}) || got.Table.Names[2] != "Zeit" || got.Table.Sample[0][2] != "1:52,4" || !strings.HasPrefix(got.Stints[0].Name, "Turn 1: 2 laps") {
		t.Errorf("columns %+v of %+v", c, got.Table)
	}
	if b := got.Bad[0]; b.Where != "Line 4" || !strings.Contains(b.Text, "DNF") || b.Says == "" {
		t.Errorf("bad %+v", b)
	}
	own := look[LapsFile](t, exampleAsk(t), "lapsfile", FileArgs{Text: "a,b\n1:52.4,1:50.0\n", Columns: &FileColumns{1, -1, -1}})
	if len(own.Stints) != 1 || own.Stints[0].Laps[0].Time != 110_000 {
		t.Errorf("the rider's own column gives %+v", own.Stints)
	}
	if empty := look[LapsFile](t, exampleAsk(t), "lapsfile", FileArgs{Text: "Dear sir,\nno laps.\n"}); len(empty.Stints) != 0 || empty.BadAll != 1 || len(empty.Table.Names) != 1 || empty.Says == "" {
		t.Errorf("a letter gives %+v", empty)
	}
}

// lapsAtMoor rides the example's Fenwick Moor at an even pace per lap, with a
// stop of ten minutes after the third, a fix every step seconds.
func lapsAtMoor(t *testing.T, step float64, known []float64) []trace.Point {
	t.Helper()
	m := exampleAsk(t).Book.Tracks["fenwick-moor"].Map
	origin := originPoint(*m.Origin)
	var along []float64
	var way []book.Spot
	total := 0.0
	for i := range m.Points {
		way = append(way, m.Points[i])
		along = append(along, total)
		next := m.Points[(i+1)%len(m.Points)]
		total += math.Hypot(next[0].Float()-m.Points[i][0].Float(), next[1].Float()-m.Points[i][1].Float())
	}
	at := func(share float64) trace.Point {
		d := math.Mod(share+1, 1) * total
		i := len(along) - 1
		for i > 0 && along[i] > d {
			i--
		}
		next := way[(i+1)%len(way)]
		end := total
		if i+1 < len(along) {
			end = along[i+1]
		}
		f := (d - along[i]) / (end - along[i])
		return trace.At(origin, way[i][0].Float()+f*(next[0].Float()-way[i][0].Float()), way[i][1].Float()+f*(next[1].Float()-way[i][1].Float()))
	}
	start := float64(time.Date(2026, 7, 11, 7, 50, 0, 0, time.UTC).Unix())
	var out []trace.Point
	clock := -8.0
	ride := func(from, to, seconds float64) {
		begin := clock
		for clock < begin+seconds {
			p := at(from + (to-from)*(clock-begin)/seconds)
			p.At = start + clock
			out = append(out, p)
			clock += step
		}
		clock = begin + seconds
	}
	ride(-0.05, 0, 8)
	for i, s := range known {
		if i == 3 {
			ride(0, 0.04, 6)
			clock += 600 // in the pits, the receiver off
			ride(-0.04, 0, 6)
		}
		ride(0, 1, s)
	}
	ride(0, 0.05, 8)
	return out
}

func gpxOf(points []trace.Point) string {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>`)
	for _, p := range points {
		when := time.UnixMilli(int64(math.Round(p.At * 1000))).UTC().Format("2006-01-02T15:04:05.000Z")
		fmt.Fprintf(&b, `<trkpt lat="%.8f" lon="%.8f"><time>%s</time></trkpt>`, p.Lat, p.Lon, when)
	}
	return b.String() + `</trkseg></trk></gpx>`
}

var moorLaps = []float64{121.2, 112.4, 112.1, 119.8, 111.9, 112.6}

func TestATraceIsCutAtTheTracksLine(t *testing.T) {
	a := exampleAsk(t)
	got := look[LapsFile](t, a, "lapsfile", FileArgs{Session: "jul-2", Text: gpxOf(lapsAtMoor(t, 0.2, moorLaps))})
	if got.Kind != "gpx" || got.BadAll != 0 || len(got.Stints) != 2 || !strings.Contains(got.Trace.LineSays, "Fenwick Moor") {
		t.Fatalf("read %+v", got)
	}
	var times []float64
	for _, s := range got.Stints {
		for _, l := range s.Laps {
			times = append(times, l.Time.Float())
			if len(l.Sectors) != 3 {
				t.Errorf("a lap has sectors %v", l.Sectors)
			}
		}
	}
	if len(times) != len(moorLaps) {
		t.Fatalf("laps %v; want %v", times, moorLaps)
	}
	for i, s := range times {
		if math.Abs(s-moorLaps[i]) > 0.02 {
			t.Errorf("lap %d took %.3f s; want %.1f", i+1, s, moorLaps[i])
		}
	}
	if !strings.HasPrefix(got.Stints[0].Name, "09:50") {
		t.Errorf("the first run is called %q; want the local time", got.Stints[0].Name)
	}
	// 10 m/s² over 0.2 s is 0.05 m; at 27 m/s 2 ms, and √2 of it rounds up to 3.
	if got.Trace.Accuracy != 3 {
		t.Errorf("accuracy %v s; want 0.003", got.Trace.Accuracy)
	}
	if m := got.Trace.Map; m == nil || len(m.Points) < 20 || got.Trace.Turns != "clockwise" || math.Abs(got.Trace.Length.Float()-3112) > 25 {
		t.Errorf("the map %+v turns %s, long %v", m, got.Trace.Turns, got.Trace.Length)
	}
}

func TestATraceFindsItsLineAndTakesATap(t *testing.T) {
	a := exampleAsk(t)
	points := lapsAtMoor(t, 1, moorLaps)
	got := look[LapsFile](t, a, "lapsfile", FileArgs{Session: "may-1", Text: gpxOf(points)}) // a track without a line on the earth
	if len(got.Stints) == 0 || !strings.Contains(got.Trace.LineSays, "passes most often") {
		t.Fatalf("read %+v", got)
	}
	n := 0
	for _, s := range got.Stints {
		n += len(s.Laps)
	}
	if n < len(moorLaps)-2 {
		t.Errorf("%d laps with the found line", n)
	}
	e, north := trace.Place(points[0], points[40])
	tapped := look[LapsFile](t, a, "lapsfile", FileArgs{Session: "may-1", Text: gpxOf(points), At: &[2]float64{e + 3, north}})
	if tapped.Trace.LineSays != "The line is where you tapped." || len(tapped.Stints) == 0 {
		t.Errorf("tapped: %+v", tapped.Trace.LineSays)
	}
}

func TestATraceTheOtherWayRound(t *testing.T) {
	points := lapsAtMoor(t, 0.5, []float64{112, 112, 112})
	end := points[len(points)-1].At
	back := make([]trace.Point, len(points))
	for i, p := range points {
		p.At = end - p.At
		back[len(points)-1-i] = p
	}
	got := look[LapsFile](t, exampleAsk(t), "lapsfile", FileArgs{Session: "jul-2", Text: gpxOf(back)})
	if got.Trace.Backward == "" || got.Trace.Turns != "anticlockwise" || len(got.Stints) != 1 || len(got.Stints[0].Laps) != 3 || len(got.Stints[0].Laps[0].Sectors) != 3 {
		t.Errorf("read %+v, %+v", got.Stints, got.Trace.Backward)
	}
}

func TestBrokenFilesGiveASentence(t *testing.T) {
	whole := gpxOf(lapsAtMoor(t, 1, moorLaps))
	half := look[LapsFile](t, exampleAsk(t), "lapsfile", FileArgs{Text: whole[:len(whole)/2]})
	if len(half.Stints) == 0 || half.BadAll != 1 || !strings.Contains(half.Bad[0].Says, "breaks off") {
		t.Errorf("half a file: %+v", half)
	}
	for _, text := range []string{"", "<gpx/>", "<html>", "$GPRMC,1,A", "\x00\x01\x02", "PK\x03\x04"} {
		got := look[LapsFile](t, exampleAsk(t), "lapsfile", FileArgs{Text: text})
		if len(got.Stints) != 0 || got.Says == "" {
			t.Errorf("%q: %+v", text, got)
		}
	}
}

func TestLiveTimingStatesItsAccuracy(t *testing.T) {
	var fixes [][4]float64
	for _, p := range lapsAtMoor(t, 1, []float64{121, 112.4, 112.1}) {
		fixes = append(fixes, [4]float64{p.Lat, p.Lon, p.At, 5})
	}
	fixes[30][3] = 80
	got := look[Live](t, exampleAsk(t), "live", LiveArgs{Session: "jul-2", Fixes: fixes})
	if len(got.Laps) != 3 || got.Best != "1:52.1" || !strings.Contains(got.LineSays, "Fenwick Moor") {
		t.Fatalf("live %+v", got)
	}
	// 5 m at 27.7 m/s is 0.18 s; with 10/8 m of sampling and √2 it is 0.27.
	if got.Accuracy == nil || math.Abs(got.Accuracy.Float()-0.27) > 0.02 {
		t.Errorf("accuracy %v s; want about 0.27", got.Accuracy)
	}
	if !strings.Contains(got.Says, "5 m") || !strings.Contains(got.Says, "may be off") {
		t.Errorf("says %q", got.Says)
	}
	if early := look[Live](t, exampleAsk(t), "live", LiveArgs{Session: "jul-2", Fixes: fixes[:1]}); len(early.Laps) != 0 || early.Says == "" {
		t.Errorf("one fix: %+v", early)
	}
	if found := look[Live](t, exampleAsk(t), "live", LiveArgs{Session: "may-1", Fixes: fixes}); len(found.Laps) < 2 || found.Map == nil {
		t.Errorf("without a line: %d laps, map %v", len(found.Laps), found.Map)
	}
}

func FuzzLapsFile(f *testing.F) {
	for _, s := range []string{"lap;time\n1;1:52,4\n", `<gpx><trkpt lat="1" lon="2"><time>2026-05-02T09:00:00Z</time></trkpt>`, "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\n"} {
		f.Add(s, 0.0, 0.0)
	}
	f.Fuzz(func(t *testing.T, s string, x, y float64) {
		out, refused := lapsFile(Ask{Book: book.Fold(nil)}, FileArgs{Text: s, At: &[2]float64{x, y}})
		if refused != nil {
			t.Fatal(refused)
		}
		for _, stint := range out.(LapsFile).Stints {
			for _, l := range stint.Laps {
				if l.Time < unit.Whole(10) || l.Time > unit.Whole(3600) {
					t.Fatalf("a lap of %s s", l.Time)
				}
			}
		}
	})
}
