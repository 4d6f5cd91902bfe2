package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// WorkedArgs asks what worked at a track. Front and Rear are the hot pressures
// wanted and Air the air's temperature in °C, all optional.
type WorkedArgs struct {
	Bike  book.BikeID  `json:"bike"`
	Track book.TrackID `json:"track"`
	Wet   bool         `json:"wet"`
	Front *unit.Fixed  `json:"front"`
	Rear  *unit.Fixed  `json:"rear"`
	Air   *unit.Fixed  `json:"air"`
}

// Worked is what worked at a track in one condition: the best-supported
// settings with their evidence, to begin a day with.
type Worked struct {
	Bike      book.BikeID     `json:"bike"`
	Track     book.TrackID    `json:"track"`
	Tracks    []Choice        `json:"tracks"`
	Wet       bool            `json:"wet"`
	Says      string          `json:"says"`
	Name      string          `json:"name"` // of the line that would be drawn
	Settings  []WorkedSetting `json:"settings"`
	Moves     int             `json:"moves"` // settings that stand elsewhere now
	Pressures []WorkedHot     `json:"pressures"`
	Unit      string          `json:"unit"` // of pressures
	Corners   []CornerFelt    `json:"corners"`
	Compare   *Compared       `json:"compare,omitempty"`
}

// WorkedSetting is one adjuster's best-supported position: where a trial that
// Evidence tells of left it, else where it stood in the best run.
type WorkedSetting struct {
	Adjuster book.AdjusterID `json:"adjuster"`
	Name     string          `json:"name"`
	At       string          `json:"at"`
	Now      string          `json:"now"`
	Moved    bool            `json:"moved"`
	Evidence string          `json:"evidence,omitempty"` // of the trial
	to       unit.Fixed
}

// CornerFelt is what was felt in one corner.
type CornerFelt struct {
	Corner string   `json:"corner"`
	Felt   []string `json:"felt"`
}

// Compared are the best-supported settings of all tracks side by side.
type Compared struct {
	Head []string   `json:"head"`
	Rows [][]string `json:"rows"` // adjuster, then a cell for each track
}

// WorkedForm draws a line through what worked.
type WorkedForm struct {
	Bike  book.BikeID  `json:"bike"`
	Track book.TrackID `json:"track"`
	Wet   bool         `json:"wet"`
	Name  string       `json:"name"`
}

var (
	_ = view("worked", worked)
	_ = action("worked", drawWorked)
)

func worked(a Ask, args WorkedArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	out := Worked{
		Bike: k.ID, Track: cmp.Or(args.Track, trackHere(a, k)), Tracks: trackChoices(a.Book), Wet: args.Wet, Unit: pressureUnit(a.Book),
		Settings: []WorkedSetting{}, Pressures: []WorkedHot{}, Corners: []CornerFelt{},
	}
	here := a.Book.Tracks[out.Track].Name
	e := evidenceAt(a, k, out.Track, out.Wet)
	out.Settings, out.Says = e.settings(), e.says(here)
	for _, s := range out.Settings {
		if s.Moved {
			out.Moves++
		}
	}
	out.Name = here + ", " + stateWord(out.Wet) + ": what worked"
	out.Pressures = e.pressures(args)
	felt := feltByCorner(a.Book, out.Track)
	for _, c := range a.Book.Tracks[out.Track].Corners {
		if f := felt[c.Name]; len(f) > 0 {
			out.Corners = append(out.Corners, CornerFelt{c.Name, f})
		}
	}
	out.Compare = compareTracks(a, k, out.Wet)
	return out, nil
}

// trackHere is the track of today's day or session, or of the latest one.
func trackHere(a Ask, k *book.Bike) book.TrackID {
	days := a.Book.RidingDays(k)
	for _, d := range slices.Backward(days) {
		if d.Date == a.Now.Format("2006-01-02") && d.Track != "" {
			return d.Track
		}
	}
	for _, d := range slices.Backward(days) {
		if d.Track != "" && len(d.Sessions) > 0 {
			return d.Track
		}
	}
	return ""
}

// workedDue offers what worked here before the first session of a day that is
// written down for today, when something did and the bike stands elsewhere.
func workedDue(a Ask, k *book.Bike) *Notice {
	today := a.Now.Format("2006-01-02")
	for _, d := range a.Book.RidingDays(k) {
		if d.Date != today || len(d.Sessions) > 0 || d.Track == "" {
			continue
		}
		moves := 0
		for _, w := range evidenceAt(a, k, d.Track, false).settings() {
			if w.Moved {
				moves++
			}
		}
		if moves > 0 {
			name := a.Book.Tracks[d.Track].Name
			return &Notice{"What worked at " + name, "Set otherwise than what worked there in the dry: " + many(moves, "setting") + ".", "/worked?track=" + string(d.Track), "Look at it"}
		}
	}
	return nil
}

func stateWord(wet bool) string {
	if wet {
		return "wet"
	}
	return "dry"
}

// evidence is what the book knows of a bike at one track in one condition.
type evidence struct {
	a     Ask
	k     *book.Bike
	track book.TrackID
	runs  []book.Dated[book.SessionBody]
	best  *book.Dated[book.SessionBody]
	mid   float64 // of the best run, s; 0 when it has no laps
}

// runLaps is the fewest counted laps with which a run can be the best.
const runLaps = 3

// evidenceAt finds the runs and the best of them: the quickest by its middle
// lap, those that felt worse left out; without laps the latest that felt
// better.
func evidenceAt(a Ask, k *book.Bike, track book.TrackID, wet bool) evidence {
	e := evidence{a: a, k: k, track: track}
	for _, s := range k.Runs() {
		if track == "" || s.Body.Track != track || s.Body.Wet != wet {
			continue
		}
		e.runs = append(e.runs, s)
		n := sums(stint(k, s.Body.Session))
		switch {
		case s.Body.Felt == "worse":
		case n.Counted >= runLaps && (e.mid == 0 || n.Middle < e.mid):
			e.best, e.mid = &s, n.Middle
		case e.mid == 0 && s.Body.Felt == "better":
			e.best = &s
		}
	}
	return e
}

func (e evidence) says(track string) string {
	switch {
	case e.track == "":
		return "Ride somewhere first: the book has no session yet."
	case len(e.runs) == 0:
		return "You have not ridden at " + track + " in this state yet."
	case e.best == nil:
		return "No run here has laps that count, or was felt to be better. There is nothing to go by yet."
	}
	says := "From " + many(len(e.runs), "run") + " here. The best run: " + book.Ridden(*e.best).Format("2 Jan 2006, 15:04")
	if e.mid > 0 {
		says += ", middle lap " + seconds(e.mid)
	}
	return says + "."
}

// settings are the positions of the best run, with those that a trial decided
// here in their place, the later word winning. Tyre pressures stand apart.
func (e evidence) settings() []WorkedSetting {
	out := []WorkedSetting{}
	if e.best == nil {
		return out
	}
	s := shower{e.a.Book}
	at, _ := e.a.Book.StoodIn(e.k, *e.best)
	for _, set := range e.k.Active() {
		if set.Group == "tyres" {
			continue
		}
		w := WorkedSetting{Adjuster: set.ID, Name: set.Name, Now: "not known"}
		to, known := at[set.ID]
		if t, by, ok := e.decided(set.ID); ok {
			to, known, w.Evidence = t, true, by
		}
		if !known {
			continue
		}
		w.to, w.At = to, s.position(set, to)
		if set.At != nil {
			w.Now = s.position(set, *set.At)
		}
		w.Moved = set.At == nil || 2*max(*set.At-to, to-*set.At) >= max(set.Step, 1)
		out = append(out, w)
	}
	return out
}

// decided is where the latest judged trial of an adjuster at this track left
// it, if it was judged after the best run or settles what that run had.
func (e evidence) decided(id book.AdjusterID) (at unit.Fixed, by string, ok bool) {
	s := shower{e.a.Book}
	for _, t := range slices.Backward(e.k.Trials) {
		if t.Body.Adjuster != id || t.Body.Track != e.track || t.Runs() {
			continue
		}
		to := cmp.Or(t.Chosen, t.Body.To)
		if t.Verdict == "back" {
			to = t.Body.From
		}
		if to == nil {
			return 0, "", false
		}
		if stood, _ := e.a.Book.StoodIn(e.k, *e.best); t.Judged.Before(book.Ridden(*e.best)) && stood[id] != *to {
			return 0, "", false // moved again since, and the best run was on that
		}
		by = map[string]string{"keep": "kept after a trial", "back": "put back after a trial"}[t.Verdict] + " on " + s.day(*t.Judged, e.a.Now)
		v := weigh(e.a.Book, e.k, t)
		if !isFar(v.says) {
			by += ": with it " + faster(v.says.Shift.Middle)
		}
		return *to, join(by, t.Note), true
	}
	return 0, "", false
}

func isFar(v laps.Verdict) bool { return v.Belief == (laps.Belief{}) }

// compareTracks puts the best-supported settings of all ridden tracks side by
// side, those adjusters only that differ between them; nil with one track.
func compareTracks(a Ask, k *book.Bike, wet bool) *Compared {
	out := &Compared{Head: []string{"Adjuster"}, Rows: [][]string{}}
	var each []map[book.AdjusterID]unit.Fixed
	for _, t := range trackChoices(a.Book) {
		e := evidenceAt(a, k, book.TrackID(t.ID), wet)
		if e.best == nil {
			continue
		}
		at := map[book.AdjusterID]unit.Fixed{}
		for _, w := range e.settings() {
			at[w.Adjuster] = w.to
		}
		each, out.Head = append(each, at), append(out.Head, t.Name)
	}
	if len(each) < 2 {
		return nil
	}
	s := shower{a.Book}
	for _, set := range k.Active() {
		row, differs := []string{set.Name}, false
		for i, at := range each {
			v, known := at[set.ID]
			if !known {
				row = append(row, "not known")
				continue
			}
			first, had := each[0][set.ID]
			differs = differs || i > 0 && had && v != first
			row = append(row, s.position(set, v))
		}
		if differs {
			out.Rows = append(out.Rows, row)
		}
	}
	return out
}

func drawWorked(a Ask, f WorkedForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	settings := evidenceAt(a, k, f.Track, f.Wet).settings()
	if len(settings) == 0 {
		return nil, []book.Refusal{{Field: "track", Says: "Nothing is known to have worked here yet.", Mend: "Ride, judge a trial, and come back."}}
	}
	at := k.SnapshotLine()
	for _, w := range settings {
		at[w.Adjuster] = w.to
	}
	name := cmp.Or(strings.TrimSpace(f.Name), fmt.Sprintf("%s, %s: what worked", a.Book.Tracks[f.Track].Name, stateWord(f.Wet)))
	n := book.BaselineBody{Bike: k.ID, Baseline: book.BaselineID(a.Mint()), Name: name, At: at, Track: f.Track, Note: "What worked here"}
	return []book.Draft{{Kind: book.KindBaseline, Body: n}}, nil
}
