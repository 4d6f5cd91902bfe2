// Package share says what the desk and the store pass to each other about who
// may see a book: its devices, its shared links, and what was proposed by them.
// It decides nothing and keeps nothing.
package share

import (
	"time"

	"plumbline/internal/entry"
)

// What a link lets its holder do.
const (
	Look    = "look"
	Propose = "propose" // look, and propose changes
)

// Link lets whoever has its secret see one bike's setup sheet until it
// expires. Names, Notes and Photos say whether people's names, the rider's own
// notes and the bike's photos are on it. The secret is not part of it: it is
// kept hashed.
type Link struct {
	ID      string
	Book    entry.BookID
	May     string
	Bike    string
	Names   bool
	Notes   bool
	Photos  bool
	Made    time.Time
	Expires time.Time
	Opened  int // how often
}

// Proposed is what somebody proposed by a link. Number counts over all books,
// so that a phone can ask for those after the last that it has.
type Proposed struct {
	Number int64
	Link   string
	Body   []byte
}

// Device is one that may read and write a book.
type Device struct {
	ID    entry.DeviceID
	Since time.Time
}
