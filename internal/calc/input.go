package calc

import (
	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

// number makes an input that is a quantity. What is plausible is one sentence
// that says why.
//
//go:noinline
func number(symbol, label string, kind unit.Kind, least, most float64, plausible string) *Input {
	return &Input{Symbol: symbol, Label: label, Kind: kind, Unit: kind.Canonical(), Min: least, Max: most, Plausible: plausible}
}

// word makes an input that is one of some words, or any when there are none.
//
//go:noinline
func word(symbol, label string, choices ...string) *Input {
	return &Input{Symbol: symbol, Label: label, Choices: choices}
}

// The methods below are kept out of line: there are some six hundred calls,
// and the phone loads every one.

//go:noinline
func (in *Input) like(examples ...string) *Input { in.Accepts = examples; return in }

//go:noinline
func (in *Input) hint(how string) *Input { in.Hint = how; return in }

//go:noinline
func (in *Input) usual(low, high float64) *Input { in.Low, in.High = low, high; return in }

//go:noinline
func (in *Input) read(half float64) *Input { in.Reading = half; return in }

//go:noinline
func (in *Input) named(others ...string) *Input { in.as = others; return in }

//go:noinline
func (in *Input) otherwise(typed string) *Input { in.Default, in.Optional = typed, true; return in }

//go:noinline
func (in *Input) tacit(typed string) *Input { in = in.otherwise(typed); in.untold = true; return in }

//go:noinline
func (in *Input) counted() *Input { in.Whole = true; return in }

//go:noinline
func (in *Input) several() *Input { in.List = true; return in }

//go:noinline
func (in *Input) maybe() *Input { in.Optional = true; return in }

// must returns the input as one that has to be given.
//
//go:noinline
func (in *Input) must() *Input { in.Optional, in.Default = false, ""; return in }

// fills says that the word is a tyre size, and stands for another input.
//
//go:noinline
func (in *Input) fills(symbol string, wheel func(chassis.Wheel) float64) *Input {
	in.fill, in.wheel = symbol, wheel
	return in
}

func freeRadius(w chassis.Wheel) float64 { return w.Radius }
func freeGirth(w chassis.Wheel) float64  { return w.Circumference }
