package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Quantity is what a rider typed, in the canonical unit of its kind. Reading
// is the half-width after a ± sign, in the same unit; 0 when none was typed.
type Quantity struct {
	Value   float64
	Reading float64
	Typed   string // the unit as typed, "" for a bare number
}

// longest is the most that a rider can mean by one quantity, in bytes.
const longest = 64

// furthest is the largest number read: beyond it nothing on a motorcycle is.
const furthest = 1e12

// Parse reads one quantity as a rider types it: "95kg", "10.0 kgf/mm",
// "36psi", "9,5" (a decimal comma), "24°30'", "5/8in", "1 3/8in", "30±1mm". A
// bare number is in the kind's canonical unit. The error is a sentence for the rider. The
// result is always finite.
func Parse(s string, kind Kind) (Quantity, error) {
	typed := strings.TrimSpace(s)
	if typed == "" {
		return Quantity{}, fmt.Errorf("nothing is typed here. Type a number%s", likeThis(kind))
	}
	if len(typed) > longest {
		return Quantity{}, fmt.Errorf("that is too long for one number. Type a number%s", likeThis(kind))
	}
	value, reading, both := strings.Cut(strings.ReplaceAll(typed, "+-", "±"), "±")
	q, err := parseOne(value, kind)
	if err != nil || !both {
		return q, err
	}
	return withReading(q, reading, typed, kind)
}

// withReading adds what follows the ± sign. A unit on one side serves both.
func withReading(q Quantity, reading, typed string, kind Kind) (Quantity, error) {
	r, name, err := number(strings.TrimSpace(reading))
	if err != nil || r < 0 {
		return Quantity{}, fmt.Errorf("%q has no readable number after the ± sign. Type it like 30±1%s", typed, kind.Canonical())
	}
	if q.Typed == "" && name != "" { // 30±1mm: both are in mm
		if q, err = inUnit(q.Value, name, kind); err != nil {
			return Quantity{}, err
		}
	}
	if name == "" {
		name = q.Typed
	}
	m, ok := kind.measure(name)
	if name == "" {
		m, ok = Measure{Factor: 1}, true
	}
	if !ok {
		return Quantity{}, unknownUnit(name, kind)
	}
	q.Reading = r * m.Factor
	return q, nil
}

func parseOne(s string, kind Kind) (Quantity, error) {
	if kind == Angle {
		if deg, ok := degreesMinutes(s); ok {
			return Quantity{Value: deg, Typed: "deg"}, nil
		}
	}
	v, name, err := number(strings.TrimSpace(s))
	if err != nil {
		return Quantity{}, fmt.Errorf("%w%s", err, likeThis(kind))
	}
	return inUnit(v, name, kind)
}

func inUnit(v float64, name string, kind Kind) (Quantity, error) {
	if name == "" {
		return Quantity{Value: v}, nil
	}
	c, ok := kind.ToCanonical(v, name)
	if !ok {
		return Quantity{}, unknownUnit(name, kind)
	}
	return Quantity{Value: c, Typed: strings.TrimSpace(name)}, nil
}

func unknownUnit(name string, kind Kind) error {
	units := kind.Units()
	if len(units) == 0 || kind == Number {
		return fmt.Errorf("%q does not belong to a plain number. Leave the unit out", name)
	}
	return fmt.Errorf("%q is not a unit of %s. Use one of %s", name, kind, strings.Join(units, ", "))
}

// keyed are the signs of phone keyboards that stand for others: the
// typographic minus, and the fractions on an inch tape.
var keyed = strings.NewReplacer("−", "-", "½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")

// number splits "9,5 kgf/mm" into 9.5 and "kgf/mm". A comma is a decimal
// comma; a comma and a point together could mean two things and are refused.
func number(s string) (float64, string, error) {
	s = strings.TrimSpace(keyed.Replace(s))
	end := numberEnd(s)
	digits, rest := s[:end], strings.TrimSpace(s[end:])
	if strings.Contains(digits, ",") && strings.Contains(digits, ".") {
		return 0, "", fmt.Errorf("%q has a comma and a point. Use one of them, before the decimals, and none between thousands", s)
	}
	v, err := strconv.ParseFloat(strings.ReplaceAll(digits, ",", "."), 64)
	if err != nil || math.Abs(v) > furthest {
		return 0, "", fmt.Errorf("%q is not a number. Type one", s)
	}
	if below, ok := strings.CutPrefix(rest, "/"); ok { // 5/8in
		return fraction(v, below, rest)
	}
	if part, name, ok := partOf(rest); ok && v == math.Trunc(v) { // 1 3/8in
		return v + math.Copysign(part, v), name, nil
	}
	return v, rest, nil
}

// partOf reads the "3/8in" of "1 3/8in", a share below one.
func partOf(s string) (float64, string, bool) {
	top, below, ok := strings.Cut(s, "/")
	over, err := strconv.ParseUint(strings.TrimSpace(top), 10, 8)
	if !ok || err != nil {
		return 0, "", false
	}
	part, name, err := fraction(float64(over), below, "")
	return part, name, err == nil && part < 1
}

// fraction reads what follows the stroke of "5/8in". "/min" is a unit.
func fraction(v float64, below, rest string) (float64, string, error) {
	end := numberEnd(below)
	d, err := strconv.ParseFloat(below[:end], 64)
	if err != nil {
		return v, rest, nil
	}
	if d == 0 {
		return 0, "", fmt.Errorf("nothing can be divided by 0. Type a number")
	}
	if math.Abs(v/d) > furthest {
		return 0, "", fmt.Errorf("that is beyond any motorcycle. Type a number")
	}
	return v / d, strings.TrimSpace(below[end:]), nil
}

// numberEnd is how many bytes of s are sign, digits, separators and an
// exponent such as e6.
func numberEnd(s string) int {
	end := 0
	for end < len(s) && (s[end] >= '0' && s[end] <= '9' || s[end] == '.' || s[end] == ',' || end == 0 && (s[end] == '-' || s[end] == '+')) {
		end++
	}
	if end == 0 || end >= len(s) || s[end] != 'e' && s[end] != 'E' {
		return end
	}
	power := end + 1
	if power < len(s) && (s[power] == '-' || s[power] == '+') {
		power++
	}
	from := power
	for power < len(s) && s[power] >= '0' && s[power] <= '9' {
		power++
	}
	if power == from {
		return end
	}
	return power
}

// degreesMinutes reads "24°30'" and "24deg30min".
func degreesMinutes(s string) (float64, bool) {
	s = strings.NewReplacer("deg", "°", "min", "'", "′", "'", " ", "").Replace(strings.TrimSpace(s))
	whole, minutes, ok := strings.Cut(strings.TrimSuffix(s, "'"), "°")
	if !ok || !strings.HasSuffix(s, "'") {
		return 0, false
	}
	d, err1 := strconv.ParseUint(whole, 10, 16)
	m, err2 := strconv.ParseUint(minutes, 10, 8)
	if err1 != nil || err2 != nil || m >= 60 {
		return 0, false
	}
	return float64(d) + float64(m)/60, true
}

var untidy = strings.NewReplacer(" ", "", "·", "", "-", "", "^", "", "²", "2", "³", "3", "º", "°", "''", `"`, "″", `"`, "”", `"`)

// tidyUnit is a spelling without what people write differently.
func tidyUnit(name string) string { return untidy.Replace(name) }

func likeThis(kind Kind) string {
	if kind.Canonical() == "" {
		return ""
	}
	return ", for example 30" + kind.Canonical()
}

// mostItems bounds a list; an accelerometer trace of a minute fits.
const mostItems = 20000

// ParseList reads several quantities of one kind. The rule for what separates
// them: semicolons if there is one, else commas. So 0.85,0.45,0.25 is three
// numbers, and decimal commas in a list need semicolons: 0,85;0,45;0,25. A
// unit on the last item only is the unit of all.
func ParseList(s string, kind Kind) ([]Quantity, error) {
	sep := ","
	if strings.Contains(s, ";") {
		sep = ";"
	}
	items := strings.Split(strings.Trim(strings.TrimSpace(s), sep), sep)
	if len(items) > mostItems {
		return nil, fmt.Errorf("that list has %d numbers. Give at most %d", len(items), mostItems)
	}
	list := make([]Quantity, len(items))
	bare := 0
	for i, item := range items {
		q, err := Parse(item, kind)
		if err != nil {
			return nil, fmt.Errorf("number %d of the list: %w", i+1, err)
		}
		list[i] = q
		if q.Typed == "" {
			bare++
		}
	}
	last := list[len(list)-1]
	if bare == 0 || bare == len(list) {
		return list, nil
	}
	if bare != len(list)-1 || last.Typed == "" {
		return nil, fmt.Errorf("some numbers of the list have a unit and some have none. Give every one its unit, or only the last")
	}
	m, _ := kind.measure(last.Typed)
	for i := range list[:bare] {
		list[i] = Quantity{list[i].Value*m.Factor + m.Offset, list[i].Reading * m.Factor, last.Typed}
	}
	return list, nil
}
