package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// BikeArgs asks for a bike against a line; empty is the first bike and the
// line in force. On is a day, "2026-05-01": then settings stand as they did
// at the end of it.
type BikeArgs struct {
	Bike book.BikeID     `json:"bike"`
	Line book.BaselineID `json:"line"`
	On   string          `json:"on"`
}

// BikePage is a bike: the plumb picture, and what happened to it.
type BikePage struct {
	Bike      BikeForm      `json:"bike"`
	Rider     string        `json:"rider"` // "82 kg in kit", "" when not known
	MassUnit  string        `json:"massUnit"`
	Stop      string        `json:"stop,omitempty"`
	Disputes  []Dispute     `json:"disputes"`
	Plumb     Plumb         `json:"plumb"`
	Side      Side          `json:"side"`
	Measured  []MeasureLine `json:"measured"` // what was measured, in the order of its list
	Says      BikeSays      `json:"says"`
	Due       string        `json:"due"`      // what services are due, in a sentence
	Services  []BikeEvent   `json:"services"` // newest first, as all lists here
	Parts     []BikeEvent   `json:"parts"`
	Falls     []BikeEvent   `json:"falls"`
	Checks    []BikeCheck   `json:"checks"`
	Facts     []LookStep    `json:"facts"`
	Adjusters []OwnDef      `json:"adjusters"` // all, retired ones too
	People    []Choice      `json:"people"`
	Works     []Choice      `json:"works"` // what a service can be
}

// BikeSays is what each part of a bike's page holds, in a few words.
type BikeSays struct {
	Side     string `json:"side"`
	Measured string `json:"measured"`
	Checks   string `json:"checks"`
	Services string `json:"services"`
	Parts    string `json:"parts"`
	Falls    string `json:"falls"`
	Bike     string `json:"bike"`
}

// Plumb is the plumb picture: the line as one vertical hairline, every
// adjuster a bob beside it.
type Plumb struct {
	Line  book.BaselineID `json:"line"` // "" when no line is drawn
	Name  string          `json:"name"`
	Drawn string          `json:"drawn,omitempty"`
	Lines []Choice        `json:"lines"` // newest first
	On    string          `json:"on,omitempty"`
	Says  string          `json:"says"`  // the picture in one sentence
	Scale int             `json:"scale"` // steps from the line to the picture's edge
	Bobs  []Bob           `json:"bobs"`
}

// Bob is one adjuster. Swing is where it hangs, from -1 at the left edge
// (less, softer, lower) over 0 on the line to 1. Hollow says that it cannot be
// compared: unknown, or not in the line.
type Bob struct {
	ID       book.AdjusterID `json:"id"`
	Name     string          `json:"name"`
	Group    string          `json:"group"`
	At       string          `json:"at"`
	LineAt   string          `json:"lineAt"`
	Standing book.Standing   `json:"standing"`
	Swing    float64         `json:"swing"`
	Hollow   bool            `json:"hollow"`
	Mark     string          `json:"mark"` // "+3", "−2", "0", "?"
	Says     string          `json:"says"` // "3 clicks in from the line"
}

// BikeEvent is a service, a part or a fall in words.
type BikeEvent struct {
	Entry entry.ID `json:"entry"`
	Title string   `json:"title"`
	Says  string   `json:"says"`
}

// BikeCheck is an inspection with its latest result; Result is "" when it was
// never made.
type BikeCheck struct {
	Check  string `json:"check"`
	Title  string `json:"title"`
	Result string `json:"result"`
	Says   string `json:"says"`
	Note   string `json:"note,omitempty"`
	Stop   string `json:"stop,omitempty"`
}

// OwnDef is an adjuster's definition as its form shows it; Min, Max and Step
// are in the shown unit, whose name is Shown.
type OwnDef struct {
	Bike     book.BikeID     `json:"bike"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Name     string          `json:"name"`
	Group    string          `json:"group"`
	Unit     string          `json:"unit"`
	Shown    string          `json:"shown"`
	Step     unit.Fixed      `json:"step"`
	Min      unit.Fixed      `json:"min"`
	Max      unit.Fixed      `json:"max"`
	From     string          `json:"from"`
	More     string          `json:"more"`
	Less     string          `json:"less"`
	Retired  bool            `json:"retired"`
}

var works = []Choice{
	{"fork-oil", "Fork oil"}, {"fork-seals", "Fork seals"}, {"shock-oil", "Shock service"}, {"head-bearings", "Head bearings"},
	{"chain", "Chain"}, {"tyres", "Tyres"}, {"brake-fluid", "Brake fluid"}, {"other", "Something else"},
}

var _ = view("bike", bikePage)

func bikePage(a Ask, args BikeArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	plumb, refused := plumbOf(a, k, args)
	if refused != nil {
		return nil, refused
	}
	s := shower{a.Book}
	out := BikePage{
		Bike: formOf(a.Book, k), MassUnit: cmp.Or(a.Book.Units["mass"], "kg"), Disputes: disputes(a, k), Plumb: plumb,
		Due: dueSays(wantedRows(a, k)), Services: []BikeEvent{}, Parts: []BikeEvent{}, Falls: []BikeEvent{}, Checks: bikeChecks(a, k), Facts: factSteps(k),
		Adjusters: []OwnDef{}, People: peopleFor(a), Works: works,
	}
	if k.RiderKg != nil {
		out.Rider = s.mass(*k.RiderKg) + " in kit"
	}
	if _, open := k.FallOpen(); open {
		out.Stop = StopAfterFall
	}
	line, drawn := k.Baseline(plumb.Line)
	out.Side, out.Measured = sideOf(k, line, drawn), measuredLines(a, k)
	for _, n := range slices.Backward(k.Services) {
		out.Services = append(out.Services, event(a, n.Entry, workName(n.Body.What), n.Body.When, n.Wall, n.Body.By, n.Body.Note))
	}
	for _, n := range slices.Backward(k.Parts) {
		out.Parts = append(out.Parts, event(a, n.Entry, n.Body.Part, n.Body.When, n.Wall, n.Body.By, n.Body.Note))
	}
	for _, n := range slices.Backward(k.Falls) {
		title, says, _ := strings.Cut(fallSays(a, n), ", ")
		out.Falls = append(out.Falls, BikeEvent{n.Entry, title, says})
	}
	for _, id := range k.Order {
		out.Adjusters = append(out.Adjusters, defOf(s, k, k.Settings[id]))
	}
	out.Says = bikeSays(out)
	return out, nil
}

func bikeSays(p BikePage) BikeSays {
	stale, good, faults := 0, 0, 0
	for _, m := range p.Measured {
		if m.State == "stale" {
			stale++
		}
	}
	for _, c := range p.Checks {
		switch c.Result {
		case "good":
			good++
		case "fault":
			faults++
		}
	}
	says := BikeSays{
		Side: cmp.Or(p.Side.Against, p.Side.Says), Measured: "Nothing yet.", Checks: fmt.Sprintf("%d of %d good.", good, len(p.Checks)),
		Services: latest(p.Services), Parts: latest(p.Parts), Falls: latest(p.Falls), Bike: "Nothing is noted yet.",
	}
	if n := len(p.Measured); n > 0 {
		says.Measured = many(n, "thing") + " measured"
		if stale > 0 {
			says.Measured += fmt.Sprintf(", %d to measure again", stale)
		}
		says.Measured += "."
	}
	if faults > 0 {
		says.Checks = many(faults, "fault") + ". " + says.Checks
	}
	year := ""
	if p.Bike.Year != 0 {
		year = unitless(p.Bike.Year)
	}
	if about := join(p.Bike.Class, year, p.Bike.Tyres, p.Rider); about != "" {
		says.Bike = about + "."
	}
	return says
}

// latest says how many events there were, and the newest of them.
func latest(list []BikeEvent) string {
	if len(list) == 0 {
		return "None in the book."
	}
	return fmt.Sprintf("%d; last: %s, %s.", len(list), list[0].Title, list[0].Says)
}

func event(a Ask, id entry.ID, title, when string, wall time.Time, by entry.PersonID, note string) BikeEvent {
	when = cmp.Or(whenSaid(when), shower{a.Book}.day(wall, a.Now))
	done := ""
	if by != "" {
		done = "by " + nameOf(a.Book, by)
	}
	return BikeEvent{id, capital(title), join(when, done, note)}
}

func workName(what string) string {
	for _, w := range works {
		if w.ID == what && what != "other" {
			return w.Name
		}
	}
	return cmp.Or(capital(spaced(what)), "Service")
}

// bikeChecks are the round's checks in its order, then others that were made.
func bikeChecks(a Ask, k *book.Bike) []BikeCheck {
	out := []BikeCheck{}
	for _, c := range roundChecks {
		row := BikeCheck{Check: c.Check, Title: checkTitle(c.Check), Says: "never looked at"}
		if ask, _ := checkAsk(a, k, c.Check); ask.Result != "" {
			row.Result, row.Says, row.Note = ask.Result, ask.Says, ask.Note
		}
		if row.Result == "fault" {
			row.Stop = c.Stop
		}
		out = append(out, row)
	}
	return out
}

func formOf(b *book.Book, k *book.Bike) BikeForm {
	f := BikeForm{Bike: k.ID, Name: k.Name, Year: k.Year, Class: k.Class, Tyres: k.Tyres, Note: k.Note}
	if k.RiderKg != nil {
		w := massShown(b.Units["mass"], *k.RiderKg)
		f.Rider = &w
	}
	return f
}

func defOf(s shower, k *book.Bike, set *book.Setting) OwnDef {
	return OwnDef{
		Bike: k.ID, Adjuster: set.ID, Name: set.Name, Group: set.Group, Unit: set.Unit, Shown: s.unitFor(set, unit.Whole(2)),
		Step: s.step(set), Min: s.shown(set, set.Min), Max: s.shown(set, set.Max), From: set.From, More: set.More, Less: set.Less, Retired: set.Retired,
	}
}

// plumbOf draws a bike's settings against a line, now or on a past day.
func plumbOf(a Ask, k *book.Bike, args BikeArgs) (Plumb, []book.Refusal) {
	s := shower{a.Book}
	out := Plumb{Lines: []Choice{}, Bobs: []Bob{}, On: args.On}
	for _, l := range slices.Backward(k.Baselines) {
		out.Lines = append(out.Lines, Choice{string(l.ID), l.Name})
	}
	line, drawn := k.Line()
	if args.Line != "" {
		line, drawn = k.Baseline(args.Line)
	}
	if args.Line != "" && !drawn {
		return out, []book.Refusal{{Field: "line", Says: "This line is not in the book.", Mend: "Pick another."}}
	}
	if drawn {
		out.Line, out.Name, out.Drawn = line.ID, line.Name, s.day(line.Wall, a.Now)
	}
	end := a.Now
	if args.On != "" {
		day, err := time.ParseInLocation(time.DateOnly, args.On, a.Now.Location())
		if err != nil {
			return out, []book.Refusal{{Field: "on", Says: "That is not a day.", Mend: "Pick one, such as 2026-05-01."}}
		}
		end = day.AddDate(0, 0, 1)
	}
	out.hang(s, k, line, args.On != "", end)
	return out, nil
}

// hang hangs the bobs, and says in a sentence what the picture shows.
func (p *Plumb) hang(s shower, k *book.Bike, line book.Baseline, past bool, end time.Time) {
	var off []string
	hollow, most := 0, unit.Fixed(0)
	steps := map[book.AdjusterID]unit.Fixed{}
	for _, set := range k.Active() {
		at, standing := set.At, set.Standing
		if past {
			at, standing = stoodAt(set, end)
		}
		bob := Bob{ID: set.ID, Name: set.Name, Group: set.Group, At: "not known", LineAt: "not in the line", Standing: standing}
		if at != nil {
			bob.At = s.position(set, *at)
		}
		lineAt, inLine := line.At[set.ID]
		if inLine {
			bob.LineAt = s.position(set, lineAt)
		}
		bob.compare(s, set, at, lineAt, inLine)
		if bob.Hollow {
			hollow++
		} else {
			n := set.Steps(*at - lineAt)
			if firmOf(set) < 0 {
				n = -n
			}
			steps[set.ID], most = n, max(most, n, -n)
			if 2*max(n, -n) >= unit.Whole(1) {
				off = append(off, set.Name+" "+bob.Says)
			}
		}
		p.Bobs = append(p.Bobs, bob)
	}
	p.Scale = max(5, int((most+999)/unit.Whole(1)))
	for i := range p.Bobs {
		b := &p.Bobs[i]
		b.Swing = steps[b.ID].Float() / float64(p.Scale)
		if !b.Hollow {
			b.Mark = signed(steps[b.ID])
		}
	}
	p.Says = plumbSays(p.Name, len(p.Bobs), hollow, off)
}

// compare says where a bob hangs, in hand words.
func (b *Bob) compare(s shower, set *book.Setting, at *unit.Fixed, lineAt unit.Fixed, inLine bool) {
	b.Hollow, b.Mark = at == nil || !inLine, "?"
	switch {
	case at == nil:
		b.Says = "not known"
	case !inLine:
		b.Says = "not in the line"
	case *at == lineAt:
		b.Says = "on the line"
	default:
		b.Says = s.moved(set, *at-lineAt) + " from the line"
	}
}

// signed prints steps with their sign and a proper minus: "+3", "−2", "0".
func signed(n unit.Fixed) string {
	whole := (max(n, -n) + 50) / 100 * 100
	switch {
	case whole == 0:
		return "0"
	case n < 0:
		return "−" + whole.String()
	}
	return "+" + whole.String()
}

func plumbSays(name string, all, hollow int, off []string) string {
	if name == "" {
		return "No line is drawn yet, so nothing can be compared."
	}
	says := fmt.Sprintf("Against the line '%s': ", name)
	switch on := all - hollow - len(off); {
	case len(off) == 0 && on == 0:
		says += "nothing can be compared yet"
	case len(off) == 0:
		says += many(on, "setting") + " on it"
	default:
		says += strings.Join(off, "; ")
	}
	if hollow > 0 {
		says += "; " + many(hollow, "setting") + " not known or not in it"
	}
	return says + "."
}

// stoodAt is where a setting stood just before a moment, as the book tells it
// now: later corrections are in it.
func stoodAt(set *book.Setting, end time.Time) (*unit.Fixed, book.Standing) {
	var at *unit.Fixed
	standing := book.Unknown
	for _, m := range set.Line {
		if !m.Wall.Before(end) {
			continue
		}
		at = m.To
		switch {
		case at == nil:
			standing = book.Unknown
		case m.Kind != "change":
			standing = book.Counted
		case standing == book.Unknown:
			standing = book.Assumed
		}
	}
	return at, standing
}

// SettingArgs asks for an adjuster's line.
type SettingArgs struct {
	Bike     book.BikeID     `json:"bike"`
	Adjuster book.AdjusterID `json:"adjuster"`
}

// SettingPage is one adjuster and its full line: who moved it, whose idea,
// why. Marks are newest first.
type SettingPage struct {
	Def          OwnDef        `json:"def"`
	At           string        `json:"at"`
	Standing     book.Standing `json:"standing"`
	Seen         string        `json:"seen"`                   // "Counted 12 Apr 10:40"
	Line         string        `json:"line"`                   // how it stands against the line
	Geometry     string        `json:"geometry,omitempty"`     // what moving it does to the geometry
	GeometryLink string        `json:"geometryLink,omitempty"` // where to measure what is missing for that
	Disputed     *Dispute      `json:"disputed,omitempty"`
	Marks        []SettingMark `json:"marks"`
}

// SettingMark is one point of a setting's line. Unowned says that nobody has
// owned up to it.
type SettingMark struct {
	Entry   entry.ID `json:"entry"`
	Kind    string   `json:"kind"` // "change", "count", "found"
	Title   string   `json:"title"`
	When    string   `json:"when"`
	Who     string   `json:"who,omitempty"`
	Idea    string   `json:"idea,omitempty"`
	Why     string   `json:"why,omitempty"`
	Unowned bool     `json:"unowned,omitempty"`
}

var _ = view("setting", settingPage)

func settingPage(a Ask, args SettingArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	set, ok := k.Settings[args.Adjuster]
	if !ok {
		return nil, []book.Refusal{{Field: "adjuster", Says: "This bike has no such adjuster.", Mend: "Go back and pick one."}}
	}
	s := shower{a.Book}
	out := SettingPage{Def: defOf(s, k, set), At: "not known", Standing: set.Standing, Line: "No line is drawn yet.", Marks: []SettingMark{}}
	if set.At != nil {
		out.At = s.position(set, *set.At)
	}
	if set.Seen != nil {
		out.Seen = capital(string(set.Standing)) + " " + s.moment(*set.Seen, a.Now)
	}
	if line, drawn := k.Line(); drawn {
		var bob Bob
		lineAt, in := line.At[set.ID]
		bob.compare(s, set, set.At, lineAt, in)
		out.Line = capital(bob.Says) + " ('" + line.Name + "')."
	}
	out.Geometry = geometryOfStep(k, set)
	if says, link := geometryWanted(k, set.ID); says != "" {
		out.Geometry, out.GeometryLink = says, link
	}
	out.Disputed = dispute(a, set)
	for _, m := range slices.Backward(set.Line) {
		out.Marks = append(out.Marks, settingMark(a, s, set, m))
	}
	return out, nil
}

func settingMark(a Ask, s shower, set *book.Setting, m book.Mark) SettingMark {
	out := SettingMark{
		Entry: m.Entry, Kind: m.Kind, When: s.moment(m.Wall, a.Now), Why: m.Why,
		Who: nameOf(a.Book, m.Turned), Idea: nameOf(a.Book, m.Idea), Unowned: m.Kind == "found" && m.Owned == "",
	}
	switch {
	case m.Kind == "found":
		out.Title = "Found moved " + s.move(set, m.From, m.To, m.Delta)
	case m.Kind == "change":
		out.Title = capital(s.went(set, m))
	case m.To == nil:
		out.Title = "Noted as not known"
	default:
		out.Title = "Counted: " + s.position(set, *m.To)
	}
	return out
}

// BikeForm describes a bike; an empty Bike adds one. Rider is the rider's
// weight in kit, in the book's unit for mass.
type BikeForm struct {
	Bike  book.BikeID `json:"bike"`
	Name  string      `json:"name"`
	Year  int         `json:"year,omitempty"`
	Class string      `json:"class,omitempty"`
	Tyres string      `json:"tyres,omitempty"`
	Rider *unit.Fixed `json:"rider,omitempty"`
	Note  string      `json:"note,omitempty"`
}

// ServiceForm is work that was done.
type ServiceForm struct {
	Bike book.BikeID `json:"bike"`
	What string      `json:"what"`
	When string      `json:"when"`
	Done Who         `json:"done"`
	// Km and Hours are what the bike's meters read.
	Km    *unit.Fixed `json:"km,omitempty"`
	Hours *unit.Fixed `json:"hours,omitempty"`
	Note  string      `json:"note"`
}

// PartForm is a part that was fitted or swapped.
type PartForm struct {
	Bike book.BikeID `json:"bike"`
	Part string      `json:"part"`
	When string      `json:"when"`
	Done Who         `json:"done"`
	Note string      `json:"note"`
}

var (
	_ = action("bike", describeBike)
	_ = action("service", serve)
	_ = action("part", fit)
	_ = action("adjuster", define)
)

func describeBike(a Ask, f BikeForm) ([]book.Draft, []book.Refusal) {
	name := strings.TrimSpace(f.Name)
	if name == "" {
		return nil, []book.Refusal{{Field: "name", Says: "This bike has no name yet.", Mend: "Type what you call it."}}
	}
	fresh := f.Bike == ""
	if fresh {
		f.Bike = book.BikeID(a.Mint())
	} else if _, refused := bikeOf(a.Book, f.Bike); refused != nil {
		return nil, refused
	}
	body := book.BikeBody{Bike: f.Bike, Name: name, Year: f.Year, Class: f.Class, Tyres: f.Tyres, Note: f.Note, Rider: massTyped(a.Book.Units["mass"], f.Rider)}
	if refused := a.Book.Check(body); len(refused) > 0 {
		return nil, refused
	}
	drafts := []book.Draft{{Kind: book.KindBike, Body: body}}
	if fresh {
		drafts = append(drafts, standardDrafts(f.Bike)...)
	}
	return drafts, nil
}

func serve(a Ask, f ServiceForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	if f.What == "" {
		return nil, []book.Refusal{{Field: "what", Says: "What was done?", Mend: "Pick one, or 'Something else'."}}
	}
	if f.What == "other" && strings.TrimSpace(f.Note) == "" {
		return nil, []book.Refusal{{Field: "note", Says: "What else was done?", Mend: "Write it in a few words."}}
	}
	by, drafts := person(a, f.Done)
	body := book.ServiceBody{Bike: k.ID, What: f.What, When: strings.TrimSpace(f.When), By: by, Km: f.Km, Hours: f.Hours, Note: f.Note}
	return append(drafts, book.Draft{Kind: book.KindService, Body: body}), nil
}

func fit(a Ask, f PartForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	part := strings.TrimSpace(f.Part)
	if part == "" {
		return nil, []book.Refusal{{Field: "part", Says: "What was fitted?", Mend: "Type the part's name."}}
	}
	by, drafts := person(a, f.Done)
	body := book.PartBody{Bike: k.ID, Part: part, When: strings.TrimSpace(f.When), By: by, Note: f.Note}
	if refused := a.Book.Check(book.ServiceBody{When: body.When}); len(refused) > 0 {
		return nil, refused
	}
	return append(drafts, book.Draft{Kind: book.KindPart, Body: body}), nil
}

// define adds an adjuster of the rider's own, or changes the words and range
// of one, or takes it off the bike.
func define(a Ask, f OwnDef) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	n := book.AdjusterBody{Bike: k.ID, Adjuster: f.Adjuster, Retired: f.Retired}
	if f.Adjuster == "" {
		n.Adjuster = book.AdjusterID(a.Mint())
		n.Group, n.Unit, n.Firm = cmp.Or(f.Group, "own"), cmp.Or(f.Unit, "mm"), 1
	} else if set, ok := k.Settings[f.Adjuster]; ok {
		n.Def = set.Def
	} else {
		return nil, []book.Refusal{{Field: "adjuster", Says: "This bike has no such adjuster.", Mend: "Pick it again."}}
	}
	s, set := shower{a.Book}, &book.Setting{Def: n.Def}
	old := k.Settings[f.Adjuster]
	n.Name = strings.TrimSpace(f.Name)
	n.From, n.More, n.Less = f.From, f.More, f.Less
	n.Min, n.Max, n.Step = s.typed(set, f.Min), s.typed(set, f.Max), s.typed(set, f.Step)
	if old != nil && set.Unit == "kPa" {
		n.Step = old.Step // gauges are read in the shown unit's own step
	}
	if refused := outside(n.Def, old); refused != nil && !f.Retired {
		return nil, refused
	}
	return []book.Draft{{Kind: book.KindAdjuster, Body: n}}, nil
}

// outside refuses a range that leaves out where the adjuster stands now.
func outside(d book.Def, old *book.Setting) []book.Refusal {
	if old == nil || old.At == nil || (*old.At >= d.Min && *old.At <= d.Max) {
		return nil
	}
	if *old.At < d.Min {
		return []book.Refusal{{Field: "min", Says: "The book has it below this range.", Mend: "Start the range lower, or count it again first."}}
	}
	return []book.Refusal{{Field: "max", Says: "The book has it above this range.", Mend: "End the range higher, or count it again first."}}
}
