package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/unit"
)

// care is a service that a bike wants again and again. Every limit is common
// practice, no source, for a bike that is ridden on track: the service manual
// is the authority, and the rider's own interval comes before it here.
type care struct {
	what, title, says       string
	days, hours, km, months int
}

var cares = []care{
	{"fork-oil", "Fork oil", "Oil loses its hold and its height; track use shears it sooner.", 15, 0, 0, 24},
	{"shock-oil", "Shock service", "Oil and gas: a faded shock pumps.", 20, 0, 0, 36},
	{"head-bearings", "Head bearings", "Play, notches and grease.", 20, 0, 0, 24},
	{"chain", "Chain", "Cleaned, lubricated, its wear measured.", 2, 0, 800, 6},
	{"tyres", "Tyres", "Their age. Wear decides before it: look at it every riding day.", 0, 0, 0, 60},
	{"brake-fluid", "Brake fluid", "It draws water, and then it boils.", 8, 0, 0, 12},
}

// DueArgs asks what is due on a bike.
type DueArgs struct {
	Bike book.BikeID `json:"bike"`
}

// Due is what is due on a bike, the most pressing first.
type Due struct {
	Bike   book.BikeID `json:"bike"`
	Rows   []DueRow    `json:"rows"`
	Off    []DueRow    `json:"off"` // what the rider wants no word of
	Meter  MeterForm   `json:"meter"`
	Says   string      `json:"says"`
	People []Choice    `json:"people"`
	Tyres  []TyreRow   `json:"tyres"`
}

// DueRow is one service. State is "over", "soon", "good" or "unknown".
type DueRow struct {
	What   string       `json:"what"`
	Title  string       `json:"title"`
	Why    string       `json:"why"`
	State  string       `json:"state"`
	Says   string       `json:"says"`
	Last   string       `json:"last"`
	Limits string       `json:"limits"` // "every 12 track days or 24 months"
	Source string       `json:"source"`
	Uses   []Use        `json:"uses"`
	Form   IntervalForm `json:"form"`
}

// Use is how much of one limit is used up.
type Use struct {
	Says  string  `json:"says"` // "9 of 12 track days"
	Share float64 `json:"share"`
}

// TyreRow is one tyre set.
type TyreRow struct {
	Form TyresForm `json:"form"`
	Says string    `json:"says"` // "fitted 2026-07, 9 heat cycles"
}

// MeterForm is what the bike's meters read.
type MeterForm struct {
	Bike  book.BikeID `json:"bike"`
	Km    *unit.Fixed `json:"km"`
	Hours *unit.Fixed `json:"hours"`
}

// IntervalForm is the rider's own limits for a service; 0 or empty is none.
type IntervalForm struct {
	Bike   book.BikeID `json:"bike"`
	What   string      `json:"what"`
	Days   int         `json:"days"`
	Hours  int         `json:"hours"`
	Km     int         `json:"km"`
	Months int         `json:"months"`
	Source string      `json:"source"`
	Off    bool        `json:"off"`
	Note   string      `json:"note"`
}

// TyresForm is a tyre set; an empty Set adds one.
type TyresForm struct {
	Bike   book.BikeID    `json:"bike"`
	Set    book.TyreSetID `json:"set"`
	Name   string         `json:"name"`
	Front  string         `json:"front"`
	Rear   string         `json:"rear"`
	Fitted string         `json:"fitted"`
	Cycles int            `json:"cycles"`
	Gone   bool           `json:"gone"`
	Note   string         `json:"note"`
}

var (
	_ = view("due", duePage)
	_ = action("interval", intervalSet)
	_ = action("meter", meterRead)
	_ = action("tyres", tyresNoted)
)

func duePage(a Ask, args DueArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	out := Due{Bike: k.ID, Rows: []DueRow{}, Off: []DueRow{}, Meter: MeterForm{Bike: k.ID}, People: peopleFor(a), Tyres: []TyreRow{}}
	for _, row := range dueRows(a, k) {
		if row.Form.Off {
			out.Off = append(out.Off, row)
			continue
		}
		out.Rows = append(out.Rows, row)
	}
	if m, ok := k.Measures["meter"]; ok {
		out.Meter.Km, out.Meter.Hours = valueOf(m, "km"), valueOf(m, "hours")
	}
	for _, t := range k.TyreSets {
		f := TyresForm{k.ID, t.ID, t.Name, t.Front, t.Rear, t.Fitted, t.Cycles, t.Gone, t.Note}
		says := join(fitted(t.Fitted), many(k.HeatCycles(t.ID, ""), "heat cycle"))
		if t.Gone {
			says = join("no longer used", says)
		}
		out.Tyres = append(out.Tyres, TyreRow{f, says})
	}
	out.Says = dueSays(out.Rows)
	return out, nil
}

func fitted(when string) string {
	if when == "" {
		return ""
	}
	return "fitted " + whenSaid(when)
}

func valueOf(m book.Dated[book.MeasureBody], symbol string) *unit.Fixed {
	if v, ok := m.Body.Values[symbol]; ok {
		return &v
	}
	return nil
}

func dueSays(rows []DueRow) string {
	n := map[string]int{}
	for _, r := range rows {
		n[r.State]++
	}
	says := "Nothing is due."
	if n["over"] > 0 {
		says = many(n["over"], "service") + " due."
	}
	if n["soon"] > 0 {
		says += fmt.Sprintf(" %d soon.", n["soon"])
	}
	if n["unknown"] > 0 {
		says += fmt.Sprintf(" %d not in the book yet.", n["unknown"])
	}
	return says
}

// urgency is the order of the rows.
var urgency = map[string]int{"over": 0, "soon": 1, "unknown": 2, "good": 3}

func dueRows(a Ask, k *book.Bike) []DueRow {
	out := []DueRow{}
	for _, c := range cares {
		out = append(out, dueRow(a, k, c))
	}
	slices.SortStableFunc(out, func(x, y DueRow) int { return urgency[x.State] - urgency[y.State] })
	return out
}

// wantedRows are the services that the rider wants word of.
func wantedRows(a Ask, k *book.Bike) []DueRow {
	return slices.DeleteFunc(dueRows(a, k), func(r DueRow) bool { return r.Form.Off })
}

func dueRow(a Ask, k *book.Bike, c care) DueRow {
	limits, own := k.Intervals[c.what]
	n, source := limits.Body, "your own"
	switch {
	case !own:
		n, source = book.IntervalBody{What: c.what, Days: c.days, Hours: c.hours, Km: c.km, Months: c.months}, "common practice, no source; put the manual's in"
	case n.Source == "manual":
		source = "the service manual, as you typed it"
	}
	row := DueRow{
		What: c.what, Title: c.title, Why: c.says, Limits: intervalSays(n), Source: source, Uses: []Use{},
		Form: IntervalForm{Bike: k.ID, What: c.what},
	}
	if own {
		row.Form = IntervalForm{k.ID, c.what, n.Days, n.Hours, n.Km, n.Months, n.Source, n.Off, n.Note}
	}
	last, known := lastDone(k, c.what)
	if !known.ok {
		row.State, row.Last, row.Says = "unknown", known.says, "The book does not know when it was last done, so look at it now."
		return row
	}
	row.Last = known.says
	row.Uses = usesSince(a, k, n, last)
	row.State, row.Says = "good", "Good for now."
	for _, u := range row.Uses {
		if u.Share >= 1 {
			row.State, row.Says = "over", "Due: "+u.Says+"."
			break
		}
		if u.Share >= soonFrom && row.State == "good" {
			row.State, row.Says = "soon", "Soon: "+u.Says+"."
		}
	}
	return row
}

// soonFrom is the share of a limit from which a service is soon due.
const soonFrom = 0.85

// done is when a service was last done, and what its meters read.
type done struct {
	at    time.Time
	km    *unit.Fixed
	hours *unit.Fixed
}

// known says when a service was last done, as far as the book knows.
type known struct {
	ok   bool
	says string
}

// lastDone finds the last service of a kind: an entry, tyres that were fitted,
// or what the first look was told.
func lastDone(k *book.Bike, what string) (done, known) {
	var out done
	when := ""
	for _, n := range k.Services {
		at := whenOr(n.Body.When, n.Wall)
		if n.Body.What == what && !at.Before(out.at) {
			out, when = done{at, n.Body.Km, n.Body.Hours}, cmp.Or(whenSaid(n.Body.When), n.Wall.Format("2 Jan 2006"))
		}
	}
	if what == "tyres" {
		for _, t := range k.TyreSets {
			if at := whenOr(t.Fitted, time.Time{}); !t.Gone && at.After(out.at) {
				out, when = done{at: at}, whenSaid(t.Fitted)
			}
		}
	}
	if f, ok := k.Facts[what]; out.at.IsZero() && ok && f.Body.When != "" {
		out, when = done{at: whenOr(f.Body.When, f.Wall)}, whenSaid(f.Body.When)
	} else if out.at.IsZero() && ok && f.Body.Answer == "never" {
		return out, known{false, "Never done, as far as you know."}
	}
	if out.at.IsZero() {
		return out, known{}
	}
	return out, known{true, "Last done " + when + "."}
}

// usesSince says how much of each limit is used up since a service. Hours and
// kilometres come from the meters where both readings are there, and otherwise
// from the laps in the book, which are the least that was ridden.
func usesSince(a Ask, k *book.Bike, n book.IntervalBody, last done) []Use {
	days, hours, km := riddenSince(a.Book, k, last.at)
	if m, ok := k.Measures["meter"]; ok {
		if now := valueOf(m, "km"); now != nil && last.km != nil {
			km = (*now - *last.km).Float()
		}
		if now := valueOf(m, "hours"); now != nil && last.hours != nil {
			hours = (*now - *last.hours).Float()
		}
	}
	out := []Use{}
	add := func(used float64, limit int, words string) {
		if limit > 0 {
			out = append(out, Use{fmt.Sprintf("%.0f of %d %s", used, limit, words), used / float64(limit)})
		}
	}
	add(float64(days), n.Days, "track days")
	add(hours, n.Hours, "hours")
	add(km, n.Km, "km")
	add(monthsBetween(last.at, a.Now), n.Months, "months")
	return out
}

// riddenSince counts the track days after a moment, and the hours and
// kilometres of their laps.
func riddenSince(b *book.Book, k *book.Bike, since time.Time) (days int, hours, km float64) {
	day := since.Format(time.DateOnly)
	for _, d := range b.RidingDays(k) {
		if d.Date <= day || len(d.Sessions) == 0 {
			continue
		}
		days++
		for _, s := range d.Sessions {
			for _, l := range k.LapsOf(s.Body.Session) {
				hours += l.Time.Float() / 3600
				if long := b.Tracks[d.Track].Length; long != nil {
					km += long.Float() / 1000
				}
			}
		}
	}
	return days, hours, km
}

// monthsBetween counts whole months.
func monthsBetween(from, to time.Time) float64 {
	n := (to.Year()-from.Year())*12 + int(to.Month()) - int(from.Month())
	if to.Day() < from.Day() {
		n--
	}
	return float64(max(n, 0))
}

// servicesDue are the services that are due or soon, for Today.
func servicesDue(a Ask, k *book.Bike) []Notice {
	out := []Notice{}
	for _, r := range wantedRows(a, k) {
		if r.State == "over" || r.State == "soon" {
			out = append(out, Notice{r.Title, join(strings.TrimSuffix(r.Says, ".")+" ("+strings.SplitN(r.Source, ";", 2)[0]+").", ""), "/due", "Look at it"})
		}
	}
	return out
}

func intervalSet(a Ask, f IntervalForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	body := book.IntervalBody{Bike: k.ID, What: f.What, Days: f.Days, Hours: f.Hours, Km: f.Km, Months: f.Months, Source: cmp.Or(f.Source, "own"), Off: f.Off, Note: strings.TrimSpace(f.Note)}
	return []book.Draft{{Kind: book.KindInterval, Body: body}}, nil
}

func meterRead(a Ask, f MeterForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	values := map[string]unit.Fixed{}
	if f.Km != nil {
		values["km"] = *f.Km
	}
	if f.Hours != nil {
		values["hours"] = *f.Hours
	}
	if len(values) == 0 {
		return nil, []book.Refusal{{Field: "km", Says: "There is no reading yet.", Mend: "Type what the meter shows."}}
	}
	if refused := a.Book.Check(book.ServiceBody{Km: f.Km, Hours: f.Hours}); refused != nil {
		return nil, refused
	}
	return []book.Draft{{Kind: book.KindMeasure, Body: book.MeasureBody{Bike: k.ID, Topic: "meter", Values: values}}}, nil
}

func tyresNoted(a Ask, f TyresForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	if f.Set == "" {
		f.Set = book.TyreSetID(a.Mint())
	}
	body := book.TyresBody{
		Bike: k.ID, Set: f.Set, Name: strings.TrimSpace(f.Name), Front: strings.TrimSpace(f.Front), Rear: strings.TrimSpace(f.Rear),
		Fitted: strings.TrimSpace(f.Fitted), Cycles: f.Cycles, Gone: f.Gone, Note: strings.TrimSpace(f.Note),
	}
	return []book.Draft{{Kind: book.KindTyres, Body: body}}, nil
}
