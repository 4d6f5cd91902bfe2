package screen

import (
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// HistoryArgs filters the history. Empty fields do not filter. Before is an
// entry id: the page after the one that ended with it.
type HistoryArgs struct {
	Bike     book.BikeID     `json:"bike"`
	Person   entry.PersonID  `json:"person"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Track    book.TrackID    `json:"track"`
	Kind     string          `json:"kind"`
	Before   entry.ID        `json:"before"`
}

// History is the book's lines, the newest first, and what they can be filtered
// by.
type History struct {
	Days      []HistoryDay `json:"days"`
	People    []Choice     `json:"people"`
	Adjusters []Choice     `json:"adjusters"`
	Tracks    []Choice     `json:"tracks"`
	Kinds     []Choice     `json:"kinds"`
	More      entry.ID     `json:"more,omitempty"` // ask again with Before set to this
	Total     int          `json:"total"`          // lines that match, on all pages
}

// HistoryDay is one day's lines.
type HistoryDay struct {
	Day   string        `json:"day"` // "Sat 12 Sep 2026"
	Lines []HistoryLine `json:"lines"`
}

// HistoryLine is one entry in words. Who turned it and whose idea it was are
// told apart, because that is what the book is for.
type HistoryLine struct {
	Entry     entry.ID `json:"entry"`
	Kind      string   `json:"kind"`
	Time      string   `json:"time"` // "09:15"
	Title     string   `json:"title"`
	Detail    string   `json:"detail,omitempty"`
	Turned    string   `json:"turned,omitempty"`
	Idea      string   `json:"idea,omitempty"`
	Why       string   `json:"why,omitempty"`
	Track     string   `json:"track,omitempty"`
	Struck    bool     `json:"struck,omitempty"`
	Corrected bool     `json:"corrected,omitempty"`
	Was       string   `json:"was,omitempty"`       // what it said before it was corrected
	StruckFor string   `json:"struckFor,omitempty"` // why it was struck out
	Unowned   bool     `json:"unowned,omitempty"`   // a found difference without an author
	Photos    string   `json:"photos,omitempty"`    // "2 photos": how many belong to it
}

// Choice is something that can be picked: an id and how it is called.
type Choice struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// historyPage is how many lines a page holds.
const historyPage = 60

var _ = view("history", history)

func history(a Ask, args HistoryArgs) (any, []book.Refusal) {
	b := a.Book
	tell := teller{shower{b}, unowned(b)}
	h := History{
		People: peopleChoices(b), Adjusters: adjusterChoices(b, args.Bike), Tracks: trackChoices(b), Kinds: kindChoices(),
		Days: []HistoryDay{},
	}
	photos := photosAbout(b)
	lines, skipping := 0, args.Before != ""
	for _, t := range slices.Backward(b.Told) {
		line, ok := tell.line(t)
		if !ok || !tell.matches(t, args) {
			continue
		}
		h.Total++
		if skipping {
			skipping = t.Entry != args.Before
			continue
		}
		if lines == historyPage {
			h.More = cmp.Or(h.More, lastOf(h.Days))
			continue
		}
		lines++
		if n := photos[t.Entry]; n > 0 {
			line.Photos = many(n, "photo")
		}
		h.Days = addLine(h.Days, t.Wall, line)
	}
	return h, nil
}

func lastOf(days []HistoryDay) entry.ID {
	last := days[len(days)-1].Lines
	return last[len(last)-1].Entry
}

func addLine(days []HistoryDay, wall time.Time, line HistoryLine) []HistoryDay {
	day := wall.Format("Mon 2 Jan 2006")
	if len(days) == 0 || days[len(days)-1].Day != day {
		days = append(days, HistoryDay{Day: day})
	}
	last := &days[len(days)-1]
	last.Lines = append(last.Lines, line)
	return days
}

func unowned(b *book.Book) map[entry.ID]book.Mark {
	out := map[entry.ID]book.Mark{}
	for _, k := range b.Bikes {
		for _, s := range k.Settings {
			for _, m := range s.Line {
				if m.Kind == "found" {
					out[m.Entry] = m
				}
			}
		}
	}
	return out
}

func peopleChoices(b *book.Book) []Choice {
	out := []Choice{}
	return append(append(out, namedPeople(b)...), Choice{string(book.PersonUnknown), "Nobody knows who"})
}

func trackChoices(b *book.Book) []Choice {
	out := []Choice{}
	for _, id := range slices.Sorted(maps.Keys(b.Tracks)) {
		out = append(out, Choice{string(id), b.Tracks[id].Name})
	}
	return out
}

func adjusterChoices(b *book.Book, bike book.BikeID) []Choice {
	out := []Choice{}
	k, refused := bikeOf(b, bike)
	if refused != nil {
		return out
	}
	for _, s := range k.Active() {
		out = append(out, Choice{string(s.ID), s.Name})
	}
	return out
}

// kindWords are the kinds that history shows, in the order of the filter.
var kindWords = []Choice{
	{book.KindChange, "Changes"}, {book.KindCount, "Counts"}, {book.KindBaseline, "Lines drawn"}, {book.KindAdvice, "Advice"},
	{book.KindTrial, "Trials"}, {book.KindReveal, "Blind draws"}, {book.KindVerdict, "Verdicts"}, {book.KindDay, "Days"}, {book.KindSession, "Sessions"}, {book.KindLaps, "Laps"}, {book.KindSymptom, "Symptoms"}, {book.KindRepeat, "Tasks"}, {book.KindFall, "Falls"},
	{book.KindCheck, "Checks"}, {book.KindService, "Services"}, {book.KindPart, "Parts"}, {book.KindPhoto, "Photos"}, {book.KindMeasure, "Measurements"},
	{book.KindTyres, "Tyres"}, {book.KindTrack, "Tracks"}, {book.KindInterval, "Service intervals"},
}

func kindChoices() []Choice { return slices.Clone(kindWords) }

// teller puts entries into words.
type teller struct {
	shower
	found map[entry.ID]book.Mark
}

func (w teller) matches(t book.Told, args HistoryArgs) bool {
	if args.Bike != "" && t.Bike != "" && t.Bike != args.Bike ||
		args.Adjuster != "" && t.Adjuster != args.Adjuster ||
		args.Kind != "" && t.Kind != args.Kind {
		return false
	}
	if args.Track != "" && t.Track != args.Track {
		return false
	}
	if t.Kind == book.KindLaps && args.Kind == "" {
		return false // its session tells of them
	}
	return args.Person == "" || w.involves(t, args.Person)
}

// involved is whom an entry's body names, besides its author.
type involved struct {
	Turned entry.PersonID `json:"turned"`
	Idea   entry.PersonID `json:"idea"`
	From   any            `json:"from"` // a person in advice, a position in a change
	Done   entry.PersonID `json:"done"`
	Who    entry.PersonID `json:"who"`
}

func (w teller) involves(t book.Told, id entry.PersonID) bool {
	var v involved
	_ = json.Unmarshal(t.Body, &v)
	from, _ := v.From.(string)
	named := []entry.PersonID{entry.PersonID(from), v.Turned, v.Idea, v.Done, v.Who}
	if m, found := w.found[t.Entry]; found {
		if m.Owned == "" {
			return id == book.PersonUnknown
		}
		named = append(named, m.Turned, m.Idea)
	}
	return slices.ContainsFunc(named, func(p entry.PersonID) bool { return p != "" && w.b.Who(p) == id })
}

// line returns an entry in words, with what was made of it later, and false
// for the ones that are plumbing.
func (w teller) line(t book.Told) (HistoryLine, bool) {
	l, ok := w.says(t)
	if ok && t.Corrected != "" && len(t.Was) > 0 {
		first := t
		first.Body, first.Corrected = t.Was, ""
		if was, ok := w.says(first); ok && was.Title != l.Title {
			l.Was = was.Title
		}
	}
	if t.Struck != "" {
		l.StruckFor = whyOf(toldOf(w.b, t.Struck))
	}
	return l, ok
}

// says returns an entry in words.
func (w teller) says(t book.Told) (HistoryLine, bool) {
	l := HistoryLine{
		Entry: t.Entry, Kind: t.Kind, Time: t.Wall.Format("15:04"), Track: w.b.Tracks[t.Track].Name,
		Struck: t.Struck != "", Corrected: t.Corrected != "",
	}
	switch t.Kind {
	case book.KindChange:
		return l, told(t, &l, w.change)
	case book.KindCount:
		return l, told(t, &l, w.count)
	case book.KindBaseline:
		return l, told(t, &l, func(_ book.Told, l *HistoryLine, n book.BaselineBody) {
			l.Title, l.Detail = "Line drawn: "+n.Name, fmt.Sprintf("%d settings known", len(n.At))
		})
	case book.KindAdvice:
		return l, told(t, &l, w.advice)
	case book.KindTrial, book.KindRun, book.KindDraw, book.KindReveal, book.KindRating, book.KindVerdict:
		return l, w.trial(t, &l)
	case book.KindDay:
		return l, told(t, &l, w.day)
	case book.KindSession:
		return l, told(t, &l, w.session)
	case book.KindLaps:
		return l, told(t, &l, lapsNoted)
	case book.KindTyres:
		return l, told(t, &l, func(_ book.Told, l *HistoryLine, n book.TyresBody) {
			l.Title, l.Detail = "Tyres: "+n.Name, join(n.Front, n.Rear, whenSaid(n.Fitted), n.Note)
		})
	case book.KindTrack:
		return l, told(t, &l, func(_ book.Told, l *HistoryLine, n book.TrackBody) {
			l.Title, l.Detail = "Track: "+w.b.Tracks[n.Track].Name, trackTold(n)
		})
	case book.KindInterval:
		return l, told(t, &l, func(_ book.Told, l *HistoryLine, n book.IntervalBody) {
			l.Title, l.Detail = capital(spaced(n.What))+": "+intervalSays(n), n.Note
		})
	case book.KindSymptom:
		return l, told(t, &l, symptom)
	case book.KindRepeat:
		return l, told(t, &l, repeatTold)
	case book.KindForget:
		l.Title = "What verdicts taught was forgotten"
		return l, true
	case book.KindFall:
		return l, told(t, &l, func(_ book.Told, l *HistoryLine, n book.FallBody) {
			l.Title, l.Detail = join("Fall", n.Speed, n.Side), n.Note
		})
	case book.KindCheck:
		return l, told(t, &l, func(_ book.Told, l *HistoryLine, n book.CheckBody) {
			l.Title, l.Detail = "Check "+spaced(n.Check)+": "+n.Result, n.Note
		})
	case book.KindService:
		return l, told(t, &l, func(_ book.Told, l *HistoryLine, n book.ServiceBody) {
			l.Title, l.Detail, l.Turned = join("Service: "+spaced(n.What), whenSaid(n.When)), n.Note, nameOf(w.b, n.By)
		})
	case book.KindPart:
		return l, told(t, &l, func(_ book.Told, l *HistoryLine, n book.PartBody) {
			l.Title, l.Detail, l.Turned = join("Fitted: "+n.Part, whenSaid(n.When)), n.Note, nameOf(w.b, n.By)
		})
	case book.KindPhoto:
		return l, told(t, &l, w.photo)
	case book.KindMeasure:
		return l, told(t, &l, w.measure)
	}
	return l, false
}

func told[B any](t book.Told, l *HistoryLine, say func(book.Told, *HistoryLine, B)) bool {
	var body B
	if json.Unmarshal(t.Body, &body) != nil {
		return false
	}
	say(t, l, body)
	return true
}

func (w teller) change(t book.Told, l *HistoryLine, c book.ChangeBody) {
	s := w.setting(t)
	l.Title = s.Name + ": " + w.move(s, c.From, c.To, c.Delta)
	l.Turned, l.Idea, l.Why, l.Detail = nameOf(w.b, c.By), nameOf(w.b, c.Idea), c.Why, c.Expect
	if c.Expect != "" {
		l.Detail = "Expected: " + c.Expect
	}
}

func (w teller) count(t book.Told, l *HistoryLine, c book.CountBody) {
	s := w.setting(t)
	l.Detail = c.Note
	if m, ok := w.found[t.Entry]; ok {
		l.Title = s.Name + " found moved: " + w.move(s, m.From, m.To, m.Delta)
		l.Unowned, l.Turned, l.Idea, l.Why = m.Owned == "", nameOf(w.b, m.Turned), nameOf(w.b, m.Idea), m.Why
		if m.After != nil {
			l.Detail = join("between "+m.After.Format("2 Jan 15:04")+" and "+m.Wall.Format("2 Jan 15:04"), c.Note)
		}
		return
	}
	if c.At == nil {
		l.Title = s.Name + ": not known"
		return
	}
	l.Title = s.Name + ": " + string(c.Standing) + " at " + w.position(s, *c.At)
}

func (w teller) measure(t book.Told, l *HistoryLine, n book.MeasureBody) {
	l.Title, l.Detail = "Measured: "+spaced(n.Topic), n.Note
	topic, known := topicOf(n.Topic)
	k, here := w.b.Bikes[n.Bike]
	if !known || !here {
		return
	}
	l.Title = "Measured: " + lower(topic.name)
	l.Detail = join(measureSays(Ask{Book: w.b, Now: t.Wall}, k, n, t.Wall), n.Note)
}

func (w teller) advice(t book.Told, l *HistoryLine, n book.AdviceBody) {
	l.Title = nameOf(w.b, n.From) + " said: " + cmp.Or(n.What, "change something")
	if n.Adjuster != "" && n.Delta != nil {
		s := w.setting(t)
		l.Detail = s.Name + ": " + w.moved(s, *n.Delta)
	}
	l.Why = n.Why
}

func (w teller) setting(t book.Told) *book.Setting {
	if k, ok := w.b.Bikes[t.Bike]; ok && k.Settings[t.Adjuster] != nil {
		return k.Settings[t.Adjuster]
	}
	return &book.Setting{Def: book.Def{Name: string(t.Adjuster)}}
}

var verdictWords = map[string]string{"keep": "keep it", "back": "put it back", "more": "ride more"}

var repeatWords = map[string]string{"once": "once", "some": "some laps", "every": "every lap", "purpose": "can be repeated on purpose"}

func (w teller) day(_ book.Told, l *HistoryLine, n book.DayBody) {
	l.Title, l.Detail = join2("Day at "+cmp.Or(w.b.Tracks[n.Track].Name, "a track"), whenSaid(n.Date)), join(n.Way, n.Note)
}

func (w teller) session(t book.Told, l *HistoryLine, n book.SessionBody) {
	l.Title = "Session"
	if n.Felt != "" {
		l.Title += ", felt " + n.Felt
	}
	if k, ok := w.b.Bikes[t.Bike]; ok {
		l.Detail = lapsSay(k.LapsOf(n.Session))
	}
	if ridden := (book.Dated[book.SessionBody]{Wall: t.Wall, Body: n}); n.When != "" {
		l.Detail = join(l.Detail, "ridden "+book.Ridden(ridden).Format("2 Jan 2006")+withTime(runTime(ridden)))
	}
	l.Detail = join(l.Detail, n.Note)
}

// lapsSay sums laps up: "8 laps, best 1:52.4"; nothing for none.
func lapsSay(all []book.LapTime) string {
	if len(all) == 0 {
		return ""
	}
	best := slices.MinFunc(all, func(a, b book.LapTime) int { return cmp.Compare(a.Time, b.Time) })
	return many(len(all), "lap") + ", best " + lapTime(best.Time)
}

// sourceWords say where lap times come from.
var sourceWords = map[string]string{"hand": "by hand", "table": "from a table", "trace": "from a trace", "live": "timed by this phone"}

func lapsNoted(_ book.Told, l *HistoryLine, n book.LapsBody) {
	l.Title, l.Detail = cmp.Or(lapsSay(n.Laps), "no laps"), join(sourceWords[n.Source], n.Note)
}

func trackTold(n book.TrackBody) string {
	out := join(n.Bumpy, n.Way)
	if n.Length != nil {
		out = join(out, n.Length.String()+" m")
	}
	if n.Corners != nil {
		out = join(out, many(len(n.Corners), "corner"))
	}
	if n.Map != nil {
		out = join(out, "a map")
	}
	return join(out, n.Note)
}

// intervalSays puts an interval into words: "every 10 track days or 12 months".
func intervalSays(n book.IntervalBody) string {
	if n.Off {
		return "no word of it"
	}
	out := ""
	for _, l := range []struct {
		n     int
		thing string
	}{{n.Days, "track day"}, {n.Hours, "hour"}, {n.Km, "km"}, {n.Months, "month"}} {
		if l.n == 0 {
			continue
		}
		one := many(l.n, l.thing)
		if l.thing == "km" {
			one = fmt.Sprintf("%d km", l.n)
		}
		if out != "" {
			out += " or "
		}
		out += one
	}
	return "every " + out
}

// lapTime prints seconds as riders do: 1:52.4.
func lapTime(s unit.Fixed) string {
	tenths := (int64(s) + 50) / 100
	return fmt.Sprintf("%d:%02d.%d", tenths/600, tenths/10%60, tenths%10)
}

func symptom(_ book.Told, l *HistoryLine, n book.SymptomBody) {
	l.Title = "Felt: " + cmp.Or(n.Words, fmt.Sprintf("%d findings", len(n.Findings)))
	l.Detail = join(repeatWords[n.Repeat], n.Corner, handedWords[n.Side])
}

// join puts the parts that are not empty behind each other with commas.
func join(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), ", ")
}

// spaced turns an id into words: "fork-oil" to "fork oil".
func spaced(id string) string {
	out := []byte(id)
	for i, c := range out {
		if c == '-' {
			out[i] = ' '
		}
	}
	return string(out)
}
