package screen

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/calc"
	"plumbline/internal/unit"
)

// topic is one thing to measure on a bike.
type topic struct {
	id, name, group string
	what            string // what it tells, in a few words
	needs           string // tools and hands
	why             string // three sentences
	asks            []ask
	moved           []book.AdjusterID // settings whose move makes it stale
	works           []string          // services that make it stale
	days            int               // after which it is old; 0 is never
	draw            func(r round) Scene
	run             func(r round, out *Reading) []book.Refusal
}

// ask is one number or word of a topic. Its limits, hint and kind are those of
// the arithmetic's input, named by topic and symbol; title and how are said in
// its place where the guided page knows better.
type ask struct {
	symbol      string // as the book keeps it
	calc, input string
	title, how  string
	options     []Choice             // words to pick from
	pick        func(round) []Choice // the same, from the book
	typed       bool                 // words are typed, not picked
	kind        string               // "bounce" is recorded
	lasting     bool                 // does not change between rounds: filled in again
	maybe       bool                 // can stay unknown
	from        func(r round) string // what the book knows elsewhere, as typed
	book        string               // where that is
	only        func(r round) bool   // asked only then
}

// figure is a reading: a number in its canonical unit, or words.
type figure struct {
	number float64
	words  string
	typed  string // as the arithmetic takes it
}

// round is a topic being measured, or one that was.
type round struct {
	ask   Ask
	k     *book.Bike
	topic topic
	known map[string]figure
	asked string
	at    time.Time // when it was measured; zero is now
}

func (r round) has(symbols ...string) bool {
	for _, s := range symbols {
		if _, ok := r.known[s]; !ok {
			return false
		}
	}
	return true
}

func (r round) n(symbol string) float64 { return r.known[symbol].number }

// or is a reading, or a stand-in for drawing where it is not known yet.
func (r round) or(symbol string, other float64) float64 {
	if v, ok := r.known[symbol]; ok {
		return v.number
	}
	return other
}

func (r round) word(symbol string) string { return r.known[symbol].words }

// missing names what is asked for, needed and not known.
func (r round) missing() []string {
	out := []string{}
	for _, q := range r.topic.asks {
		if !q.maybe && !r.has(q.symbol) && (q.only == nil || q.only(r)) {
			out = append(out, strings.ToLower(q.named()))
		}
	}
	return out
}

// read says what the numbers say, or what is wrong with them.
func (r round) read() (*Reading, []book.Refusal) {
	out := &Reading{Says: []string{}, Cautions: []string{}, Values: []NamedValue{}, Gauges: []Gauge{}, Charts: []Chart{}, Tables: []calc.Table{}, Assumed: []string{}}
	if len(r.missing()) > 0 {
		return nil, nil
	}
	if refused := r.topic.run(r, out); len(refused) > 0 {
		return nil, refused
	}
	return out, nil
}

// calc runs a topic of the arithmetic with readings: pairs of its input and
// our symbol, or "=words" for a fixed one. What is not known is left out. What
// it refuses comes back at our own fields.
func (r round) calc(id string, pairs ...string) (calc.Result, []book.Refusal) {
	t, ok := calcTopics()[id]
	if !ok {
		return calc.Result{}, []book.Refusal{{Says: "This cannot be worked out: " + id + ".", Mend: "Use a newer version of the app."}}
	}
	typed, ours := map[string]string{}, map[string]string{}
	for i := 0; i+1 < len(pairs); i += 2 {
		in, symbol := pairs[i], pairs[i+1]
		if fixed, ok := strings.CutPrefix(symbol, "="); ok {
			typed[in] = fixed
		} else if v, ok := r.known[symbol]; ok {
			typed[in], ours[in] = v.typed, symbol
		}
	}
	out, problems := t.Run(typed)
	var refused []book.Refusal
	for _, p := range problems {
		refused = append(refused, book.Refusal{Field: cmp.Or(ours[p.Field], p.Field), Says: p.Says, Mend: p.Mend})
	}
	return out, refused
}

// calcTopics are the topics of the arithmetic by name, made when first needed.
var calcTopics = sync.OnceValue(func() map[string]calc.Topic {
	out := map[string]calc.Topic{}
	for _, t := range calc.Topics() {
		out[t.ID] = t
	}
	return out
})

// calcIn is the arithmetic's input. An empty one takes words; a test finds
// asks that name none.
func (q ask) calcIn() calc.Input {
	in, _ := calcTopics()[q.calc].Input(q.input)
	return in
}

func (q ask) named() string { return cmp.Or(q.title, q.calcIn().Label) }

// unitChoices are the units that a rider may pick per kind, the house's first.
var unitChoices = map[unit.Kind][]string{
	unit.Length: {"mm", "in"}, unit.Rate: {"N/mm", "kgf/mm", "lbf/in"}, unit.Pressure: {"psi", "bar", "kPa"},
	unit.Temperature: {"°C", "°F"}, unit.Mass: {"kg", "lb"}, unit.Force: {"kgf", "N", "lbf"}, unit.Speed: {"km/h", "mph"},
}

// bookUnit is a unit as the book spells it.
func bookUnit(name string) string { return strings.TrimPrefix(name, "°") }

// unitFor is the unit in which a kind is typed: chosen on the page, or the
// book's, or the house's first.
func unitFor(b *book.Book, chosen map[string]string, kind unit.Kind) string {
	all := unitChoices[kind]
	for _, want := range []string{chosen[string(kind)], b.Units[string(kind)]} {
		for _, name := range all {
			if want != "" && (name == want || bookUnit(name) == want) {
				return name
			}
		}
	}
	if len(all) > 0 {
		return all[0]
	}
	return kind.Canonical()
}

// fillIn reads what is typed, fills in what lasts, and says how each step
// stands.
func fillIn(a Ask, k *book.Bike, t topic, args MeasuringArgs) (round, []MeasureStep) {
	r := round{ask: a, k: k, topic: t, known: map[string]figure{}, asked: args.At}
	last := k.Measures[t.id].Body
	steps := []MeasureStep{}
	for _, q := range t.asks {
		if q.only != nil && !q.only(r) {
			continue
		}
		steps = append(steps, q.step(&r, last, args))
	}
	return r, steps
}

// step reads one ask into the round.
func (q ask) step(r *round, last book.MeasureBody, args MeasuringArgs) MeasureStep {
	in := q.calcIn()
	out := MeasureStep{
		Symbol: q.symbol, Title: q.named(), How: cmp.Or(q.how, in.Hint), Kind: q.asks(in), Options: []Choice{},
		Quantity: string(in.Kind), Unit: unitFor(r.ask.Book, args.Units, in.Kind), Units: append([]string{}, unitChoices[in.Kind]...),
	}
	out.Options = append(out.Options, q.options...)
	if q.pick != nil {
		out.Options = append(out.Options, q.pick(*r)...)
	}
	old, again := knownIn(r.ask.Book, q, last)
	if again {
		out.Last = q.shown(old, out.Unit) + spaceUnit(out.Unit)
	}
	text, said := args.Typed[q.symbol]
	switch {
	case text == "?":
		out.Unknown = true
		return out
	case !said && q.lasting && again:
		text, out.Book = old.typed, "last time"
	case !said && q.from != nil:
		if text = q.from(*r); text != "" {
			out.Book = q.book
		}
	}
	if strings.TrimSpace(text) == "" {
		return out
	}
	out.Refusal = q.take(r, text, out.Unit)
	out.Value = text
	if v, ok := r.known[q.symbol]; ok {
		out.Value = q.shown(v, out.Unit)
		out.Caution = q.unusual(v)
	} else if number, _, ok := splitUnit(text); ok {
		out.Value = number
	}
	return out
}

// asks is how an input is asked for: by a recording, words, a choice or a
// number.
func (q ask) asks(in calc.Input) string {
	switch {
	case q.kind != "":
		return q.kind
	case q.typed:
		return "words"
	case in.Kind == "":
		return "choice"
	}
	return "number"
}

// unusual is the arithmetic's caution for a number that is taken all the same.
func (q ask) unusual(v figure) string {
	in := q.calcIn()
	if in.Kind == "" || in.Low == 0 && in.High == 0 || v.number >= in.Low && v.number <= in.High {
		return ""
	}
	return "That is unusual. " + in.Plausible
}

// take reads what was typed into the round, or says what is wrong with it. The
// arithmetic's own limits decide.
func (q ask) take(r *round, text, unitName string) *book.Refusal {
	in := q.calcIn()
	if q.kind == "bounce" {
		if _, refused := bounceIn(text); refused != nil {
			return refused
		}
		r.known[q.symbol] = figure{words: text, typed: text}
		return nil
	}
	if in.Kind != "" && endsInDigit(text) && unitName != "" {
		text += " " + unitName // apart: a unit may begin with a digit, as 1/min does
	}
	if p := q.problem(in, text); p != nil {
		return p
	}
	if in.Kind == "" || q.typed {
		words := strings.TrimSpace(text)
		r.known[q.symbol] = figure{words: words, typed: words}
		return nil
	}
	n, err := unit.Parse(text, in.Kind)
	if err != nil {
		return &book.Refusal{Field: q.symbol, Says: capital(err.Error()) + "."}
	}
	r.known[q.symbol] = figure{number: n.Value, typed: text}
	return nil
}

// problem is what the arithmetic says of one input by itself. One number of a
// list is held to the list's limits only: the rest of it is not known yet.
func (q ask) problem(in calc.Input, text string) *book.Refusal {
	if in.List && !q.typed {
		if n, err := unit.Parse(text, in.Kind); err == nil && (n.Value < in.Min || n.Value > in.Max) {
			return &book.Refusal{Field: q.symbol, Says: "That cannot be.", Mend: in.Plausible}
		}
		return nil
	}
	_, problems := calcTopics()[q.calc].Run(map[string]string{in.Symbol: text})
	for _, p := range problems {
		if p.Field == in.Symbol {
			return &book.Refusal{Field: q.symbol, Says: p.Says, Mend: p.Mend}
		}
	}
	return nil
}

func endsInDigit(s string) bool {
	return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9'
}

// splitUnit cuts "18.5in" and "13000 1/min" into number and unit.
func splitUnit(s string) (number, name string, ok bool) {
	if number, name, ok = strings.Cut(s, " "); ok {
		return number, name, true
	}
	end := strings.IndexFunc(s, func(c rune) bool { return !strings.ContainsRune("0123456789.,-", c) })
	if end < 0 {
		return s, "", s != ""
	}
	return s[:end], s[end:], end > 0
}

// shown is a reading in a unit, as it would be typed there.
func (q ask) shown(v figure, unitName string) string {
	in := q.calcIn()
	if in.Kind == "" || q.typed {
		return v.words
	}
	if number, name, ok := splitUnit(v.typed); ok && strings.TrimSpace(name) == unitName {
		return number // as it was typed
	}
	n, ok := in.Kind.FromCanonical(v.number, unitName)
	if !ok {
		n = v.number
	}
	digits := 1
	switch unitName {
	case "bar", "kgf/mm":
		digits = 2
	case "in":
		digits = 3
	case "":
		digits = 3
	}
	return strconv.FormatFloat(math.Round(n*math.Pow10(digits))/math.Pow10(digits), 'f', -1, 64)
}

func spaceUnit(name string) string {
	if name == "" || name == "deg" {
		return map[string]string{"deg": "°"}[name]
	}
	return " " + name
}

// knownIn is an ask's reading in a saved measurement.
// It is typed in the rider's unit, so that what is said of it is, too.
func knownIn(b *book.Book, q ask, m book.MeasureBody) (figure, bool) {
	if w, ok := m.Words[q.symbol]; ok {
		return figure{words: w, typed: w}, true
	}
	f, ok := m.Values[q.symbol]
	if !ok {
		return figure{}, false
	}
	in := q.calcIn()
	v := figure{number: f.Float(), typed: join2(f.String(), in.Unit)}
	if name := unitFor(b, nil, in.Kind); name != in.Unit {
		v.typed = join2(q.shown(v, name), name)
	}
	return v, true
}

// knownFrom are the readings of a saved measurement.
func knownFrom(b *book.Book, t topic, m book.MeasureBody) map[string]figure {
	out := map[string]figure{}
	for _, q := range t.asks {
		if v, ok := knownIn(b, q, m); ok {
			out[q.symbol] = v
		}
	}
	return out
}

// setting is where an adjuster stands, as typed; "" when it is not known.
func setting(id book.AdjusterID) func(round) string {
	return func(r round) string {
		set := r.k.Settings[id]
		if set == nil || set.At == nil {
			return ""
		}
		name := map[string]string{"mm": "mm", "kPa": "kPa"}[set.Unit]
		return set.At.String() + name
	}
}

// fromTopic is a number of another topic's last measurement, as typed.
func fromTopic(topicID, symbol string) func(round) string {
	return func(r round) string {
		m := r.k.Measures[topicID].Body
		if w := m.Words[symbol]; w != "" {
			return w
		}
		f, ok := m.Values[symbol]
		if !ok {
			return ""
		}
		t, _ := topicOf(topicID)
		for _, q := range t.asks {
			if q.symbol == symbol {
				return join2(f.String(), q.calcIn().Unit)
			}
		}
		return f.String()
	}
}

// tyreFromBike is a tyre's size from the bike's description: the front is
// named first.
func tyreFromBike(n int) func(round) string {
	return func(r round) string {
		sizes := strings.FieldsFunc(r.k.Tyres, func(c rune) bool { return c == ' ' || c == ',' || c == ';' })
		sizes = slices.DeleteFunc(sizes, func(s string) bool { return !strings.Contains(s, "/") })
		if len(sizes) != 2 {
			return ""
		}
		return sizes[n]
	}
}

// fixedOf is a computed number for printing; 0 beyond any measure.
func fixedOf(v float64) unit.Fixed {
	f, _ := unit.FixedOf(v)
	return f
}

// mm prints a length for a sentence.
func mm(v float64) string { return fmt.Sprintf("%.0f mm", v) }
