package screen

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
	"plumbline/internal/entry"
	"plumbline/internal/sheet"
)

// SheetArgs asks for a bike's setup sheet. Names shows people by name, else
// they are initials; Notes shows the rider's own notes.
type SheetArgs struct {
	Bike  book.BikeID `json:"bike"`
	Names bool        `json:"names"`
	Notes bool        `json:"notes"`
}

// How much of each list fits one page.
const (
	sheetChanges  = 8
	sheetHistory  = 8
	sheetSymptoms = 5
	sheetCauses   = 4
	sheetMeasures = 8
	sheetWords    = 100 // characters of any one text
)

var (
	_ = view("sheet", func(a Ask, args SheetArgs) (any, []book.Refusal) { return SheetOf(a, args) })
	_ = view("sheet.codes", sheetCodes)
	_ = view("sheet.read", readSheet)
	_ = view("sheet.compare", compareSheets)
)

// SheetOf is a bike's setup sheet.
func SheetOf(a Ask, args SheetArgs) (sheet.Sheet, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return sheet.Sheet{}, refused
	}
	m := sheetMaker{Ask: a, SheetArgs: args, shower: shower{a.Book}, k: k}
	out := sheet.Sheet{
		Made: a.Now.Format("2 Jan 2006 15:04"), Bike: sheet.Bike{Name: k.Name, Year: k.Year, Class: k.Class, Tyres: k.Tyres},
		Rider: m.rider(), Settings: m.settings(), Measures: m.measures(), History: m.history(),
		Changes: m.changes(), Symptoms: m.symptoms(), Causes: m.causes(), Checks: m.checks(),
	}
	if _, open := k.FallOpen(); open {
		out.Stop = StopAfterFall
	}
	if line, drawn := k.Line(); drawn {
		out.Line = line.Name + ", drawn " + m.date(line.Wall)
	}
	return out, nil
}

type sheetMaker struct {
	Ask
	SheetArgs
	shower
	k *book.Bike
}

// date is a day, with its year where that is not the sheet's own.
func (m sheetMaker) date(t time.Time) string { return m.day(t, m.Now) }

// who is a person as the sheet may show them.
func (m sheetMaker) who(id entry.PersonID) string {
	name := nameOf(m.Book, id)
	if m.Names || id == "" || id == book.PersonUnknown {
		return name
	}
	return initials(name)
}

// initials are the first letters of a name's words: "N. H.".
func initials(name string) string {
	var out []string
	for _, word := range strings.Fields(name) {
		first := []rune(word)[0]
		out = append(out, strings.ToUpper(string(first))+".")
	}
	return strings.Join(out, " ")
}

// note is the rider's own words, where they may be shown.
func (m sheetMaker) note(words string) string {
	if m.Notes {
		return short(words)
	}
	return ""
}

// short keeps what fits on the page of a text, and shows that there is more.
func short(words string) string {
	if r := []rune(words); len(r) > sheetWords {
		return strings.TrimSpace(string(r[:sheetWords-1])) + "…"
	}
	return words
}

func (m sheetMaker) rider() string {
	kg := ""
	if m.k.RiderKg != nil {
		kg = m.mass(*m.k.RiderKg) + " in kit"
	}
	return join(m.who(m.Book.Rider), kg)
}

func (m sheetMaker) settings() []sheet.Setting {
	line, drawn := m.k.Line()
	out := []sheet.Setting{}
	for _, s := range m.k.Active() {
		row := sheet.Setting{ID: string(s.ID), Name: s.Name, At: "not known", Standing: string(s.Standing), N: s.At}
		if s.At != nil {
			row.At = m.position(s, *s.At)
		}
		if at, in := line.At[s.ID]; drawn && in && s.At != nil && *s.At != at {
			row.Drift = m.moved(s, *s.At-at)
		}
		out = append(out, row)
	}
	return out
}

// history is what was done to the bike and what happened to it, newest first.
func (m sheetMaker) history() []sheet.Row {
	var rows []datedRow
	add := func(id entry.ID, title, when string, wall time.Time, note string) {
		rows = append(rows, datedRow{sheet.Row{Title: capital(title), Says: m.note(note), When: cmp.Or(whenSaid(when), m.date(wall))}, id})
	}
	for _, n := range m.k.Services {
		add(n.Entry, workName(n.Body.What), n.Body.When, n.Wall, n.Body.Note)
	}
	for _, n := range m.k.Parts {
		add(n.Entry, "Fitted: "+short(n.Body.Part), n.Body.When, n.Wall, n.Body.Note)
	}
	for _, n := range m.k.Falls {
		n.Body.When, n.Body.Note = cmp.Or(n.Body.When, m.date(n.Wall)), m.note(n.Body.Note)
		title, says, _ := strings.Cut(fallSays(m.Ask, n), ", ")
		rows = append(rows, datedRow{sheet.Row{Title: title, Says: says}, n.Entry})
	}
	return newest(rows, sheetHistory)
}

type datedRow struct {
	sheet.Row
	entry entry.ID
}

// newest keeps the rows that were written last, the newest first.
func newest(rows []datedRow, most int) []sheet.Row {
	slices.SortFunc(rows, func(a, b datedRow) int { return cmp.Compare(b.entry, a.entry) })
	var out []sheet.Row
	for _, r := range rows[:min(most, len(rows))] {
		out = append(out, r.Row)
	}
	return out
}

func (m sheetMaker) changes() []sheet.Change {
	verdicts := map[entry.ID]string{}
	for _, t := range m.k.Trials {
		verdicts[t.Entry] = cmp.Or(verdictWords[t.Verdict], "on trial")
	}
	var out []sheet.Change
	for _, t := range slices.Backward(m.Book.Told) {
		set := m.k.Settings[t.Adjuster]
		if t.Bike != m.k.ID || set == nil || t.Struck != "" || len(out) == sheetChanges {
			continue
		}
		if mark, ok := markOf(set, t.Entry); ok && mark.Kind != "count" {
			out = append(out, m.change(set, mark, verdicts[t.Entry]))
		}
	}
	return out
}

func markOf(set *book.Setting, id entry.ID) (book.Mark, bool) {
	i := slices.IndexFunc(set.Line, func(m book.Mark) bool { return m.Entry == id })
	if i < 0 {
		return book.Mark{}, false
	}
	return set.Line[i], true
}

func (m sheetMaker) change(set *book.Setting, mark book.Mark, verdict string) sheet.Change {
	words := m.went(set, mark)
	if mark.Kind == "found" {
		words = "found moved " + words
	}
	turned := m.who(mark.Turned)
	if mark.Kind == "found" && mark.Owned == "" {
		turned = "nobody who owned up"
	}
	return sheet.Change{
		Title: set.Name + ": " + words, When: m.date(mark.Wall), Verdict: verdict,
		Who: turned, Idea: m.who(mark.Idea), Why: short(mark.Why),
	}
}

func (m sheetMaker) symptoms() []sheet.Row {
	var out []sheet.Row
	for _, n := range slices.Backward(m.k.Symptoms) {
		if len(out) == sheetSymptoms {
			break
		}
		where := join(m.Book.Tracks[n.Body.Track].Name, n.Body.Corner)
		out = append(out, sheet.Row{Title: m.felt(n.Body), Says: join(repeatWords[n.Body.Repeat], where), When: m.date(n.Wall)})
	}
	return out
}

// felt is a symptom in the words of its findings, or in the rider's own.
func (m sheetMaker) felt(n book.SymptomBody) string {
	var words []string
	for _, f := range diagnosis.Load().Findings() {
		if n.Findings[f.ID] == "yes" {
			words = append(words, unstopped(f.Words))
		}
	}
	if m.Notes || len(words) == 0 {
		words = append(words, unstopped(n.Words))
	}
	return short(strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), "; "))
}

// causes are what probably causes the last symptom that has findings.
func (m sheetMaker) causes() []sheet.Row {
	var last book.SymptomBody
	for _, n := range m.k.Symptoms {
		if len(n.Body.Findings) > 0 {
			last = n.Body
		}
	}
	answer, refused := why(m.Ask, WhyArgs{Bike: m.k.ID, Findings: last.Findings, Repeat: last.Repeat})
	page, ok := answer.(Why)
	if refused != nil || !ok {
		return nil
	}
	var out []sheet.Row
	for _, c := range page.Causes[:min(sheetCauses, len(page.Causes))] {
		out = append(out, sheet.Row{Title: c.Title, Says: c.Doubt})
	}
	return out
}

// checks are the inspections that are still to be made, or found a fault.
func (m sheetMaker) checks() []sheet.Row {
	var out []sheet.Row
	for _, c := range bikeChecks(m.Ask, m.k) {
		if c.Result != "good" {
			out = append(out, sheet.Row{Title: c.Title, Says: join(c.Says, m.note(c.Note))})
		}
	}
	return out
}

// measures are the latest measurements of each topic, with what came out.
func (m sheetMaker) measures() []sheet.Row {
	var rows []datedRow
	for _, t := range topics() {
		if n, ok := m.k.Measures[t.id]; ok {
			rows = append(rows, datedRow{sheet.Row{Title: t.name, Says: short(unstopped(measureSays(m.Ask, m.k, n.Body, n.Wall))), When: m.date(n.Wall)}, n.Entry})
		}
	}
	return newest(rows, sheetMeasures)
}
