package entry

import (
	"encoding/json"
	"strconv"
	"strings"
)

// decodePlain reads a canonical line whose strings need no escapes, which is
// nearly every one: a phone reads thousands when it starts. It reports false
// for any other line, good or bad; decodeAny decides about those. What it
// takes decodeAny takes too, with the same result.
func decodePlain(line string) (Entry, bool) {
	r := plainReader{rest: line, ok: true}
	r.want(`{"v":1,"id":"`)
	e := Entry{ID: ID(r.until(`","book":"`))}
	e.Book = BookID(r.until(`","device":"`))
	e.Device = DeviceID(r.until(`","seq":`))
	seq := r.until(`,"prev":"`)
	e.Prev = r.until(`","at":"`)
	at := r.until(`","wall":"`)
	wall := r.until(`","by":"`)
	e.By = PersonID(r.until(`","kind":"`))
	e.Kind = r.until(`","body":`)
	if !r.ok || len(r.rest) < 3 || r.rest[len(r.rest)-1] != '}' {
		return Entry{}, false
	}
	if !e.readNumbers(seq, at, wall) {
		return Entry{}, false
	}
	e.line = []byte(line)
	end := len(line) - 1
	e.Body = json.RawMessage(e.line[len(line)-len(r.rest) : end : end]) // appending must not reach the line
	if !isCompact(e.Body) || e.check() != nil {
		return Entry{}, false
	}
	return e, true
}

// readNumbers reads seq, clock and wall time, each in its one spelling only.
func (e *Entry) readNumbers(seq, at, wall string) bool {
	var err error
	if e.Seq, err = strconv.ParseInt(seq, 10, 64); err != nil || strconv.FormatInt(e.Seq, 10) != seq {
		return false
	}
	if e.At, err = ParseClock(at); err != nil {
		return false
	}
	e.Wall, err = parseWall(wall)
	return err == nil
}

// plainReader cuts a line at its fixed parts. Once something does not fit, ok
// stays false.
type plainReader struct {
	rest string
	ok   bool
}

func (r *plainReader) want(s string) {
	rest, found := strings.CutPrefix(r.rest, s)
	r.rest, r.ok = rest, r.ok && found
}

// until returns the text up to the next fixed part, which begins with a quote
// or a comma. Only printable ASCII without quotes and backslashes is plain.
func (r *plainReader) until(s string) string {
	for i := 0; i < len(r.rest); i++ {
		c := r.rest[i]
		if c == s[0] {
			text := r.rest[:i]
			r.rest = r.rest[i:]
			r.want(s)
			return text
		}
		if c < ' ' || c > '~' || c == '"' || c == '\\' {
			break
		}
	}
	r.ok = false
	return ""
}
