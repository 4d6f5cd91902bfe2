package screen

import (
	"cmp"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// CameIn is what the form after a session offers. What hardly changes within a
// day comes from the last session; what was felt and measured does not.
type CameIn struct {
	Bike     book.BikeID  `json:"bike"`
	Title    string       `json:"title"` // "Session 3 at Fenwick Moor"
	Tracks   []Choice     `json:"tracks"`
	Track    book.TrackID `json:"track"` // of the day under way, or of the last session
	Tyres    []Choice     `json:"tyres"`
	Set      string       `json:"set"` // the tyre set in use
	Pressure string       `json:"pressure"`
	Step     unit.Fixed   `json:"step"` // of a pressure, as gauges are read
	Last     CameInLast   `json:"last"`
	Begin    Pressures    `json:"begin"`   // where − and + begin, in the book's unit
	Corners  []Choice     `json:"corners"` // of every track, by track and number
	Read     []string     `json:"read"`    // the laps as they were understood
}

// CameInLast is the last session's numbers: where the steppers start.
type CameInLast struct {
	Day    bool        `json:"day"` // it was today
	Front  *unit.Fixed `json:"-"`   // hot; shown by Hot and CameIn.Begin
	Rear   *unit.Fixed `json:"-"`
	Hot    string      `json:"hot,omitempty"` // "33.8 psi in front, 33.0 psi at the rear"
	Air    *unit.Fixed `json:"air"`
	Ground *unit.Fixed `json:"ground"`
	Fuel   *unit.Fixed `json:"fuel"`
	Wind   string      `json:"wind"`
	Wet    bool        `json:"wet"`
}

// Pressures are both tyres', hot and cold.
type Pressures struct {
	Front     unit.Fixed `json:"front"`
	Rear      unit.Fixed `json:"rear"`
	ColdFront unit.Fixed `json:"coldFront"`
	ColdRear  unit.Fixed `json:"coldRear"`
}

// CameInArgs carries the laps as typed, to be read back.
type CameInArgs struct {
	Bike book.BikeID `json:"bike"`
	Laps string      `json:"laps"`
}

// CameInForm is a session as the rider reports it. Everything may be left out.
// Pressures are in the book's unit, temperatures in °C; Laps holds one time
// per line. Words, Corner and Repeat become a symptom. Session names one that
// is corrected instead of reported. When is given for one ridden earlier.
type CameInForm struct {
	Bike      book.BikeID    `json:"bike"`
	Session   book.SessionID `json:"session,omitempty"`
	Track     Named          `json:"track"`
	When      string         `json:"when"`
	Felt      string         `json:"felt"`
	Air       *unit.Fixed    `json:"air"`
	Ground    *unit.Fixed    `json:"ground"`
	Wet       bool           `json:"wet"`
	Wind      string         `json:"wind"`
	Fuel      *unit.Fixed    `json:"fuel"`
	Tyres     string         `json:"tyres"`
	ColdFront *unit.Fixed    `json:"coldFront"`
	ColdRear  *unit.Fixed    `json:"coldRear"`
	Front     *unit.Fixed    `json:"front"`
	Rear      *unit.Fixed    `json:"rear"`
	Laps      string         `json:"laps"`
	Words     string         `json:"words"`
	Corner    string         `json:"corner"`
	Repeat    string         `json:"repeat"`
	Note      string         `json:"note"`
}

// Named is a thing as a form names it: one of the book's, or a new one.
type Named struct {
	ID   string `json:"id,omitempty"`
	Name string `json:"name,omitempty"`
}

var (
	_ = view("camein", cameIn)
	_ = action("session", sessionReported)
	_ = action("session-mend", sessionMended)
)

func cameIn(a Ask, args CameInArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	s := shower{a.Book}
	out := CameIn{
		Bike: k.ID, Tracks: trackChoices(a.Book), Pressure: pressureUnit(a.Book), Step: s.step(pressureSetting),
		Tyres: tyreChoices(k), Corners: cornerChoices(a.Book), Read: []string{},
	}
	day, under := dayUnderWay(a, k)
	if runs := k.Runs(); len(runs) > 0 {
		last := runs[len(runs)-1]
		out.Track, out.Set = last.Body.Track, string(last.Body.Tyres)
		out.Last = lastNumbers(s, last, sameDay(book.Ridden(last), a.Now))
	}
	out.Begin = beginAt(s, k, out.Last)
	n := 1
	if under {
		out.Track, n = cmp.Or(day.Track, out.Track), len(day.Sessions)+1
	}
	out.Title = fmt.Sprintf("Session %d today", n)
	out.Set = tyresInUse(k, out.Set)
	times, _ := readLaps(args.Laps) // what cannot be read is refused when it is handed in
	for _, t := range times {
		out.Read = append(out.Read, lapExact(t))
	}
	return out, nil
}

func lastNumbers(s shower, last book.Dated[book.SessionBody], today bool) CameInLast {
	out := CameInLast{Day: today, Fuel: last.Body.Fuel}
	for _, p := range []struct {
		from  *unit.Fixed
		to    **unit.Fixed
		where string
	}{{last.Body.Front, &out.Front, "in front"}, {last.Body.Rear, &out.Rear, "at the rear"}} {
		if p.from != nil {
			at := s.shown(pressureSetting, *p.from)
			*p.to, out.Hot = &at, join(out.Hot, s.amount(pressureSetting, *p.from)+" "+p.where)
		}
	}
	if today { // the weather of another day says nothing
		out.Air, out.Ground, out.Wind, out.Wet = last.Body.Air, last.Body.Ground, last.Body.Wind, last.Body.Wet
	}
	return out
}

// beginAt is where the rider's thumb begins: the last session's hot pressures,
// the cold ones as they are set, or what track tyres often have, in kPa
// (common practice, no source; the tyre maker's word comes first).
func beginAt(s shower, k *book.Bike, last CameInLast) Pressures {
	or := func(have *unit.Fixed, kPa int) unit.Fixed {
		if have != nil {
			return *have
		}
		return s.shown(pressureSetting, unit.Whole(kPa))
	}
	cold := func(id book.AdjusterID, kPa int) unit.Fixed {
		if set, ok := k.Settings[id]; ok && set.At != nil {
			return s.shown(pressureSetting, *set.At)
		}
		return or(nil, kPa)
	}
	return Pressures{or(last.Front, 230), or(last.Rear, 215), cold("front.pressure", 210), cold("rear.pressure", 200)}
}

func tyreChoices(k *book.Bike) []Choice {
	out := []Choice{}
	for _, t := range k.TyreSets {
		if !t.Gone {
			out = append(out, Choice{string(t.ID), t.Name})
		}
	}
	return out
}

// tyresInUse is the set of the last session, or the one fitted last when that
// is gone.
func tyresInUse(k *book.Bike, last string) string {
	in := ""
	for _, t := range k.TyreSets {
		if t.Gone {
			continue
		}
		if in = string(t.ID); in == last {
			return last
		}
	}
	return in
}

// cornerChoices are the corners of every track that names some; an id is the
// track and the corner's words.
func cornerChoices(b *book.Book) []Choice {
	out := []Choice{}
	for _, t := range trackChoices(b) {
		for i := range b.Tracks[book.TrackID(t.ID)].Corners {
			name := cornerName(b.Tracks[book.TrackID(t.ID)], i)
			out = append(out, Choice{t.ID + " " + name, name})
		}
	}
	return out
}

// cornerName is what a corner is called: its name, or its number from 1.
func cornerName(t book.Track, i int) string {
	return cmp.Or(t.Corners[i].Name, fmt.Sprintf("Turn %d", i+1))
}

// dayUnderWay is today's day: the one that the book has for today, with its
// sessions so far.
func dayUnderWay(a Ask, k *book.Bike) (book.RidingDay, bool) {
	today := a.Now.Format(time.DateOnly)
	var found book.RidingDay
	ok := false
	for _, d := range a.Book.RidingDays(k) {
		if d.Date == today && (!ok || d.Day != "") {
			found, ok = d, true
		}
	}
	return found, ok
}

func sessionReported(a Ask, f CameInForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	times, refused := readLaps(f.Laps)
	if refused != nil {
		return nil, refused
	}
	body, refused := f.body(shower{a.Book}, k.ID)
	if refused != nil {
		return nil, refused
	}
	body.Session = book.SessionID(a.Mint())
	if f.When == "" {
		coldToday(a, k, &body)
	}
	track, drafts := trackOf(a, f.Track)
	body.Track = track
	day, fresh := dayFor(a, k, f.When, track)
	body.Day = day
	drafts = append(drafts, fresh...)
	drafts = append(drafts, book.Draft{Kind: book.KindSession, Body: body})
	if len(times) > 0 {
		drafts = append(drafts, book.Draft{Kind: book.KindLaps, Body: book.LapsBody{Bike: k.ID, Session: body.Session, Laps: plainLaps(times), Source: "hand"}})
	}
	if words := strings.TrimSpace(f.Words); words != "" {
		drafts = append(drafts, book.Draft{Kind: book.KindSymptom, Body: book.SymptomBody{Bike: k.ID, Session: body.Session, Track: track, Corner: f.Corner, Repeat: f.Repeat, Words: words}})
	}
	return drafts, nil
}

// coldToday takes the cold pressures that were set or counted today, where the
// rider says none.
func coldToday(a Ask, k *book.Bike, body *book.SessionBody) {
	for _, p := range []struct {
		id book.AdjusterID
		to **unit.Fixed
	}{{"front.pressure", &body.ColdFront}, {"rear.pressure", &body.ColdRear}} {
		set, ok := k.Settings[p.id]
		if ok && *p.to == nil && set.At != nil && set.Seen != nil && sameDay(*set.Seen, a.Now) {
			at := *set.At
			*p.to = &at
		}
	}
}

func plainLaps(times []unit.Fixed) []book.LapTime {
	out := make([]book.LapTime, len(times))
	for i, t := range times {
		out[i].Time = t
	}
	return out
}

// body is the session that a form describes, without its names.
func (f CameInForm) body(s shower, bike book.BikeID) (book.SessionBody, []book.Refusal) {
	body := book.SessionBody{
		Bike: bike, When: f.When, Felt: f.Felt, Air: f.Air, Ground: f.Ground, Wet: f.Wet, Wind: strings.TrimSpace(f.Wind), Fuel: f.Fuel,
		Tyres: book.TyreSetID(f.Tyres), Note: strings.TrimSpace(f.Note),
	}
	var refused []book.Refusal
	for _, p := range []struct {
		typed *unit.Fixed
		field string
		to    **unit.Fixed
	}{{f.ColdFront, "coldFront", &body.ColdFront}, {f.ColdRear, "coldRear", &body.ColdRear}, {f.Front, "front", &body.Front}, {f.Rear, "rear", &body.Rear}} {
		at, wrong := tyrePressure(s, p.typed, p.field)
		*p.to = at
		refused = append(refused, wrong...)
	}
	return body, refused
}

// dayFor is the day that a session belongs to: the one that the book has at
// that track on that date, or a fresh one.
func dayFor(a Ask, k *book.Bike, when string, track book.TrackID) (book.DayID, []book.Draft) {
	date := a.Now.Format(time.DateOnly)
	if len(when) >= len(time.DateOnly) {
		date = when[:len(time.DateOnly)]
	}
	for _, id := range a.Book.DayOrder {
		if d := a.Book.Days[id]; d.Date == date && (d.Track == track || track == "") {
			return id, nil
		}
	}
	if track == "" {
		return "", nil
	}
	id := book.DayID(a.Mint())
	return id, []book.Draft{{Kind: book.KindDay, Body: book.DayBody{Day: id, Track: track, Date: date, Way: a.Book.Tracks[track].Way}}}
}

// sessionMended corrects a session's words: a correction, so nothing is lost.
func sessionMended(a Ask, f CameInForm) ([]book.Draft, []book.Refusal) {
	k, was, refused := ridden(a.Book, "", f.Session)
	if refused != nil {
		return nil, refused
	}
	body, refused := f.body(shower{a.Book}, k.ID)
	if refused != nil {
		return nil, refused
	}
	keepPressures(shower{a.Book}, &body, was.Body)
	track, drafts := trackOf(a, f.Track)
	body.Session, body.Track, body.Day, body.Laps = was.Body.Session, track, was.Body.Day, was.Body.Laps
	if track != was.Body.Track || f.When != was.Body.When {
		day, fresh := dayFor(a, k, cmp.Or(f.When, book.DateOf(was)), track)
		body.Day = day
		drafts = append(drafts, fresh...)
	}
	refused = append(refused, a.Book.Check(body)...)
	return append(drafts, book.Draft{Kind: book.KindCorrect, Body: book.CorrectBody{Entry: was.Entry, Body: encoded(body)}}), refused
}

// keepPressures leaves a pressure as it was to the thousandth when it still
// reads the same.
func keepPressures(s shower, now *book.SessionBody, was book.SessionBody) {
	for _, p := range []struct {
		now **unit.Fixed
		was *unit.Fixed
	}{{&now.ColdFront, was.ColdFront}, {&now.ColdRear, was.ColdRear}, {&now.Front, was.Front}, {&now.Rear, was.Rear}} {
		if *p.now != nil && p.was != nil && s.shown(pressureSetting, **p.now) == s.shown(pressureSetting, *p.was) {
			*p.now = p.was
		}
	}
}

// encoded is a body of ours, which always marshals.
func encoded(body any) json.RawMessage {
	raw, _ := json.Marshal(body)
	return raw
}

// formOfRun fills the form with what a session says, to be corrected.
func formOfRun(a Ask, s book.Dated[book.SessionBody]) CameInForm {
	show, n := shower{a.Book}, s.Body
	f := CameInForm{
		Bike: n.Bike, Session: n.Session, Track: Named{ID: string(n.Track)}, When: n.When, Felt: n.Felt, Air: n.Air, Ground: n.Ground, Wet: n.Wet,
		Wind: n.Wind, Fuel: n.Fuel, Tyres: string(n.Tyres), Note: n.Note,
	}
	for _, p := range []struct{ from, to **unit.Fixed }{{&n.ColdFront, &f.ColdFront}, {&n.ColdRear, &f.ColdRear}, {&n.Front, &f.Front}, {&n.Rear, &f.Rear}} {
		if *p.from != nil {
			at := show.shown(pressureSetting, **p.from)
			*p.to = &at
		}
	}
	return f
}

// trackOf returns the id for a form's track, and the draft for a new one.
func trackOf(a Ask, n Named) (book.TrackID, []book.Draft) {
	name := strings.TrimSpace(n.Name)
	if n.ID != "" || name == "" {
		return book.TrackID(n.ID), nil
	}
	for _, c := range trackChoices(a.Book) {
		if strings.EqualFold(c.Name, name) {
			return book.TrackID(c.ID), nil
		}
	}
	id := book.TrackID(a.Mint())
	return id, []book.Draft{{Kind: book.KindTrack, Body: book.TrackBody{Track: id, Name: name}}}
}

// pressureSetting stands for a tyre where only its unit matters.
var pressureSetting = &book.Setting{Def: book.Def{Unit: "kPa"}}

// tyrePressure turns a typed pressure into kPa. Between 80 and 450 kPa is what
// a motorcycle's tyre can hold hot; common practice, no source.
func tyrePressure(s shower, typed *unit.Fixed, field string) (*unit.Fixed, []book.Refusal) {
	if typed == nil {
		return nil, nil
	}
	kPa := s.typed(pressureSetting, *typed)
	if kPa < unit.Whole(80) || kPa > unit.Whole(450) {
		return nil, []book.Refusal{{Field: field, Says: fmt.Sprintf("%s %s is not a tyre's pressure.", *typed, pressureUnit(s.b)), Mend: "Check the number and its unit."}}
	}
	return &kPa, nil
}

// readLaps reads one lap time per line.
func readLaps(typed string) ([]unit.Fixed, []book.Refusal) {
	var out []unit.Fixed
	for _, line := range strings.Split(typed, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		seconds, err := laps.ParseTime(line)
		if err != nil {
			return out, []book.Refusal{{Field: "laps", Says: err.Error()}}
		}
		at, _ := unit.FixedOf(seconds) // ParseTime bounds it
		out = append(out, at)
	}
	return out, nil
}
