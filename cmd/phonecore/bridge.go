package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"runtime/debug"
	"strings"
	"time"

	"plumbline/internal/archive"
	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/example"
	"plumbline/internal/screen"
)

// shelf holds the books that are open in this core.
type shelf map[entry.BookID]*book.Replica

func newShelf() shelf { return shelf{} }

// reply is what every call answers: a value, refusals for the rider, or a bug
// for us.
type reply struct {
	Value    any            `json:"value,omitempty"`
	Length   int            `json:"length,omitempty"` // of a view: how many entries the book has that it tells of
	Refusals []book.Refusal `json:"refusals,omitempty"`
	Bug      string         `json:"bug,omitempty"`
}

// call answers one request: its argument is JSON, its lines a text of one line
// each. It recovers, because a panic would end the core.
func (s shelf) call(fn, arg, lines string) (answer string) {
	defer func() {
		if r := recover(); r != nil {
			answer = encode(reply{Bug: fmt.Sprintf("%s: %v\n%s", fn, r, debug.Stack())})
		}
	}()
	return encode(s.answer(fn, []byte(arg), lines))
}

func encode(r reply) string {
	out, err := json.Marshal(r)
	if err != nil {
		out, _ = json.Marshal(reply{Bug: "encode answer: " + err.Error()})
	}
	return string(out)
}

func (s shelf) answer(fn string, arg []byte, lines string) reply {
	switch fn {
	case "open":
		return with(arg, func(a openArg) reply { return s.open(a, lines) })
	case "take":
		return with(arg, func(a bookArg) reply { return s.take(a, lines) })
	case "stamp":
		return with(arg, s.stamp)
	case "view":
		return with(arg, s.view)
	case "vector":
		return with(arg, s.vector)
	case "missing":
		return with(arg, s.missing)
	case "export":
		return with(arg, s.export)
	case "import":
		return with(arg, readExport)
	case "example":
		return reply{Value: exampleBook{example.BookID, example.DeviceID, example.Lines()}}
	}
	return reply{Bug: "the core has no function " + fn}
}

func with[A any](arg []byte, do func(A) reply) reply {
	var a A
	if err := json.Unmarshal(arg, &a); err != nil {
		return reply{Bug: "read argument: " + err.Error()}
	}
	return do(a)
}

type openArg struct {
	Book   entry.BookID   `json:"book"`
	Device entry.DeviceID `json:"device"`
}

// open opens a book, or opens it anew, with the lines the phone has of it.
func (s shelf) open(a openArg, lines string) reply {
	s[a.Book] = book.Open(a.Book, a.Device)
	return s.take(bookArg{Book: a.Book}, lines)
}

type taken struct {
	Added    int      `json:"added"`
	Oddities []string `json:"oddities"`
}

func (s shelf) take(a bookArg, lines string) reply {
	r, ok := s[a.Book]
	if !ok {
		return notOpen(a.Book)
	}
	var each []string
	if lines != "" {
		each = strings.Split(lines, "\n")
	}
	added, wrong := r.Take(each)
	t := taken{added, []string{}}
	for _, err := range wrong {
		t.Oddities = append(t.Oddities, err.Error())
	}
	return reply{Value: t}
}

func notOpen(id entry.BookID) reply { return reply{Bug: fmt.Sprintf("book %s is not open", id)} }

// exported is a whole book as one file.
type exported struct {
	Name string `json:"name"`
	File []byte `json:"file"` // base64
}

func (s shelf) export(a bookArg) reply {
	r, ok := s[a.Book]
	if !ok {
		return notOpen(a.Book)
	}
	var out bytes.Buffer
	if err := archive.Write(&out, r.Log.Lacking(nil), tablesOf(r.Book())...); err != nil {
		return reply{Bug: "export: " + err.Error()}
	}
	return reply{Value: exported{"plumbline-book.zip", out.Bytes()}}
}

// tablesOf are a book's tables as an archive carries them.
func tablesOf(b *book.Book) []archive.Table {
	var out []archive.Table
	for _, t := range screen.Tables(b) {
		out = append(out, archive.Table{Name: t.Name + ".csv", About: t.About, CSV: screen.CSV(t.Rows)})
	}
	return out
}

type importArg struct {
	File []byte `json:"file"` // base64
}

// imported is what a file holds. Findings say what was wrong with it; the
// lines are those that stand in unbroken chains.
type imported struct {
	Book     entry.BookID      `json:"book"`
	Name     string            `json:"name"`
	Example  bool              `json:"example"`
	Lines    []string          `json:"lines"`
	Findings []archive.Finding `json:"findings"`
}

func readExport(a importArg) reply {
	c, err := archive.Read(a.File)
	if err != nil {
		return reply{Refusals: []book.Refusal{{Field: "file", Says: "This file is not a Plumbline book.", Mend: "Pick the zip that 'Save a copy' made."}}}
	}
	log, findings := archive.Verify(c)
	in := imported{Lines: []string{}, Findings: findings}
	for _, e := range log.Lacking(nil) {
		in.Book = e.Book
		in.Lines = append(in.Lines, string(e.Line()))
	}
	b := book.Fold(log.Entries())
	in.Name, in.Example = b.Name, b.Example
	return reply{Value: in}
}

// exampleBook is the example season, for the phone to keep as a book of its own.
type exampleBook struct {
	Book   entry.BookID   `json:"book"`
	Device entry.DeviceID `json:"device"`
	Lines  []string       `json:"lines"`
}

// moment is a phone's clock: Unix milliseconds and minutes east of UTC.
type moment struct {
	Now    int64 `json:"now"`
	Offset int   `json:"offset"`
}

func (m moment) wall() time.Time {
	return time.UnixMilli(m.Now).In(time.FixedZone("", m.Offset*60))
}

type stampArg struct {
	moment
	Book   entry.BookID    `json:"book"`
	Action string          `json:"action"`
	Form   json.RawMessage `json:"form"`
	Random []byte          `json:"random"` // base64, from which all ids are drawn
}

type stamped struct {
	Lines []string `json:"lines"`
}

func (s shelf) stamp(a stampArg) reply {
	r, ok := s[a.Book]
	if !ok {
		return notOpen(a.Book)
	}
	if len(a.Random) < 32 {
		return reply{Bug: fmt.Sprintf("stamp needs at least 32 random bytes, got %d", len(a.Random))}
	}
	chance := newStream(a.Random)
	ask := screen.Ask{Book: r.Book(), Device: r.Device(), Now: a.wall(), Mint: func() string {
		return string(entry.NewID(a.wall(), entry.Chance(chance.next(16))))
	}}
	drafts, refused := screen.Act(a.Action, ask, a.Form)
	if len(refused) > 0 {
		return reply{Refusals: refused}
	}
	lines, err := r.Stamp(drafts, r.Book().Holders[r.Device()], a.wall(), chance.next(16*len(drafts)))
	if err != nil {
		return reply{Bug: "stamp: " + err.Error()}
	}
	return reply{Value: stamped{lines}}
}

type viewArg struct {
	moment
	Book entry.BookID    `json:"book"`
	Name string          `json:"name"`
	Args json.RawMessage `json:"args"`
}

func (s shelf) view(a viewArg) reply {
	ask, length := screen.Ask{Book: book.Fold(nil), Now: a.wall()}, 0
	if r, ok := s[a.Book]; ok {
		ask.Book, ask.Device, length = r.Book(), r.Device(), r.Log.Len()
	} else if a.Book != "" {
		return notOpen(a.Book)
	}
	model, refused := screen.View(a.Name, ask, a.Args)
	if len(refused) > 0 {
		return reply{Refusals: refused}
	}
	return reply{Value: model, Length: length}
}

type bookArg struct {
	Book entry.BookID `json:"book"`
	Have entry.Vector `json:"have"`
}

func (s shelf) vector(a bookArg) reply {
	r, ok := s[a.Book]
	if !ok {
		return notOpen(a.Book)
	}
	return reply{Value: r.Log.Vector()}
}

func (s shelf) missing(a bookArg) reply {
	r, ok := s[a.Book]
	if !ok {
		return notOpen(a.Book)
	}
	lines := []string{}
	for _, e := range r.Log.Lacking(a.Have) {
		lines = append(lines, string(e.Line()))
	}
	return reply{Value: stamped{lines}}
}
