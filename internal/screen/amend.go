package screen

import (
	"encoding/json"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// AmendArgs names the entry to correct or to strike out.
type AmendArgs struct {
	Entry entry.ID `json:"entry"`
}

// Amend is one line of the book, opened again: what it says, its form filled
// in, and what was made of it before.
type Amend struct {
	Line    HistoryLine  `json:"line"`
	Day     string       `json:"day"`
	Fields  []AmendField `json:"fields"`         // empty where the line can only be struck out
	Page    string       `json:"page,omitempty"` // a session is corrected on its own page, with its laps and conditions
	People  []Choice     `json:"people"`
	Struck  *AmendPast   `json:"struck,omitempty"`
	Changes []AmendPast  `json:"changes"` // its corrections, the latest first
}

// AmendPast is something that was made of a line: by which entry, when, why.
type AmendPast struct {
	Entry entry.ID `json:"entry"`
	When  string   `json:"when"`
	Was   string   `json:"was,omitempty"` // what it said until then
	Why   string   `json:"why,omitempty"`
}

// AmendField is one field of a form. One of Text, Number and Who holds what it
// says; Kind is "text", "long", "day", "number", "one" or "who".
type AmendField struct {
	Name    string         `json:"name"`
	Kind    string         `json:"kind"`
	Label   string         `json:"label"`
	Text    string         `json:"text,omitempty"`
	Number  *unit.Fixed    `json:"number,omitempty"`
	Who     entry.PersonID `json:"who,omitempty"`
	Options []Choice       `json:"options,omitempty"`
	Unit    string         `json:"unit,omitempty"`
	Step    unit.Fixed     `json:"step,omitempty"`
	Min     *unit.Fixed    `json:"min,omitempty"`
	Max     *unit.Fixed    `json:"max,omitempty"`
}

// AmendForm corrects a line: only the fields that changed need be there.
// Numbers are in the shown unit.
type AmendForm struct {
	Entry   entry.ID              `json:"entry"`
	Texts   map[string]string     `json:"texts"`
	Numbers map[string]unit.Fixed `json:"numbers"`
	Whos    map[string]Who        `json:"whos"`
	Why     string                `json:"why"`
}

var (
	_ = view("amend", amend)
	_ = action("amend", amendIt)
)

var (
	sureWords = []Choice{{"counted", "Counted"}, {"assumed", "Assumed"}}
	foundNow  = []Choice{{"good", "Good"}, {"fault", "Fault"}, {"unsure", "Not sure"}}
	oftenWord = []Choice{{"once", "Once"}, {"some", "Some laps"}, {"every", "Every lap"}, {"purpose", "On purpose"}}
	yesWords  = []Choice{{"true", "Yes"}, {"false", "No"}}
)

// amendable are the fields of an entry that can be corrected, by kind. What is
// not here stays as it was written.
func amendable(a Ask, t book.Told) []AmendField {
	note := AmendField{Name: "note", Kind: "text", Label: "Note"}
	when := AmendField{Name: "when", Kind: "day", Label: "When"}
	done := AmendField{Name: "done", Kind: "who", Label: "Who did it?"}
	track := AmendField{Name: "track", Kind: "one", Label: "Where?", Options: trackChoices(a.Book)}
	s := shower{a.Book}
	set := settingOf(a, t)
	at := AmendField{Kind: "number", Unit: join2(s.unitFor(set, unit.Whole(2)), numbered(set)), Step: s.step(set)}
	least, most := s.shown(set, set.Min), s.shown(set, set.Max)
	at.Min, at.Max = &least, &most
	switch t.Kind {
	case book.KindChange:
		at.Name, at.Label = "to", "Where it stood then"
		return []AmendField{
			at, {Name: "turned", Kind: "who", Label: "Who turned it?"}, {Name: "idea", Kind: "who", Label: "Whose idea?"},
			{Name: "why", Kind: "text", Label: "Why?"}, {Name: "expect", Kind: "text", Label: "What should get better?"},
			{Name: "trial", Kind: "one", Label: "On trial?", Options: yesWords},
		}
	case book.KindCount:
		at.Name, at.Label = "at", "Where it stood"
		return []AmendField{at, {Name: "standing", Kind: "one", Label: "How sure?", Options: sureWords}, note}
	case book.KindSymptom:
		return []AmendField{{Name: "words", Kind: "text", Label: "In your own words"}, {Name: "repeat", Kind: "one", Label: "How often?", Options: oftenWord}, track}
	case book.KindFall:
		return []AmendField{{Name: "side", Kind: "one", Label: "Which side?", Options: fallSides}, {Name: "speed", Kind: "one", Label: "How fast?", Options: fallSpeeds}, track, when, note}
	case book.KindCheck:
		return []AmendField{{Name: "result", Kind: "one", Label: "What did you find?", Options: foundNow}, note}
	case book.KindService:
		return []AmendField{{Name: "what", Kind: "one", Label: "What was done?", Options: works}, when, done, note}
	case book.KindPart:
		return []AmendField{{Name: "part", Kind: "text", Label: "What was fitted?"}, when, done, note}
	case book.KindPhoto:
		return []AmendField{{Name: "what", Kind: "one", Label: "What does it show?", Options: photoWords}, note}
	case book.KindAdvice:
		return []AmendField{{Name: "from", Kind: "who", Label: "Who said it?"}, {Name: "what", Kind: "text", Label: "What they would change"}, {Name: "why", Kind: "text", Label: "Why?"}}
	case book.KindBaseline:
		return []AmendField{{Name: "name", Kind: "text", Label: "Name of the line"}, track, note}
	case book.KindVerdict, book.KindMeasure, book.KindDay:
		return []AmendField{note}
	}
	return nil
}

func amend(a Ask, args AmendArgs) (any, []book.Refusal) {
	t := toldOf(a.Book, args.Entry)
	w := teller{shower{a.Book}, unowned(a.Book)}
	line, ok := w.line(t)
	if t.Entry == "" || !ok {
		return nil, []book.Refusal{{Field: "entry", Says: "This line is not in the book.", Mend: "Open the Book and pick it again."}}
	}
	out := Amend{Line: line, Day: t.Wall.Format("Mon 2 Jan 2006") + ", " + line.Time, Fields: []AmendField{}, Page: pageOf(t), People: peopleFor(a), Changes: []AmendPast{}}
	for _, f := range amendable(a, t) {
		if filled(a, t, &f) {
			out.Fields = append(out.Fields, f)
		}
	}
	out.past(a, w, t)
	return out, nil
}

// past tells what was made of a line.
func (out *Amend) past(a Ask, w teller, t book.Told) {
	s := shower{a.Book}
	if t.Struck != "" {
		by := toldOf(a.Book, t.Struck)
		out.Struck = &AmendPast{Entry: by.Entry, When: s.moment(by.Wall, a.Now), Why: whyOf(by)}
		out.Fields = []AmendField{}
	}
	was := t
	was.Body = t.Was
	for _, c := range a.Book.Told {
		var body book.CorrectBody
		if c.Kind != book.KindCorrect || c.Struck != "" || json.Unmarshal(c.Body, &body) != nil || body.Entry != t.Entry {
			continue
		}
		said, _ := w.line(was)
		out.Changes = append(out.Changes, AmendPast{Entry: c.Entry, When: s.moment(c.Wall, a.Now), Was: said.Title, Why: body.Why})
		was.Body = body.Body
	}
	slices.Reverse(out.Changes)
}

func whyOf(t book.Told) string {
	var body struct{ Why string }
	_ = json.Unmarshal(t.Body, &body)
	return body.Why
}

// filled puts what an entry says into a field. It reports whether the field
// has a place in the entry: a change without a position has none to correct.
func filled(a Ask, t book.Told, f *AmendField) bool {
	fields := map[string]json.RawMessage{}
	_ = json.Unmarshal(t.Body, &fields)
	raw, given := fields[f.Name]
	switch f.Kind {
	case "number":
		var n unit.Fixed
		if !given || json.Unmarshal(raw, &n) != nil {
			return false
		}
		n = shower{a.Book}.shown(settingOf(a, t), n)
		f.Number = &n
	case "who":
		_ = json.Unmarshal(raw, &f.Who)
		f.Who = a.Book.Who(f.Who)
	case "one":
		if json.Unmarshal(raw, &f.Text) != nil && given {
			f.Text = string(raw)
		}
		if !given && f.Name == "trial" {
			f.Text = "false"
		}
		return len(f.Options) > 0
	default:
		_ = json.Unmarshal(raw, &f.Text)
	}
	return true
}

// settingOf is what a number of an entry is a position of.
func settingOf(a Ask, t book.Told) *book.Setting { return teller{shower: shower{a.Book}}.setting(t) }

// pageOf is where a line is corrected that has a form of its own.
func pageOf(t book.Told) string {
	var n struct{ Session book.SessionID }
	_ = json.Unmarshal(t.Body, &n)
	switch {
	case n.Session == "" || t.Struck != "":
		return ""
	case t.Kind == book.KindSession:
		return "/session/" + string(n.Session)
	case t.Kind == book.KindLaps:
		return "/laps/" + string(n.Session)
	}
	return ""
}

func amendIt(a Ask, f AmendForm) ([]book.Draft, []book.Refusal) {
	t, refused := toldAs(a.Book, f.Entry)
	if refused != nil {
		return nil, refused
	}
	out := CorrectForm{Entry: f.Entry, Body: map[string]json.RawMessage{}, Why: strings.TrimSpace(f.Why)}
	var fresh []book.Draft
	for _, field := range amendable(a, t) {
		was := field
		if !filled(a, t, &was) {
			continue
		}
		raw, drafts := amended(a, t, f, was)
		if raw == nil {
			continue
		}
		out.Body[field.Name] = raw
		fresh = append(fresh, drafts...)
	}
	if len(out.Body) == 0 {
		return nil, []book.Refusal{{Field: "", Says: "Nothing is different.", Mend: "Change what was wrong, or go back."}}
	}
	if t.Kind == book.KindChange {
		mendDelta(t, out.Body)
	}
	drafts, refused := correct(a, out)
	return append(fresh, drafts...), refused
}

var none = json.RawMessage("null")

// amended is a field's new value in its encoded form; nil when it stayed.
func amended(a Ask, t book.Told, f AmendForm, was AmendField) (json.RawMessage, []book.Draft) {
	switch was.Kind {
	case "number":
		n, given := f.Numbers[was.Name]
		if !given || was.Number != nil && *was.Number == n {
			return nil, nil
		}
		raw, _ := json.Marshal(shower{a.Book}.typed(settingOf(a, t), n)) // fixed numbers always marshal
		return raw, nil
	case "who":
		who, given := f.Whos[was.Name]
		id, drafts := person(a, who)
		if !given || id == was.Who {
			return nil, nil
		}
		return text(string(id)), drafts
	}
	said, given := f.Texts[was.Name]
	said = strings.TrimSpace(said)
	switch {
	case !given || said == was.Text:
		return nil, nil
	case was.Name == "trial":
		return json.RawMessage(boolWord(said)), nil
	}
	return text(said), nil
}

func boolWord(said string) string {
	if said == "true" {
		return "true"
	}
	return "false"
}

// text is a string in its encoded form; nothing said takes the field away.
func text(s string) json.RawMessage {
	if s == "" {
		return none
	}
	raw, _ := json.Marshal(s) // strings always marshal
	return raw
}

// mendDelta keeps a change's distance true to its ends.
func mendDelta(t book.Told, body map[string]json.RawMessage) {
	var c book.ChangeBody
	var to unit.Fixed
	if body["to"] == nil || json.Unmarshal(t.Body, &c) != nil || json.Unmarshal(body["to"], &to) != nil || c.From == nil {
		return
	}
	body["delta"], _ = json.Marshal(to - *c.From) // fixed numbers always marshal
}
