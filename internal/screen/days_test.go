package screen

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/example"
	"plumbline/internal/laps/trace"
	"plumbline/internal/unit"
)

func TestDaysAndSessions(t *testing.T) {
	d := look[Days](t, exampleAsk(t), "days", DaysArgs{})
	if len(d.Days) != 6 || d.Days[0].Track != "Tarn Hollow" || d.Days[0].Day != "Sat 12 Sep 2026" || len(d.Days[0].Sessions) != 3 {
		t.Fatalf("days %+v", d.Days)
	}
	third := d.Days[0].Sessions[2]
	if third.Name != "Session 3" || third.Time != "12:20" || !slices.Equal(third.Before, []string{"Rear compression: 2 clicks in, from 12 to 10 out"}) {
		t.Errorf("the third session: %+v", third)
	}
	if tr := d.Days[0].Trend; len(tr.Points) != 3 || len(tr.Ticks) < 2 || len(tr.Points[2].Changed) != 1 || tr.Points[2].Middle >= tr.Points[0].Middle {
		t.Errorf("the trend: %+v", tr)
	}
	if one := look[Days](t, exampleAsk(t), "days", DaysArgs{Track: "fenwick-moor"}); len(one.Days) != 2 {
		t.Errorf("%d days at Fenwick Moor; want 2", len(one.Days))
	}
}

func TestASessionsPageIsAsItWasThen(t *testing.T) {
	r := look[Run](t, exampleAsk(t), "run", RunArgs{Session: "apr-2"})
	if r.Title != "Session 3, Sat 18 Apr 2026, Fenwick Moor" || r.Older != "apr-1b" || r.Newer != "apr-3" || len(r.Laps) != 8 {
		t.Errorf("run %+v", r)
	}
	for _, s := range r.Settings {
		if want := map[book.AdjusterID]string{"rear.rebound": "7 clicks out", "front.compression": "9 clicks out", "rear.height": "not known"}[s.ID]; want != "" && s.At != want {
			t.Errorf("%s stood at %s; want %s", s.Name, s.At, want)
		}
		if s.Moved != (s.ID == "rear.rebound") {
			t.Errorf("%s moved before it: %v", s.Name, s.Moved)
		}
	}
	if want := (Pressure{"Front", "30.0 psi", "33.6 psi", "3.6 psi"}); len(r.Pressures) != 2 || r.Pressures[0] != want {
		t.Errorf("pressures %+v; want %+v", r.Pressures, want)
	}
	if !slices.Contains(r.Conditions, Fact{"Tyres", "Set 1, heat cycle 9"}) || !slices.Contains(r.Conditions, Fact{"Track surface", "21 °C"}) {
		t.Errorf("conditions %+v", r.Conditions)
	}
	first := look[Run](t, exampleAsk(t), "run", RunArgs{Session: "apr-1"})
	if len(first.Symptoms) != 1 || first.Symptoms[0].Where != "Long right" || first.Symptoms[0].Repeat != "every lap" {
		t.Errorf("symptoms %+v", first.Symptoms)
	}
}

// BenchmarkDays is a rider's fifteen seasons on one page.
func BenchmarkDays(b *testing.B) {
	a := exampleAsk(b)
	k := a.Book.Bikes[example.Heron]
	season := slices.Clone(k.Sessions)
	for year := 1; year < 15; year++ {
		for _, s := range season {
			one := s
			one.Wall, one.Body.Day = s.Wall.AddDate(-year, 0, 0), ""
			one.Body.Session += book.SessionID(rune('a' + year))
			k.Laps[one.Body.Session] = k.Laps[s.Body.Session]
			k.Sessions = append(k.Sessions, one)
		}
	}
	for b.Loop() {
		if _, refused := View("days", a, nil); refused != nil {
			b.Fatal(refused)
		}
	}
}

func TestSeasonLine(t *testing.T) {
	s := look[Days](t, exampleAsk(t), "days", DaysArgs{}).Season
	if len(s.Points) != 23 || len(s.Months) != 5 || len(s.Ticks) < 2 {
		t.Fatalf("%d points, months %+v, ticks %+v", len(s.Points), s.Months, s.Ticks)
	}
	best := 0
	for i, p := range s.Points {
		if p.At < 0 || p.At > 1 || p.Behind < 0 || p.Behind > 1 || i > 0 && p.At < s.Points[i-1].At {
			t.Errorf("point %+v", p)
		}
		if p.Behind == 0 {
			best++
		}
	}
	if best != 3 {
		t.Errorf("%d sessions are the best of their track; want one for each of 3", best)
	}
	kinds := map[string]int{}
	for _, m := range s.Marks {
		kinds[m.Kind]++
	}
	if kinds["fall"] != 1 || kinds["service"] != 2 || kinds["change"] < 7 {
		t.Errorf("marks %v", kinds)
	}
}

func TestTrackPageAndSketch(t *testing.T) {
	a := exampleAsk(t)
	p := look[TrackPage](t, a, "track", TrackArgs{Track: "tarn-hollow"})
	if len(p.Corners) != 8 || p.Corners[3].Name != "Steps" || p.Corners[3].Felt != 1 || p.Corners[0].Name != "Turn 1" || p.Picture.Earth || len(p.Days) != 2 {
		t.Errorf("page %+v", p)
	}
	for _, at := range p.Picture.Way {
		if at[0] < 0 || at[0] > 1000 || at[1] < 0 || at[1] > 1000 {
			t.Fatalf("the picture leaves its square at %v", at)
		}
	}
	// The form goes round unharmed.
	drafts, refused := hand(t, a, "track", p.Form)
	if refused != nil {
		t.Fatal(refused)
	}
	was := a.Book.Tracks["tarn-hollow"]
	for i, c := range drafts[0].Body.(book.TrackBody).Corners {
		off := max(c.At[0]-was.Corners[i].At[0], was.Corners[i].At[0]-c.At[0], c.At[1]-was.Corners[i].At[1], was.Corners[i].At[1]-c.At[1])
		if c.Name != was.Corners[i].Name || off > 200 {
			t.Errorf("corner %d came back as %+v from %+v", i+1, c, was.Corners[i])
		}
	}
	var way [][2]float64
	for i := range 600 {
		way = append(way, [2]float64{500 + 400*float64(i%2), float64(i)})
	}
	drafts, refused = hand(t, a, "sketch", SketchForm{Track: "tarn-hollow", Way: way})
	if refused != nil || len(drafts[0].Body.(book.TrackBody).Map.Points) > outlineMost || drafts[0].Body.(book.TrackBody).Map.Start == nil {
		t.Errorf("sketch: %v", refused)
	}
	if _, refused := hand(t, a, "sketch", SketchForm{Track: "tarn-hollow", Way: way[:1]}); len(refused) != 1 || refused[0].Field != "map" {
		t.Errorf("a dot was taken for a track: %v", refused)
	}
	if _, refused := hand(t, a, "track", TrackForm{Name: "Fenwick Moor"}); len(refused) != 1 || refused[0].Field != "name" {
		t.Errorf("a second Fenwick Moor: %v", refused)
	}
}

func TestTimingLinesArePlacedByATap(t *testing.T) {
	a := exampleAsk(t)
	page := look[TrackPage](t, a, "track", TrackArgs{Track: "fenwick-moor"})
	if len(page.Picture.Splits) != 2 {
		t.Fatalf("%d splits on the picture", len(page.Picture.Splits))
	}
	way := page.Picture.Way
	drafts, refused := hand(t, a, "lines", LinesForm{Track: "fenwick-moor", Splits: [][2]float64{way[35], way[10]}})
	if refused != nil {
		t.Fatal(refused)
	}
	track := a.Book.Tracks["fenwick-moor"]
	track.Map = drafts[0].Body.(book.TrackBody).Map
	start, splits, ok := startLine(track)
	if !ok || len(splits) != 2 || len(track.Map.Points) != len(a.Book.Tracks["fenwick-moor"].Map.Points) {
		t.Fatalf("the map is %+v", track.Map)
	}
	laps, backward := trace.Laps(lapsAtMoor(t, 0.5, []float64{112, 112}), start, splits)
	if len(laps) != 2 || backward != 0 || len(laps[0].Sectors) != 3 {
		t.Errorf("the placed lines give %+v, %d backward", laps, backward)
	}
	moved, _ := hand(t, a, "lines", LinesForm{Track: "fenwick-moor", Start: &way[20]})
	track.Map = moved[0].Body.(book.TrackBody).Map
	start, _, _ = startLine(track)
	if laps, backward := trace.Laps(lapsAtMoor(t, 0.5, []float64{112, 112, 112}), start, nil); len(laps) != 2 || backward != 0 {
		t.Errorf("the moved start gives %d laps, %d backward", len(laps), backward)
	}
	if _, refused := hand(t, a, "lines", LinesForm{Track: "nowhere"}); len(refused) != 1 {
		t.Errorf("no track: %v", refused)
	}
}

func TestATracksMapFromAFile(t *testing.T) {
	got := look[TrackFile](t, exampleAsk(t), "trackfile", TrackFileArgs{Track: "tarn-hollow", Text: gpxOf(lapsAtMoor(t, 1, moorLaps))})
	if got.Turns != "clockwise" || got.Map.Start == nil || !got.Picture.Earth || len(got.Map.Points) > outlineMost {
		t.Errorf("map %+v", got)
	}
	untimed := strings.ReplaceAll(strings.ReplaceAll(gpxOf(lapsAtMoor(t, 1, []float64{112})), "<time>", "<was>"), "</time>", "</was>")
	if got := look[TrackFile](t, exampleAsk(t), "trackfile", TrackFileArgs{Track: "tarn-hollow", Text: untimed}); got.Turns != "clockwise" || got.Map == nil {
		t.Errorf("a file without times: %+v", got)
	}
	if _, refused := View("trackfile", exampleAsk(t), []byte(`{"text":"no"}`)); len(refused) != 1 || refused[0].Mend == "" {
		t.Errorf("no file at all: %v", refused)
	}
}

func TestWhatIsDue(t *testing.T) {
	a := exampleAsk(t)
	rows := func() map[string]DueRow {
		out := map[string]DueRow{}
		for _, r := range look[Due](t, a, "due", DueArgs{}).Rows {
			out[r.What] = r
		}
		return out
	}
	now := rows()
	if r := now["fork-oil"]; r.State != "good" || r.Uses[0].Says != "3 of 12 track days" || r.Source != "the service manual, as you typed it" || r.Last != "Last done 29 Jun 2026." {
		t.Errorf("fork oil: %+v", r)
	}
	if r := now["head-bearings"]; r.State != "unknown" || !strings.Contains(r.Source, "common practice, no source") {
		t.Errorf("head bearings: %+v", r)
	}
	if r := now["tyres"]; r.State != "good" || r.Last != "Last done 10 Jul 2026." {
		t.Errorf("tyres: %+v", r)
	}
	a.Now = a.Now.AddDate(2, 0, 0)
	if r := rows()["fork-oil"]; r.State != "over" || !strings.Contains(r.Says, "26 of 24 months") {
		t.Errorf("two years on: %+v", r)
	}
	if n := servicesDue(a, a.Book.Bikes[example.Heron]); len(n) == 0 || n[0].Href != "/due" {
		t.Errorf("Today says %+v", n)
	}
}

func TestAServiceResetsAndMetersCount(t *testing.T) {
	a := exampleAsk(t)
	k := *a.Book.Bikes[example.Heron]
	km := func(n int) *unit.Fixed { f := unit.Whole(n); return &f }
	k.Services = append(slices.Clone(k.Services), book.Dated[book.ServiceBody]{Wall: a.Now, Body: book.ServiceBody{What: "chain", When: "2026-09-10", Km: km(10_000)}})
	k.Measures = map[string]book.Dated[book.MeasureBody]{"meter": {Body: book.MeasureBody{Values: map[string]unit.Fixed{"km": unit.Whole(10_900)}}}}
	r := dueRow(a, &k, cares[3])
	if r.State != "over" || !strings.Contains(r.Says, "900 of 800 km") {
		t.Errorf("the chain: %+v", r)
	}
	k.Services = append(k.Services, book.Dated[book.ServiceBody]{Wall: a.Now, Body: book.ServiceBody{What: "chain", Km: km(10_900)}})
	if r := dueRow(a, &k, cares[3]); r.State != "good" || r.Uses[0].Says != "0 of 2 track days" {
		t.Errorf("after the service: %+v", r)
	}
	if _, refused := hand(t, a, "interval", IntervalForm{What: "chain"}); len(refused) != 1 {
		t.Errorf("an interval of nothing: %v", refused)
	}
	if _, refused := hand(t, a, "meter", MeterForm{}); len(refused) != 1 {
		t.Errorf("a meter that shows nothing: %v", refused)
	}
}

func TestMonthsBetween(t *testing.T) {
	day := func(s string) time.Time { d, _ := time.Parse(time.DateOnly, s); return d }
	for _, r := range []struct {
		from, to string
		want     float64
	}{{"2026-01-31", "2026-02-28", 0}, {"2026-01-15", "2026-02-15", 1}, {"2025-06-14", "2026-06-13", 11}, {"2026-06-14", "2026-01-01", 0}} {
		if got := monthsBetween(day(r.from), day(r.to)); got != r.want {
			t.Errorf("monthsBetween(%s, %s) = %v; want %v", r.from, r.to, got, r.want)
		}
	}
}

func TestRowsReadBackAsCSV(t *testing.T) {
	got := look[Rows](t, exampleAsk(t), "rows", RowsArgs{})
	sessions, err := csv.NewReader(strings.NewReader(got.Sessions)).ReadAll()
	if err != nil || len(sessions) != 24 || sessions[3][0] != "2026-04-18" || sessions[3][2] != "Fenwick Moor" {
		t.Errorf("sessions: %v, %d rows", err, len(sessions))
	}
	laps, err := csv.NewReader(strings.NewReader(got.Laps)).ReadAll()
	if err != nil || len(laps) < 150 || laps[0][9] != "sector 1 s" || laps[1][6] != "out" {
		t.Errorf("laps: %v, %d rows, %v", err, len(laps), laps[:min(2, len(laps))])
	}
}

// Cells that a spreadsheet would run are made harmless; numbers stay numbers.
func TestCSVIsSafeToOpen(t *testing.T) {
	rows := [][]string{{"=1+1", "+cmd", "-5", "-x", "@a", "\tb", "plain", "a,b", `say "no"`, " edge", "two\nlines", ""}}
	want := `'=1+1,'+cmd,-5,'-x,'@a,'` + "\tb" + `,plain,"a,b","say ""no"""," edge","two` + "\n" + `lines",` + "\r\n"
	if got := CSV(rows); got != want {
		t.Errorf("CSV = %q; want %q", got, want)
	}
}
