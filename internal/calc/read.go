package calc

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

// given are the inputs as numbers in canonical units.
type given struct {
	numbers  map[string][]float64
	readings map[string][]float64 // beside numbers, 0 where none is known
	words    map[string]string
	units    map[unit.Kind]string // the unit that the rider types for a kind
	assumed  []string
}

//go:noinline
func (g given) has(symbols ...string) bool {
	for _, s := range symbols {
		if g.words[s] == "" && len(g.numbers[s]) == 0 {
			return false
		}
	}
	return true
}

// n is a number, 0 when it was not given.
//
//go:noinline
func (g given) n(symbol string) float64 { return g.or(symbol, 0) }

//go:noinline
func (g given) or(symbol string, other float64) float64 {
	if l := g.numbers[symbol]; len(l) > 0 {
		return l[0]
	}
	return other
}

//go:noinline
func (g given) list(symbol string) []float64 { return g.numbers[symbol] }

//go:noinline
func (g given) word(symbol string) string { return g.words[symbol] }

// read turns typed words into numbers within their limits.
func (t Topic) read(typed map[string]string) (given, []string, []Problem) {
	g := given{map[string][]float64{}, map[string][]float64{}, map[string]string{}, map[unit.Kind]string{}, nil}
	bySymbol, problems := t.sort(typed)
	var cautions []string
	for _, in := range t.Inputs {
		s, ok := bySymbol[in.Symbol]
		if !ok && in.Default != "" {
			s, ok = in.Default, true
			if !in.untold {
				g.assumed = append(g.assumed, fmt.Sprintf("%s: %s, as nothing was said (%s=…).", in.Label, apart(in.Default), in.Symbol))
			}
		}
		if !ok {
			if !in.Optional {
				problems = append(problems, in.missing())
			}
			continue
		}
		c, p := in.take(s, &g, bySymbol[in.Symbol] != "")
		cautions = append(cautions, c...)
		if p == nil && in.fill != "" {
			p = in.stand(g)
		}
		if p != nil {
			problems = append(problems, *p)
		}
	}
	return g, cautions, problems
}

// tyreShare is how far a real tyre of a size is from its code. Source: ETRTO
// Standards Manual, motorcycle section (from memory): about 1 %.
const tyreShare = 0.01

// stand puts a length of a tyre size where its number would be.
func (in *Input) stand(g given) *Problem {
	if g.has(in.fill) {
		return &Problem{in.Symbol, fmt.Sprintf("%s and %s were both given.", in.fill, in.Symbol), "Give one of them."}
	}
	size, err := chassis.ParseTyreSize(g.word(in.Symbol))
	if err != nil {
		return refusal(in.Symbol, err)
	}
	w, err := size.Wheel(0, 0)
	if err != nil {
		return refusal(in.Symbol, err)
	}
	v := in.wheel(w)
	g.numbers[in.fill], g.readings[in.fill] = []float64{v}, []float64{v * tyreShare}
	return nil
}

func refusal(symbol string, err error) *Problem {
	var r chassis.Refusal
	if !errors.As(err, &r) {
		return &Problem{symbol, err.Error() + ".", "Give it again."}
	}
	return &Problem{symbol, r.Says, r.Mend}
}

// only is a number that has to be there, by itself or through a tyre size.
func (g given) only(symbol, orTyre string) (float64, error) {
	if g.has(symbol) {
		return g.n(symbol), nil
	}
	return 0, refuse(symbol, fmt.Sprintf("Neither %s nor %s was given.", symbol, orTyre), "Give one of them.")
}

// sort puts typed words under the symbols that they are meant for.
func (t Topic) sort(typed map[string]string) (map[string]string, []Problem) {
	bySymbol := map[string]string{}
	var problems []Problem
	for _, name := range slices.Sorted(maps.Keys(typed)) {
		if strings.TrimSpace(typed[name]) == "" {
			continue
		}
		in, ok := t.Input(name)
		switch {
		case !ok:
			problems = append(problems, Problem{name, fmt.Sprintf("%s takes no %q.", t.Title, name), "It takes " + t.symbols() + "."})
		case bySymbol[in.Symbol] != "":
			problems = append(problems, Problem{in.Symbol, in.Label + " was given twice.", "Give it once, as " + in.Symbol + "."})
		default:
			bySymbol[in.Symbol] = typed[name]
		}
	}
	return bySymbol, problems
}

func (t Topic) symbols() string {
	var all []string
	for _, in := range t.Inputs {
		all = append(all, in.Symbol)
	}
	return strings.Join(all, ", ")
}

func (in *Input) missing() Problem {
	return Problem{in.Symbol, in.Label + " is missing.", "Give it like " + in.Symbol + "=" + in.example() + "."}
}

func (in *Input) example() string {
	switch {
	case len(in.Accepts) > 0:
		return in.Accepts[0]
	case len(in.Choices) > 0:
		return in.Choices[0]
	}
	return "30" + in.Unit
}

// take takes one input into g. Typed is whether the rider typed it himself.
func (in *Input) take(s string, g *given, typed bool) ([]string, *Problem) {
	if in.Kind == "" {
		return nil, in.readWord(s, g)
	}
	list, err := in.quantities(s)
	if err != nil {
		says, mend, ok := strings.Cut(err.Error(), ". ")
		if !ok {
			mend = "Give it like " + in.example()
		}
		return nil, &Problem{in.Symbol, in.Label + ": " + says + ".", mend + "."}
	}
	var cautions []string
	for _, q := range list {
		if p := in.refuse(q); p != nil {
			return nil, p
		}
		if c := in.unusual(q.Value); c != "" && !slices.Contains(cautions, c) {
			cautions = append(cautions, c)
		}
		reading := q.Reading
		if reading == 0 && !strings.Contains(s, "±") && !strings.Contains(s, "+-") {
			reading = in.Reading
		}
		g.numbers[in.Symbol] = append(g.numbers[in.Symbol], q.Value)
		g.readings[in.Symbol] = append(g.readings[in.Symbol], reading)
		if name := q.Typed; typed && name != "" && g.units[in.Kind] == "" {
			g.units[in.Kind] = name
		}
	}
	return cautions, nil
}

func (in *Input) quantities(s string) ([]unit.Quantity, error) {
	if in.List {
		return unit.ParseList(s, in.Kind)
	}
	q, err := unit.Parse(s, in.Kind)
	return []unit.Quantity{q}, err
}

// longestWord bounds a word; a recorded trace is one, and a minute of it fits.
const longestWord = 4 << 20

func (in *Input) readWord(s string, g *given) *Problem {
	s = strings.TrimSpace(s)
	if len(s) > longestWord {
		return &Problem{in.Symbol, in.Label + " is too long.", "Give a shorter one, like " + in.example() + "."}
	}
	if len(in.Choices) == 0 {
		g.words[in.Symbol] = s
		return nil
	}
	for _, c := range in.Choices {
		if plainName(c) == plainName(s) {
			g.words[in.Symbol] = c
			return nil
		}
	}
	return &Problem{in.Symbol, fmt.Sprintf("%s cannot be %q.", in.Label, clip(s)), "Say one of " + strings.Join(in.Choices, ", ") + "."}
}

func clip(s string) string {
	if len(s) <= 40 {
		return s
	}
	return strings.ToValidUTF8(s[:40], "") + "…"
}

// refuse says why a number is beyond what is taken.
func (in *Input) refuse(q unit.Quantity) *Problem {
	v := q.Value
	if in.Whole && v != math.Trunc(v) {
		return &Problem{in.Symbol, fmt.Sprintf("%s is counted, and %s is not a whole number.", in.Label, plain(v)), "Count it again, and give a whole number."}
	}
	if v >= in.Min && v <= in.Max {
		return nil
	}
	return &Problem{in.Symbol, fmt.Sprintf("%s cannot be %s.", in.Label, in.asTyped(q)), in.plausible()}
}

// plausible is the sentence on what is plausible, with the bounds.
func (in *Input) plausible() string {
	bounds := fmt.Sprintf("Give from %s to %s.", plain(in.Min), in.withUnit(in.Max))
	if in.Plausible == "" {
		return bounds
	}
	return in.Plausible + " " + bounds
}

// unusual is a caution for a number that is taken but not usual.
func (in *Input) unusual(v float64) string {
	if in.Low == 0 && in.High == 0 || v >= in.Low && v <= in.High {
		return ""
	}
	return fmt.Sprintf("%s of %s is unusual. %s", in.Label, in.withUnit(v), in.Plausible)
}

// asTyped is a quantity in the unit that it was typed in.
func (in *Input) asTyped(q unit.Quantity) string {
	if v, ok := in.Kind.FromCanonical(q.Value, q.Typed); ok && q.Typed != "" {
		return plain(v) + spaced(q.Typed)
	}
	return in.withUnit(q.Value)
}

func (in *Input) withUnit(v float64) string { return plain(v) + spaced(in.Unit) }

// problem turns an error of the arithmetic into the rider's words, at the
// input whose label or symbol the refusal names.
func (t Topic) problem(err error) Problem {
	var r chassis.Refusal
	if !errors.As(err, &r) {
		return Problem{"", "These numbers have no answer: " + err.Error() + ".", "Check them again."}
	}
	for _, in := range t.Inputs {
		if in.called(r.Field) || strings.EqualFold(in.Label, r.Field) {
			return Problem{in.Symbol, r.Says, r.Mend}
		}
	}
	return Problem{"", r.Says, r.Mend}
}

// refuse is a refusal as an error.
//
//go:noinline
func refuse(field, says, mend string) error {
	return chassis.Refusal{Field: field, Says: says, Mend: mend}
}
