package desk

import (
	"context"
	"errors"
	"time"

	"plumbline/internal/entry"
	"plumbline/internal/share"
)

// Shares is what the desk needs of a database for links and devices.
type Shares interface {
	AddLink(ctx context.Context, l share.Link, secret []byte) (bool, error)
	Links(ctx context.Context, book entry.BookID) ([]share.Link, error)
	LinkOf(ctx context.Context, secret []byte, now time.Time, count bool) (share.Link, bool, error)
	DropLink(ctx context.Context, book entry.BookID, id string) (bool, error)
	AddProposal(ctx context.Context, l share.Link, body []byte, most int) (bool, error)
	Proposals(ctx context.Context, book entry.BookID, link string, after int64) ([]share.Proposed, error)
	Devices(ctx context.Context, book entry.BookID) ([]share.Device, error)
	AddDevice(ctx context.Context, book entry.BookID, device entry.DeviceID, token []byte, now time.Time) error
	DropDevice(ctx context.Context, book entry.BookID, device entry.DeviceID) (bool, error)
	DropBook(ctx context.Context, book entry.BookID, now time.Time) error
	Gone(ctx context.Context, book entry.BookID) (bool, error)
}

var (
	// ErrNoLink says that a secret opens nothing: it never did, it has
	// expired, or it was revoked. Which, it does not say.
	ErrNoLink = errors.New("this link does not open anything: it has expired, or its rider has taken it back")
	// ErrLinkTaken says that a link's id or secret is in use.
	ErrLinkTaken = errors.New("there is such a link already: make another")
	// ErrLinkLimits says that a link would live too long, or be one too many.
	ErrLinkLimits = errors.New("a link lives 400 days at most, and a book has 50 links at most: take an old one back first")
	// ErrOnlyLook says that a link does not let its holder propose.
	ErrOnlyLook = errors.New("this link is for looking only")
	// ErrEnough says that a link has brought as many proposals as it may.
	ErrEnough = errors.New("the rider has enough proposals from this link for now")
	// ErrGone says that a book was deleted: no phone brings it back.
	ErrGone = errors.New("its rider has deleted this book from this server for good")
	// ErrNoDevice says that a book has no such device.
	ErrNoDevice = errors.New("this book has no such phone")
)

// What sharing is limited to.
const (
	// LongestLink is the longest that a link can live.
	LongestLink = 400 * 24 * time.Hour
	// MostLinks is how many links a book can have at once.
	MostLinks = 50
	// MostProposals is how many proposals can come by one link.
	MostProposals = 20
)

// Recovery is the device that a recovery phrase stands for: it holds a key and
// writes nothing.
const Recovery entry.DeviceID = "recovery"

// MakeLink keeps a new link. The phone draws its secret, as it draws its key.
func (d *Desk) MakeLink(ctx context.Context, token string, l share.Link, secret string) error {
	if err := d.admit(ctx, token, l.Book); err != nil {
		return err
	}
	hash, err := hashedKey(secret)
	if err != nil {
		return err
	}
	links, err := d.store.Links(ctx, l.Book)
	if err != nil {
		return err
	}
	l.Made = d.now()
	if len(links) >= MostLinks || l.Expires.After(l.Made.Add(LongestLink)) || !l.Expires.After(l.Made) {
		return ErrLinkLimits
	}
	free, err := d.store.AddLink(ctx, l, hash)
	if err == nil && !free {
		return ErrLinkTaken
	}
	return err
}

// Links returns a book's links, the newest first.
func (d *Desk) Links(ctx context.Context, token string, book entry.BookID) ([]share.Link, error) {
	if err := d.admit(ctx, token, book); err != nil {
		return nil, err
	}
	return d.store.Links(ctx, book)
}

// RevokeLink ends a link at once.
func (d *Desk) RevokeLink(ctx context.Context, token string, book entry.BookID, id string) error {
	if err := d.admit(ctx, token, book); err != nil {
		return err
	}
	was, err := d.store.DropLink(ctx, book, id)
	if err == nil && !was {
		return ErrNoLink
	}
	return err
}

// OpenLink returns what a secret opens, with the book's entries. Count says
// that somebody looks, rather than sends a form.
func (d *Desk) OpenLink(ctx context.Context, secret string, count bool) (share.Link, []entry.Entry, error) {
	l, ok, err := d.store.LinkOf(ctx, hashed(secret), d.now(), count)
	if err != nil {
		return share.Link{}, nil, err
	}
	if !ok {
		return share.Link{}, nil, ErrNoLink
	}
	var entries []entry.Entry
	err = d.store.Each(ctx, l.Book, nil, func(line []byte) error {
		e, err := entry.Decode(line)
		if err == nil {
			entries = append(entries, e)
		}
		return err
	})
	return l, entries, err
}

// Propose keeps what somebody proposes by a link until a phone fetches it.
func (d *Desk) Propose(ctx context.Context, l share.Link, body []byte) error {
	if l.May != share.Propose {
		return ErrOnlyLook
	}
	kept, err := d.store.AddProposal(ctx, l, body, MostProposals)
	if err == nil && !kept {
		return ErrEnough
	}
	return err
}

// ProposedBy returns what was proposed by a link, the oldest first.
func (d *Desk) ProposedBy(ctx context.Context, l share.Link) ([]share.Proposed, error) {
	return d.store.Proposals(ctx, l.Book, l.ID, 0)
}

// Proposals returns what was proposed for a book, after a number.
func (d *Desk) Proposals(ctx context.Context, token string, book entry.BookID, after int64) ([]share.Proposed, error) {
	if err := d.admit(ctx, token, book); err != nil {
		return nil, err
	}
	return d.store.Proposals(ctx, book, "", after)
}

// Devices returns who may read and write a book.
func (d *Desk) Devices(ctx context.Context, token string, book entry.BookID) ([]share.Device, error) {
	if err := d.admit(ctx, token, book); err != nil {
		return nil, err
	}
	return d.store.Devices(ctx, book)
}

// RevokeDevice takes a device's key away. What it wrote stays in the book.
func (d *Desk) RevokeDevice(ctx context.Context, token string, book entry.BookID, device entry.DeviceID) error {
	if err := d.admit(ctx, token, book); err != nil {
		return err
	}
	was, err := d.store.DropDevice(ctx, book, device)
	if err == nil && !was {
		return ErrNoDevice
	}
	return err
}

// KeepRecovery keeps the key that a recovery phrase stands for, in the place
// of an older one.
func (d *Desk) KeepRecovery(ctx context.Context, token string, book entry.BookID, key string) error {
	if err := d.admit(ctx, token, book); err != nil {
		return err
	}
	hash, err := hashedKey(key)
	if err != nil {
		return err
	}
	_, _, taken, err := d.store.BookOf(ctx, hash)
	switch {
	case err != nil:
		return err
	case taken:
		return ErrBookTaken
	}
	return d.store.AddDevice(ctx, book, Recovery, hash, d.now())
}

// BookOf returns the book that a key opens.
func (d *Desk) BookOf(ctx context.Context, token string) (entry.BookID, error) {
	book, _, ok, err := d.store.BookOf(ctx, hashed(token))
	if err == nil && !ok {
		return "", ErrDenied
	}
	return book, err
}

// Delete deletes a book from the server for good, and returns how far it had
// each device: the receipt.
func (d *Desk) Delete(ctx context.Context, token string, book entry.BookID) (entry.Vector, time.Time, error) {
	if err := d.admit(ctx, token, book); err != nil {
		return nil, time.Time{}, err
	}
	had, err := d.store.Vector(ctx, book)
	if err != nil {
		return nil, time.Time{}, err
	}
	if err := d.store.DropBook(ctx, book, d.now()); err != nil {
		return nil, time.Time{}, err
	}
	return had, d.now().UTC(), nil
}
