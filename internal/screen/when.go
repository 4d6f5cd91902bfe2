package screen

import "time"

// whens are the ways in which a rider may know a date, and how each is said.
var whens = []struct{ typed, said string }{{time.DateOnly, "2 Jan 2006"}, {"2006-01", "Jan 2006"}, {"2006", "2006"}}

// whenOr reads a date as the rider knows it, "2025", "2025-06" or
// "2025-06-14": its first day, or the other moment when there is none.
func whenOr(when string, or time.Time) time.Time {
	for _, w := range whens {
		if t, err := time.ParseInLocation(w.typed, when, or.Location()); err == nil {
			return t
		}
	}
	return or
}

// whenSaid says a date as well as the rider knows it: "14 Jun 2025",
// "Jun 2025", "2025". What is no date stays as it was typed.
func whenSaid(when string) string {
	for _, w := range whens {
		if t, err := time.Parse(w.typed, when); err == nil {
			return t.Format(w.said)
		}
	}
	return when
}
