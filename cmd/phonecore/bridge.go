package main

import (
	"encoding/json"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
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

// beside is what comes with a request beside its JSON: lines of the log, one
// each, and a file that the rider picked, which may be larger than the core.
type beside struct {
	lines string
	file  archive.File
}

// call answers one request. It recovers, because a panic would end the core.
func (s shelf) call(fn, arg string, b beside) (answer string) {
	defer func() {
		if r := recover(); r != nil {
			answer = encode(reply{Bug: fmt.Sprintf("%s: %v\n%s", fn, r, debug.Stack())})
		}
	}()
	return encode(s.answer(fn, []byte(arg), b))
}

func encode(r reply) string {
	out, err := json.Marshal(r)
	if err != nil {
		out, _ = json.Marshal(reply{Bug: "encode answer: " + err.Error()})
	}
	return string(out)
}

func (s shelf) answer(fn string, arg []byte, b beside) reply {
	switch fn {
	case "open":
		return with(arg, func(a openArg) reply { return s.open(a, b.lines) })
	case "take":
		return with(arg, func(a bookArg) reply { return s.take(a, b.lines) })
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
		return readExport(b.file)
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

type exportArg struct {
	Book   entry.BookID  `json:"book"`
	Photos []photoOnHand `json:"photos"`
}

// photoOnHand is a photo that the phone has; the core never sees its bytes.
type photoOnHand struct {
	Name  string `json:"name"`
	Size  int64  `json:"size"`
	CRC32 uint32 `json:"crc32"`
}

// exported is a whole book as one file: its parts in order. Missing counts the
// photos that the book tells of and the phone does not have.
type exported struct {
	Name    string `json:"name"`
	Parts   []part `json:"parts"`
	Missing int    `json:"missing"`
}

// part is a part of a file: bytes, or a photo that the phone puts there.
type part struct {
	Bytes []byte `json:"bytes,omitempty"` // base64
	Photo string `json:"photo,omitempty"`
}

func (s shelf) export(a exportArg) reply {
	r, ok := s[a.Book]
	if !ok {
		return notOpen(a.Book)
	}
	var out parts
	named := r.Book().PhotoNames()
	var photos []archive.Photo
	for _, name := range named {
		if i := slices.IndexFunc(a.Photos, func(p photoOnHand) bool { return p.Name == name }); i >= 0 {
			photos = append(photos, out.place(a.Photos[i]))
		}
	}
	if err := archive.Write(&out, r.Log.Lacking(nil), photos, tablesOf(r.Book())...); err != nil {
		return reply{Bug: "export: " + err.Error()}
	}
	return reply{Value: exported{"plumbline-book.zip", out.list, len(named) - len(photos)}}
}

// parts collects an archive that is written without its photos.
type parts struct {
	list []part
	skip int64 // bytes of a photo that stand in for it
}

// place is a photo as the archive wants it: the phone's own bytes go where it
// writes so many zeros.
func (p *parts) place(on photoOnHand) archive.Photo {
	return archive.Photo{Name: on.Name, Size: on.Size, CRC32: on.CRC32, Copy: func(w io.Writer) error {
		p.list = append(p.list, part{Photo: on.Name})
		p.skip = on.Size
		_, err := w.Write(make([]byte, on.Size))
		return err
	}}
}

func (p *parts) Write(b []byte) (int, error) {
	skipped := min(p.skip, int64(len(b)))
	p.skip -= skipped
	rest := b[skipped:]
	if len(rest) > 0 {
		if n := len(p.list); n == 0 || p.list[n-1].Photo != "" {
			p.list = append(p.list, part{})
		}
		last := &p.list[len(p.list)-1]
		last.Bytes = append(last.Bytes, rest...)
	}
	return len(b), nil
}

// tablesOf are a book's tables as an archive carries them.
func tablesOf(b *book.Book) []archive.Table {
	var out []archive.Table
	for _, t := range screen.Tables(b) {
		out = append(out, archive.Table{Name: t.Name + ".csv", About: t.About, CSV: screen.CSV(t.Rows)})
	}
	return out
}

// imported is what a file holds. Findings say what was wrong with it; the
// lines are those that stand in unbroken chains, the photos those that they
// name: where each lies in the file, for the phone to cut it out and to check.
type imported struct {
	Book     entry.BookID      `json:"book"`
	Name     string            `json:"name"`
	Example  bool              `json:"example"`
	Lines    []string          `json:"lines"`
	Photos   []archive.Kept    `json:"photos"`
	Missing  int               `json:"missing"` // photos that the lines name and the file has not
	Findings []archive.Finding `json:"findings"`
}

func readExport(file archive.File) reply {
	c, err := archive.Read(file)
	if err != nil {
		return reply{Refusals: []book.Refusal{{Field: "file", Says: "This file is not a Plumbline book.", Mend: "Pick the zip that 'Save a copy' made."}}}
	}
	log, findings := archive.Verify(c)
	in := imported{Lines: []string{}, Photos: []archive.Kept{}, Findings: findings}
	for _, e := range log.Lacking(nil) {
		in.Book = e.Book
		in.Lines = append(in.Lines, string(e.Line()))
	}
	b := book.Fold(log.Entries())
	in.Name, in.Example = b.Name, b.Example
	named := b.PhotoNames()
	for _, p := range c.Photos {
		if slices.Contains(named, p.Name) {
			in.Photos = append(in.Photos, p)
		}
	}
	in.Missing = len(named) - len(in.Photos)
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
