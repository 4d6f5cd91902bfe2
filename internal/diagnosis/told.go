package diagnosis

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Told is what plain words tell beside what is felt: numbers with their units
// and changes of settings.
type Told struct {
	Facts  Facts
	Turned []Turned
}

// Read hears numbers and changes in plain words: "sag 45 mm", "31 psi front",
// "rebound two clicks in". Numbers that cannot be what their words say are
// passed over.
func Read(words string) Told { return readAt(words, "") }

// readAt is Read for words that mean an end where they name none.
func readAt(words, end string) Told {
	var out Told
	for _, part := range strings.FieldsFunc(thousands(words), func(r rune) bool { return strings.ContainsRune(";,", r) }) {
		if t, ok := readTurned(part, end); ok {
			out.Turned = append(out.Turned, t)
		}
		out.Facts.numbers(part)
	}
	return out
}

// numbers takes the measures that one part of a sentence tells. An end named
// before the first number goes with the numbers after it, else each number goes
// with the end that follows.
func (f *Facts) numbers(part string) {
	all := raws(part)
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(all, w) })
	}
	change := has("gain", "gained", "gains", "lost", "loses", "drop", "dropped", "up", "down", "more", "less", "raised", "rises", "rose")
	before, end := "", ""
	for i, w := range all {
		if e := endWord(w); e != "" {
			end = e
		}
		x, unit := number(all, i)
		if math.IsNaN(x) {
			continue
		}
		at := end
		if before == "" {
			before = "yes"
			if end == "" {
				before = "no"
			}
		}
		if before == "no" {
			at = endAfter(all[i+1:])
		}
		switch {
		case has("sag") && x >= 0 && x <= 70 && (unit == "mm" || unit == ""):
			f.setSag(at, has("free", "static", "unladen", "bike"), x)
		case change:
		case unit == "psi" && x >= 10 && x <= 60, unit == "" && has("pressures", "pressure", "psi") && x >= 15 && x <= 50:
			f.setPressure(at, has("hot"), x*kPaPerPsi)
		case unit == "bar" && x >= 1 && x <= 4:
			f.setPressure(at, has("hot"), x*100)
		}
	}
}

// endWord is the end that one word names.
func endWord(w string) string {
	switch w {
	case "front", "fork", "forks":
		return "front"
	case "rear", "back", "shock":
		return "rear"
	}
	return ""
}

// number reads the word at i as a number and its unit, which may be glued on.
func number(all []string, i int) (float64, string) {
	w := strings.TrimPrefix(all[i], "+")
	for _, u := range []string{"mm", "psi", "bar", "kg", "c"} {
		if n := strings.TrimSuffix(w, u); n != w {
			if x, err := strconv.ParseFloat(n, 64); err == nil {
				return x, u
			}
		}
	}
	x, err := strconv.ParseFloat(w, 64)
	if err != nil || strings.HasPrefix(all[i], "+") {
		return math.NaN(), ""
	}
	if i+1 < len(all) {
		switch u := all[i+1]; u {
		case "mm", "psi", "bar", "kg", "c", "degrees":
			return x, u
		case "clicks", "click", "turns", "turn", "km", "kmh", "mph", "years", "year", "laps", "cycles", "percent", "ml", "k", "teeth", "tooth":
			return math.NaN(), ""
		}
	}
	return x, ""
}

// endAfter is the end that is named before the next number.
func endAfter(rest []string) string {
	for i, w := range rest {
		if e := endWord(w); e != "" {
			return e
		}
		if x, _ := number(rest, i); !math.IsNaN(x) {
			return ""
		}
	}
	return ""
}

func (f *Facts) setSag(end string, free bool, x float64) {
	switch {
	case end == "front" && !free:
		f.RiderSagFront = &x
	case end == "rear" && free:
		f.FreeSagRear = &x
	case end == "rear":
		f.RiderSagRear = &x
	}
}

func (f *Facts) setPressure(end string, hot bool, x float64) {
	at := map[string]**float64{"front": &f.PressureColdFront, "rear": &f.PressureColdRear, "fronthot": &f.PressureHotFront, "rearhot": &f.PressureHotRear}
	if hot {
		end += "hot"
	}
	if p := at[end]; p != nil {
		*p = &x
	}
}

// filled takes from other what f does not know.
func (f Facts) filled(other Facts) Facts {
	take := func(a **float64, b *float64) {
		if *a == nil {
			*a = b
		}
	}
	take(&f.RiderSagFront, other.RiderSagFront)
	take(&f.RiderSagRear, other.RiderSagRear)
	take(&f.FreeSagRear, other.FreeSagRear)
	take(&f.PressureColdFront, other.PressureColdFront)
	take(&f.PressureColdRear, other.PressureColdRear)
	take(&f.PressureHotFront, other.PressureHotFront)
	take(&f.PressureHotRear, other.PressureHotRear)
	return f
}
