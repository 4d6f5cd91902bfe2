package screen

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// How long things bear on a complaint. Common practice, no source.
const (
	lately      = 30 * 24 * time.Hour // work, parts and changes are recent
	checkHolds  = 30 * 24 * time.Hour // a check that came out good still counts
	oldParts    = 3 * 365 * 24 * time.Hour
	pressureAge = 24 * time.Hour
	oldBike     = 5 // years after which what was never serviced is taken as old
)

// kitKg is what a rider's kit weighs, about: the book keeps the rider in kit,
// the engine asks without. Common practice, no source.
const kitKg = 10

// repeatIDs are the book's words for how often a symptom comes, in the
// engine's.
var repeatIDs = map[string]string{"once": "once", "some": "some-laps", "every": "every-lap", "purpose": "on-purpose"}

// booked is what a bike's history says that bears on a complaint. It gathers
// the engine's facts with the reason for each, to be shown beside it.
type booked struct {
	ask     Ask
	bike    *book.Bike
	facts   diagnosis.Facts
	because map[string]string // why a fact is taken to hold
	found   []diagnosis.Observed
}

// caseOf puts a complaint and all that the book knows into the engine's form.
func caseOf(a Ask, k *book.Bike, args WhyArgs) (diagnosis.Case, *booked) {
	n := bookSays(a, k, args)
	c := diagnosis.Case{Facts: n.facts, Recent: recentChanges(k)}
	for _, id := range slices.Sorted(maps.Keys(args.Findings)) {
		if answer := args.Findings[id]; answer == "yes" || answer == "no" {
			c.Findings = append(c.Findings, diagnosis.Observed{Finding: id, Absent: answer == "no", Repeat: repeatOf(id, args.Repeat), End: args.Ends[id]})
		}
	}
	for _, o := range n.found {
		if args.Findings[o.Finding] == "" {
			c.Findings = append(c.Findings, o)
		}
	}
	for _, s := range k.Active() {
		if s.At != nil && s.Step > 0 {
			c.Settings = append(c.Settings, diagnosis.Setting{
				Adjuster: string(s.ID), At: int(*s.At / s.Step), Least: int(s.Min / s.Step), Most: int(s.Max / s.Step), MoreIsLess: firmOf(s) < 0,
			})
		}
	}
	return c, n
}

// repeatOf is how often a finding comes. What was seen or measured does not
// come and go as a symptom does: the engine has its own weight for it.
func repeatOf(finding, repeat string) string {
	if findingsByID()[finding].Kind != "felt" {
		return ""
	}
	return repeatIDs[repeat]
}

// firmOf is which way a higher number of an adjuster goes in the engine's
// sense of more: more damping, preload, height. The fork's height is counted
// as tube above the clamp, so a higher number is a lower front.
func firmOf(s *book.Setting) int {
	if s.ID == "front.height" {
		return -1
	}
	return s.Firm
}

func bookSays(a Ask, k *book.Bike, args WhyArgs) *booked {
	n := &booked{ask: a, bike: k, because: map[string]string{}}
	n.falls()
	n.checks()
	n.history()
	n.services()
	n.parts()
	for _, s := range k.Active() {
		n.moves(s)
	}
	n.preload()
	n.rider()
	n.measures()
	n.tyres()
	n.day(args)
	n.pace(args)
	return n
}

// mark says that a fact holds, and why. The first reason stays.
func (n *booked) mark(fact, because string) {
	if _, twice := n.because[fact]; twice {
		return
	}
	n.because[fact] = because
	n.facts.Marks = append(n.facts.Marks, fact)
}

func (n *booked) dayOf(t time.Time) string { return shower{n.ask.Book}.day(t, n.ask.Now) }

func (n *booked) recent(t time.Time) bool { return n.ask.Now.Sub(t) <= lately }

func (n *booked) falls() {
	k := n.bike
	if fall, open := k.FallOpen(); open {
		n.mark("fall", "It was not checked straight since the fall of "+fellOn(n.ask, fall)+".")
	}
	told := k.Facts["fell"]
	straight, checked := k.Checks[book.CheckStraight]
	if told.Body.Answer == "yes" && k.Facts["realigned-after-fall"].Body.Answer != "yes" && (!checked || straight.Body.Result != "good") {
		n.mark("fall", join("The first look says that it fell", whenSaid(told.Body.When)))
	}
	for _, fall := range k.Falls {
		if fall.Body.Speed == "fast" {
			n.mark("big-crash", "It crashed: "+fellOn(n.ask, fall)+".")
		}
	}
}

// checkCauses are the causes that each check of the round rules out when it
// comes out good, and the one that a fault means where it can be but one.
var checkCauses = []struct {
	check string
	good  []string
	fault string
}{
	{book.CheckStraight, []string{"forks-twisted", "bars-or-controls-bent"}, "forks-twisted"},
	{"head-bearings", []string{"head-bearing-loose", "head-bearing-tight", "head-bearing-notched"}, ""},
	{"chain", []string{"chain-tight", "chain-worn"}, ""},
	{"leaks", []string{"fork-seal-leak", "shock-leak"}, ""},
	{"alignment", []string{"wheel-misaligned"}, "wheel-misaligned"},
	{"wheel-bearings", []string{"wheel-bearing-worn", "swingarm-play"}, ""},
	{"brakes", []string{"brake-dragging"}, ""},
}

// checks takes what the round found as findings: a good result while it
// holds, which is until the next fall or for a month; a fault until it is
// mended.
func (n *booked) checks() {
	k := n.bike
	_, open := k.FallOpen()
	good := 0
	for _, c := range checkCauses {
		done, ok := k.Checks[c.check]
		switch {
		case !ok:
		case done.Body.Result == "fault" && c.fault != "":
			n.observe(c.fault, false)
		case done.Body.Result == "good" && n.ask.Now.Sub(done.Wall) <= checkHolds && !open:
			good++
			for _, cause := range c.good {
				n.observe(cause, true)
			}
		}
	}
	if good == len(checkCauses) {
		n.mark("checks-good", "The whole round came out good within the last month.")
	}
	front, rear := k.Checks[book.CheckStraight], k.Checks["alignment"]
	if front.Body.Result == "good" && rear.Body.Result == "good" && n.recent(front.Wall) && n.recent(rear.Wall) {
		n.mark("alignment-done", "Front and rear were checked straight by "+n.dayOf(front.Wall)+".")
	}
}

// observe notes what a cause's own check found.
func (n *booked) observe(cause string, absent bool) {
	if c, ok := causesByID()[cause]; ok {
		n.found = append(n.found, diagnosis.Observed{Finding: c.Check.Finding.ID, Absent: absent, Repeat: "every-lap"})
	}
}

// history takes the first look's answers; a service told later is newer.
func (n *booked) history() {
	for _, m := range []struct{ fact, mark, says string }{
		{"fork-oil", "fork-oil-aged", "The fork's oil"},
		{"shock-oil", "shock-old", "The shock"},
	} {
		answer := n.bike.Facts[m.fact].Body.Answer
		if _, done := n.serviced(m.fact); !done && (answer == "never" || answer == "older") {
			n.mark(m.mark, m.says+" was not serviced within a year, says the first look.") // the question's own words
		}
	}
	if n.bike.Facts["gearing-changed"].Body.Answer == "yes" {
		since := join("The first look says that gearing was changed", whenSaid(n.bike.Facts["gearing-changed"].Body.When))
		n.mark("gearing", since)
	}
	if n.bike.Facts["forks-moved"].Body.Answer == "yes" {
		n.mark("forks-moved", "The first look says so.")
	}
	if n.bike.Facts["bumpy"].Body.Answer == "bumpy" && len(n.bike.Sessions) == 0 {
		n.mark("bumpy", "The first look says that it is bumpy where you ride.")
	}
}

// serviced is when a piece of work was last done.
func (n *booked) serviced(what string) (time.Time, bool) {
	for _, s := range slices.Backward(n.bike.Services) {
		if s.Body.What == what {
			return whenOr(s.Body.When, s.Wall), true
		}
	}
	return time.Time{}, false
}

// ages are works whose age is a fact: past due by the rider's own interval
// where old is 0, or after old; or done within a month.
var ages = []struct {
	what     string
	old      time.Duration
	aged     string // "" when its age says nothing
	fresh    string
	unserved bool // a bike of some years on which it was never done counts as aged
}{
	{"fork-oil", 0, "fork-oil-aged", "fork-work", false},
	{"fork-seals", oldParts, "", "fork-work", false},
	{"shock-oil", 0, "shock-old", "", false},
	{"head-bearings", 0, "head-bearing-old", "head-bearing-work", true},
	{"chain", oldParts, "chain-old", "chain-adjusted", false},
	{"linkage", oldParts, "linkage-old", "", true},
	{"brakes", oldParts, "", "brake-work", false},
}

func (n *booked) services() {
	for _, w := range ages {
		name := capital(spaced(w.what))
		at, done := n.serviced(w.what)
		overdue, says := n.overdue(w.what)
		switch {
		case done && w.fresh != "" && n.recent(at):
			n.mark(w.fresh, name+": done "+n.dayOf(at)+".")
		case w.aged == "":
		case w.old == 0 && overdue:
			n.mark(w.aged, name+": "+says)
		case done && w.old > 0 && n.ask.Now.Sub(at) > w.old:
			n.mark(w.aged, name+": last done "+n.dayOf(at)+".")
		case !done && w.unserved && n.bike.Year > 0 && n.ask.Now.Year()-n.bike.Year >= oldBike:
			n.mark(w.aged, fmt.Sprintf("%s: no work on it in the book, and the bike is of %d.", name, n.bike.Year))
		}
	}
}

// overdue says whether a service is past its interval, and by which limit.
func (n *booked) overdue(what string) (over bool, says string) {
	i := slices.IndexFunc(cares, func(c care) bool { return c.what == what })
	if i < 0 {
		return false, ""
	}
	row := dueRow(n.ask, n.bike, cares[i])
	return row.State == "over", row.Last + " " + row.Says
}

// partWords are words in a part's name and the facts that a fresh one means.
var partWords = []struct {
	words string
	facts []string
}{
	{"front tyre", []string{"tyre-new", "front-apart"}}, {"rear tyre", []string{"tyre-new", "rear-apart"}}, {"tyres", []string{"tyre-new", "front-apart", "rear-apart"}},
	{"front wheel", []string{"front-apart"}}, {"rear wheel", []string{"rear-apart"}}, {"sprocket", []string{"gearing", "rear-apart"}},
	{"clip-on", []string{"bars-changed"}}, {"handlebar", []string{"bars-changed"}}, {"lever", []string{"bars-changed"}},
	{"screen", []string{"screen"}}, {"luggage", []string{"screen"}},
	{"disc", []string{"brake-work"}}, {"caliper", []string{"brake-work"}}, {"pads", []string{"brake-work"}},
	{"fork spring", []string{"fork-work"}},
}

func (n *booked) parts() {
	for _, p := range n.bike.Parts {
		at := whenOr(p.Body.When, p.Wall)
		if !n.recent(at) {
			continue
		}
		name := strings.ToLower(p.Body.Part)
		for _, w := range partWords {
			if strings.Contains(name, w.words) {
				for _, f := range w.facts {
					n.mark(f, p.Body.Part+": fitted "+n.dayOf(at)+".")
				}
			}
		}
	}
}

// movesOf are the facts that an adjuster's move means: more and less in the
// engine's sense, see firmOf.
var movesOf = map[book.AdjusterID]struct{ more, less []string }{
	"front.compression": {[]string{"front-compression-in"}, []string{"front-compression-out"}},
	"front.rebound":     {[]string{"front-rebound-in"}, []string{"front-rebound-out"}},
	"rear.compression":  {[]string{"rear-compression-in"}, []string{"rear-compression-out"}},
	"rear.rebound":      {[]string{"rear-rebound-in"}, []string{"rear-rebound-out"}},
	"steering.damper":   {[]string{"damper-up"}, nil},
	"front.pressure":    {[]string{"pressure-raised"}, []string{"pressure-lowered"}},
	"rear.pressure":     {[]string{"pressure-raised"}, []string{"pressure-lowered"}},
	"rear.height":       {[]string{"rear-raised"}, nil},
	"front.height":      {[]string{"front-raised", "forks-moved"}, []string{"forks-through", "forks-moved"}},
	"rear.preload":      {[]string{"preload-high"}, nil},
	"sprocket.front":    {[]string{"gearing"}, []string{"gearing"}},
	"sprocket.rear":     {[]string{"gearing"}, []string{"gearing"}},
	"chain.slack":       {[]string{"chain-adjusted"}, []string{"chain-adjusted"}},
}

// driftSteps is how many steps from the line a setting is counted as moved.
// Common practice, no source.
const driftSteps = 2

// moves notes where an adjuster went lately, and where it stands away from
// the line that worked.
func (n *booked) moves(s *book.Setting) {
	facts, ok := movesOf[s.ID]
	if !ok || s.At == nil {
		return
	}
	show := shower{n.ask.Book}
	say := func(delta unit.Fixed, since string) {
		list := facts.more
		if (delta < 0) != (firmOf(s) < 0) {
			list = facts.less
		}
		for _, f := range list {
			n.mark(f, s.Name+": "+show.moved(s, delta)+" "+since+".")
		}
	}
	if delta := n.netMove(s); delta != 0 {
		say(delta, "in the last month")
	}
	line, ok := n.lineHere()
	if at, known := line.At[s.ID]; ok && known {
		if steps := s.Steps(*s.At - at); max(steps, -steps) >= unit.Whole(driftSteps) {
			say(*s.At-at, "of the line '"+line.Name+"'")
		}
	}
	if slices.ContainsFunc(s.Line, func(m book.Mark) bool { return m.Kind == "found" && m.Owned == "" && n.recent(m.Wall) }) && s.Unit == "click" {
		n.mark("counted-badly", s.Name+" was found moved and nobody owned up: it may have been counted from another end.")
	}
}

// netMove is how far an adjuster came within the last month, what was put
// back counted out.
func (n *booked) netMove(s *book.Setting) unit.Fixed {
	for _, m := range s.Line {
		if n.recent(m.Wall) && m.Kind != "count" && m.From != nil {
			return *s.At - *m.From
		}
	}
	return 0
}

// lineHere is the line that was drawn last at the track of the last session,
// or the one in force.
func (n *booked) lineHere() (book.Baseline, bool) {
	if runs := n.bike.Runs(); len(runs) > 0 {
		track := runs[len(runs)-1].Body.Track
		for _, l := range slices.Backward(n.bike.Baselines) {
			if track != "" && l.Track == track {
				return l, true
			}
		}
	}
	return n.bike.Line()
}

func (n *booked) preload() {
	front, rear := n.because["front-compression-out"], n.because["rear-compression-out"]
	if front != "" && rear != "" {
		n.mark("all-compression-out", front+" "+rear)
	}
	s, ok := n.bike.Settings["rear.preload"]
	if ok && s.At != nil && s.Standing == book.Counted && s.Max-*s.At <= unit.Whole(1) {
		n.mark("preload-max", "Rear preload is at "+shower{n.ask.Book}.position(s, *s.At)+", next to its end.")
	}
}

func (n *booked) rider() {
	if n.bike.RiderKg == nil {
		return
	}
	kg := n.bike.RiderKg.Float() - kitKg
	n.facts.RiderMass = &kg
}

// measures takes readings; a position counts only when somebody saw it.
func (n *booked) measures() {
	k, f := n.bike, &n.facts
	f.PressureColdFront = reading(k.Settings["front.pressure"])
	f.PressureColdRear = reading(k.Settings["rear.pressure"])
	if slack := k.Settings["chain.slack"]; slack != nil && slack.Seen != nil && !movedSince(k.Settings["sprocket.front"], *slack.Seen) && !movedSince(k.Settings["sprocket.rear"], *slack.Seen) {
		f.ChainSlackLeast = reading(slack)
	}
	m, found := measuredFacts(n.ask, k)
	f.RiderSagFront, f.RiderSagRear, f.FreeSagRear = m.RiderSagFront, m.RiderSagRear, m.FreeSagRear
	f.SagSpreadFront, f.SagSpreadRear = m.SagSpreadFront, m.SagSpreadRear
	f.ForkTravelUsed, f.ForkTravel = m.ForkTravelUsed, m.ForkTravel
	for _, o := range found { // a number comes before a look
		n.found = append(slices.DeleteFunc(n.found, func(was diagnosis.Observed) bool { return was.Finding == o.Finding }), o)
	}
	for _, id := range []book.AdjusterID{"front.pressure", "rear.pressure"} {
		s := k.Settings[id]
		if s != nil && !s.Retired && (s.Seen == nil || n.ask.Now.Sub(*s.Seen) > pressureAge) {
			n.mark("pressure-unchecked", s.Name+" was not set or counted within a day.")
		}
	}
}

// movedSince says whether an adjuster was moved after a moment: what was
// measured before it holds no longer.
func movedSince(s *book.Setting, at time.Time) bool {
	return s != nil && slices.ContainsFunc(s.Line, func(m book.Mark) bool { return m.Kind != "count" && m.Wall.After(at) })
}

// reading is a counted position; an assumption is no evidence.
func reading(s *book.Setting) *float64 {
	if s == nil || s.At == nil || s.Standing != book.Counted {
		return nil
	}
	v := s.At.Float()
	return &v
}

// manyCycles is from how many heat cycles a tyre is taken as spent. Common
// practice, no source: makers' figures go from six to twenty and more.
const manyCycles = 15

// tyres takes the age and the heat cycles of the set that was ridden last, or
// the age of the tyre that was fitted last.
func (n *booked) tyres() {
	for _, s := range slices.Backward(n.bike.Runs()) {
		for _, set := range n.bike.TyreSets {
			if s.Body.Tyres != "" && set.ID == s.Body.Tyres {
				n.tyreSet(set)
				return
			}
		}
	}
	for _, p := range slices.Backward(n.bike.Parts) {
		at := whenOr(p.Body.When, p.Wall)
		if strings.Contains(strings.ToLower(p.Body.Part), "tyre") {
			if n.ask.Now.Sub(at) > oldParts {
				n.mark("tyre-old", p.Body.Part+": fitted "+n.dayOf(at)+".")
			}
			return
		}
	}
}

func (n *booked) tyreSet(set book.TyreSet) {
	if cycles := n.bike.HeatCycles(set.ID, ""); cycles >= manyCycles {
		n.mark("tyre-old", fmt.Sprintf("Tyres '%s' went through %d heat cycles.", set.Name, cycles))
	}
	var unknown time.Time
	fitted := whenOr(set.Fitted, unknown)
	switch {
	case fitted.Equal(unknown):
	case n.ask.Now.Sub(fitted) > oldParts:
		n.mark("tyre-old", "Tyres '"+set.Name+"': fitted "+n.dayOf(fitted)+".")
	case n.recent(fitted):
		n.mark("tyre-new", "Tyres '"+set.Name+"': fitted "+n.dayOf(fitted)+".")
	}
}

// sessionOf is the session that a complaint is about: the one that it names,
// else today's last one.
func sessionOf(a Ask, k *book.Bike, args WhyArgs) *book.SessionBody {
	for _, s := range slices.Backward(k.Runs()) {
		if args.Session != "" && s.Body.Session == args.Session || args.Session == "" && sameDay(book.Ridden(s), a.Now) {
			return &s.Body
		}
	}
	return nil
}

// day takes the track and the conditions of the session.
func (n *booked) day(args WhyArgs) {
	track := args.Track
	if s := sessionOf(n.ask, n.bike, args); s != nil {
		track = cmp.Or(track, s.Track)
		n.session(s)
	}
	if t, ok := n.ask.Book.Tracks[track]; ok && t.Bumpy == "bumpy" {
		n.mark("bumpy", t.Name+" is bumpy, says the book.")
	}
}

func (n *booked) session(s *book.SessionBody) {
	f := &n.facts
	if s.Wet {
		n.mark("wet", "The session was wet.")
	}
	if s.Wind != "" && !calm(s.Wind) {
		n.mark("wind", "Wind in the session: "+s.Wind+".")
	}
	f.Air = floatOr(s.Air, f.Air)
	f.PressureColdFront, f.PressureColdRear = floatOr(s.ColdFront, f.PressureColdFront), floatOr(s.ColdRear, f.PressureColdRear)
	f.PressureHotFront, f.PressureHotRear = floatOr(s.Front, nil), floatOr(s.Rear, nil)
	gain := func(cold, hot *float64) bool {
		return cold != nil && hot != nil && *hot-*cold >= gainLow*kPaPerPsi && *hot-*cold <= gainHigh*kPaPerPsi
	}
	if gain(f.PressureColdFront, f.PressureHotFront) && gain(f.PressureColdRear, f.PressureHotRear) {
		n.mark("gain-right", "Both pressures rose from cold to hot as they should.")
	}
}

// gainLow and gainHigh bound the rise of pressure, in psi, that is neither too
// little nor too much for the engine: a tuner's chart has 3 to 4 as too
// little and more than 10 as too much (S18 of the knowledge).
const gainLow, gainHigh = 4.5, 9.5

// calm says whether a rider's word for the wind means that there was none.
func calm(wind string) bool {
	w := strings.ToLower(wind)
	return slices.ContainsFunc([]string{"no", "none", "calm", "still", "light", "little"}, func(word string) bool { return strings.HasPrefix(w, word) })
}

func floatOr(given *unit.Fixed, was *float64) *float64 {
	if given == nil {
		return was
	}
	v := given.Float()
	return &v
}

// quicker is by how much a best lap must have fallen for a rider to have
// outgrown a setting: two parts in a hundred. Common practice, no source.
const quicker = 0.98

// pace compares the rider's first and last best lap at one track, in the dry.
func (n *booked) pace(args WhyArgs) {
	var first, last unit.Fixed
	runs := n.bike.Runs()
	track := args.Track
	if track == "" && len(runs) > 0 {
		track = runs[len(runs)-1].Body.Track
	}
	for _, s := range runs {
		laps := slices.DeleteFunc(slices.Clone(n.bike.LapsOf(s.Body.Session)), func(l book.LapTime) bool { return l.Gap || l.Mark != "" && l.Mark != "counts" })
		if s.Body.Track != track || len(laps) == 0 || s.Body.Wet {
			continue
		}
		last = slices.MinFunc(laps, func(a, b book.LapTime) int { return cmp.Compare(a.Time, b.Time) }).Time
		if first == 0 {
			first = last
		}
	}
	if first > 0 && last.Float() < quicker*first.Float() {
		n.mark("faster", "Your best lap at "+n.ask.Book.Tracks[track].Name+" went from "+lapTime(first)+" to "+lapTime(last)+".")
	}
}

// recentChanges are the changes between the last two sessions, the latest
// first, and whether the last one felt worse. A difference that was found and
// nobody owned up to is one; what was put back, and putting it back, are none.
func recentChanges(k *book.Bike) []diagnosis.Recent {
	if len(k.Sessions) == 0 {
		return nil
	}
	runs := k.Runs()
	last := runs[len(runs)-1]
	var from time.Time
	if len(runs) > 1 {
		from = book.Ridden(runs[len(runs)-2])
	}
	var marks []book.Mark
	of := map[entry.ID]*book.Setting{}
	for _, s := range k.Active() {
		for _, m := range s.Line {
			moved := m.Kind != "count" && m.Delta != nil && *m.Delta != 0 && m.Wall.After(from) && m.Wall.Before(book.Ridden(last))
			gone := s.At != nil && m.From != nil && *s.At == *m.From
			if moved && !gone && !putsBack(k, s.ID, m) {
				marks, of[m.Entry] = append(marks, m), s
			}
		}
	}
	slices.SortStableFunc(marks, func(a, b book.Mark) int { return b.Wall.Compare(a.Wall) })
	var out []diagnosis.Recent
	for _, m := range marks {
		s := of[m.Entry]
		steps := s.Steps(*m.Delta)
		out = append(out, diagnosis.Recent{
			Adjuster: string(s.ID), Direction: direction(s, *m.Delta), Steps: int(max(steps, -steps) / unit.Whole(1)), Worse: last.Body.Felt == "worse",
		})
	}
	return out
}

// putsBack says whether a move takes a trial back that was judged so.
func putsBack(k *book.Bike, id book.AdjusterID, m book.Mark) bool {
	return slices.ContainsFunc(k.Trials, func(t book.Trial) bool {
		return t.Verdict == "back" && t.Body.Adjuster == id && t.Body.From != nil && m.To != nil && *m.To == *t.Body.From
	})
}

// direction is a move in the engine's words.
func direction(s *book.Setting, delta unit.Fixed) string {
	if (delta < 0) != (firmOf(s) < 0) {
		return "less"
	}
	return "more"
}

// causesByID are the knowledge's causes by their ids.
var causesByID = sync.OnceValue(func() map[string]diagnosis.Cause {
	out := map[string]diagnosis.Cause{}
	for _, c := range diagnosis.Load().Causes() {
		out[c.ID] = c
	}
	return out
})
