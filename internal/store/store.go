// Package store keeps books in one SQLite database: envelopes and bytes. It
// never looks into a body and decides nothing about who may do what.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"plumbline/internal/entry"

	"modernc.org/sqlite" // also the database driver
	sqlitelib "modernc.org/sqlite/lib"
)

// Store is an open database. It is safe for concurrent use.
type Store struct {
	write *sql.DB // one connection: SQLite has one writer
	read  *sql.DB
}

// File is the database's name in the data folder.
const File = "plumbline.sqlite"

// pragmas make what is acknowledged survive a power cut: a write-ahead log
// that is synced on every commit. What is deleted is overwritten.
const pragmas = "?_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=foreign_keys(1)&_pragma=secure_delete(1)&_pragma=busy_timeout(10000)&_txlock=immediate"

// Open opens the database in a folder, makes it when there is none, and brings
// an older one up to date.
func Open(ctx context.Context, folder string) (*Store, error) {
	if err := ownFile(filepath.Join(folder, File)); err != nil {
		return nil, err
	}
	name := "file:" + filepath.Join(folder, File) + pragmas
	write, err := sql.Open("sqlite", name)
	if err != nil {
		return nil, fmt.Errorf("open database: %w", err)
	}
	write.SetMaxOpenConns(1)
	read, err := sql.Open("sqlite", name+"&_pragma=query_only(1)")
	if err != nil {
		return nil, errors.Join(fmt.Errorf("open database: %w", err), write.Close())
	}
	read.SetMaxOpenConns(4)
	s := &Store{write, read}
	if err := s.migrate(ctx); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// ownFile makes a file, unless it is there, that nobody else on the machine
// can read. SQLite gives its companions the same rights.
func ownFile(name string) error {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return fmt.Errorf("the database %s cannot be written: %w", name, reason(err))
	}
	return f.Close()
}

// Close closes the database.
func (s *Store) Close() error { return errors.Join(s.read.Close(), s.write.Close()) }

// Ping says whether the database answers.
func (s *Store) Ping(ctx context.Context) error { return s.read.PingContext(ctx) }

// migrations bring a database from one version to the next. They are only
// ever added to.
var migrations = []string{
	`CREATE TABLE book (
		id      TEXT PRIMARY KEY,
		created INTEGER NOT NULL
	) STRICT;
	CREATE TABLE device (
		book    TEXT NOT NULL REFERENCES book(id) ON DELETE CASCADE,
		id      TEXT NOT NULL,
		token   BLOB NOT NULL UNIQUE,
		created INTEGER NOT NULL,
		PRIMARY KEY (book, id)
	) STRICT, WITHOUT ROWID;
	CREATE TABLE entry (
		book   TEXT NOT NULL REFERENCES book(id) ON DELETE CASCADE,
		device TEXT NOT NULL,
		seq    INTEGER NOT NULL,
		line   BLOB NOT NULL,
		PRIMARY KEY (book, device, seq)
	) STRICT, WITHOUT ROWID;
	CREATE TABLE invitation (
		code    BLOB PRIMARY KEY,
		book    TEXT NOT NULL REFERENCES book(id) ON DELETE CASCADE,
		expires INTEGER NOT NULL
	) STRICT, WITHOUT ROWID;`,
	`CREATE TABLE link (
		id      TEXT NOT NULL,
		book    TEXT NOT NULL REFERENCES book(id) ON DELETE CASCADE,
		secret  BLOB NOT NULL UNIQUE,
		may     TEXT NOT NULL,
		bike    TEXT NOT NULL,
		names   INTEGER NOT NULL,
		notes   INTEGER NOT NULL,
		made    INTEGER NOT NULL,
		expires INTEGER NOT NULL,
		opened  INTEGER NOT NULL DEFAULT 0,
		PRIMARY KEY (book, id)
	) STRICT, WITHOUT ROWID;
	CREATE TABLE proposal (
		number INTEGER PRIMARY KEY AUTOINCREMENT,
		book   TEXT NOT NULL,
		link   TEXT NOT NULL,
		body   BLOB NOT NULL,
		FOREIGN KEY (book, link) REFERENCES link(book, id) ON DELETE CASCADE
	) STRICT;
	CREATE INDEX proposal_of_link ON proposal (book, link);`,
	`CREATE TABLE gone (book TEXT PRIMARY KEY, deleted INTEGER NOT NULL) STRICT, WITHOUT ROWID;`,
	`CREATE TABLE photo (
		book  TEXT NOT NULL REFERENCES book(id) ON DELETE CASCADE,
		hash  BLOB NOT NULL,
		bytes BLOB NOT NULL,
		PRIMARY KEY (book, hash)
	) STRICT;`,
	`ALTER TABLE book ADD COLUMN bytes INTEGER NOT NULL DEFAULT 0;
	UPDATE book SET bytes = (SELECT coalesce(sum(length(line)), 0) FROM entry WHERE entry.book = book.id);`,
	`ALTER TABLE link ADD COLUMN photos INTEGER NOT NULL DEFAULT 0;`,
}

func (s *Store) migrate(ctx context.Context) error {
	return s.tx(ctx, func(tx *sql.Tx) error {
		var version int
		if err := tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
			return fmt.Errorf("read database version: %w", err)
		}
		if version > len(migrations) {
			return fmt.Errorf("the database has version %d, this program knows %d: use a newer program", version, len(migrations))
		}
		for i := version; i < len(migrations); i++ {
			if _, err := tx.ExecContext(ctx, migrations[i]); err != nil {
				return fmt.Errorf("migrate database to version %d: %w", i+1, err)
			}
		}
		_, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", len(migrations)))
		return err
	})
}

// tx runs do in one transaction, committed only when do succeeds.
func (s *Store) tx(ctx context.Context, do func(*sql.Tx) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return orFull(fmt.Errorf("begin: %w", err))
	}
	if err := do(tx); err != nil {
		_ = tx.Rollback() // after some errors SQLite has done so itself
		return orFull(err)
	}
	if err := tx.Commit(); err != nil {
		return orFull(fmt.Errorf("commit: %w", err))
	}
	return nil
}

// fullError is an error whose cause is a full disk. Nothing was stored.
type fullError struct{ error }

func (e fullError) Unwrap() error { return e.error }

// StorageFull tells whoever answers the phone.
func (fullError) StorageFull() bool { return true }

func orFull(err error) error {
	var s *sqlite.Error
	if errors.As(err, &s) && s.Code()&0xff == sqlitelib.SQLITE_FULL {
		return fullError{err}
	}
	return err
}

// CreateBook makes a book with its first device, known by its token's hash. It
// reports false, and makes nothing, when there is such a book or such a token.
func (s *Store) CreateBook(ctx context.Context, book entry.BookID, device entry.DeviceID, token []byte, now time.Time) (bool, error) {
	free := false
	err := s.tx(ctx, func(tx *sql.Tx) error {
		made, err := tx.ExecContext(ctx,
			"INSERT INTO book (id, created) SELECT ?, ? WHERE NOT EXISTS (SELECT 1 FROM device WHERE token = ?) ON CONFLICT DO NOTHING", book, now.Unix(), token)
		if err != nil {
			return fmt.Errorf("create book: %w", err)
		}
		n, err := made.RowsAffected()
		if err != nil || n == 0 {
			return err
		}
		free = true
		return addDevice(ctx, tx, book, device, token, now)
	})
	return free && err == nil, err
}

// addDevice gives a device its key. One that joins again gets a new key, and
// the old one opens nothing any more.
func addDevice(ctx context.Context, tx *sql.Tx, book entry.BookID, device entry.DeviceID, token []byte, now time.Time) error {
	_, err := tx.ExecContext(ctx,
		"INSERT INTO device (book, id, token, created) VALUES (?, ?, ?, ?) ON CONFLICT (book, id) DO UPDATE SET token = excluded.token",
		book, device, token, now.Unix())
	if err != nil {
		return fmt.Errorf("add device: %w", err)
	}
	return nil
}

// BookOf returns the book and the device that a token's hash opens; false when
// it opens none.
func (s *Store) BookOf(ctx context.Context, token []byte) (entry.BookID, entry.DeviceID, bool, error) {
	var b entry.BookID
	var d entry.DeviceID
	err := s.read.QueryRowContext(ctx, "SELECT book, id FROM device WHERE token = ?", token).Scan(&b, &d)
	if errors.Is(err, sql.ErrNoRows) {
		return "", "", false, nil
	}
	if err != nil {
		return "", "", false, fmt.Errorf("find token: %w", err)
	}
	return b, d, true, nil
}

// vectorQuery steps from device to device along the primary key. To group the
// entries by device would read the whole book, lines and all.
const vectorQuery = `
	WITH RECURSIVE one(device) AS (
		SELECT min(device) FROM entry WHERE book = ?1
		UNION ALL
		SELECT (SELECT min(device) FROM entry WHERE book = ?1 AND device > one.device) FROM one WHERE device IS NOT NULL
	)
	SELECT device, (SELECT max(seq) FROM entry WHERE book = ?1 AND entry.device = one.device) FROM one WHERE device IS NOT NULL`

// Vector returns how far the store has each device of a book.
func (s *Store) Vector(ctx context.Context, book entry.BookID) (entry.Vector, error) {
	rows, err := s.read.QueryContext(ctx, vectorQuery, book)
	if err != nil {
		return nil, fmt.Errorf("read vector: %w", err)
	}
	defer rows.Close()
	v := entry.Vector{}
	for rows.Next() {
		var d entry.DeviceID
		var n int64
		if err := rows.Scan(&d, &n); err != nil {
			return nil, fmt.Errorf("read vector: %w", err)
		}
		v[d] = n
	}
	return v, rows.Err()
}

// Each calls do with every line that a replica with vector have lacks, each
// device's in order, until do returns an error. The line is do's only until it
// returns.
func (s *Store) Each(ctx context.Context, book entry.BookID, have entry.Vector, do func(line []byte) error) error {
	v, err := s.Vector(ctx, book)
	if err != nil {
		return err
	}
	for _, d := range slices.Sorted(maps.Keys(v)) {
		if v[d] <= have[d] {
			continue
		}
		if err := s.eachOf(ctx, book, d, have[d], do); err != nil {
			return err
		}
	}
	return nil
}

func (s *Store) eachOf(ctx context.Context, book entry.BookID, d entry.DeviceID, after int64, do func(line []byte) error) error {
	rows, err := s.read.QueryContext(ctx, "SELECT line FROM entry WHERE book = ? AND device = ? AND seq > ? ORDER BY seq", book, d, after)
	if err != nil {
		return fmt.Errorf("read entries: %w", err)
	}
	defer rows.Close()
	for rows.Next() {
		var line sql.RawBytes
		if err := rows.Scan(&line); err != nil {
			return fmt.Errorf("read entries: %w", err)
		}
		if err := do(line); err != nil {
			return err
		}
	}
	return rows.Err()
}

// Append runs do in one transaction over a book's entries. Line returns the
// line in a device's place, nil when it is free; put stores one in a free
// place. All that was put is stored and synced when Append returns true, and
// nothing of it otherwise: false without an error means that the book's lines
// would then be more than most bytes.
func (s *Store) Append(ctx context.Context, book entry.BookID, most int64, do func(
	line func(entry.DeviceID, int64) ([]byte, error),
	put func(entry.DeviceID, int64, []byte) error,
) error) (bool, error) {
	err := s.tx(ctx, func(tx *sql.Tx) error {
		added := int64(0)
		line := func(d entry.DeviceID, seq int64) ([]byte, error) { return lineAt(ctx, tx, book, d, seq) }
		put := func(d entry.DeviceID, seq int64, line []byte) error {
			_, err := tx.ExecContext(ctx, "INSERT INTO entry (book, device, seq, line) VALUES (?, ?, ?, ?)", book, d, seq, line)
			if err != nil {
				return fmt.Errorf("store entry: %w", err)
			}
			added += int64(len(line))
			return nil
		}
		if err := do(line, put); err != nil || added == 0 {
			return err
		}
		return grow(ctx, tx, book, added, most)
	})
	if errors.Is(err, errNoRoom) {
		return false, nil
	}
	return err == nil, err
}

var errNoRoom = errors.New("the book has no room for that")

// grow notes how many bytes a book has more.
func grow(ctx context.Context, tx *sql.Tx, book entry.BookID, by, most int64) error {
	r, err := tx.ExecContext(ctx, "UPDATE book SET bytes = bytes + ?1 WHERE id = ?2 AND bytes + ?1 <= ?3", by, book, most)
	if err != nil {
		return fmt.Errorf("count bytes: %w", err)
	}
	n, err := r.RowsAffected()
	if err == nil && n == 0 {
		err = errNoRoom
	}
	return err
}

func lineAt(ctx context.Context, tx *sql.Tx, book entry.BookID, d entry.DeviceID, seq int64) ([]byte, error) {
	var line []byte
	err := tx.QueryRowContext(ctx, "SELECT line FROM entry WHERE book = ? AND device = ? AND seq = ?", book, d, seq).Scan(&line)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read entry: %w", err)
	}
	return line, nil
}

// Invite keeps an invitation's code, hashed, until it expires, and forgets the
// expired ones.
func (s *Store) Invite(ctx context.Context, book entry.BookID, code []byte, now, expires time.Time) error {
	return s.tx(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM invitation WHERE expires <= ?", now.Unix()); err != nil {
			return fmt.Errorf("forget invitations: %w", err)
		}
		_, err := tx.ExecContext(ctx, "INSERT INTO invitation (code, book, expires) VALUES (?, ?, ?)", code, book, expires.Unix())
		if err != nil {
			return fmt.Errorf("keep invitation: %w", err)
		}
		return nil
	})
}

// Join uses an invitation up: it adds the device to the book that the code
// invites to. It returns false when no such invitation is open.
func (s *Store) Join(ctx context.Context, code []byte, device entry.DeviceID, token []byte, now time.Time) (entry.BookID, bool, error) {
	var b entry.BookID
	found := false
	err := s.tx(ctx, func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, "DELETE FROM invitation WHERE code = ? AND expires > ? RETURNING book", code, now.Unix()).Scan(&b)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("use invitation: %w", err)
		}
		found = true
		return addDevice(ctx, tx, b, device, token, now)
	})
	return b, found && err == nil, err
}
