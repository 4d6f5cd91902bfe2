package screen

import (
	"fmt"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// CameIn is what the form after a session offers.
type CameIn struct {
	Bike     book.BikeID  `json:"bike"`
	Tracks   []Choice     `json:"tracks"`
	Track    book.TrackID `json:"track"` // of the last session
	Pressure string       `json:"pressure"`
	Read     []string     `json:"read"` // the laps as they were understood
}

// CameInArgs carries the laps as typed, to be read back.
type CameInArgs struct {
	Bike book.BikeID `json:"bike"`
	Laps string      `json:"laps"`
}

// CameInForm is a session as the rider reports it. Everything may be left out.
// Front and rear are hot pressures in the book's unit, Air is °C; Laps holds
// one time per line.
type CameInForm struct {
	Bike  book.BikeID `json:"bike"`
	Track Named       `json:"track"`
	Felt  string      `json:"felt"`
	Air   *unit.Fixed `json:"air"`
	Wet   bool        `json:"wet"`
	Front *unit.Fixed `json:"front"`
	Rear  *unit.Fixed `json:"rear"`
	Laps  string      `json:"laps"`
	Note  string      `json:"note"`
}

// Named is a thing as a form names it: one of the book's, or a new one.
type Named struct {
	ID   string `json:"id,omitempty"`
	Name string `json:"name,omitempty"`
}

var (
	_ = view("camein", cameIn)
	_ = action("session", sessionReported)
)

func cameIn(a Ask, args CameInArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	out := CameIn{Bike: k.ID, Tracks: trackChoices(a.Book), Pressure: pressureUnit(a.Book), Read: []string{}}
	if n := len(k.Sessions); n > 0 {
		out.Track = k.Sessions[n-1].Body.Track
	}
	times, _ := readLaps(args.Laps) // what cannot be read is refused when it is handed in
	for _, t := range times {
		out.Read = append(out.Read, lapTime(t))
	}
	return out, nil
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
	s := shower{a.Book}
	body := book.SessionBody{Bike: k.ID, Session: book.SessionID(a.Mint()), Felt: f.Felt, Air: f.Air, Wet: f.Wet, Laps: times, Note: f.Note}
	body.Front, refused = hotPressure(s, f.Front, "front")
	rear, wrong := hotPressure(s, f.Rear, "rear")
	if refused = append(refused, wrong...); len(refused) > 0 {
		return nil, refused
	}
	body.Rear = rear
	track, drafts := trackOf(a, f.Track)
	body.Track = track
	return append(drafts, book.Draft{Kind: book.KindSession, Body: body}), nil
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

// hotPressure turns a typed pressure into kPa. Between 80 and 450 kPa is what
// a motorcycle's tyre can hold hot; common practice, no source.
func hotPressure(s shower, typed *unit.Fixed, field string) (*unit.Fixed, []book.Refusal) {
	if typed == nil {
		return nil, nil
	}
	kPa := s.typed(&book.Setting{Def: book.Def{Unit: "kPa"}}, *typed)
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
