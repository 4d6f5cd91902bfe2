package entry

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"time"
	"unicode/utf8"
)

// The names of things in a log. They are UUIDs, kept as their lower-case text.
type (
	ID       string // an entry
	BookID   string // a book
	DeviceID string // a phone or a laptop
	PersonID string // whoever turns things or gives advice; lives in the book
)

// Version is the form of line that this package writes and reads.
const Version = 1

// MaxLine is the greatest length of a line in bytes. Words have room for some
// pages; photos travel beside the log, not in it.
const MaxLine = 64 << 10

// Entry is one line of the log, decoded. Body is the JSON object as written.
type Entry struct {
	ID     ID
	Book   BookID
	Device DeviceID
	Seq    int64
	Prev   string
	At     Clock
	Wall   time.Time
	By     PersonID
	Kind   string
	Body   json.RawMessage

	line []byte
}

// wire is the order and spelling of a line's members. Adding, removing or
// moving one changes every hash: it needs a new Version.
type wire struct {
	V      int             `json:"v"`
	ID     ID              `json:"id"`
	Book   BookID          `json:"book"`
	Device DeviceID        `json:"device"`
	Seq    int64           `json:"seq"`
	Prev   string          `json:"prev"`
	At     string          `json:"at"`
	Wall   string          `json:"wall"`
	By     PersonID        `json:"by"`
	Kind   string          `json:"kind"`
	Body   json.RawMessage `json:"body"`
}

// Line returns the bytes as the device wrote them, without a line feed. The
// caller must not change them.
func (e Entry) Line() []byte { return e.line }

// Hash returns the SHA-256 of the line in lower-case hex: what the device's
// next entry names as prev.
func (e Entry) Hash() string {
	sum := sha256.Sum256(e.line)
	return hex.EncodeToString(sum[:])
}

// seal encodes the entry into its line. Only Pen.Write calls it: an entry is
// encoded once in its life.
func (e *Entry) seal() error {
	var body bytes.Buffer
	if err := json.Compact(&body, e.Body); err != nil {
		return fmt.Errorf("body of %q: %w", e.Kind, err)
	}
	e.Body = body.Bytes()
	var line bytes.Buffer
	enc := json.NewEncoder(&line)
	enc.SetEscapeHTML(false)
	err := enc.Encode(wire{
		V: Version, ID: e.ID, Book: e.Book, Device: e.Device, Seq: e.Seq, Prev: e.Prev,
		At: e.At.String(), Wall: e.Wall.Format(wallForm), By: e.By, Kind: e.Kind, Body: e.Body,
	})
	if err != nil {
		return fmt.Errorf("encode %q: %w", e.Kind, err)
	}
	e.line = bytes.TrimSuffix(line.Bytes(), []byte("\n"))
	return e.check()
}

// Decode reads one line. It takes only lines that this package could have
// written, byte for byte, so that one entry has one spelling and one hash.
// The line is copied.
func Decode(line []byte) (Entry, error) { return DecodeString(string(line)) }

// DecodeString is Decode for a line that is a string. The entry keeps parts of
// it, so that a text of many lines is best cut up and not copied.
func DecodeString(line string) (Entry, error) {
	if len(line) > MaxLine {
		return Entry{}, fmt.Errorf("line of %d bytes; at most %d fit", len(line), MaxLine)
	}
	if e, ok := decodePlain(line); ok {
		return e, nil
	}
	return decodeAny([]byte(line))
}

// decodeAny reads a line as JSON and holds it to its canonical form. It is
// slow, and says what is wrong.
func decodeAny(line []byte) (Entry, error) {
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	var w wire
	if err := dec.Decode(&w); err != nil {
		return Entry{}, fmt.Errorf("read line: %w", err)
	}
	if w.V != Version {
		return Entry{}, fmt.Errorf("line of form %d; this version reads form %d", w.V, Version)
	}
	at, err := ParseClock(w.At)
	if err != nil {
		return Entry{}, err
	}
	wall, err := parseWall(w.Wall)
	if err != nil {
		return Entry{}, err
	}
	e := Entry{
		ID: w.ID, Book: w.Book, Device: w.Device, Seq: w.Seq, Prev: w.Prev,
		At: at, Wall: wall, By: w.By, Kind: w.Kind, Body: w.Body,
	}
	if err := e.seal(); err != nil {
		return Entry{}, err
	}
	if !bytes.Equal(e.line, line) {
		return Entry{}, fmt.Errorf("line of entry %s is not in canonical form", e.ID)
	}
	return e, nil
}

// check holds an envelope to its documented form. Bodies are the book's affair.
func (e *Entry) check() error {
	switch {
	case !isUUID(string(e.ID)):
		return fmt.Errorf("entry id %q is not a UUID", e.ID)
	case !isUUID(string(e.Book)):
		return fmt.Errorf("book id %q is not a UUID", e.Book)
	case !isUUID(string(e.Device)):
		return fmt.Errorf("device id %q is not a UUID", e.Device)
	case e.Seq < 1:
		return fmt.Errorf("entry %s has seq %d; counting starts at 1", e.ID, e.Seq)
	case (e.Seq == 1) != (e.Prev == "") || e.Prev != "" && !isHash(e.Prev):
		return fmt.Errorf("entry %s: prev must be empty for seq 1 and a SHA-256 after it", e.ID)
	case e.At > lastCount:
		return fmt.Errorf("entry %s claims a time after the year 2199", e.ID)
	case !isKind(e.Kind):
		return fmt.Errorf("entry %s: kind %q is not a word of a-z and '-'", e.ID, e.Kind)
	case len(e.By) > 64:
		return fmt.Errorf("entry %s: person id longer than 64 bytes", e.ID)
	case len(e.Body) == 0 || e.Body[0] != '{':
		return fmt.Errorf("entry %s: body is not a JSON object", e.ID)
	case !utf8.Valid(e.Body) || !utf8.ValidString(string(e.By)):
		return fmt.Errorf("entry %s: not valid UTF-8", e.ID)
	case depth(e.Body) > maxDepth:
		return fmt.Errorf("entry %s: body is nested more than %d deep", e.ID, maxDepth)
	case len(e.line) > MaxLine:
		return fmt.Errorf("entry of %d bytes; at most %d fit", len(e.line), MaxLine)
	}
	return nil
}

// maxDepth is how deep a body may be nested: far deeper than any kind is, and
// far shallower than JSON readers go.
const maxDepth = 32

// depth returns how deep a JSON text is nested.
func depth(b []byte) int {
	deepest, now, inString := 0, 0, false
	for i := 0; i < len(b); i++ {
		switch c := b[i]; {
		case inString && c == '\\':
			i++
		case c == '"':
			inString = !inString
		case inString:
		case c == '{' || c == '[':
			now++
			deepest = max(deepest, now)
		case c == '}' || c == ']':
			now--
		}
	}
	return deepest
}

func isUUID(s string) bool {
	if len(s) != 36 {
		return false
	}
	for i, c := range []byte(s) {
		if i == 8 || i == 13 || i == 18 || i == 23 {
			if c != '-' {
				return false
			}
			continue
		}
		if !isHex(c) {
			return false
		}
	}
	return true
}

func isHash(s string) bool {
	if len(s) != 2*sha256.Size {
		return false
	}
	for _, c := range []byte(s) {
		if !isHex(c) {
			return false
		}
	}
	return true
}

func isHex(c byte) bool { return c >= '0' && c <= '9' || c >= 'a' && c <= 'f' }

func isKind(s string) bool {
	for _, c := range []byte(s) {
		if c != '-' && (c < 'a' || c > 'z') {
			return false
		}
	}
	return s != "" && len(s) <= 40
}

// Compare orders entries as the fold takes them: by clock, then device, then
// seq. It is total over the entries of one book.
func Compare(a, b Entry) int {
	return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Device, b.Device), cmp.Compare(a.Seq, b.Seq))
}

// InOrder returns the entries in fold order, each once. Two that claim the
// same place of the same device (a forged or broken copy) are both kept, in
// the order of their lines, so that any two replicas agree.
func InOrder(entries []Entry) []Entry {
	out := slices.Clone(entries)
	slices.SortFunc(out, func(a, b Entry) int {
		return cmp.Or(Compare(a, b), bytes.Compare(a.line, b.line))
	})
	return slices.CompactFunc(out, func(a, b Entry) bool { return bytes.Equal(a.line, b.line) })
}
