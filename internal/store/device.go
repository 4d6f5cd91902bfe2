package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"plumbline/internal/entry"
	"plumbline/internal/share"
)

// Devices returns who may read and write a book, in the order of their coming.
func (s *Store) Devices(ctx context.Context, book entry.BookID) ([]share.Device, error) {
	rows, err := s.read.QueryContext(ctx, "SELECT id, created FROM device WHERE book = ? ORDER BY created, id", book)
	if err != nil {
		return nil, fmt.Errorf("read devices: %w", err)
	}
	defer rows.Close()
	out := []share.Device{}
	for rows.Next() {
		var d share.Device
		var since int64
		if err := rows.Scan(&d.ID, &since); err != nil {
			return nil, fmt.Errorf("read devices: %w", err)
		}
		d.Since = time.Unix(since, 0).UTC()
		out = append(out, d)
	}
	return out, rows.Err()
}

// AddDevice lets one more device into a book, known by its token's hash.
func (s *Store) AddDevice(ctx context.Context, book entry.BookID, device entry.DeviceID, token []byte, now time.Time) error {
	return s.tx(ctx, func(tx *sql.Tx) error { return addDevice(ctx, tx, book, device, token, now) })
}

// DropDevice takes a device's key away; what it wrote stays. It reports
// whether there was one.
func (s *Store) DropDevice(ctx context.Context, book entry.BookID, device entry.DeviceID) (bool, error) {
	return s.drop(ctx, "DELETE FROM device WHERE book = ? AND id = ?", book, device)
}

// DropBook deletes a book with all that is kept of it. Only its id stays, so
// that another of its phones does not bring it back.
func (s *Store) DropBook(ctx context.Context, book entry.BookID, now time.Time) error {
	return s.tx(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM book WHERE id = ?", book); err != nil {
			return fmt.Errorf("delete book: %w", err)
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO gone (book, deleted) VALUES (?, ?) ON CONFLICT DO NOTHING", book, now.Unix()); err != nil {
			return fmt.Errorf("note deletion: %w", err)
		}
		return nil
	})
}

// Gone says whether a book was deleted.
func (s *Store) Gone(ctx context.Context, book entry.BookID) (bool, error) {
	var n int
	if err := s.read.QueryRowContext(ctx, "SELECT count(*) FROM gone WHERE book = ?", book).Scan(&n); err != nil {
		return false, fmt.Errorf("look for deletion: %w", err)
	}
	return n > 0, nil
}

// drop runs a deletion of one row, and reports whether it was there.
func (s *Store) drop(ctx context.Context, query string, args ...any) (bool, error) {
	n := int64(0)
	err := s.tx(ctx, func(tx *sql.Tx) error {
		r, err := tx.ExecContext(ctx, query, args...)
		if err != nil {
			return fmt.Errorf("delete: %w", err)
		}
		n, err = r.RowsAffected()
		return err
	})
	return n == 1 && err == nil, err
}
