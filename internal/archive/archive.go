// Package archive writes a whole book as one file that can be read without
// Plumbline, and reads it back exactly. It checks the form of an archive, not
// the truth of a book: chains are the log's affair.
//
// # The file
//
// A zip with, in this order:
//
//	README.txt      what the file is and how to read it
//	entries.jsonl   the entries, one line each, as the devices wrote them;
//	                device by device, each in the order of its numbers
//	*.csv           tables that follow from the entries, for other programs;
//	                who writes an archive gives them, and Read passes over them
//	photos/*.jpg    the photos that the entries name, each called by its name:
//	                the SHA-256 of its bytes in hex; stored, not packed
//
// All times in the zip are 1 January 1980, so that the same book gives the
// same bytes.
package archive

import (
	"archive/zip"
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"time"

	"plumbline/internal/entry"
)

// The names inside an archive.
const (
	nameReadme  = "README.txt"
	nameEntries = "entries.jsonl"
)

// MaxEntries is the greatest size of the unpacked entries in bytes: some
// hundred thousand lines. A file that unpacks to more is refused.
const MaxEntries = 256 << 20

const readme = `This is a Plumbline book: the record of a motorcycle's setup, kept by its rider.

entries.jsonl holds one entry per line, oldest first within each device. A line
is a JSON object:

  v       1, the form described here
  id      the entry's own id (UUIDv7)
  book    the book's id
  device  the phone or computer that wrote it
  seq     1, 2, 3 ... on that device
  prev    SHA-256 of that device's previous line, in hex; empty for the first
  at      hybrid logical clock in hex: 12 digits Unix milliseconds, 4 digits counter
  wall    what the device's clock said, with its offset from UTC
  by      who held the device
  kind    what the entry is: change, count, baseline, fall, check, ...
  body    what it says; positions are in the adjuster's own unit, other numbers
          in mm, N/mm, kPa, kg, degrees C, s

To read the book, sort the lines by at, device and seq. A 'correct' entry
replaces the body of the entry it names, a 'strike' takes it out. To check that
nothing was changed, hash each line (without its line feed) and compare with
prev of the device's next one; 'plumbline verify FILE' does it for you.
`

// aboutPhotos stands in the readme of a book with photos.
const aboutPhotos = `
photos/ holds the photos. Each is named by the SHA-256 of its bytes, in hex; an
entry of kind 'photo' names it in its body ('photo'), says what it shows ('what',
'note') and, where 'about' is given, to which entry it belongs. To check that a
photo was not changed, hash it and compare with its name: on most computers
'sha256sum photos/*.jpg' does it, and 'plumbline verify FILE' too. A photo whose
entry was struck out is gone.
`

// aboutTables stands in the readme before what each table says of itself.
const aboutTables = `
The tables below follow from the entries and are for reading only: to bring
this book into another Plumbline, entries.jsonl is all that counts. They are CSV
(RFC 4180) in UTF-8: commas, a heading, a full stop in numbers; dates and times
are those of the rider's clock. Where words begin like a formula, an apostrophe
stands before them, so that a spreadsheet does not run them.
`

// Table is one more file of an archive: a table for other programs.
type Table struct {
	Name  string // "laps.csv"
	About string // what it holds, for the readme
	CSV   string
}

// Write writes entries as an archive, and tables and photos behind them.
// Entries come as entry.Log.Lacking(nil) gives them, photos sorted by name.
func Write(out io.Writer, entries []entry.Entry, photos []Photo, tables ...Table) error {
	z := zip.NewWriter(out)
	if err := addText(z, nameReadme, readmeFor(photos, tables)); err != nil {
		return err
	}
	if err := add(z, nameEntries, func(w io.Writer) error {
		for _, e := range entries {
			if _, err := w.Write(append(bytes.Clone(e.Line()), '\n')); err != nil {
				return err
			}
		}
		return nil
	}); err != nil {
		return err
	}
	for _, t := range tables {
		if err := addText(z, t.Name, t.CSV); err != nil {
			return err
		}
	}
	for _, p := range photos {
		if err := addPhoto(z, p); err != nil {
			return fmt.Errorf("write %s: %w", fileOf(p.Name), err)
		}
	}
	if err := z.Close(); err != nil {
		return fmt.Errorf("finish archive: %w", err)
	}
	return nil
}

func readmeFor(photos []Photo, tables []Table) string {
	text := readme
	if len(photos) > 0 {
		text += aboutPhotos
	}
	if len(tables) > 0 {
		text += aboutTables
	}
	for _, t := range tables {
		text += "\n" + t.Name + "\n" + t.About + "\n"
	}
	return text
}

func addText(z *zip.Writer, name, text string) error {
	return add(z, name, func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	})
}

func add(z *zip.Writer, name string, write func(io.Writer) error) error {
	w, err := z.CreateHeader(&zip.FileHeader{
		Name: name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC),
	})
	if err == nil {
		err = write(w)
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}

// Finding is something wrong with a file, and where.
type Finding struct {
	Line int    `json:"line,omitempty"` // of entries.jsonl, counted from 1
	File string `json:"file,omitempty"` // of the archive, where it is not entries.jsonl
	Says string `json:"says"`
}

// Contents is what a file holds: the entries that could be read, what was
// wrong with the others, and the photos, which nobody has looked at yet. Bare
// says that it is an entries.jsonl alone, which has no place for photos.
type Contents struct {
	Entries  []entry.Entry
	Findings []Finding
	Photos   []Kept
	Bare     bool
}

// File is a file that is read piece by piece: one with photos may be larger
// than the memory of a phone. A bytes.Reader is one.
type File interface {
	io.ReaderAt
	Size() int64
}

// Read reads an archive, or a bare entries.jsonl. An error means that the file
// is neither; a line that cannot be read is a finding.
func Read(file File) (Contents, error) {
	whole := io.NewSectionReader(file, 0, file.Size())
	var magic [2]byte
	if _, _ = whole.ReadAt(magic[:], 0); string(magic[:]) != "PK" { // a shorter file is no zip
		c, err := readLines(whole)
		c.Bare = true
		return c, err
	}
	z, err := zip.NewReader(file, file.Size())
	if err != nil {
		return Contents{}, fmt.Errorf("this is not a whole archive: %w", err)
	}
	for _, f := range z.File {
		if f.Name != nameEntries {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return Contents{}, fmt.Errorf("open %s: %w", nameEntries, err)
		}
		defer r.Close()
		c, err := readLines(r)
		c.Photos = photosIn(z)
		return c, err
	}
	return Contents{}, fmt.Errorf("there is no %s in this archive", nameEntries)
}

// byteOrderMark is what some editors put before a text.
var byteOrderMark = []byte("\ufeff")

func readLines(r io.Reader) (Contents, error) {
	limited := &io.LimitedReader{R: r, N: MaxEntries + 1}
	in := bufio.NewScanner(limited)
	in.Buffer(make([]byte, 0, 64<<10), entry.MaxLine+2)
	var c Contents
	for n := 1; in.Scan(); n++ {
		line := bytes.TrimPrefix(in.Bytes(), byteOrderMark)
		if len(line) == 0 {
			continue
		}
		e, err := entry.Decode(line)
		if err != nil {
			c.Findings = append(c.Findings, Finding{Line: n, Says: err.Error()})
			continue
		}
		c.Entries = append(c.Entries, e)
	}
	switch {
	case errors.Is(in.Err(), bufio.ErrTooLong):
		return Contents{}, errors.New("a line is longer than an entry can be: this is not a Plumbline file")
	case in.Err() != nil:
		return Contents{}, fmt.Errorf("read entries: %w", in.Err())
	case limited.N == 0:
		return Contents{}, fmt.Errorf("the entries unpack to more than %d MB", MaxEntries>>20)
	case len(c.Entries) == 0:
		return Contents{}, errors.New("there are no entries in this file: it is not a Plumbline book")
	}
	return c, nil
}

// Verify puts the entries of a file into a log and adds what is wrong with
// their chains to the findings: broken ones, gaps, and lines of another book.
// The list is empty, never nil, when all is well.
func Verify(c Contents) (*entry.Log, []Finding) {
	var log entry.Log
	findings := append([]Finding{}, c.Findings...)
	said := map[entry.ID]bool{}
	for i, e := range c.Entries {
		if e.Book != c.Entries[0].Book {
			findings = append(findings, Finding{Line: i + 1, Says: fmt.Sprintf("entry %s belongs to another book than the first line", e.ID)})
			said[e.ID] = true
			continue
		}
		if _, err := log.Add(e); err != nil {
			findings = append(findings, Finding{Line: i + 1, Says: err.Error()})
			said[e.ID] = true
		}
	}
	have := log.Vector()
	for i, e := range c.Entries {
		if next := have[e.Device] + 1; e.Seq >= next && !said[e.ID] {
			findings = append(findings, Finding{Line: i + 1, Says: missing(e, next)})
		}
	}
	return &log, findings
}

// missing says why an entry does not stand in a log that wants number next of
// its device.
func missing(e entry.Entry, next int64) string {
	if e.Seq == next {
		return fmt.Sprintf("entry %s, number %d of its device, does not follow the one before it, or claims a time that nobody can have counted to", e.ID, e.Seq)
	}
	return fmt.Sprintf("entry %s is number %d of its device, but number %d is missing or broken", e.ID, e.Seq, next)
}
