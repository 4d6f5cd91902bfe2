package calc

import (
	"strings"

	"plumbline/internal/unit"
)

func unitTopics() []Topic { return []Topic{convertTopic()} }

func convertTopic() Topic {
	return Topic{
		ID: "convert", Title: "One unit into another",
		Why:     "Springs are marked in three units, pressures in three more, and a mixed-up one is a spring too many. Manuals convert from rounded figures, so their own numbers disagree in the last place. Here every factor is the defined one.",
		Formula: "value × factor (+ offset for temperatures)",
		Source:  "A. Thompson, B. N. Taylor, NIST Special Publication 811 (2008), appendix B.8.",
		Inputs: []*Input{
			word("value", "Value").like("10.0kgf/mm", "36psi", "95kg", "24°30'"),
			word("to", "Unit wanted").like("N/mm").maybe(),
			word("kind", "Kind of quantity", kindWords()...).hint("Only where a unit has two meanings: kg is a mass, and a force on scales.").maybe(),
		},
		Example: "value=10.0kgf/mm to=N/mm",
		run:     runConvert,
	}
}

// kinds are tried in this order when nothing says which one is meant.
var kinds = []unit.Kind{unit.Length, unit.Rate, unit.Mass, unit.Force, unit.Pressure, unit.Stress, unit.Temperature, unit.Angle,
	unit.Time, unit.Speed, unit.Turning, unit.Frequency, unit.Area, unit.Volume, unit.Altitude, unit.Torque, unit.Power}

func kindWords() []string {
	var words []string
	for _, k := range kinds {
		words = append(words, string(k))
	}
	return words
}

func runConvert(in given, out *Result) error {
	typed, to := in.word("value"), in.word("to")
	kind, q, err := kindOf(typed, to, unit.Kind(in.word("kind")))
	if err != nil {
		return err
	}
	if kind == unit.Temperature && q.Value < -unit.CelsiusZero {
		return refuse("value", "Nothing is that cold.", "Give a temperature above −273.15 °C, which is 0 K.")
	}
	for _, name := range kind.Distinct() {
		v, _ := kind.FromCanonical(q.Value, name)
		out.addIn(name, "In "+name, name, v, convertDigits(v))
	}
	if to == "" {
		return nil
	}
	v, _ := kind.FromCanonical(q.Value, to)
	out.addIn("result", "Result", to, v, convertDigits(v))
	out.say("%s is {result}.", typed)
	return nil
}

// convertDigits leaves about six significant digits.
func convertDigits(v float64) int {
	digits := 6
	for limit := 1.0; digits > 0 && (v >= limit || -v >= limit); limit *= 10 {
		digits--
	}
	return digits
}

// kindOf finds the kind that both units belong to.
func kindOf(typed, to string, wanted unit.Kind) (unit.Kind, unit.Quantity, error) {
	var other error // the unit wanted is of another kind
	for _, k := range kinds {
		q, err := unit.Parse(typed, k)
		if err != nil || wanted != "" && k != wanted {
			continue
		}
		if q.Typed == "" && wanted == "" {
			return "", q, refuse("value", "The value has no unit.", "Type it with one, like 10kgf/mm.")
		}
		if _, ok := k.FromCanonical(1, to); ok || to == "" {
			return k, q, nil
		}
		if other == nil {
			other = refuse("to", "That unit measures something else.", "Use one of "+strings.Join(k.Distinct(), ", ")+".")
		}
	}
	if other == nil {
		other = refuse("value", "That is not a number with a unit that is known here.", "Type it like 10kgf/mm, 36psi, 30mm, 24deg or 95kg.")
	}
	return "", unit.Quantity{}, other
}
