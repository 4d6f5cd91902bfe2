package calc

import (
	"slices"
	"strings"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

// Topic is one thing that can be worked out.
type Topic struct {
	ID      string   `json:"id"` // how it is called for: "geometry-change"
	Title   string   `json:"title"`
	Why     string   `json:"why"` // three sentences: why it matters
	Formula string   `json:"formula"`
	Source  string   `json:"source"`
	Caution string   `json:"caution,omitempty"` // what it must not be taken for
	Inputs  []*Input `json:"inputs"`
	Example string   `json:"example"` // arguments that work: "rake=24deg radius=300mm offset=30mm"

	run func(in given, out *Result) error
}

// Input is one number or word that a topic takes.
//
// Min and Max bound what is taken at all. Low and High, unless both are 0,
// bound what is usual: beyond them the answer comes with a caution. All are
// in the canonical unit, as is Reading, the half-width within which the thing
// can be read with common tools; it is what ± means when none is typed.
type Input struct {
	Symbol    string    `json:"symbol"`
	Label     string    `json:"label"`
	Hint      string    `json:"hint,omitempty"` // what to measure, and where
	Kind      unit.Kind `json:"kind,omitempty"` // "" for words
	Unit      string    `json:"unit,omitempty"` // canonical; of a bare number
	Accepts   []string  `json:"accepts,omitempty"`
	Choices   []string  `json:"choices,omitempty"` // words that can be said
	Min       float64   `json:"min"`
	Max       float64   `json:"max"`
	Low       float64   `json:"low,omitempty"`
	High      float64   `json:"high,omitempty"`
	Plausible string    `json:"plausible,omitempty"` // what is plausible, and why
	Optional  bool      `json:"optional,omitempty"`
	Default   string    `json:"default,omitempty"` // as it would be typed
	Reading   float64   `json:"reading,omitempty"`
	List      bool      `json:"list,omitempty"`  // several of them
	Whole     bool      `json:"whole,omitempty"` // teeth, links, coils that are counted

	untold bool                        // the default goes without saying
	as     []string                    // other names that it is taken by
	fill   string                      // the number that this tyre size stands for, if it is one
	wheel  func(chassis.Wheel) float64 // and which of its lengths that is
}

// Result is what a topic found. Every number in it is finite.
type Result struct {
	Topic    string   `json:"topic"`
	Values   []Value  `json:"values"`
	Says     []string `json:"says"`               // the result in sentences
	Assumed  []string `json:"assumed,omitempty"`  // what was taken without being told
	Cautions []string `json:"cautions,omitempty"` // what to be careful of
	Series   []Series `json:"series,omitempty"`
	Tables   []Table  `json:"tables,omitempty"`
}

// Value is one number of a result in its canonical unit, or a word.
type Value struct {
	Symbol    string    `json:"symbol"`
	Label     string    `json:"label"`
	Kind      unit.Kind `json:"kind,omitempty"`
	Unit      string    `json:"unit,omitempty"`
	Value     float64   `json:"value"`
	PlusMinus float64   `json:"plusMinus,omitempty"` // 0: not known, or exact
	Text      string    `json:"text,omitempty"`      // the word, where the value is one
	Shown     string    `json:"shown"`               // rounded, with ± and unit, in the unit that was typed

	bounds bool // a bound of an interval, which has no uncertainty of its own
	digits int  // after the point, in the canonical unit, when nothing else tells
}

// Axis is one side of a chart.
type Axis struct {
	Label string `json:"label"`
	Unit  string `json:"unit"`
}

// Series is one line of a chart. Series with the same axes belong together.
type Series struct {
	Title  string       `json:"title"`
	X      Axis         `json:"x"`
	Y      Axis         `json:"y"`
	Points [][2]float64 `json:"points"`
}

// Table is rows for reading.
type Table struct {
	Title string     `json:"title"`
	Head  []string   `json:"head"`
	Rows  [][]string `json:"rows"`
}

// Problem says why an input was not taken: which, what is wrong with it, and
// how to mend it. Field is the input's symbol, or "" when it is of several.
type Problem struct {
	Field string `json:"field"`
	Says  string `json:"says"`
	Mend  string `json:"mend"`
}

// Topics returns all topics in the order in which they are listed.
func Topics() []Topic {
	return slices.Concat(sagTopics(), springTopics(), geometryTopics(), chainTopics(), tyreTopics(), forkTopics(), bounceTopics(), barTopics(), unitTopics())
}

// Find returns the topic with an id, written with - or _ or neither.
func Find(id string) (Topic, bool) {
	for _, t := range Topics() {
		if plainName(t.ID) == plainName(id) {
			return t, true
		}
	}
	return Topic{}, false
}

// Input returns the input with a symbol or with one of its other names.
func (t Topic) Input(name string) (Input, bool) {
	for _, in := range t.Inputs { // screens ask by the symbol itself, and often
		if in.Symbol == name {
			return *in, true
		}
	}
	for _, in := range t.Inputs {
		if in.called(name) {
			return *in, true
		}
	}
	return Input{}, false
}

func (in *Input) called(name string) bool {
	if plainName(in.Symbol) == plainName(name) {
		return true
	}
	return slices.ContainsFunc(in.as, func(other string) bool { return plainName(other) == plainName(name) })
}

// plainName is a name without what people write differently.
func plainName(s string) string { return spelling.Replace(strings.ToLower(s)) }

var spelling = strings.NewReplacer("-", "", "_", "", " ", "")

// Run reads what was typed, by the symbols of the inputs, and works the topic
// out. It gives a result or problems, never both: nothing is computed from an
// input that was not taken.
func (t Topic) Run(typed map[string]string) (Result, []Problem) {
	in, cautions, problems := t.read(typed)
	if len(problems) > 0 {
		return Result{}, problems
	}
	out, err := t.once(in)
	if err != nil {
		return Result{}, []Problem{t.problem(err)}
	}
	t.spread(in, &out)
	out.Topic = t.ID
	out.Assumed = in.assumed
	out.Cautions = append(cautions, out.Cautions...)
	if t.Caution != "" {
		out.Cautions = append(out.Cautions, t.Caution)
	}
	in.show(&out)
	return out, nil
}

func (t Topic) once(in given) (Result, error) {
	var out Result
	if err := t.run(in, &out); err != nil {
		return Result{}, err
	}
	return out, out.finite()
}
