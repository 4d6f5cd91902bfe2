package screen

import (
	"plumbline/internal/book"
	"plumbline/internal/unit"
)

// SummaryArgs asks for a bike; empty is the book's first.
type SummaryArgs struct {
	Bike book.BikeID `json:"bike"`
}

// Summary is a bike at a glance, as text: what is set, how well it is known,
// and how far it stands from the line.
type Summary struct {
	Book     string           `json:"book"`
	Bike     string           `json:"bike"`
	Stop     string           `json:"stop,omitempty"` // do not ride until…
	Line     string           `json:"line,omitempty"` // the baseline in force
	Settings []SummarySetting `json:"settings"`
	Unowned  int              `json:"unowned"` // found differences that nobody owns
}

// SummarySetting is one adjuster in words.
type SummarySetting struct {
	ID       book.AdjusterID `json:"id"`
	Name     string          `json:"name"`
	At       string          `json:"at"` // "12 clicks out", "not known"
	Standing book.Standing   `json:"standing"`
	Drift    string          `json:"drift,omitempty"` // "3 clicks out of the line"
	Steps    unit.Fixed      `json:"steps"`
}

// StopAfterFall is the stop that a fall sets until the bike is straight.
const StopAfterFall = "Do not ride until the front end was loosened, centred and checked after the fall, and everything was tightened to the service manual's torque."

var _ = view("summary", summary)

func summary(a Ask, args SummaryArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	out := Summary{Book: a.Book.Name, Bike: k.Name, Settings: []SummarySetting{}, Unowned: len(k.Unowned())}
	if _, open := k.FallOpen(); open {
		out.Stop = StopAfterFall
	}
	line, drawn := k.Line()
	if drawn {
		out.Line = line.Name
	}
	drifts := map[book.AdjusterID]book.Drift{}
	for _, d := range k.DriftFrom(line) {
		drifts[d.Adjuster] = d
	}
	w := shower{a.Book}
	for _, s := range k.Active() {
		row := SummarySetting{ID: s.ID, Name: s.Name, At: "not known", Standing: s.Standing, Steps: drifts[s.ID].Steps}
		if s.At != nil {
			row.At = w.position(s, *s.At)
		}
		if d := drifts[s.ID]; d.Line != nil && d.At != nil && d.Steps != 0 {
			row.Drift = w.moved(s, *d.At-*d.Line) + " from the line"
		}
		out.Settings = append(out.Settings, row)
	}
	return out, nil
}
