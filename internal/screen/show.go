package screen

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"plumbline/internal/book"
	"plumbline/internal/unit"
)

// shower puts numbers into the words of the trade and into the units that the
// rider chose for the book. Everything it takes is canonical; what it returns
// is for reading.
type shower struct {
	b *book.Book
}

// Conversion factors, exact or as printed. Source: NIST SP 811 (2008),
// appendix B.8: 1 psi = 6.894757 kPa, 1 lb = 0.45359237 kg (exact).
const (
	kPaPerPsi = 6.894757
	kPaPerBar = 100
	kgPerLb   = 0.45359237
)

// position says where an adjuster stands: "9 clicks out", "6 turns in",
// "30.0 psi", "16 teeth", "4 mm".
func (s shower) position(set *book.Setting, at unit.Fixed) string {
	return join2(s.amount(set, at), numbered(set))
}

// amount is a number with its unit: "9 clicks", "30.0 psi".
func (s shower) amount(set *book.Setting, at unit.Fixed) string {
	return s.number(set, at) + " " + s.unitFor(set, at)
}

// number is a position without its unit, as the rider reads it.
func (s shower) number(set *book.Setting, at unit.Fixed) string {
	if set.Unit == "kPa" {
		return pressureIn(s.b, at)
	}
	return at.String()
}

// unitFor is the unit of an adjuster's number, in the plural where it wants one.
func (s shower) unitFor(set *book.Setting, at unit.Fixed) string {
	if set.Unit == "kPa" {
		return pressureUnit(s.b)
	}
	return book.Plural(set.Unit, at)
}

// numbered is the way in which an adjuster's numbers grow: clicks are counted
// out from fully closed, preload turns in from fully open. Empty where there
// is no in and out.
func numbered(set *book.Setting) string {
	switch {
	case set.In < 0:
		return "out"
	case set.In > 0:
		return "in"
	}
	return ""
}

// ways are what a hand does to an adjuster: the way that steps above zero go,
// and the other.
func ways(set *book.Setting) (forth, back string) {
	if set.In != 0 {
		return "in", "out"
	}
	return "up", "down"
}

// moved says a movement by hand: "2 clicks in", "0.5 psi up". Nothing for a
// movement of zero.
func (s shower) moved(set *book.Setting, delta unit.Fixed) string {
	if delta == 0 {
		return ""
	}
	forth, back := ways(set)
	way := forth
	if (delta < 0) != (set.In < 0) {
		way = back
	}
	return s.amount(set, max(delta, -delta)) + " " + way
}

// move says a movement and its span: "3 clicks in, from 12 to 9 out".
func (s shower) move(set *book.Setting, from, to, delta *unit.Fixed) string {
	if delta == nil && from != nil && to != nil {
		d := *to - *from
		delta = &d
	}
	words := ""
	if delta != nil {
		words = s.moved(set, *delta)
	}
	switch {
	case from != nil && to != nil:
		return join(words, "from "+s.number(set, *from)+" to "+s.end(set, *to))
	case to != nil:
		return join(words, "now "+s.position(set, *to))
	}
	return words
}

// went says how a line of an adjuster's history moved it.
func (s shower) went(set *book.Setting, m book.Mark) string {
	if m.Why == book.WhySealed {
		return m.Why
	}
	return cmp.Or(s.move(set, m.From, m.To, m.Delta), "moved")
}

// end is the last number of a span, with what makes it plain.
func (s shower) end(set *book.Setting, at unit.Fixed) string {
	if way := numbered(set); way != "" {
		return s.number(set, at) + " " + way
	}
	return s.amount(set, at)
}

// sure says how to make sure of a position.
func (s shower) sure(set *book.Setting) string {
	if set.Unit == "click" || set.Unit == "turn" {
		from, _, _ := strings.Cut(set.From, ",")
		from, _, _ = strings.Cut(from, " (")
		return "count from " + cmp.Or(from, "the end") + " to be sure"
	}
	if set.Unit == "tooth" {
		return "count the teeth to be sure"
	}
	return "measure again to be sure"
}

// step is one step in the shown unit. Pressures step as gauges are read: half
// a psi, two hundredths of a bar, two kPa (common practice, no source).
func (s shower) step(set *book.Setting) unit.Fixed {
	if set.Unit != "kPa" {
		return max(set.Step, 1)
	}
	switch pressureUnit(s.b) {
	case "psi":
		return 500
	case "bar":
		return 20
	}
	return unit.Whole(2)
}

// shown is a canonical position in the shown unit, rounded as it is printed.
func (s shower) shown(set *book.Setting, at unit.Fixed) unit.Fixed {
	n, err := unit.ParseFixed(s.number(set, at))
	if err != nil {
		return at
	}
	return n
}

// typed is the canonical position for a number in the shown unit.
func (s shower) typed(set *book.Setting, n unit.Fixed) unit.Fixed {
	if set.Unit != "kPa" {
		return n
	}
	per := 1.0
	switch pressureUnit(s.b) {
	case "psi":
		per = kPaPerPsi
	case "bar":
		per = kPaPerBar
	}
	out, _ := unit.FixedOf(n.Float() * per)
	return out
}

// stepped is where an adjuster stands after steps by hand, steps above zero
// going in or up; delta is how far its number moved. From may be nil, then to
// is nil as well.
func (s shower) stepped(set *book.Setting, from *unit.Fixed, steps int) (to *unit.Fixed, delta unit.Fixed) {
	if set.In < 0 {
		steps = -steps
	}
	by := unit.Fixed(steps) * s.step(set)
	if from == nil {
		return nil, s.typed(set, by)
	}
	if set.Unit == "kPa" {
		by = s.typed(set, s.shown(set, *from)+by) - *from
	}
	sum := *from + by
	return &sum, by
}

// stepsOf is how many steps by hand a movement is, the nearest whole number.
func (s shower) stepsOf(set *book.Setting, delta unit.Fixed) int {
	one := s.typed(set, s.step(set))
	n := int(math.Round(delta.Float() / one.Float()))
	if set.In < 0 {
		return -n
	}
	return n
}

// pressureUnit is the book's unit for pressures.
func pressureUnit(b *book.Book) string { return cmp.Or(b.Units["pressure"], "kPa") }

// pressureIn prints a pressure in kPa in the book's unit.
func pressureIn(b *book.Book, at unit.Fixed) string {
	switch pressureUnit(b) {
	case "psi":
		return fmt.Sprintf("%.1f", at.Float()/kPaPerPsi)
	case "bar":
		return fmt.Sprintf("%.2f", at.Float()/kPaPerBar)
	}
	return fmt.Sprintf("%.0f", at.Float())
}

// temperature prints °C in the book's choice: "21 °C", "70 °F". The Fahrenheit
// scale is 1.8·C + 32 (NIST SP 811, appendix B.8).
func (s shower) temperature(c unit.Fixed) string {
	if s.b.Units["temperature"] == "F" {
		return fmt.Sprintf("%.0f °F", 1.8*c.Float()+32)
	}
	return fmt.Sprintf("%.0f °C", c.Float())
}

// mass prints kg in the book's choice: "82 kg", "181 lb".
func (s shower) mass(kg unit.Fixed) string {
	if s.b.Units["mass"] == "lb" {
		return fmt.Sprintf("%.0f lb", kg.Float()/kgPerLb)
	}
	return kg.String() + " kg"
}

// day prints a day as riders say it: "12 Apr", with the year when it is another.
func (s shower) day(t, now time.Time) string {
	if t.Year() == now.Year() {
		return t.Format("2 Jan")
	}
	return t.Format("2 Jan 2006")
}

// moment prints a time of day when it is today, and the day otherwise.
func (s shower) moment(t, now time.Time) string {
	if sameDay(t, now) {
		return "today " + t.Format("15:04")
	}
	return s.day(t, now) + " " + t.Format("15:04")
}

// sameDay reports whether two wall times, each in its own offset, are on one
// calendar day.
func sameDay(a, b time.Time) bool {
	return a.Year() == b.Year() && a.YearDay() == b.YearDay()
}

// join2 puts two words behind each other, if there are two.
func join2(a, b string) string { return strings.TrimSpace(a + " " + b) }

// unitless prints a whole number.
func unitless(n int) string { return strconv.Itoa(n) }

// many counts things: "1 setting", "3 settings".
func many(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// also puts behind a list what is not in it yet.
func also(list []string, more ...string) []string {
	for _, s := range more {
		if !slices.Contains(list, s) {
			list = append(list, s)
		}
	}
	return list
}

// capital starts a sentence.
func capital(s string) string { return begin(s, unicode.ToUpper) }

// lower begins words that stand within a sentence.
func lower(s string) string { return begin(s, unicode.ToLower) }

func begin(s string, as func(rune) rune) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return ""
	}
	return string(as(first)) + s[size:]
}

// unstopped takes the full stop off a sentence that stands within another.
func unstopped(sentence string) string { return strings.TrimSuffix(strings.TrimSpace(sentence), ".") }
