// Package desk is where devices hand in and fetch the entries of their books.
// It says who may, and that a chain is a chain; it does not fold, because the
// relay must carry kinds that it does not know.
package desk

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"

	"plumbline/internal/entry"
)

// Store is what the desk needs of a database. Tokens and codes come hashed.
type Store interface {
	CreateBook(ctx context.Context, book entry.BookID, device entry.DeviceID, token []byte, now time.Time) (bool, error)
	BookOf(ctx context.Context, token []byte) (entry.BookID, entry.DeviceID, bool, error)
	Vector(ctx context.Context, book entry.BookID) (entry.Vector, error)
	Each(ctx context.Context, book entry.BookID, have entry.Vector, do func(line []byte) error) error
	Append(ctx context.Context, book entry.BookID, most int64, do func(
		line func(entry.DeviceID, int64) ([]byte, error),
		put func(entry.DeviceID, int64, []byte) error,
	) error) (bool, error)
	Invite(ctx context.Context, book entry.BookID, code []byte, now, expires time.Time) error
	Join(ctx context.Context, code []byte, device entry.DeviceID, token []byte, now time.Time) (entry.BookID, bool, error)
	Ping(ctx context.Context) error
	Shares
	Photos
}

// Desk serves books out of a store.
type Desk struct {
	store Store
	now   func() time.Time

	decoding sync.Mutex // one photo at a time: each takes some 50 MB
}

// New returns a desk over a store. The clock is for expiry and records only.
func New(s Store, now func() time.Time) *Desk { return &Desk{store: s, now: now} }

// ErrDenied says that a token does not open a book. It does not say whether
// there is such a book.
var ErrDenied = errors.New("this key does not open this book")

// ErrBookTaken says that a book, or a key, is in use by another device.
var ErrBookTaken = errors.New("this book is here already, kept by another phone: join it with a code from that phone")

// ErrWeakKey says that a key is not what a device must draw.
var ErrWeakKey = errors.New("a key is 32 random bytes in unpadded base64url")

// ErrNoInvitation says that a code does not, or no longer, invite.
var ErrNoInvitation = errors.New("this code is not valid: it was used, or it is older than ten minutes")

// ErrBookFull says that a batch would make a book larger than it may be.
var ErrBookFull = errors.New("this book has 64 MiB of entries here, and no room for more; nothing is lost on the phone: save a copy there")

// MostBytes is the most that a book's lines can add up to. The example season
// of six days has 82 kB.
const MostBytes = 64 << 20

// RefusedError says why a pushed batch was not taken. Nothing of it was stored.
type RefusedError struct {
	Line int // counted from 1
	Why  error
}

func (r *RefusedError) Error() string { return fmt.Sprintf("line %d: %v", r.Line, r.Why) }
func (r *RefusedError) Unwrap() error { return r.Why }

// InvitationLife is how long a code can be used.
const InvitationLife = 10 * time.Minute

// A device draws its own key, 256 random bits, and keeps it before it tells
// the desk, which keeps only the hash. So whoever did not hear the answer, as
// happens at the edge of a network, asks again and is let in: what was done
// once is not done twice, and nobody is shut out of a book of their own.

// Create opens a new book with its first device. Asked again by the same
// device with the same key it changes nothing and says that all is well.
func (d *Desk) Create(ctx context.Context, book entry.BookID, device entry.DeviceID, key string) error {
	hash, err := hashedKey(key)
	if err != nil {
		return err
	}
	switch gone, err := d.store.Gone(ctx, book); {
	case err != nil:
		return err
	case gone:
		return ErrGone
	}
	free, err := d.store.CreateBook(ctx, book, device, hash, d.now())
	if err != nil || free {
		return err
	}
	of, by, _, err := d.store.BookOf(ctx, hash)
	if err != nil || of == book && by == device {
		return err
	}
	return ErrBookTaken
}

// keyBytes is the length of a key: 256 bits.
const keyBytes = 32

// hashedKey checks that a key is as long as it must be, and hashes it.
func hashedKey(key string) ([]byte, error) {
	raw, err := base64.RawURLEncoding.DecodeString(key)
	if err != nil || len(raw) != keyBytes {
		return nil, ErrWeakKey
	}
	return hashed(key), nil
}

func hashed(secret string) []byte {
	sum := sha256.Sum256([]byte(secret))
	return sum[:]
}

// admit returns nil when the token opens the book.
func (d *Desk) admit(ctx context.Context, token string, book entry.BookID) error {
	b, _, ok, err := d.store.BookOf(ctx, hashed(token))
	if err != nil {
		return err
	}
	if !ok || b != book {
		return ErrDenied
	}
	return nil
}

// Push stores a batch of lines, all or nothing, and returns how far the store
// has each device then. What it has already is passed over, so a batch can be
// sent again. When it returns nil the batch is on disk.
func (d *Desk) Push(ctx context.Context, token string, book entry.BookID, lines [][]byte) (entry.Vector, error) {
	if err := d.admit(ctx, token, book); err != nil {
		return nil, err
	}
	kept, err := d.store.Append(ctx, book, MostBytes, func(at func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
		in := intake{book, at, put, map[entry.DeviceID]entry.Entry{}}
		for i, line := range lines {
			if err := in.add(line); err != nil {
				return &RefusedError{i + 1, err}
			}
		}
		return nil
	})
	var ours *storeError
	if errors.As(err, &ours) {
		return nil, ours
	}
	switch {
	case err != nil:
		return nil, err
	case !kept:
		return nil, ErrBookFull
	}
	return d.store.Vector(ctx, book)
}

// intake adds a batch to a book's chains. Heads holds each device's last
// entry seen in this batch.
type intake struct {
	book  entry.BookID
	at    func(entry.DeviceID, int64) ([]byte, error)
	put   func(entry.DeviceID, int64, []byte) error
	heads map[entry.DeviceID]entry.Entry
}

func (in intake) add(line []byte) error {
	e, err := entry.Decode(line)
	if err != nil {
		return err
	}
	if e.Book != in.book {
		return fmt.Errorf("entry %s belongs to another book", e.ID)
	}
	old, err := in.at(e.Device, e.Seq)
	if err != nil {
		return &storeError{err}
	}
	if old != nil && !bytes.Equal(old, line) {
		return fmt.Errorf("entry %s: the book already holds another entry as number %d of this device", e.ID, e.Seq)
	}
	if old != nil {
		in.heads[e.Device] = e
		return nil
	}
	prev, err := in.before(e)
	if err != nil {
		return err
	}
	if prev != e.Prev {
		return fmt.Errorf("entry %s does not follow number %d of this device: the chain is broken", e.ID, e.Seq-1)
	}
	if err := in.put(e.Device, e.Seq, line); err != nil {
		return &storeError{err}
	}
	in.heads[e.Device] = e
	return nil
}

// before returns the hash of the entry that e must follow.
func (in intake) before(e entry.Entry) (string, error) {
	if e.Seq == 1 {
		return "", nil
	}
	if head := in.heads[e.Device]; head.Seq == e.Seq-1 {
		return head.Hash(), nil
	}
	line, err := in.at(e.Device, e.Seq-1)
	if err != nil {
		return "", &storeError{err}
	}
	if line == nil {
		return "", fmt.Errorf("entry %s is number %d of its device, but number %d is not here yet", e.ID, e.Seq, e.Seq-1)
	}
	head, err := entry.Decode(line)
	if err != nil {
		return "", &storeError{fmt.Errorf("stored entry before %s: %w", e.ID, err)}
	}
	return head.Hash(), nil
}

// storeError tells what went wrong here from what is wrong with a batch.
type storeError struct{ err error }

func (e *storeError) Error() string { return e.err.Error() }
func (e *storeError) Unwrap() error { return e.err }

// Vector returns how far the store has each device of a book.
func (d *Desk) Vector(ctx context.Context, token string, book entry.BookID) (entry.Vector, error) {
	if err := d.admit(ctx, token, book); err != nil {
		return nil, err
	}
	return d.store.Vector(ctx, book)
}

// Pull calls do with every line that a device with vector have lacks.
func (d *Desk) Pull(ctx context.Context, token string, book entry.BookID, have entry.Vector, do func(line []byte) error) error {
	if err := d.admit(ctx, token, book); err != nil {
		return err
	}
	return d.store.Each(ctx, book, have, do)
}

// codeLetters are digits and capitals that cannot be taken for each other when
// read aloud or off a screen in the sun.
const codeLetters = "23456789ABCDEFGHJKMNPQRSTVWXYZ"

// codeLength gives 30^10, about 49 bits, for a code that lives ten minutes
// behind a rate limit.
const codeLength = 10

// Invite returns a code with which one more device can join the book once,
// until it expires.
func (d *Desk) Invite(ctx context.Context, token string, book entry.BookID) (code string, expires time.Time, err error) {
	if err := d.admit(ctx, token, book); err != nil {
		return "", time.Time{}, err
	}
	code = newCode()
	expires = d.now().Add(InvitationLife)
	if err := d.store.Invite(ctx, book, hashed(code), d.now(), expires); err != nil {
		return "", time.Time{}, err
	}
	return code, expires, nil
}

func newCode() string {
	var b strings.Builder
	for b.Len() < codeLength {
		var one [1]byte
		_, _ = rand.Read(one[:])
		if n := int(one[0]); n < 256-256%len(codeLetters) { // no letter is likelier than another
			b.WriteByte(codeLetters[n%len(codeLetters)])
		}
	}
	return b.String()
}

// Join lets a device with its key into the book that a code invites to, and
// returns which that is. Spaces, hyphens and small letters in the code do not
// matter. A device that is in already, because it did not hear the answer, is
// told again.
func (d *Desk) Join(ctx context.Context, code string, device entry.DeviceID, key string) (entry.BookID, error) {
	hash, err := hashedKey(key)
	if err != nil {
		return "", err
	}
	if book, by, in, err := d.store.BookOf(ctx, hash); err != nil || in && by == device {
		return book, err
	}
	code = strings.NewReplacer(" ", "", "-", "").Replace(strings.ToUpper(code))
	book, ok, err := d.store.Join(ctx, hashed(code), device, hash, d.now())
	if err != nil {
		return "", err
	}
	if !ok {
		return "", ErrNoInvitation
	}
	return book, nil
}

// Ready says whether the desk can serve.
func (d *Desk) Ready(ctx context.Context) error { return d.store.Ping(ctx) }
