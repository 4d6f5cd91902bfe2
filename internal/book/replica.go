package book

import (
	"encoding/json"
	"fmt"
	"time"

	"plumbline/internal/entry"
)

// Replica is one device's copy of a book, open: the log, the pen and what the
// log folds to. It is not safe for concurrent use.
type Replica struct {
	Log    entry.Log
	pen    entry.Pen
	book   *Book
	folded int // how many of the log's entries are in book
}

// Open starts a replica for a device. A device that only reads may be "".
func Open(id entry.BookID, device entry.DeviceID) *Replica {
	return &Replica{pen: entry.Pen{Book: id, Device: device}}
}

// Device is the device that the replica writes for.
func (r *Replica) Device() entry.DeviceID { return r.pen.Device }

// Take adds lines to the replica and returns how many were new, and what was
// wrong with the ones it could not take. Those change nothing.
func (r *Replica) Take(lines []string) (added int, wrong []error) {
	had := r.Log.Len()
	for _, line := range lines {
		e, err := entry.DecodeString(line)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		if e.Book != r.pen.Book { // also when the log is still empty
			wrong = append(wrong, fmt.Errorf("entry %s belongs to another book", e.ID))
			continue
		}
		isNew, err := r.Log.Add(e)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		if isNew {
			added++
		}
	}
	// The pen follows only what stands: a clock that still waits may be forged.
	for _, e := range r.Log.Since(had) {
		r.pen.See(e)
	}
	return added, wrong
}

// Book returns what the log folds to. It is folded when asked for after
// something new came: only what is new, when that stands at the end, as what
// the rider writes does. The book is the replica's: callers must not change
// it, and ask again after Take.
func (r *Replica) Book() *Book {
	fresh := r.Log.Since(r.folded)
	r.folded = r.Log.Len()
	if r.book == nil || !r.book.extend(fresh) {
		r.book = Fold(r.Log.Since(0))
	}
	return r.book
}

// Draft is a body that is to be written.
type Draft struct {
	Kind string
	Body any
}

// Stamp encodes drafts as the device's next entries, in order, and returns
// their lines. The replica does not change: call Take with the lines once
// they are safely stored. Chance is 16 random bytes for each draft.
func (r *Replica) Stamp(drafts []Draft, by entry.PersonID, wall time.Time, chance []byte) ([]string, error) {
	const each = len(entry.Chance{})
	if len(chance) < each*len(drafts) {
		return nil, fmt.Errorf("%d drafts need %d random bytes, got %d", len(drafts), each*len(drafts), len(chance))
	}
	pen := r.pen
	lines := make([]string, 0, len(drafts))
	for i, d := range drafts {
		body, err := json.Marshal(d.Body)
		if err != nil {
			return nil, fmt.Errorf("encode %s: %w", d.Kind, err)
		}
		e, err := pen.Write(d.Kind, by, body, wall, entry.Chance(chance[i*each:(i+1)*each]))
		if err != nil {
			return nil, err
		}
		pen.See(e)
		lines = append(lines, string(e.Line()))
	}
	return lines, nil
}
