package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"plumbline/internal/entry"
	"plumbline/internal/share"
)

// AddLink keeps a link under its secret's hash. It reports false, and keeps
// nothing, when the book has a link of this id or anybody has this secret.
func (s *Store) AddLink(ctx context.Context, l share.Link, secret []byte) (bool, error) {
	done := int64(0)
	err := s.tx(ctx, func(tx *sql.Tx) error {
		r, err := tx.ExecContext(ctx,
			"INSERT INTO link (id, book, secret, may, bike, names, notes, photos, made, expires) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING",
			l.ID, l.Book, secret, l.May, l.Bike, l.Names, l.Notes, l.Photos, l.Made.Unix(), l.Expires.Unix())
		if err != nil {
			return fmt.Errorf("keep link: %w", err)
		}
		done, err = r.RowsAffected()
		return err
	})
	return done == 1 && err == nil, err
}

const linkColumns = "id, book, may, bike, names, notes, photos, made, expires, opened"

func scanLink(scan func(...any) error) (share.Link, error) {
	var l share.Link
	var made, expires int64
	err := scan(&l.ID, &l.Book, &l.May, &l.Bike, &l.Names, &l.Notes, &l.Photos, &made, &expires, &l.Opened)
	l.Made, l.Expires = time.Unix(made, 0).UTC(), time.Unix(expires, 0).UTC()
	return l, err
}

// Links returns a book's links, the newest first, expired ones too.
func (s *Store) Links(ctx context.Context, book entry.BookID) ([]share.Link, error) {
	rows, err := s.read.QueryContext(ctx, "SELECT "+linkColumns+" FROM link WHERE book = ? ORDER BY made DESC, id", book)
	if err != nil {
		return nil, fmt.Errorf("read links: %w", err)
	}
	defer rows.Close()
	links := []share.Link{}
	for rows.Next() {
		l, err := scanLink(rows.Scan)
		if err != nil {
			return nil, fmt.Errorf("read links: %w", err)
		}
		links = append(links, l)
	}
	return links, rows.Err()
}

// LinkOf returns the link that a secret's hash opens, and false when it opens
// none or has expired. Count adds one to how often it was opened.
func (s *Store) LinkOf(ctx context.Context, secret []byte, now time.Time, count bool) (share.Link, bool, error) {
	by := 0
	if count {
		by = 1
	}
	var l share.Link
	err := s.tx(ctx, func(tx *sql.Tx) error {
		var err error
		l, err = scanLink(tx.QueryRowContext(ctx,
			"UPDATE link SET opened = opened + ? WHERE secret = ? AND expires > ? RETURNING "+linkColumns, by, secret, now.Unix()).Scan)
		return err
	})
	if errors.Is(err, sql.ErrNoRows) {
		return share.Link{}, false, nil
	}
	if err != nil {
		return share.Link{}, false, fmt.Errorf("open link: %w", err)
	}
	return l, true, nil
}

// DropLink forgets a link with its proposals. It reports whether there was one.
func (s *Store) DropLink(ctx context.Context, book entry.BookID, id string) (bool, error) {
	return s.drop(ctx, "DELETE FROM link WHERE book = ? AND id = ?", book, id)
}

// AddProposal keeps a proposal that came by a link. It reports false, and
// keeps nothing, when the link has most of them already.
func (s *Store) AddProposal(ctx context.Context, l share.Link, body []byte, most int) (bool, error) {
	n := int64(0)
	err := s.tx(ctx, func(tx *sql.Tx) error {
		r, err := tx.ExecContext(ctx,
			"INSERT INTO proposal (book, link, body) SELECT ?, ?, ? WHERE (SELECT count(*) FROM proposal WHERE book = ? AND link = ?) < ?",
			l.Book, l.ID, body, l.Book, l.ID, most)
		if err != nil {
			return fmt.Errorf("keep proposal: %w", err)
		}
		n, err = r.RowsAffected()
		return err
	})
	return n == 1 && err == nil, err
}

// Proposals returns a book's proposals with greater numbers than after, in
// order; those of one link only, unless link is empty.
func (s *Store) Proposals(ctx context.Context, book entry.BookID, link string, after int64) ([]share.Proposed, error) {
	rows, err := s.read.QueryContext(ctx,
		"SELECT number, link, body FROM proposal WHERE book = ? AND (? = '' OR link = ?) AND number > ? ORDER BY number", book, link, link, after)
	if err != nil {
		return nil, fmt.Errorf("read proposals: %w", err)
	}
	defer rows.Close()
	out := []share.Proposed{}
	for rows.Next() {
		var p share.Proposed
		if err := rows.Scan(&p.Number, &p.Link, &p.Body); err != nil {
			return nil, fmt.Errorf("read proposals: %w", err)
		}
		out = append(out, p)
	}
	return out, rows.Err()
}
