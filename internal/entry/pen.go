package entry

import (
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"time"
)

// Pen writes one device's entries in one book: it holds where that device's
// chain and the book's clock stand. Its zero value with Book and Device set
// starts a new chain. A Pen is not safe for concurrent use.
type Pen struct {
	Book   BookID
	Device DeviceID
	seq    int64
	prev   string
	at     Clock
}

// See moves the pen past an entry that is known to be on disk: its clock
// always, its chain when the entry is this device's own and the next in line.
// Entries come in any order; call it with InOrder's result at start.
func (p *Pen) See(e Entry) {
	p.at = max(p.at, e.At)
	if e.Device == p.Device && e.Seq == p.seq+1 {
		p.seq, p.prev = e.Seq, e.Hash()
	}
}

// Chance is 16 bytes of randomness for one entry's id; the caller draws it.
type Chance [16]byte

// Write returns the device's next entry with the given body. It does not move
// the pen: call See once the line is safely stored, so that a failed write
// leaves no gap. Wall is the phone's clock with its offset.
func (p *Pen) Write(kind string, by PersonID, body json.RawMessage, wall time.Time, chance Chance) (Entry, error) {
	e := Entry{
		ID: NewID(wall, chance), Book: p.Book, Device: p.Device, Seq: p.seq + 1, Prev: p.prev,
		At: p.at.Next(wall.UnixMilli()), Wall: wall.Truncate(time.Millisecond), By: by, Kind: kind, Body: body,
	}
	if err := e.seal(); err != nil {
		return Entry{}, err
	}
	// What others would refuse must not be written: it would break the chain.
	return Decode(e.line)
}

// NewID returns a UUIDv7 (RFC 9562, section 5.7) for a moment: 48 bits of
// Unix milliseconds, version and variant, and the rest from chance.
func NewID(at time.Time, chance Chance) ID {
	var b [16]byte
	copy(b[:], chance[:])
	var ms [8]byte
	binary.BigEndian.PutUint64(ms[:], uint64(max(0, at.UnixMilli()))&MaxClockMillis)
	copy(b[:6], ms[2:])
	b[6] = b[6]&0x0f | 0x70
	b[8] = b[8]&0x3f | 0x80
	h := hex.EncodeToString(b[:])
	return ID(h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:])
}
