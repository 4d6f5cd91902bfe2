package screen

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// MeasureArgs asks for the list of what can be measured on a bike.
type MeasureArgs struct {
	Bike book.BikeID `json:"bike"`
}

// Measure is the list of topics, in the order in which to measure: what
// settles first stands first. First is what to measure now.
type Measure struct {
	Bike   book.BikeID    `json:"bike"`
	First  *MeasureLine   `json:"first,omitempty"`
	Says   string         `json:"says"`
	Groups []MeasureGroup `json:"groups"`
}

// MeasureGroup is a few topics that belong together.
type MeasureGroup struct {
	Name  string        `json:"name"`
	Lines []MeasureLine `json:"lines"`
}

// MeasureLine is one topic in the list. State is "never", "stale" or "fresh";
// Says tells when it was last measured, what came out, and what makes it stale.
type MeasureLine struct {
	Topic string `json:"topic"`
	Name  string `json:"name"`
	What  string `json:"what"`
	State string `json:"state"`
	Says  string `json:"says"`
}

// MeasuringArgs is how far a guided page is filled in. Typed is what the rider
// typed, by symbol, with its unit; "?" is 'don't know'. Units are the rider's
// choices by kind. At is the symbol that is asked for now.
type MeasuringArgs struct {
	Bike  book.BikeID       `json:"bike"`
	Topic string            `json:"topic"`
	At    string            `json:"at"`
	Typed map[string]string `json:"typed"`
	Units map[string]string `json:"units"`
	Note  string            `json:"note"`
}

// Measuring is one guided page: what to measure and why, one number at a time,
// and what the numbers say.
type Measuring struct {
	Bike    book.BikeID   `json:"bike"`
	Topic   string        `json:"topic"`
	Name    string        `json:"name"`
	What    string        `json:"what"`
	Needs   string        `json:"needs"`
	Why     []string      `json:"why"` // three sentences
	Scene   Scene         `json:"scene"`
	Steps   []MeasureStep `json:"steps"`
	Reading *Reading      `json:"reading,omitempty"` // of what is typed, or of the last measurement
	Of      string        `json:"of,omitempty"`      // when that was, "" for what is typed
	Missing []string      `json:"missing"`           // not known yet, and needed
	Ready   bool          `json:"ready"`             // it can be saved
	Earlier []MeasureLast `json:"earlier"`           // newest first
	Next    *MeasureLine  `json:"next,omitempty"`    // what to measure behind this
}

// MeasureStep is one number or word. Value is what stands in its field, without
// the unit; Last what was read last time, with it.
type MeasureStep struct {
	Symbol   string        `json:"symbol"`
	Title    string        `json:"title"`
	How      string        `json:"how"`
	Kind     string        `json:"kind"` // "number", "choice", "words" or "bounce"
	Value    string        `json:"value"`
	Quantity string        `json:"quantity"` // "length", "pressure": what Units are of
	Unit     string        `json:"unit"`
	Units    []string      `json:"units"` // to choose from
	Options  []Choice      `json:"options"`
	Last     string        `json:"last,omitempty"`
	Book     string        `json:"book,omitempty"` // where a filled-in value comes from
	Unknown  bool          `json:"unknown"`
	Refusal  *book.Refusal `json:"refusal,omitempty"`
	Caution  string        `json:"caution,omitempty"`
}

// MeasureLast is an earlier measurement.
type MeasureLast struct {
	Entry entry.ID `json:"entry"`
	When  string   `json:"when"`
	Says  string   `json:"says"`
	Note  string   `json:"note,omitempty"`
}

var (
	_ = view("measure", measureList)
	_ = view("measuring", measuring)
	_ = action("measure", measureIt)
)

// measureGroups name the groups in the order in which to go through them.
var measureGroups = []string{"First: how it sits", "Springs and travel", "How it steers", "Chain and gearing", "Tyres"}

func measureList(a Ask, args MeasureArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	out := Measure{Bike: k.ID, Groups: []MeasureGroup{}}
	done, all := 0, 0
	for _, name := range measureGroups {
		g := MeasureGroup{Name: name}
		for _, t := range topics() {
			if t.group != name {
				continue
			}
			line := t.line(a, k)
			g.Lines = append(g.Lines, line)
			all++
			if line.State == "fresh" {
				done++
			}
		}
		if len(g.Lines) > 0 {
			out.Groups = append(out.Groups, g)
		}
	}
	out.First = nextTopic(a, k, "")
	out.Says = fmt.Sprintf("%d of %d measured and in date.", done, all)
	return out, nil
}

// measuredLines are the topics that were measured, with what came out.
func measuredLines(a Ask, k *book.Bike) []MeasureLine {
	out := []MeasureLine{}
	for _, t := range topics() {
		if _, ok := k.Measures[t.id]; ok {
			out = append(out, t.line(a, k))
		}
	}
	return out
}

// nextTopic is the first one behind another that was never measured or is
// stale; nil when there is none.
func nextTopic(a Ask, k *book.Bike, behind string) *MeasureLine {
	all := topics()
	from := slices.IndexFunc(all, func(t topic) bool { return t.id == behind }) + 1
	for _, t := range slices.Concat(all[from:], all[:from]) {
		if state, _ := t.state(a, k); state != "fresh" && t.id != behind {
			line := t.line(a, k)
			return &line
		}
	}
	return nil
}

// state is "never", "stale" with the reason, or "fresh".
func (t topic) state(a Ask, k *book.Bike) (state, why string) {
	last, ok := k.Measures[t.id]
	if !ok {
		return "never", ""
	}
	if why = t.stale(a, k, last.Wall); why != "" {
		return "stale", why
	}
	return "fresh", ""
}

// line tells how a topic stands, and what came out of it.
func (t topic) line(a Ask, k *book.Bike) MeasureLine {
	state, why := t.state(a, k)
	out := MeasureLine{Topic: t.id, Name: t.name, What: t.what, State: state, Says: "Not measured yet."}
	if last, ok := k.Measures[t.id]; ok {
		out.Says = join2(shower{a.Book}.day(last.Wall, a.Now)+": "+measureSays(a, k, last.Body, last.Wall), why)
	}
	return out
}

// stale says why a measurement no longer tells how the bike is; "" when it does.
func (t topic) stale(a Ask, k *book.Bike, then time.Time) string {
	for _, id := range t.moved {
		if by, ok := gap(k, id, asThen(then), asNow); ok && by != 0 {
			return k.Settings[id].Name + " was moved since: measure again."
		}
	}
	for _, n := range k.Services {
		if slices.Contains(t.works, n.Body.What) && n.Wall.After(then) {
			return workName(n.Body.What) + " was done since: measure again."
		}
	}
	if t.days > 0 && a.Now.Sub(then) > time.Duration(t.days)*24*time.Hour {
		return "That is long ago: measure again."
	}
	return ""
}

// measureSays is a saved measurement in one sentence.
func measureSays(a Ask, k *book.Bike, m book.MeasureBody, at time.Time) string {
	t, ok := topicOf(m.Topic)
	if !ok {
		return spaced(m.Topic)
	}
	r := round{ask: a, k: k, topic: t, at: at, known: knownFrom(a.Book, t, m)}
	reading, _ := r.read()
	if reading == nil || len(reading.Says) == 0 {
		return "some of it measured."
	}
	return reading.Says[0]
}

func measuring(a Ask, args MeasuringArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	t, ok := topicOf(args.Topic)
	if !ok {
		return nil, []book.Refusal{{Field: "topic", Says: "There is nothing to measure under this name.", Mend: "Pick it from the list."}}
	}
	r, steps := fillIn(a, k, t, args)
	out := Measuring{
		Bike: k.ID, Topic: t.id, Name: t.name, What: t.what, Needs: lower(t.needs), Why: sentences(t.why),
		Steps: steps, Scene: t.draw(r), Missing: []string{}, Earlier: []MeasureLast{},
	}
	if args.At == "" { // the page's first sight; keys must not wait for the rest
		out.Earlier, out.Next = earlier(a, k, t), nextTopic(a, k, t.id)
	}
	last, measured := k.Measures[t.id]
	if len(args.Typed) == 0 && measured {
		of := round{ask: a, k: k, topic: t, at: last.Wall, known: knownFrom(a.Book, t, last.Body)}
		out.Reading, _ = of.read()
		out.Of = shower{a.Book}.moment(last.Wall, a.Now)
		return out, nil
	}
	out.Missing = r.missing()
	refusals := refusalsOf(steps)
	if len(out.Missing) == 0 && len(refusals) == 0 {
		out.Reading, refusals = r.read()
		out.Ready = out.Reading != nil && len(refusals) == 0
		for i := range out.Steps {
			out.Steps[i].blame(refusals)
		}
		if len(refusals) > 0 {
			out.Reading = &Reading{Wrong: refusals}
		}
	}
	return out, nil
}

// blame puts a refusal beside the step whose field it names.
func (s *MeasureStep) blame(refusals []book.Refusal) {
	for _, r := range refusals {
		if r.Field == s.Symbol && s.Refusal == nil {
			s.Refusal = &r
		}
	}
}

func refusalsOf(steps []MeasureStep) []book.Refusal {
	var out []book.Refusal
	for _, s := range steps {
		if s.Refusal != nil {
			out = append(out, *s.Refusal)
		}
	}
	return out
}

// sentences cuts a text into its sentences.
func sentences(text string) []string {
	out := strings.SplitAfter(text, ". ")
	for i := range out {
		out[i] = strings.TrimSpace(out[i])
	}
	return out
}

// earlier are a topic's measurements, newest first, the last one included.
func earlier(a Ask, k *book.Bike, t topic) []MeasureLast {
	const shown = 6
	out := []MeasureLast{}
	for _, told := range slices.Backward(a.Book.Told) {
		if told.Kind != book.KindMeasure || told.Bike != k.ID || told.Struck != "" || len(out) == shown {
			continue
		}
		var m book.MeasureBody
		if decode(told.Body, &m) != nil || m.Topic != t.id {
			continue
		}
		out = append(out, MeasureLast{told.Entry, shower{a.Book}.moment(told.Wall, a.Now), measureSays(a, k, m, told.Wall), m.Note})
	}
	return out
}

// measureIt writes a round down. What was not known is not in it; what is
// wrong is refused at its field.
func measureIt(a Ask, args MeasuringArgs) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	t, ok := topicOf(args.Topic)
	if !ok {
		return nil, []book.Refusal{{Field: "topic", Says: "There is nothing to measure under this name.", Mend: "Pick it from the list."}}
	}
	r, steps := fillIn(a, k, t, args)
	if refused := refusalsOf(steps); len(refused) > 0 {
		return nil, refused
	}
	if missing := r.missing(); len(missing) > 0 {
		return nil, []book.Refusal{{Field: "", Says: "Not measured yet: " + strings.Join(missing, ", ") + ".", Mend: "Go back and measure it."}}
	}
	if _, refused := r.read(); len(refused) > 0 {
		return nil, refused
	}
	body := book.MeasureBody{Bike: k.ID, Topic: t.id, Values: map[string]unit.Fixed{}, Note: strings.TrimSpace(args.Note)}
	for _, q := range t.asks {
		v, ok := r.known[q.symbol]
		switch {
		case !ok || q.only != nil && !q.only(r):
		case v.words != "":
			if body.Words == nil {
				body.Words = map[string]string{}
			}
			body.Words[q.symbol] = v.words
			if q.kind == "bounce" {
				body.Words[q.symbol] = shortTrace(v.words)
			}
		default:
			body.Values[q.symbol], _ = unit.FixedOf(v.number) // within its limits
		}
	}
	return append(chosenUnits(a.Book, args.Units), book.Draft{Kind: book.KindMeasure, Body: body}), nil
}

// chosenUnits keeps the units that the rider chose while measuring.
func chosenUnits(b *book.Book, units map[string]string) []book.Draft {
	fresh := map[string]string{}
	for kind, name := range units {
		if slices.Contains(unitChoices[unit.Kind(kind)], name) && unitFor(b, nil, unit.Kind(kind)) != name {
			fresh[kind] = bookUnit(name)
		}
	}
	if len(fresh) == 0 {
		return nil
	}
	return []book.Draft{{Kind: book.KindBook, Body: book.BookBody{Units: fresh}}}
}

// topicOf finds a topic by its name.
func topicOf(id string) (topic, bool) {
	for _, t := range topics() {
		if t.id == id {
			return t, true
		}
	}
	return topic{}, false
}

// topics are what can be measured, in the order in which to do it; made when
// first asked for, so that the app's start does not wait for them.
func topics() []topic {
	makeTopics.Do(func() {
		madeTopics = slices.Concat(sagTopics(), springTopics(), steerTopics(), chainTopics(), tyreTopics())
	})
	return madeTopics
}

var (
	makeTopics sync.Once
	madeTopics []topic
)
