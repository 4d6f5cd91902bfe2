package book

import (
	"fmt"
	"slices"
	"time"

	"plumbline/internal/unit"
)

// bounds are what a number of a session can be: outside, it is a slip of the
// thumb. Common practice, no source.
type bounds struct {
	field, name, unit string
	min, max          unit.Fixed
}

func (r bounds) check(v *unit.Fixed) []Refusal {
	if v == nil || *v >= r.min && *v <= r.max {
		return nil
	}
	return []Refusal{{r.field, fmt.Sprintf("%s lies between %s and %s %s.", r.name, r.min, r.max, r.unit), "Check the number and its unit."}}
}

var (
	airBounds    = bounds{"air", "The air", "°C", unit.Whole(-20), unit.Whole(50)}
	groundBounds = bounds{"ground", "The track's surface", "°C", unit.Whole(-10), unit.Whole(80)}
	fuelBounds   = bounds{"fuel", "Fuel", "l", 0, unit.Whole(30)}
	lengthBounds = bounds{"length", "A lap's length", "m", unit.Whole(200), unit.Whole(30000)}
	lapBounds    = bounds{"laps", "A lap time", "s", unit.Whole(10), unit.Whole(3600)}
)

// pressureBounds are what a tyre can hold, in kPa.
func pressureBounds(field, name string) bounds {
	return bounds{field, name, "kPa", unit.Whole(80), unit.Whole(450)}
}

// maxLaps is the most laps of one session; an endurance stint is far shorter.
const maxLaps = 500

// maxSpots is the most points of a map's line: enough for a bend a few metres
// apart, and far below what a line of the log can hold.
const maxSpots = 800

func (b *Book) checkTrack(n TrackBody) []Refusal {
	var out []Refusal
	if b.Tracks[n.Track].Name == "" || len(n.Name) > maxWords {
		out = need(n.Name, "name", "This track has no name yet.", "Type what you call it.")
	}
	out = append(out, checkWay(n.Way)...)
	out = append(out, lengthBounds.check(n.Length)...)
	if n.Map != nil && len(n.Map.Points) > maxSpots {
		out = append(out, Refusal{"map", fmt.Sprintf("This map has %d points.", len(n.Map.Points)), fmt.Sprintf("At most %d fit. Draw it again, a little faster.", maxSpots)})
	}
	if len(n.Corners) > 100 {
		out = append(out, Refusal{"corners", "No track has that many corners.", "Keep the ones that you talk about."})
	}
	return out
}

func checkWay(way string) []Refusal {
	if slices.Contains([]string{"", "clockwise", "anticlockwise"}, way) {
		return nil
	}
	return []Refusal{{"way", "That is not a direction.", "Choose clockwise or anticlockwise."}}
}

func checkDay(n DayBody) []Refusal {
	out := checkWay(n.Way)
	if _, err := time.Parse(time.DateOnly, n.Date); n.Date != "" && err != nil {
		out = append(out, Refusal{"date", "That is not a day.", "Pick one, such as 2025-06-14."})
	}
	return out
}

func checkSession(n SessionBody) []Refusal {
	var out []Refusal
	if !slices.Contains([]string{"", "better", "same", "worse"}, n.Felt) {
		out = append(out, Refusal{"felt", "That is not one of the answers.", "Choose better, the same or worse."})
	}
	out = append(out, checkMoment(n.When)...)
	out = append(out, airBounds.check(n.Air)...)
	out = append(out, groundBounds.check(n.Ground)...)
	out = append(out, fuelBounds.check(n.Fuel)...)
	out = append(out, pressureBounds("coldFront", "A front tyre, cold,").check(n.ColdFront)...)
	out = append(out, pressureBounds("coldRear", "A rear tyre, cold,").check(n.ColdRear)...)
	out = append(out, pressureBounds("front", "A front tyre, hot,").check(n.Front)...)
	return append(out, pressureBounds("rear", "A rear tyre, hot,").check(n.Rear)...)
}

// checkMoment takes "", "2025-06-14" and "2025-06-14T09:40".
func checkMoment(when string) []Refusal {
	_, day := time.Parse(time.DateOnly, when)
	_, minute := time.Parse("2006-01-02T15:04", when)
	if when == "" || day == nil || minute == nil {
		return nil
	}
	return []Refusal{{"when", "That is not a day and time.", "Pick a day, and the time if you know it; or leave it empty."}}
}

func checkLaps(n LapsBody) []Refusal {
	if len(n.Laps) > maxLaps {
		return []Refusal{{"laps", fmt.Sprintf("%d laps are too many for one session.", len(n.Laps)), "Take the laps of this session only."}}
	}
	marks := []string{"", "counts", "out", "in", "slow", "cruising", "short"}
	for i, l := range n.Laps {
		if lapBounds.check(&l.Time) != nil {
			return []Refusal{{"laps", fmt.Sprintf("Lap %d takes %s s. A lap takes from 10 seconds to an hour.", i+1, l.Time), "Check the minutes, like 1:52.4."}}
		}
		if !slices.Contains(marks, l.Mark) {
			return []Refusal{{"laps", fmt.Sprintf("Lap %d has a mark that is none.", i+1), "Choose one of the marks."}}
		}
	}
	return nil
}

func checkTyres(n TyresBody) []Refusal {
	out := need(n.Name, "name", "These tyres have no name yet.", "Type what you call them, such as 'Set 2'.")
	if n.Cycles < 0 || n.Cycles > 500 {
		out = append(out, Refusal{"cycles", "That is no number of heat cycles.", "Type how often they were hot and cold again, 0 for new ones."})
	}
	for _, r := range checkWhen(n.Fitted) {
		r.Field = "fitted"
		out = append(out, r)
	}
	return out
}

func checkService(n ServiceBody) []Refusal {
	out := checkWhen(n.When)
	out = append(out, bounds{"km", "The meter", "km", 0, unit.Whole(999_999)}.check(n.Km)...)
	return append(out, bounds{"hours", "The hour meter", "h", 0, unit.Whole(99_999)}.check(n.Hours)...)
}

func checkInterval(n IntervalBody) []Refusal {
	if n.What == "" {
		return []Refusal{{"what", "Which service?", "Pick one."}}
	}
	for _, l := range []struct {
		field string
		n     int
		max   int
	}{{"days", n.Days, 1000}, {"hours", n.Hours, 10_000}, {"km", n.Km, 1_000_000}, {"months", n.Months, 240}} {
		if l.n < 0 || l.n > l.max {
			return []Refusal{{l.field, fmt.Sprintf("%d is not how long a service lasts.", l.n), "Type what the service manual says, or leave it empty."}}
		}
	}
	if !n.Off && n.Days+n.Hours+n.Km+n.Months == 0 {
		return []Refusal{{"days", "There is no limit yet.", "Type at least one, or say that you want no word of it."}}
	}
	return nil
}
