package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// OpenExisting opens the database in a folder and makes none.
func OpenExisting(ctx context.Context, folder string) (*Store, error) {
	if _, err := os.Stat(filepath.Join(folder, File)); err != nil {
		return nil, fmt.Errorf("there is no database in %s: %w", folder, err)
	}
	return Open(ctx, folder)
}

// Backup writes the database as one file, as it stands at one moment, while
// others read and write it. There must be no such file yet.
func (s *Store) Backup(ctx context.Context, name string) error {
	if _, err := os.Stat(name); !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("%s is there already: give the name of a new file", name)
	}
	if _, err := s.write.ExecContext(ctx, "VACUUM INTO ?", name); err != nil {
		return fmt.Errorf("write backup: %w", err)
	}
	return os.Chmod(name, 0o600)
}

// Restore copies a backup into a folder that holds no database.
func Restore(name, folder string) error {
	// A log that was left behind would be played into the restored database.
	if left, _ := filepath.Glob(filepath.Join(folder, File+"*")); len(left) > 0 {
		return fmt.Errorf("there is a database in %s already: restore into an empty folder", folder)
	}
	in, err := os.Open(name)
	if err != nil {
		return fmt.Errorf("open backup: %w", err)
	}
	defer in.Close()
	out, err := os.OpenFile(filepath.Join(folder, File), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fmt.Errorf("restore: %w", err)
	}
	_, err = io.Copy(out, in)
	if err := errors.Join(err, out.Sync(), out.Close()); err != nil {
		return errors.Join(fmt.Errorf("restore: %w", err), os.Remove(out.Name()))
	}
	return nil
}

// Health is what can be said of a database without telling anybody's secrets.
type Health struct {
	Version int   `json:"version"`
	Bytes   int64 `json:"bytes"`
	Books   int   `json:"books"`
	Devices int   `json:"devices"`
	Entries int   `json:"entries"`
	Photos  int   `json:"photos"`
}

// photosSince is the version whose databases hold photos.
const photosSince = 4

// Examine checks that a file is a whole database of this program, and counts
// what is in it. It changes nothing.
func Examine(ctx context.Context, name string) (h Health, err error) {
	file, err := os.Stat(name)
	if err != nil {
		return Health{}, fmt.Errorf("examine: %w", err)
	}
	db, err := sql.Open("sqlite", "file:"+name+"?_pragma=query_only(1)&_pragma=busy_timeout(10000)")
	if err != nil {
		return Health{}, fmt.Errorf("examine: %w", err)
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	var verdict string
	if err := db.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&verdict); err != nil {
		return Health{}, fmt.Errorf("%s is not a whole database: %w", name, err)
	}
	if verdict != "ok" {
		return Health{}, fmt.Errorf("%s is not a whole database: %s", name, verdict)
	}
	h.Bytes = file.Size()
	err = db.QueryRowContext(ctx, "SELECT (SELECT user_version FROM pragma_user_version), (SELECT count(*) FROM book), (SELECT count(*) FROM device), (SELECT count(*) FROM entry)").
		Scan(&h.Version, &h.Books, &h.Devices, &h.Entries)
	if err == nil && h.Version >= photosSince {
		err = db.QueryRowContext(ctx, "SELECT count(*) FROM photo").Scan(&h.Photos)
	}
	if err != nil {
		return Health{}, fmt.Errorf("%s is not a database of this program: %w", name, err)
	}
	return h, nil
}
