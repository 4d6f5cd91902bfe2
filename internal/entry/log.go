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
// The zero value is an empty log, of the book that its first entry is of. A
// Log is not safe for concurrent use.
//
// An entry stands in the log when all before it on its device stand and its
// clock is one that could be counted to (see Clock). Until then it waits,
// seen by nobody. What stands depends on which entries came, not on the order
// in which they came.
type Log struct {
	stand  []Entry            // in the order in which they came to stand
	chains map[DeviceID][]int // places in stand, by seq
	early  map[place][]Entry  // waiting; several may claim one place until prev decides
	due    map[DeviceID]bool  // devices for whose next place entries wait
}

// place is where in a log an entry wants to stand.
type place struct {
	device DeviceID
	seq    int64
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

func broken(e Entry, says string) *Broken {
	return &Broken{Entry: e.ID, Device: e.Device, Seq: e.Seq, Says: says}
}

// Add puts an entry into the log: the union of what was there and what came.
// It reports whether the entry was new; a new one stands now, or waits. A
// *Broken error means that the entry is of another book, or contradicts the
// chain: it does not follow its predecessor, or the place is taken by another.
// The log is then left as it was.
func (l *Log) Add(e Entry) (bool, error) {
	if len(e.line) == 0 {
		return false, broken(e, "it was neither written nor read as a line")
	}
	if len(l.stand) > 0 && e.Book != l.stand[0].Book {
		return false, broken(e, "it belongs to another book")
	}
	next := l.next(e.Device)
	switch {
	case e.Seq < next && bytes.Equal(l.at(e.Device, e.Seq).line, e.line):
		return false, nil
	case e.Seq < next:
		return false, broken(e, "the book already holds another entry in this place")
	case e.Seq == next && !l.follows(e):
		return false, broken(e, "it does not follow the entry before it: the chain is broken")
	}
	if e.Seq > next || !e.At.countedAmong(len(l.stand)) {
		return l.wait(e), nil
	}
	l.take(e)
	for l.step() {
	}
	return true, nil
}

// next is the seq of a device's entry that is to stand next.
func (l *Log) next(d DeviceID) int64 { return int64(len(l.chains[d])) + 1 }

// at returns the entry that stands as number seq of a device.
func (l *Log) at(d DeviceID, seq int64) Entry { return l.stand[l.chains[d][seq-1]] }

// follows reports whether an entry names the one that it is to stand behind.
func (l *Log) follows(e Entry) bool {
	return e.Seq == 1 || e.Prev == l.at(e.Device, e.Seq-1).Hash()
}

// take lets an entry stand.
func (l *Log) take(e Entry) {
	if l.chains == nil {
		l.chains = map[DeviceID][]int{}
	}
	delete(l.early, place{e.Device, e.Seq})
	l.chains[e.Device] = append(l.chains[e.Device], len(l.stand))
	l.stand = append(l.stand, e)
	l.mind(e.Device)
}

// wait keeps an entry until its turn comes; false when it waits already.
func (l *Log) wait(e Entry) bool {
	p := place{e.Device, e.Seq}
	if slices.ContainsFunc(l.early[p], func(old Entry) bool { return bytes.Equal(old.line, e.line) }) {
		return false
	}
	if l.early == nil {
		l.early, l.due = map[place][]Entry{}, map[DeviceID]bool{}
	}
	l.early[p] = append(l.early[p], e)
	l.mind(e.Device)
	return true
}

// mind notes whether entries wait for a device's next place.
func (l *Log) mind(d DeviceID) {
	if len(l.early[place{d, l.next(d)}]) > 0 {
		l.due[d] = true
	} else {
		delete(l.due, d)
	}
}

// step lets one of the waiting entries stand whose turn has come, and reports
// whether there was one.
func (l *Log) step() bool {
	for d := range l.due {
		if e, ok := l.choose(place{d, l.next(d)}); ok {
			l.take(e)
			return true
		}
	}
	return false
}

// choose returns the entry that waits for a place and may stand there now.
// Others that claim the place, and turn out not to follow, are dropped: their
// device will be asked for it again.
func (l *Log) choose(p place) (Entry, bool) {
	l.early[p] = slices.DeleteFunc(l.early[p], func(e Entry) bool { return e.Book != l.stand[0].Book || !l.follows(e) })
	for _, e := range l.early[p] {
		if e.At.countedAmong(len(l.stand)) {
			return e, true
		}
	}
	if len(l.early[p]) == 0 {
		delete(l.early, p)
	}
	l.mind(p.device)
	return Entry{}, false
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
		for _, at := range chain[min(max(0, have[d]), int64(len(chain))):] {
			out = append(out, l.stand[at])
		}
	}
	return out
}

// Entries returns what stands, in fold order.
func (l *Log) Entries() []Entry { return InOrder(l.stand) }

// Since returns what came to stand after the first n, in the order in which it
// did, each device's in order. The caller must not change it.
func (l *Log) Since(n int) []Entry { return l.stand[n:] }

// Len is how many entries stand.
func (l *Log) Len() int { return len(l.stand) }
