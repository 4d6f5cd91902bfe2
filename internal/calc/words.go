package calc

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

// add puts a number into the result. It and its like are kept out of line,
// because the phone loads every call. Digits are those after the point that
// are worth reading when no uncertainty says better.
//
//go:noinline
func (r *Result) add(symbol, label string, kind unit.Kind, v float64, digits int) {
	r.Values = append(r.Values, Value{Symbol: symbol, Label: label, Kind: kind, Unit: kind.Canonical(), Value: v, digits: digits})
}

// addBound puts in a bound or the half-width of an interval.
func (r *Result) addBound(symbol, label string, kind unit.Kind, v float64, digits int) {
	r.add(symbol, label, kind, v, digits)
	r.Values[len(r.Values)-1].bounds = true
}

// addIn puts in a number of a unit that no kind has, such as turns or mm/deg.
//
//go:noinline
func (r *Result) addIn(symbol, label, unitName string, v float64, digits int) {
	r.Values = append(r.Values, Value{Symbol: symbol, Label: label, Unit: unitName, Value: v, digits: digits})
}

// addWord puts in a word.
//
//go:noinline
func (r *Result) addWord(symbol, label, text string) {
	r.Values = append(r.Values, Value{Symbol: symbol, Label: label, Text: text})
}

// say adds a sentence. {symbol} stands for the value with that symbol, shown
// with ± and unit; it is put in once the uncertainties are known.
//
//go:noinline
func (r *Result) say(format string, args ...any) {
	r.Says = append(r.Says, fmt.Sprintf(format, args...))
}

//go:noinline
func (r *Result) caution(format string, args ...any) {
	r.Cautions = append(r.Cautions, fmt.Sprintf(format, args...))
}

// value returns the number with a symbol, 0 when there is none.
func (r *Result) value(symbol string) float64 {
	for _, v := range r.Values {
		if v.Symbol == symbol {
			return v.Value
		}
	}
	return 0
}

// finite refuses a result with a number that is none. The limits keep such
// from arising; this keeps a gap in them from reaching a screen.
func (r *Result) finite() error {
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	for _, v := range r.Values {
		if bad(v.Value) {
			return noAnswer
		}
	}
	for _, s := range r.Series {
		for _, p := range s.Points {
			if bad(p[0]) || bad(p[1]) {
				return noAnswer
			}
		}
	}
	return nil
}

var noAnswer = chassis.Refusal{Says: "These numbers have no answer together.", Mend: "Measure them again, and look for a slip."}

// show writes every value for reading and puts them into the sentences.
func (g given) show(out *Result) {
	pairs := make([]string, 0, 2*len(out.Values))
	for i := range out.Values {
		v := &out.Values[i]
		if v.Text == "" {
			v.Shown = g.shown(*v)
		} else {
			v.Shown = v.Text
		}
		pairs = append(pairs, "{"+v.Symbol+"}", v.Shown)
	}
	put := strings.NewReplacer(pairs...)
	for i := range out.Says {
		out.Says[i] = put.Replace(out.Says[i])
	}
	for i := range out.Cautions {
		out.Cautions[i] = put.Replace(out.Cautions[i])
	}
}

// shown rounds a value to what its uncertainty leaves of it, in the unit that
// the rider types for such things.
func (g given) shown(v Value) string {
	number, half, name, digits := v.Value, v.PlusMinus, v.Unit, v.digits
	if typed := g.units[v.Kind]; typed != "" && v.Kind != unit.Number {
		a, _ := v.Kind.FromCanonical(v.Value, typed)
		b, ok := v.Kind.FromCanonical(v.Value+1, typed)
		if ok && b != a && (a != v.Value || b != v.Value+1) {
			number, half, name = a, v.PlusMinus*math.Abs(b-a), typed
			digits = max(0, digits-int(math.Round(math.Log10(math.Abs(b-a)))))
		}
	}
	if half == 0 || half < 1e-9*math.Abs(number) {
		return fixed(number, digits) + spaced(name)
	}
	digits = digitsOf(half)
	return fixed(number, digits) + " ± " + fixed(half, digits) + spaced(name)
}

// digitsOf is how many digits after the point an uncertainty leaves: those of
// its first significant one, as it is rounded.
func digitsOf(half float64) int {
	power := math.Floor(math.Log10(half))
	if half/math.Pow(10, power) >= 9.5 {
		power++
	}
	return min(6, max(0, int(-power)))
}

// fixed prints v with so many digits after the point, and no minus before 0.
func fixed(v float64, digits int) string {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, "-", "−", 1)
}

// signed prints v with its sign.
func signed(v float64, digits int) string {
	s := fixed(v, digits)
	if strings.HasPrefix(s, "−") || strings.Trim(s, "0.") == "" {
		return s
	}
	return "+" + s
}

// plain prints a number as short as can be, and a large one with all its
// figures: riders do not read 1e+09.
func plain(v float64) string {
	if math.Abs(v) >= 1e6 {
		return fixed(v, 0)
	}
	return strings.Replace(strconv.FormatFloat(v, 'g', 7, 64), "-", "−", 1)
}

// apart sets the unit of a typed number off by a space: "10mm" is "10 mm".
func apart(typed string) string {
	end := strings.LastIndexAny(typed, "0123456789") + 1
	if name := typed[end:]; name != "" && name[0] != ' ' && name[0] != '/' {
		return typed[:end] + " " + name
	}
	return typed
}

func spaced(name string) string {
	switch name {
	case "":
		return ""
	case "°":
		return name
	case "deg":
		return "°"
	case "F", "C":
		return " °" + name
	}
	return " " + name
}
