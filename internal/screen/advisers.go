package screen

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/laps"
)

// AdviserLine is what came of one person's ideas: those that were written down
// as advice and those that were turned.
type AdviserLine struct {
	Name  string  `json:"name"`
	Says  string  `json:"says"` // "tried 3, kept 1, put back 2"
	Worth string  `json:"worth"`
	Kept  int     `json:"kept"`
	Back  int     `json:"back"`
	Low   float64 `json:"low"` // exact 95 % interval of the share kept
	High  float64 `json:"high"`
}

// ideas counts what came of a person's ideas.
type ideas struct{ said, tried, kept, back, declined int }

// advisers are the records of all whose idea something was, by name; a verdict
// goes to whose idea the change was, or else to whose advice it followed.
func advisers(b *book.Book, k *book.Bike) []AdviserLine {
	of := map[entry.PersonID]*ideas{}
	at := func(id entry.PersonID) *ideas {
		id = b.Who(id)
		if of[id] == nil {
			of[id] = &ideas{}
		}
		return of[id]
	}
	from := map[entry.ID]entry.PersonID{}
	for _, ad := range k.Advice {
		n := at(ad.Body.From)
		n.said++
		if ad.Result == "declined" {
			n.declined++
		}
		from[ad.Change] = ad.Body.From
		if _, onTrial := k.Trial(ad.Change); ad.Result == "tried" && !onTrial {
			n.tried++ // turned without a trial
		}
	}
	for _, t := range k.Trials {
		who := cmp.Or(t.Body.Idea, from[t.Entry])
		if who == "" || who == book.PersonUnknown {
			continue
		}
		n := at(who)
		n.tried++
		switch t.Verdict {
		case "keep":
			n.kept++
		case "back":
			n.back++
		}
	}
	out := []AdviserLine{}
	for _, id := range slices.Sorted(maps.Keys(of)) {
		out = append(out, adviserLine(b, id, *of[id]))
	}
	slices.SortStableFunc(out, func(x, y AdviserLine) int { return strings.Compare(x.Name, y.Name) })
	return out
}

func adviserLine(b *book.Book, id entry.PersonID, n ideas) AdviserLine {
	name := capital(nameOf(b, id))
	if id == b.Who(b.Rider) {
		name = "You"
	}
	says := fmt.Sprintf("tried %d, kept %d, put back %d", n.tried, n.kept, n.back)
	if n.said > 0 {
		says = fmt.Sprintf("said %d, ", n.said) + says
	}
	if n.declined > 0 {
		says += fmt.Sprintf(", declined %d", n.declined)
	}
	t := laps.Tally{Yes: n.kept, Of: n.kept + n.back}
	low, high := t.Interval()
	return AdviserLine{name, says, t.AdviceRecord(), n.kept, n.back, low, high}
}
