package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"plumbline/internal/entry"
)

// PutPhoto keeps a photo of a book under its hash, unless the book has most
// of them already. What is there stays as it is. It reports whether the book
// has the photo now.
func (s *Store) PutPhoto(ctx context.Context, book entry.BookID, hash, photo []byte, most int) (bool, error) {
	there := false
	err := s.tx(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx,
			"INSERT INTO photo (book, hash, bytes) SELECT ?, ?, ? WHERE (SELECT count(*) FROM photo WHERE book = ?) < ? ON CONFLICT DO NOTHING",
			book, hash, photo, book, most)
		if err != nil {
			return fmt.Errorf("keep photo: %w", err)
		}
		err = tx.QueryRowContext(ctx, "SELECT count(*) FROM photo WHERE book = ? AND hash = ?", book, hash).Scan(&there)
		if err != nil {
			return fmt.Errorf("keep photo: %w", err)
		}
		return nil
	})
	return there && err == nil, err
}

// Photo returns a photo of a book, nil when it has none with this hash.
func (s *Store) Photo(ctx context.Context, book entry.BookID, hash []byte) ([]byte, error) {
	var photo []byte
	err := s.read.QueryRowContext(ctx, "SELECT bytes FROM photo WHERE book = ? AND hash = ?", book, hash).Scan(&photo)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read photo: %w", err)
	}
	return photo, nil
}

// DropPhoto deletes a photo of a book.
func (s *Store) DropPhoto(ctx context.Context, book entry.BookID, hash []byte) error {
	_, err := s.drop(ctx, "DELETE FROM photo WHERE book = ? AND hash = ?", book, hash)
	return err
}

// Photos returns the hashes of a book's photos, sorted.
func (s *Store) Photos(ctx context.Context, book entry.BookID) ([][]byte, error) {
	rows, err := s.read.QueryContext(ctx, "SELECT hash FROM photo WHERE book = ? ORDER BY hash", book)
	if err != nil {
		return nil, fmt.Errorf("read photos: %w", err)
	}
	defer rows.Close()
	var out [][]byte
	for rows.Next() {
		var hash []byte
		if err := rows.Scan(&hash); err != nil {
			return nil, fmt.Errorf("read photos: %w", err)
		}
		out = append(out, hash)
	}
	return out, rows.Err()
}
