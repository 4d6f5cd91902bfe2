package screen

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
)

// WhyArgs is what the rider has said so far: findings with "yes", "no" or
// "unsure", how often it comes ("once", "some", "every", "purpose"), where,
// and own words. Phase, End and Side narrow the findings that are offered.
type WhyArgs struct {
	Bike     book.BikeID       `json:"bike"`
	Phase    string            `json:"phase"`
	End      string            `json:"end"`
	Side     string            `json:"side"` // "left", "right" or ""
	Words    string            `json:"words"`
	Repeat   string            `json:"repeat"`
	Track    book.TrackID      `json:"track"`
	Session  book.SessionID    `json:"session"`
	Corner   string            `json:"corner"`
	Findings map[string]string `json:"findings"`
	Ends     map[string]string `json:"ends"` // of tyre readings: "front" or "rear"
}

// Why is what the screen of the same name shows: what may be meant, what
// probably causes it, and what to do first.
type Why struct {
	Bike    book.BikeID  `json:"bike"`
	Stops   []Notice     `json:"stops"`  // what the book itself says: do not ride until…
	Offers  []WhyFinding `json:"offers"` // for the phase and end, or the words
	Chosen  []WhyFinding `json:"chosen"` // said before, and not among the offers
	Booked  []string     `json:"booked"` // what the book says that bears on it
	Causes  []WhyCause   `json:"causes"`
	Stop    *WhyStop     `json:"stop,omitempty"` // do not ride until…
	Next    *WhyStep     `json:"next,omitempty"` // the check to make now
	Plan    []WhyLine    `json:"plan"`           // every check worth making, in the order of work
	Change  *WhyTry      `json:"change,omitempty"`
	Refused string       `json:"refused,omitempty"` // the adjuster has no way left, and what then
	Pairs   []string     `json:"pairs"`             // two causes at once
	Doubts  []string     `json:"doubts"`            // where the sources disagree
	Unsure  bool         `json:"unsure"`
	Note    string       `json:"note,omitempty"`
	Learned bool         `json:"learned,omitempty"` // verdicts on this bike have moved it
	Tracks  []Choice     `json:"tracks"`
	Track   book.TrackID `json:"track,omitempty"` // where the bike is, when nothing else is said
	Corners []string     `json:"corners"`         // named before at this track
	Saved   int          `json:"saved"`           // symptoms in the book
}

// WhyFinding is something that can be felt or seen. Answer is "yes", "no",
// "unsure" or "".
type WhyFinding struct {
	ID     string `json:"id"`
	Words  string `json:"words"`
	Kind   string `json:"kind"`
	Answer string `json:"answer,omitempty"`
	Denied bool   `json:"denied,omitempty"` // the words say that it is not so
}

// WhyCause is a likely cause. Length is its bar, 0 to 10: coarse on purpose,
// the doubt is told in words.
type WhyCause struct {
	ID      string        `json:"id"`
	Title   string        `json:"title"`
	Family  string        `json:"family"`
	Drawing string        `json:"drawing"`
	Doubt   string        `json:"doubt"`
	Length  int           `json:"length"`
	Why     string        `json:"why"`
	Tell    string        `json:"tell"` // from its look-alikes
	For     []WhyEvidence `json:"for"`
	Against []WhyEvidence `json:"against"`
	Check   WhyCheck      `json:"check"`
	Remedy  WhyTry        `json:"remedy"`
	Stop    string        `json:"stop,omitempty"`
}

// WhyEvidence is one piece of evidence. Length is its bar, 1 to 4, and Weight
// says the same in a word.
type WhyEvidence struct {
	Words  string `json:"words"`
	Detail string `json:"detail,omitempty"` // what the book has of it
	Weight string `json:"weight"`
	Length int    `json:"length"`
	Source string `json:"source,omitempty"`
	Doubt  string `json:"doubt,omitempty"` // how the sources disagree on it
}

// WhyCheck is the inspection that settles a cause. Finding is what a fault
// means; Answer is the rider's result: "yes" is a fault, "no" is good.
type WhyCheck struct {
	Finding string `json:"finding"`
	Fault   string `json:"fault"` // what a fault looks like
	How     string `json:"how"`
	Effort  string `json:"effort"`
	Drawing string `json:"drawing"`
	Answer  string `json:"answer,omitempty"`
	Round   string `json:"round,omitempty"`   // the check of the round that goes further
	Measure string `json:"measure,omitempty"` // the topic of Measure that guides it
}

// WhyStop says why one must not ride.
type WhyStop struct {
	Cause string `json:"cause"`
	Title string `json:"title"`
	Says  string `json:"says"`
}

// WhyStep is the check to make now. First says that it goes before any
// change, because something more basic is not ruled out.
type WhyStep struct {
	Cause   string `json:"cause"`
	Title   string `json:"title"`
	Why     string `json:"why"`
	Because string `json:"because"` // why it comes first
	First   bool   `json:"first"`
	WhyCheck
}

// WhyLine is one check of the plan.
type WhyLine struct {
	Cause  string `json:"cause"`
	Title  string `json:"title"`
	How    string `json:"how"`
	Effort string `json:"effort"`
}

var _ = view("why", why)

// causesShown is how many causes the screen lists.
const causesShown = 6

func why(a Ask, args WhyArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	n := diagnosis.Load()
	out := Why{
		Bike: k.ID, Stops: stops(a, k), Offers: offers(n, args), Chosen: []WhyFinding{}, Booked: []string{}, Causes: []WhyCause{},
		Plan: []WhyLine{}, Pairs: []string{}, Doubts: []string{}, Tracks: trackChoices(a.Book), Saved: len(k.Symptoms),
	}
	_, out.Track = whereNow(k, a.Now)
	out.Corners = cornersAt(a.Book, k, cmp.Or(args.Track, out.Track))
	if len(args.Findings) > 0 {
		out.Chosen = chosen(n, args, out.Offers)
		out.answer(a, k, args)
	}
	return out, nil
}

// answer asks the engine and puts what it says on the screen.
func (w *Why) answer(a Ask, k *book.Bike, args WhyArgs) {
	c, says := caseOf(a, k, args)
	n, learnt := learnedBy(k)
	answer := diagnoseCase(n, c)
	d := describer{a: a, k: k, args: args, says: says, stopped: answer.Stop != nil || len(w.Stops) > 0, change: answer.Change}
	w.Learned, w.Booked, w.Unsure, w.Note = len(learnt) > 0, says.sentences(), answer.Unsure, answer.Note
	for _, r := range answer.Causes[:min(causesShown, len(answer.Causes))] {
		w.Causes = append(w.Causes, d.cause(r))
	}
	if s := answer.Stop; s != nil {
		w.Stop = &WhyStop{s.Cause, causesByID()[s.Cause].Title, s.Words}
	}
	w.Next = d.step(cmp.Or(answer.First, answer.Next), answer.First != nil)
	for _, s := range answer.Plan {
		w.Plan = append(w.Plan, WhyLine{s.Cause, s.Title, s.How, effort(s.Minutes, s.Tools)})
	}
	for _, p := range answer.Pairs {
		w.Pairs = append(w.Pairs, capital(p.Doubt)+": "+p.Words)
	}
	w.Doubts = append(w.Doubts, answer.Doubts...)
	if r := answer.Refused; r != nil {
		w.Refused, w.Note = r.Words+" "+r.Instead, ""
	}
	if answer.Change != nil {
		w.Change = d.changeOf(*answer.Change)
	}
}

// diagnoseCase asks the engine. Where several changes came before a session
// that felt worse, the one that undoes the likeliest cause is put back first.
func diagnoseCase(n *diagnosis.Network, c diagnosis.Case) diagnosis.Answer {
	answer := n.Diagnose(c)
	if answer.Change == nil || !answer.Change.PutBack {
		return answer
	}
	top := causesByID()[answer.Causes[0].ID].Remedy
	for _, r := range c.Recent {
		if r.Worse && r.Adjuster == top.Adjuster && r.Direction != top.Direction {
			answer.Change.Adjuster, answer.Change.Direction, answer.Change.Steps = top.Adjuster, top.Direction, r.Steps
			answer.Change.From, answer.Change.To = nil, nil // they were those of another adjuster
			break
		}
	}
	return answer
}

// sides are the findings that a difference between left and right suggests.
var sides = []string{"one-side-heavier", "pulls-one-side", "bars-off-straight", "t-one-shoulder", "t-busy-side", "t-two-sides"}

// offers are the findings that the words may mean or, without words, those of
// the phase and end; a side puts the ones of a left-right difference first.
// Nothing is chosen for the rider.
func offers(n *diagnosis.Network, args WhyArgs) []WhyFinding {
	out := []WhyFinding{}
	if strings.TrimSpace(args.Words) != "" {
		for _, o := range n.MatchAt(args.Words, args.Phase, args.End) {
			f := findingsByID()[o.Finding]
			out = append(out, WhyFinding{ID: f.ID, Words: f.Words, Kind: f.Kind, Answer: args.Findings[f.ID], Denied: o.Negated})
		}
		return out
	}
	if args.Side != "" {
		for _, id := range sides {
			if f, ok := findingsByID()[id]; ok {
				out = append(out, WhyFinding{ID: f.ID, Words: f.Words, Kind: f.Kind, Answer: args.Findings[f.ID]})
			}
		}
	}
	if args.Phase == "" && args.End == "" {
		return out
	}
	for _, f := range n.Findings() {
		if f.Kind == "felt" && (args.Phase == "" || f.Phase == args.Phase) && (args.End == "" || f.End == args.End) && !offered(out, f.ID) {
			out = append(out, WhyFinding{ID: f.ID, Words: f.Words, Kind: f.Kind, Answer: args.Findings[f.ID]})
		}
	}
	return out
}

func offered(list []WhyFinding, id string) bool {
	return slices.ContainsFunc(list, func(f WhyFinding) bool { return f.ID == id })
}

// chosen are the findings that were answered and are not among the offers,
// where their answers stand already.
func chosen(n *diagnosis.Network, args WhyArgs, offers []WhyFinding) []WhyFinding {
	out := []WhyFinding{}
	for _, f := range n.Findings() {
		if answer := args.Findings[f.ID]; answer != "" && !offered(offers, f.ID) {
			out = append(out, WhyFinding{ID: f.ID, Words: f.Words, Kind: f.Kind, Answer: answer})
		}
	}
	return out
}

// cornersAt are the names of a track's corners: the track's own, and those that
// the rider gave before.
func cornersAt(b *book.Book, k *book.Bike, track book.TrackID) []string {
	out := []string{}
	add := func(name string) {
		if name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	for _, c := range b.Tracks[track].Corners {
		add(c.Name)
	}
	for _, s := range slices.Backward(k.Symptoms) {
		if track == "" || s.Body.Track == track {
			add(s.Body.Corner)
		}
	}
	return out
}

// describer puts the engine's answer into the screen's words.
type describer struct {
	a       Ask
	k       *book.Bike
	args    WhyArgs
	says    *booked
	stopped bool
	change  *diagnosis.Change
}

func (d describer) cause(r diagnosis.Ranked) WhyCause {
	c := causesByID()[r.ID]
	return WhyCause{
		ID: r.ID, Title: r.Title, Family: familyOf(r.Family).Title, Drawing: drawingOf(c), Doubt: r.Doubt, Length: barOf(r.Posterior),
		Why: c.Why, Tell: c.Tell, For: d.evidence(r.For), Against: d.evidence(r.Against), Check: d.check(c),
		Remedy: d.try(c.ID, d.remedy(c)), Stop: c.Stop,
	}
}

// barOf is a probability as the length of a bar, 0 to 10. Anything that is
// possible at all shows.
func barOf(p float64) int {
	return max(1, min(10, int(math.Round(p*10))))
}

// weights put decibans into words: a factor of three is 4.8, of twenty 13, of
// a hundred and fifty 21.8. Source: Kass and Raftery, Bayes factors, Journal
// of the American Statistical Association 90 (1995), section 3.2; their
// "positive", "strong" and "very strong" in a rider's words.
var weights = []struct {
	from   float64
	words  string
	length int
}{{21.8, "very strongly", 4}, {13, "strongly", 3}, {4.8, "clearly", 2}, {0, "a little", 1}}

func weightOf(decibans float64) (string, int) {
	for _, w := range weights {
		if math.Abs(decibans) >= w.from {
			return w.words, w.length
		}
	}
	return "", 0
}

func (d describer) evidence(list []diagnosis.Weigh) []WhyEvidence {
	out := []WhyEvidence{}
	for _, w := range list {
		words, length := weightOf(w.Weight)
		out = append(out, WhyEvidence{Words: w.Words, Detail: d.says.because[w.Fact], Weight: words, Length: length, Source: sourceTitle(w.Source), Doubt: w.Disputed})
	}
	return out
}

func (d describer) step(s *diagnosis.Step, first bool) *WhyStep {
	if s == nil {
		return nil
	}
	return &WhyStep{Cause: s.Cause, Title: s.Title, Why: s.Why, Because: s.Because, First: first, WhyCheck: d.check(causesByID()[s.Cause])}
}

func (d describer) check(c diagnosis.Cause) WhyCheck {
	return WhyCheck{
		Finding: c.Check.Finding.ID, Fault: c.Check.Finding.Words, How: c.Check.How, Effort: effort(c.Check.Minutes, c.Check.Tools),
		Drawing: checkDrawing(c), Answer: d.args.Findings[c.Check.Finding.ID], Round: roundOf(c.ID), Measure: measuredBy[c.ID],
	}
}

// measuredBy are the topics of Measure that make a cause's check with a tape.
var measuredBy = map[string]string{
	"bars-or-controls-bent": "bars", "forks-twisted": "bars", "wheel-misaligned": "alignment", "chain-tight": "slack", "chain-worn": "chain-wear",
	"gearing-wheelbase-chain-angle": "gearing", "fork-preload-high": "sag-front", "fork-preload-low": "sag-front", "shock-preload-high": "sag-rear", "shock-preload-low": "sag-rear",
	"fork-spring-soft": "spring-front", "fork-spring-stiff": "spring-front", "shock-spring-soft": "spring-rear", "shock-spring-stiff": "spring-rear",
	"linkage-dry": "sag-rear", "rear-too-low": "sag-rear", "rear-too-high": "sag-rear", "front-too-low": "sag-front", "front-too-high": "sag-front",
	"geometry-steep": "geometry", "geometry-flat": "geometry", "fork-oil-level-low": "fork-air", "fork-oil-level-high": "fork-air",
	"fork-compression-low": "travel-front", "tyre-heat-cycled-out": "tyre-age",
}

// effort says what a job takes: "About 10 minutes, with a ruler."
func effort(minutes int, tools string) string {
	says := "About " + many(max(minutes, 1), "minute")
	if tools == "" || tools == "none" {
		return says + ", no tools."
	}
	return says + ", with: " + tools + "."
}

// roundOf is the check of the round that a cause belongs to, or "".
func roundOf(cause string) string {
	for _, c := range checkCauses {
		if slices.Contains(c.good, cause) {
			return c.check
		}
	}
	return ""
}

// sentences are what the book says that bears on the complaint.
func (n *booked) sentences() []string {
	out := []string{}
	for _, m := range n.facts.Marks {
		out = append(out, n.because[m])
	}
	slices.Sort(out)
	return slices.Compact(out)
}

var _ = action("symptom", symptomFelt)

// symptomFelt writes down what the rider felt. A fault that was found in a
// place of the round goes into the book as that check's result too, so that
// Today says not to ride; a good result does not: the round looks at more.
func symptomFelt(a Ask, f WhyArgs) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	body := book.SymptomBody{
		Bike: k.ID, Session: f.Session, Track: f.Track, Corner: strings.TrimSpace(f.Corner), Side: f.Side,
		Findings: map[string]string{}, Ends: f.Ends, Repeat: f.Repeat, Words: strings.TrimSpace(f.Words),
	}
	for id, answer := range f.Findings {
		if answer == "yes" || answer == "no" {
			body.Findings[id] = answer
		}
	}
	if body.Session == "" {
		session, track := whereNow(k, a.Now)
		if body.Track == "" || body.Track == track {
			body.Session, body.Track = session, track
		}
	}
	return append(faultsFound(k, body), book.Draft{Kind: book.KindSymptom, Body: body}), nil
}

// faultsFound are the checks of the round that findings prove to be faulty and
// that the book does not have as such yet.
func faultsFound(k *book.Bike, n book.SymptomBody) []book.Draft {
	var out []book.Draft
	for _, c := range checkCauses {
		for _, id := range c.good {
			cause := causesByID()[id]
			if n.Findings[cause.Check.Finding.ID] == "yes" && cause.Stop != "" && k.Checks[c.check].Body.Result != "fault" {
				out = append(out, book.Draft{Kind: book.KindCheck, Body: book.CheckBody{Bike: k.ID, Check: c.check, Result: "fault", Note: cause.Check.Finding.Words}})
				break
			}
		}
	}
	return out
}

// symptomTitle is a symptom in one line: the rider's words, or the findings'.
func symptomTitle(n book.SymptomBody) string {
	if n.Words != "" {
		return n.Words
	}
	words := ""
	for _, f := range diagnosis.Load().Findings() {
		if n.Findings[f.ID] == "yes" {
			words = join2(words, f.Words)
		}
	}
	return cmp.Or(words, "Something, not said what")
}
