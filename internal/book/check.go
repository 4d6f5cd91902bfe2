package book

import (
	"fmt"

	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// Refusal says why something typed cannot go into the book: at which field,
// what is wrong, and how to mend it. Riders read it.
type Refusal struct {
	Field string `json:"field"`
	Says  string `json:"says"`
	Mend  string `json:"mend,omitempty"`
}

func (r Refusal) Error() string { return r.Field + ": " + r.Says + " " + r.Mend }

// maxWords is the greatest length of a free text in bytes: several screens
// full, and far below what a line of the log can hold.
const maxWords = 4000

// Check says what is wrong with a body before it is written: nothing, or one
// refusal per field. It is asked where the rider types, by the phone, the
// server and the command line alike; the fold itself takes what history holds.
func (b *Book) Check(body any) []Refusal {
	switch n := body.(type) {
	case BikeBody:
		return checkBike(n)
	case PersonBody:
		return b.checkPerson(n)
	case TrackBody:
		return b.checkTrack(n)
	case DayBody:
		return checkDay(n)
	case SessionBody:
		return checkSession(n)
	case LapsBody:
		return checkLaps(n)
	case TyresBody:
		return checkTyres(n)
	case IntervalBody:
		return checkInterval(n)
	case BaselineBody:
		return need(n.Name, "name", "This line has no name yet.", "Type one, such as 'good in the dry'.")
	case AdjusterBody:
		return checkDef(n.Def)
	case ChangeBody:
		return b.checkChange(n)
	case CountBody:
		return b.checkCount(n)
	case TrialBody:
		return b.checkTrial(n)
	case RunBody:
		return b.checkRun(n)
	case DrawBody:
		return b.checkDraw(n)
	case RevealBody:
		return b.checkReveal(n)
	case RatingBody:
		return checkRating(n)
	case AdviceBody:
		return b.checkAdvice(n)
	case FactBody:
		return checkWhen(n.When)
	case FallBody:
		return checkWhen(n.When)
	case ServiceBody:
		return checkService(n)
	case RepeatBody:
		return b.checkRepeat(n)
	case PhotoBody:
		return b.checkPhoto(n)
	case SymptomBody:
		if len(n.Findings) == 0 && n.Words == "" {
			return []Refusal{{"findings", "Nothing is said yet of what the bike does.", "Tap where it happens, or describe it in your own words."}}
		}
	}
	return nil
}

func need(value, field, says, mend string) []Refusal {
	if value == "" {
		return []Refusal{{field, says, mend}}
	}
	if len(value) > maxWords {
		return []Refusal{{field, "That is too long.", fmt.Sprintf("Keep it under %d letters.", maxWords)}}
	}
	return nil
}

func (b *Book) checkPerson(n PersonBody) []Refusal {
	if n.Same == n.Person {
		return nil
	}
	if n.Same == "" {
		return need(n.Name, "name", "This person has no name yet.", "Type a name, or initials.")
	}
	if _, known := b.People[n.Same]; !known || b.Who(n.Same) == n.Person {
		return []Refusal{{"same", "These two are one person already.", "Pick somebody else."}}
	}
	return nil
}

func checkBike(n BikeBody) []Refusal {
	var out []Refusal
	if n.Rider != nil && (*n.Rider < unit.Whole(30) || *n.Rider > unit.Whole(250)) {
		out = append(out, Refusal{"rider", "A rider in kit weighs between 30 and 250 kg.", "Check the number and its unit."})
	}
	if n.Year != 0 && (n.Year < 1900 || n.Year > 2100) {
		out = append(out, Refusal{"year", "That is not a model year.", "Type four digits, or leave it empty."})
	}
	return out
}

func checkDef(d Def) []Refusal {
	out := need(d.Name, "name", "This adjuster has no name yet.", "Type what you call it.")
	if d.Step <= 0 {
		out = append(out, Refusal{"step", "The smallest move must be more than nothing.", "Type how far one step goes."})
	}
	if d.Min >= d.Max {
		out = append(out, Refusal{"max", "The end of the range must be above its start.", "Type the highest position it can have."})
	}
	return out
}

func (b *Book) setting(bike BikeID, id AdjusterID) (*Setting, []Refusal) {
	k, ok := b.Bikes[bike]
	if !ok {
		return nil, []Refusal{{"bike", "This bike is not in the book.", "Put the bike in the book first."}}
	}
	s, ok := k.Settings[id]
	if !ok || s.Retired {
		return nil, []Refusal{{"adjuster", "This bike has no such adjuster.", "Pick one of its adjusters, or add it."}}
	}
	return s, nil
}

func (b *Book) checkChange(c ChangeBody) []Refusal {
	s, out := b.setting(c.Bike, c.Adjuster)
	if out != nil {
		return out
	}
	switch {
	case c.To == nil && c.Delta == nil:
		return []Refusal{{"to", "How far was it turned?", "Give the steps, or where it is now."}}
	case c.Delta != nil && *c.Delta == 0:
		return []Refusal{{"delta", "Nothing moved: the steps are zero.", "Step at least one, or use 'Counted it' to note a position."}}
	}
	to := c.To
	if start := or(c.From, s.At); to == nil && start != nil {
		sum := *start + *c.Delta
		to = &sum
	}
	return s.checkRange(to, "to")
}

func (s *Setting) checkRange(at *unit.Fixed, field string) []Refusal {
	if at == nil || *at >= s.Min && *at <= s.Max {
		return nil
	}
	return []Refusal{{
		field,
		fmt.Sprintf("%s goes from %s to %s %s; %s is outside.", s.Name, s.Min, s.Max, Plural(s.Unit, s.Max), *at),
		"Count again from " + s.From + ", or widen its range on the Bike page.",
	}}
}

// Plural returns an adjuster's unit for a number: "click", "clicks".
func Plural(name string, n unit.Fixed) string {
	if n == unit.Whole(1) || n == unit.Whole(-1) {
		return name
	}
	switch name {
	case "tooth":
		return "teeth"
	case "click", "turn":
		return name + "s"
	}
	return name
}

func (b *Book) checkCount(c CountBody) []Refusal {
	s, out := b.setting(c.Bike, c.Adjuster)
	switch {
	case out != nil:
		return out
	case c.Standing == Unknown:
		return nil
	case c.At == nil:
		return []Refusal{{"at", "There is no number yet.", "Type what you counted, or choose 'don't know'."}}
	}
	return s.checkRange(c.At, "at")
}

func (b *Book) checkAdvice(a AdviceBody) []Refusal {
	if a.From == "" {
		return []Refusal{{"from", "Who said it?", "Pick a person, or 'somebody'."}}
	}
	if a.Adjuster == "" && a.What == "" {
		return []Refusal{{"what", "What would they change?", "Pick an adjuster, or write it in a few words."}}
	}
	if a.Adjuster != "" {
		_, out := b.setting(a.Bike, a.Adjuster)
		return out
	}
	return nil
}

// checkWhen takes "", "2025", "2025-06" and "2025-06-14".
func checkWhen(when string) []Refusal {
	const shape = "dddd-dd-dd"
	ok := len(when) == 0 || len(when) == 4 || len(when) == 7 || len(when) == 10
	for i := 0; ok && i < len(when); i++ {
		digit := when[i] >= '0' && when[i] <= '9'
		ok = digit == (shape[i] == 'd') && (digit || when[i] == '-')
	}
	if ok {
		return nil
	}
	return []Refusal{{"when", "That is not a date.", "Type a year, a year and month, or a day, such as 2025-06-14; or leave it empty."}}
}

// PersonUnknown is the author that nobody knows.
const PersonUnknown entry.PersonID = "unknown"
