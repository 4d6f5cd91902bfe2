package entry

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
)

// Vector says how far a replica has each device's chain without a gap: the
// highest unbroken seq per device. It is all that two replicas need to tell
// each other to know what to send.
type Vector map[DeviceID]int64

// Log is a replica of one book's entries: per device, its chain from seq 1.
// The zero value is an empty log. A Log is not safe for concurrent use.
type Log struct {
	chains map[DeviceID][]Entry
	early  map[DeviceID]map[int64]Entry // came before the ones they follow
}

// Broken says why an entry cannot stand in a log.
type Broken struct {
	Entry  ID
	Device DeviceID
	Seq    int64
	Says   string
}

func (b *Broken) Error() string {
	return fmt.Sprintf("entry %s (device %s, seq %d): %s", b.Entry, b.Device, b.Seq, b.Says)
}

// Add puts an entry into the log: the union of what was there and what came.
// It reports whether the entry was new. An entry that came before the ones it
// follows waits, uncounted in Vector, until they come. A *Broken error means
// that the entry contradicts the chain: it does not follow its predecessor,
// or the place is taken by another; the log is left as it was.
func (l *Log) Add(e Entry) (bool, error) {
	chain := l.chains[e.Device]
	next := int64(len(chain)) + 1
	if e.Seq < next {
		if bytes.Equal(chain[e.Seq-1].line, e.line) {
			return false, nil
		}
		return false, broken(e, "the book already holds another entry in this place")
	}
	if e.Seq > next {
		return l.wait(e)
	}
	if next > 1 && e.Prev != chain[next-2].Hash() {
		return false, broken(e, "it does not follow the entry before it: the chain is broken")
	}
	if l.chains == nil {
		l.chains = map[DeviceID][]Entry{}
	}
	l.chains[e.Device] = append(chain, e)
	l.wake(e.Device)
	return true, nil
}

func (l *Log) wait(e Entry) (bool, error) {
	if old, ok := l.early[e.Device][e.Seq]; ok {
		if bytes.Equal(old.line, e.line) {
			return false, nil
		}
		return false, broken(e, "another entry in this place is waiting already")
	}
	if l.early == nil {
		l.early = map[DeviceID]map[int64]Entry{}
	}
	if l.early[e.Device] == nil {
		l.early[e.Device] = map[int64]Entry{}
	}
	l.early[e.Device][e.Seq] = e
	return true, nil
}

// wake moves the entries that waited for their turn into the chain. One that
// turns out not to follow is dropped: its device will be asked for it again.
func (l *Log) wake(d DeviceID) {
	next := int64(len(l.chains[d])) + 1
	e, ok := l.early[d][next]
	if !ok {
		return
	}
	delete(l.early[d], next)
	_, _ = l.Add(e)
}

func broken(e Entry, says string) *Broken {
	return &Broken{Entry: e.ID, Device: e.Device, Seq: e.Seq, Says: says}
}

// Vector returns how far the log has each device without a gap.
func (l *Log) Vector() Vector {
	v := Vector{}
	for d, chain := range l.chains {
		v[d] = int64(len(chain))
	}
	return v
}

// Lacking returns the entries that a replica with vector have does not hold,
// device by device, each chain in order.
func (l *Log) Lacking(have Vector) []Entry {
	var out []Entry
	for _, d := range slices.Sorted(maps.Keys(l.chains)) {
		chain := l.chains[d]
		if n := max(0, have[d]); n < int64(len(chain)) {
			out = append(out, chain[n:]...)
		}
	}
	return out
}

// Entries returns what the log holds without gaps, in fold order.
func (l *Log) Entries() []Entry { return InOrder(l.Lacking(nil)) }

// Len is how many entries the log holds without gaps.
func (l *Log) Len() int {
	n := 0
	for _, chain := range l.chains {
		n += len(chain)
	}
	return n
}
