package chassis

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Refusal says why numbers were not taken: which one, what is wrong with it,
// and how to mend it. Says and Mend are whole sentences for the rider.
type Refusal struct {
	Field string `json:"field"`
	Says  string `json:"says"`
	Mend  string `json:"mend"`
}

// Error returns both sentences.
func (r Refusal) Error() string { return r.Says + " " + r.Mend }

// limit is what one number must keep to. Bounds are those of the formula or
// of anything a motorcycle can be; what is likely is the caller's affair.
type limit struct {
	field  string
	v      float64
	lo, hi float64
	unit   string
}

// within returns a Refusal for the first number outside its limits.
func within(limits ...limit) error {
	for _, l := range limits {
		if l.v >= l.lo && l.v <= l.hi {
			continue
		}
		return Refusal{l.field,
			fmt.Sprintf("The %s cannot be %s%s.", l.field, short(l.v), spaced(l.unit)),
			fmt.Sprintf("Give a number from %s to %s%s.", short(l.lo), short(l.hi), spaced(l.unit))}
	}
	return nil
}

func spaced(unit string) string {
	if unit == "" || unit == "%" {
		return unit
	}
	return " " + unit
}

// short prints v in six figures or fewer, and never as 1e+06.
func short(v float64) string {
	s := strconv.FormatFloat(v, 'g', 6, 64)
	if strings.Contains(s, "e") && math.Abs(v) < 1e15 {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return s
}

// sane refuses results that are not numbers. Limits keep them from arising;
// this keeps a gap in the limits from reaching a screen.
func sane(field string, results ...float64) error {
	for _, v := range results {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return Refusal{field, "These numbers have no answer together.", "Measure them again and look for a slip."}
		}
	}
	return nil
}

const degree = math.Pi / 180
