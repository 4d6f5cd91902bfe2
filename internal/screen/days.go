package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
	"plumbline/internal/entry"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// DaysArgs asks for the days of a bike.
type DaysArgs struct {
	Bike  book.BikeID  `json:"bike"`
	Track book.TrackID `json:"track"`
}

// Days is the track days of a bike with their sessions, the newest first.
type Days struct {
	Bike   book.BikeID `json:"bike"`
	Days   []DayRow    `json:"days"`
	Tracks []Choice    `json:"tracks"`
	Season Season      `json:"season"`
}

// DayRow is one day at a track.
type DayRow struct {
	ID       book.DayID   `json:"id,omitempty"`
	Date     string       `json:"date"` // "2026-04-18"
	Day      string       `json:"day"`  // "Sat 18 Apr 2026"
	Track    string       `json:"track"`
	TrackID  book.TrackID `json:"trackId,omitempty"`
	Way      string       `json:"way,omitempty"`
	Note     string       `json:"note,omitempty"`
	Best     string       `json:"best,omitempty"`
	Sessions []RunRow     `json:"sessions"`
	Trend    Trend        `json:"trend"`
}

// RunRow is one session in a line.
type RunRow struct {
	ID     book.SessionID `json:"id"`
	Name   string         `json:"name"` // "Session 2"
	Time   string         `json:"time"` // "12:10"
	Felt   string         `json:"felt,omitempty"`
	Says   string         `json:"says"`   // laps in a few words
	Before []string       `json:"before"` // what was changed before it
	Wet    bool           `json:"wet,omitempty"`
}

// Trend is the middle and best lap of each session of a day, and what was
// changed between them.
type Trend struct {
	Points []TrendPoint `json:"points"`
	Ticks  []Tick       `json:"ticks"`
	Says   string       `json:"says"`
}

// TrendPoint is one session in the trend: shares of the axis, 0 below.
// Quarter and Three are where the middle half of its laps lies.
type TrendPoint struct {
	ID      book.SessionID `json:"id"`
	Time    string         `json:"time"`
	Middle  float64        `json:"middle"`
	Best    float64        `json:"best"`
	Quarter float64        `json:"quarter"`
	Three   float64        `json:"three"`
	Says    []string       `json:"says"` // middle, best and count, for the table
	Changed []string       `json:"changed"`
}

var _ = view("days", days)

func days(a Ask, args DaysArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	out := Days{Bike: k.ID, Days: []DayRow{}, Tracks: trackChoices(a.Book), Season: seasonOf(a, k)}
	out.Days = dayRows(a, k, args.Track)
	return out, nil
}

// dayRows are the days of a bike at a track, at all for "", the newest first.
func dayRows(a Ask, k *book.Bike, track book.TrackID) []DayRow {
	out := []DayRow{}
	before := lastRidden(k)
	for _, d := range slices.Backward(a.Book.RidingDays(k)) {
		if track == "" || d.Track == track {
			out = append(out, dayRow(a, k, d, before))
		}
	}
	return out
}

// lastRidden says for each session when the one before it was ridden.
func lastRidden(k *book.Bike) map[entry.ID]time.Time {
	out := map[entry.ID]time.Time{}
	runs := k.Runs()
	for i := 1; i < len(runs); i++ {
		out[runs[i].Entry] = book.Ridden(runs[i-1])
	}
	return out
}

func dayRow(a Ask, k *book.Bike, d book.RidingDay, before map[entry.ID]time.Time) DayRow {
	row := DayRow{
		ID: d.Day, Date: d.Date, Day: dayLong(d.Date), Track: trackName(a.Book, d.Track), TrackID: d.Track,
		Way: d.Way, Note: d.Note, Sessions: []RunRow{}, Trend: trendOf(a, k, d),
	}
	best := 0.0
	for i, s := range d.Sessions {
		sum := sums(stint(k, s.Body.Session))
		if sum.Counted > 0 && (best == 0 || sum.Best < best) {
			best = sum.Best
		}
		row.Sessions = append(row.Sessions, runRow(s, i+1, sum, changesBefore(a, k, s, before)))
	}
	if best > 0 {
		row.Best = seconds(best)
	}
	return row
}

// dayLong prints a date as it stands on a calendar: "Sat 18 Apr 2026".
func dayLong(date string) string {
	if t, err := time.Parse(time.DateOnly, date); err == nil {
		return t.Format("Mon 2 Jan 2006")
	}
	return cmp.Or(date, "A day")
}

func trackName(b *book.Book, id book.TrackID) string {
	return cmp.Or(b.Tracks[id].Name, "no track named")
}

func runRow(s book.Dated[book.SessionBody], n int, sum lapSums, before []string) RunRow {
	row := RunRow{ID: s.Body.Session, Name: fmt.Sprintf("Session %d", n), Time: runTime(s), Felt: s.Body.Felt, Wet: s.Body.Wet, Before: before}
	row.Says = "no laps"
	if sum.Counted > 0 {
		row.Says = fmt.Sprintf("%s, %d count: best %s, middle %s", many(sum.All, "lap"), sum.Counted, seconds(sum.Best), seconds(sum.Middle))
	} else if sum.All > 0 {
		row.Says = many(sum.All, "lap") + ", none counts"
	}
	return row
}

func runTime(s book.Dated[book.SessionBody]) string {
	if len(s.Body.When) == len(time.DateOnly) {
		return "" // the rider gave the day only
	}
	return book.Ridden(s).Format("15:04")
}

// runTitle says which session of the day it is, and where.
func runTitle(a Ask, k *book.Bike, s book.Dated[book.SessionBody]) string {
	for _, d := range a.Book.RidingDays(k) {
		for i, one := range d.Sessions {
			if one.Entry == s.Entry {
				return join(fmt.Sprintf("Session %d", i+1), dayLong(d.Date), a.Book.Tracks[d.Track].Name)
			}
		}
	}
	return "Session"
}

// changesBefore says what moved on the bike since the session before this one.
func changesBefore(a Ask, k *book.Bike, s book.Dated[book.SessionBody], before map[entry.ID]time.Time) []string {
	since, ok := before[s.Entry]
	if !ok {
		return []string{}
	}
	return movedBetween(a, k, since, book.Ridden(s))
}

// movedBetween says what moved on the bike in a time, the end included.
func movedBetween(a Ask, k *book.Bike, from, to time.Time) []string {
	out := []string{}
	show := shower{a.Book}
	for _, id := range k.Order {
		set := k.Settings[id]
		for _, m := range set.Line {
			if !m.Wall.After(from) || m.Wall.After(to) || m.Kind == "count" {
				continue
			}
			words := show.went(set, m)
			if m.Kind == "found" {
				words = "found moved " + words
			}
			out = append(out, set.Name+": "+words)
		}
	}
	return out
}

func trendOf(a Ask, k *book.Bike, d book.RidingDay) Trend {
	out := Trend{Points: []TrendPoint{}, Ticks: []Tick{}}
	var counted []laps.Lap
	for _, s := range d.Sessions {
		counted = append(counted, laps.Counted(stint(k, s.Body.Session))...)
	}
	if len(counted) == 0 {
		out.Says = "No laps of this day count yet."
		return out
	}
	low, high := lapSpan(counted)
	out.Ticks = lapTicks(low, high)
	var first, last float64
	for i, s := range d.Sessions {
		all := laps.Counted(stint(k, s.Body.Session))
		if len(all) == 0 {
			continue
		}
		var at []float64
		for _, l := range all {
			at = append(at, l.Seconds)
		}
		sum := sums(all)
		quarter, three := hinges(at)
		p := TrendPoint{
			ID: s.Body.Session, Time: cmp.Or(runTime(s), fmt.Sprint(i+1)), Middle: share(sum.Middle, low, high), Best: share(sum.Best, low, high),
			Quarter: share(quarter, low, high), Three: share(three, low, high),
			Says: []string{seconds(sum.Middle), seconds(sum.Best), fmt.Sprint(sum.Counted)}, Changed: []string{},
		}
		if i > 0 {
			p.Changed = movedBetween(a, k, book.Ridden(d.Sessions[i-1]), book.Ridden(s))
		}
		if first == 0 {
			first = sum.Middle
		}
		last = sum.Middle
		out.Points = append(out.Points, p)
	}
	out.Says = fmt.Sprintf("%s; the middle lap went from %s to %s.", many(len(out.Points), "session"), seconds(first), seconds(last))
	return out
}

// hinges are the medians of the faster and of the slower half, the middle in
// both: where the middle half of the laps lies. J. W. Tukey, Exploratory Data
// Analysis, 1977 (from memory).
func hinges(all []float64) (quarter, three float64) {
	sorted := slices.Sorted(slices.Values(all))
	half := (len(sorted) + 1) / 2
	return laps.Median(sorted[:half]), laps.Median(sorted[len(sorted)-half:])
}

// RunArgs asks for a session.
type RunArgs struct {
	Session book.SessionID `json:"session"`
}

// Run is the page of one session: everything as it was then.
type Run struct {
	ID         book.SessionID `json:"id"`
	Entry      entry.ID       `json:"entry"`
	Title      string         `json:"title"`
	When       string         `json:"when"`
	Felt       string         `json:"felt,omitempty"`
	Note       string         `json:"note,omitempty"`
	Track      string         `json:"track,omitempty"`
	TrackID    book.TrackID   `json:"trackId,omitempty"`
	Conditions []Fact         `json:"conditions"`
	Pressures  []Pressure     `json:"pressures"`
	Before     []string       `json:"before"` // what was changed before it
	Settings   []SettingThen  `json:"settings"`
	Laps       []LapRow       `json:"laps"`
	Sectors    int            `json:"sectors"`
	Dots       LapDots        `json:"dots"`
	Source     string         `json:"source,omitempty"`
	Symptoms   []SymptomThen  `json:"symptoms"`
	Older      book.SessionID `json:"older,omitempty"`
	Newer      book.SessionID `json:"newer,omitempty"`
	Form       CameInForm     `json:"form"` // to be corrected
}

// Fact is something known, by name.
type Fact struct {
	Name string `json:"name"`
	Says string `json:"says"`
}

// Pressure is a tyre's, cold and hot, and how much it rose.
type Pressure struct {
	Tyre string `json:"tyre"`
	Cold string `json:"cold"`
	Hot  string `json:"hot"`
	Rose string `json:"rose"`
}

// SettingThen is a setting as it stood in a session. Off says how it differs
// from the line in force now.
type SettingThen struct {
	ID       book.AdjusterID `json:"id"`
	Name     string          `json:"name"`
	At       string          `json:"at"`
	Standing book.Standing   `json:"standing"`
	Moved    bool            `json:"moved,omitempty"` // since the session before
}

// SymptomThen is what was felt in a session.
type SymptomThen struct {
	Entry  entry.ID `json:"entry"`
	Says   string   `json:"says"`
	Where  string   `json:"where,omitempty"`
	Repeat string   `json:"repeat,omitempty"`
}

var _ = view("run", run)

func run(a Ask, args RunArgs) (any, []book.Refusal) {
	k, s, refused := ridden(a.Book, "", args.Session)
	if refused != nil {
		return nil, refused
	}
	out := Run{
		ID: s.Body.Session, Entry: s.Entry, Title: runTitle(a, k, s), When: runTime(s),
		Felt: s.Body.Felt, Note: s.Body.Note, Track: a.Book.Tracks[s.Body.Track].Name, TrackID: s.Body.Track,
		Conditions: conditions(a, k, s), Pressures: pressures(a, s), Before: changesBefore(a, k, s, lastRidden(k)), Settings: settingsThen(a, k, s),
		Source: lapsSource(a, k, s.Body.Session), Symptoms: symptomsOf(a, k, s.Body.Session), Form: formOfRun(a, s),
	}
	out.Laps, out.Sectors = lapRows(k.LapsOf(s.Body.Session))
	out.Dots = dotsOf(stint(k, s.Body.Session))
	runs := k.Runs()
	i := slices.IndexFunc(runs, func(one book.Dated[book.SessionBody]) bool { return one.Entry == s.Entry })
	if i > 0 {
		out.Older = runs[i-1].Body.Session
	}
	if i+1 < len(runs) {
		out.Newer = runs[i+1].Body.Session
	}
	return out, nil
}

func withTime(at string) string {
	if at == "" {
		return ""
	}
	return ", " + at
}

func conditions(a Ask, k *book.Bike, s book.Dated[book.SessionBody]) []Fact {
	show, n := shower{a.Book}, s.Body
	out := []Fact{}
	add := func(name, says string) {
		if says != "" {
			out = append(out, Fact{name, says})
		}
	}
	ground := "dry"
	if n.Wet {
		ground = "wet"
	}
	add("The track was", ground)
	if n.Air != nil {
		add("Air", show.temperature(*n.Air))
	}
	if n.Ground != nil {
		add("Track surface", show.temperature(*n.Ground))
	}
	add("Wind", n.Wind)
	if n.Fuel != nil {
		add("Fuel on going out", n.Fuel.String()+" litres")
	}
	for _, t := range k.TyreSets {
		if t.ID == n.Tyres {
			add("Tyres", fmt.Sprintf("%s, heat cycle %d", t.Name, k.HeatCycles(t.ID, n.Session)))
		}
	}
	return out
}

func pressures(a Ask, s book.Dated[book.SessionBody]) []Pressure {
	out := []Pressure{}
	for _, p := range []struct {
		tyre      string
		cold, hot *unit.Fixed
	}{{"Front", s.Body.ColdFront, s.Body.Front}, {"Rear", s.Body.ColdRear, s.Body.Rear}} {
		if p.cold == nil && p.hot == nil {
			continue
		}
		row := Pressure{Tyre: p.tyre, Cold: "not noted", Hot: "not noted"}
		if p.cold != nil {
			row.Cold = pressureIn(a.Book, *p.cold) + " " + pressureUnit(a.Book)
		}
		if p.hot != nil {
			row.Hot = pressureIn(a.Book, *p.hot) + " " + pressureUnit(a.Book)
		}
		if p.cold != nil && p.hot != nil {
			row.Rose = pressureIn(a.Book, *p.hot-*p.cold) + " " + pressureUnit(a.Book)
		}
		out = append(out, row)
	}
	return out
}

func settingsThen(a Ask, k *book.Bike, s book.Dated[book.SessionBody]) []SettingThen {
	at, standings := a.Book.StoodIn(k, s)
	was := at
	runs := k.Runs()
	if i := slices.IndexFunc(runs, func(one book.Dated[book.SessionBody]) bool { return one.Entry == s.Entry }); i > 0 {
		was, _ = a.Book.StoodIn(k, runs[i-1])
	}
	show := shower{a.Book}
	out := []SettingThen{}
	for _, id := range k.Order {
		standing, fitted := standings[id]
		if !fitted {
			continue
		}
		set := k.Settings[id]
		row := SettingThen{ID: id, Name: set.Name, At: "not known", Standing: standing}
		if v, ok := at[id]; ok {
			row.At = show.position(set, v)
			before, had := was[id]
			row.Moved = had && before != v
		}
		out = append(out, row)
	}
	return out
}

func symptomsOf(a Ask, k *book.Bike, id book.SessionID) []SymptomThen {
	out := []SymptomThen{}
	for _, n := range k.Symptoms {
		if n.Body.Session == id && id != "" {
			says := cmp.Or(n.Body.Words, findingsSay(n.Body.Findings))
			out = append(out, SymptomThen{n.Entry, capital(says), n.Body.Corner, repeatWords[n.Body.Repeat]})
		}
	}
	return out
}

// findingsSay puts the findings that were felt into words.
func findingsSay(felt map[string]string) string {
	out := ""
	for _, f := range diagnosis.Load().Findings() {
		if felt[f.ID] == "yes" {
			out = join(out, unstopped(f.Words))
		}
	}
	return cmp.Or(out, "something")
}

// DayForm puts a day into the book, or changes what it says of one.
type DayForm struct {
	Day   book.DayID `json:"day"`
	Track Named      `json:"track"`
	Date  string     `json:"date"`
	Way   string     `json:"way"`
	Note  string     `json:"note"`
}

var _ = action("day", dayNoted)

func dayNoted(a Ask, f DayForm) ([]book.Draft, []book.Refusal) {
	track, drafts := trackOf(a, f.Track)
	if track == "" && f.Day == "" {
		return nil, []book.Refusal{{Field: "track", Says: "Which track?", Mend: "Pick one, or type its name."}}
	}
	id := f.Day
	if id == "" {
		id = book.DayID(a.Mint())
	}
	date := cmp.Or(strings.TrimSpace(f.Date), a.Now.Format(time.DateOnly))
	return append(drafts, book.Draft{Kind: book.KindDay, Body: book.DayBody{Day: id, Track: track, Date: date, Way: f.Way, Note: strings.TrimSpace(f.Note)}}), nil
}
