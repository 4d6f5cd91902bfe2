package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"plumbline/internal/entry"

	"go.uber.org/goleak"
)

const (
	bookA  = entry.BookID("01890000-0000-7000-8000-0000000000a0")
	bookB  = entry.BookID("01890000-0000-7000-8000-0000000000b0")
	device = entry.DeviceID("01890000-0000-7000-8000-0000000000fa")
)

var noon = time.Date(2026, 5, 2, 12, 0, 0, 0, time.UTC)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

func open(t *testing.T, folder string) *Store {
	t.Helper()
	s, err := Open(t.Context(), folder)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() }) // some tests close it themselves
	return s
}

func create(t *testing.T, s *Store, book entry.BookID, token string) {
	t.Helper()
	if free, err := s.CreateBook(t.Context(), book, device, []byte(token), noon); err != nil || !free {
		t.Fatalf("create %s: free %v, %v", book, free, err)
	}
}

// put stores lines as a device's entries from a seq on.
func put(ctx context.Context, s *Store, book entry.BookID, from int64, lines ...string) error {
	return s.Append(ctx, book, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
		for i, line := range lines {
			if err := put(device, from+int64(i), []byte(line)); err != nil {
				return err
			}
		}
		return nil
	})
}

func all(t *testing.T, s *Store, book entry.BookID, have entry.Vector) string {
	t.Helper()
	var out []string
	err := s.Each(t.Context(), book, have, func(line []byte) error {
		out = append(out, string(line))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(out, " ")
}

func TestCommitsAreSynced(t *testing.T) {
	s := open(t, t.TempDir())
	var mode string
	var level int
	if err := s.write.QueryRow("PRAGMA journal_mode").Scan(&mode); err != nil || mode != "wal" {
		t.Errorf("journal mode %q, %v", mode, err)
	}
	// 2 is FULL: https://www.sqlite.org/pragma.html#pragma_synchronous
	if err := s.write.QueryRow("PRAGMA synchronous").Scan(&level); err != nil || level != 2 {
		t.Errorf("synchronous %d, %v", level, err)
	}
}

func TestReopenedItIsAllThere(t *testing.T) {
	folder := t.TempDir()
	s := open(t, folder)
	create(t, s, bookA, "token a")
	if err := put(t.Context(), s, bookA, 1, "one", "two", "three"); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = open(t, folder)
	if got := all(t, s, bookA, nil); got != "one two three" {
		t.Errorf("after a restart there is %q", got)
	}
	if got := all(t, s, bookA, entry.Vector{device: 2}); got != "three" {
		t.Errorf("behind two there is %q", got)
	}
	if b, d, ok, err := s.BookOf(t.Context(), []byte("token a")); b != bookA || d != device || !ok || err != nil {
		t.Errorf("the token opens %s for %s: %v, %v", b, d, ok, err)
	}
}

func TestAppendIsAllOrNothing(t *testing.T) {
	s := open(t, t.TempDir())
	create(t, s, bookA, "token a")
	if err := put(t.Context(), s, bookA, 1, "one"); err != nil {
		t.Fatal(err)
	}
	wrong := errors.New("the third is wrong")
	rows := map[string]func() error{
		"an error behind two lines": func() error {
			return s.Append(t.Context(), bookA, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
				return errors.Join(put(device, 2, []byte("two")), put(device, 3, []byte("three")), wrong)
			})
		},
		"a place that is taken": func() error { return put(t.Context(), s, bookA, 3, "three", "four", "five") },
		"a call that is broken off": func() error {
			ctx, cancel := context.WithCancel(t.Context())
			return s.Append(ctx, bookA, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
				defer cancel()
				return put(device, 2, []byte("two"))
			})
		},
		"a book that is not there": func() error { return put(t.Context(), s, bookB, 1, "one") },
	}
	if err := put(t.Context(), s, bookA, 5, "taken"); err != nil {
		t.Fatal(err)
	}
	for name, try := range rows {
		if err := try(); err == nil {
			t.Errorf("%s went through", name)
		}
		if got := all(t, s, bookA, nil) + all(t, s, bookB, nil); got != "one taken" {
			t.Errorf("%s left %q", name, got)
		}
	}
}

// TestAFullDiskIsSaidAndStoresNothing: SQLite is held to the pages it has.
func TestAFullDiskIsSaidAndStoresNothing(t *testing.T) {
	s := open(t, t.TempDir())
	create(t, s, bookA, "token a")
	var pages int
	if err := s.write.QueryRow("PRAGMA page_count").Scan(&pages); err != nil {
		t.Fatal(err)
	}
	limit := func(n int) {
		if _, err := s.write.Exec(fmt.Sprintf("PRAGMA max_page_count = %d", n)); err != nil {
			t.Fatal(err)
		}
	}
	limit(pages + 2)
	big := strings.Repeat("x", 20_000)
	err := put(t.Context(), s, bookA, 1, "one", big)
	var full interface{ StorageFull() bool }
	if !errors.As(err, &full) || !full.StorageFull() {
		t.Fatalf("a full disk says %v", err)
	}
	if got := all(t, s, bookA, nil); got != "" {
		t.Errorf("half of it was stored: %.20q", got)
	}
	limit(pages + 1000)
	if err := put(t.Context(), s, bookA, 1, "one", big); err != nil {
		t.Errorf("with room again: %v", err)
	}
	if err := put(t.Context(), s, bookA, 1, "one"); err == nil || errors.As(err, &full) {
		t.Errorf("a place that is taken is not a full disk: %v", err)
	}
}

func TestOlderDatabasesAreBroughtUpToDate(t *testing.T) {
	for version := range len(migrations) + 1 {
		folder := t.TempDir()
		db, err := sql.Open("sqlite", filepath.Join(folder, File))
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range migrations[:version] {
			if _, err := db.Exec(m); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := db.Exec(fmt.Sprintf("PRAGMA user_version = %d", version)); err != nil {
			t.Fatal(err)
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
		s := open(t, folder)
		create(t, s, bookA, "token a")
		if err := put(t.Context(), s, bookA, 1, "one"); err != nil {
			t.Errorf("from version %d: %v", version, err)
		}
	}
}

func TestANewerDatabaseIsLeftAlone(t *testing.T) {
	folder := t.TempDir()
	s := open(t, folder)
	if _, err := s.write.Exec("PRAGMA user_version = 1000"); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(t.Context(), folder); err == nil || !strings.Contains(err.Error(), "use a newer program") {
		t.Errorf("opened a database of version 1000: %v", err)
	}
}

func TestBooksKeepApart(t *testing.T) {
	s := open(t, t.TempDir())
	create(t, s, bookA, "token a")
	create(t, s, bookB, "token b")
	if err := errors.Join(put(t.Context(), s, bookA, 1, "of a"), put(t.Context(), s, bookB, 1, "of b")); err != nil {
		t.Fatal(err)
	}
	if a, b := all(t, s, bookA, nil), all(t, s, bookB, nil); a != "of a" || b != "of b" {
		t.Errorf("book a holds %q, book b %q", a, b)
	}
	for name, token := range map[string]string{"the same book": "token c", "the same token": "token a"} {
		book := bookA
		if token == "token a" {
			book = "01890000-0000-7000-8000-0000000000c0"
		}
		if free, err := s.CreateBook(t.Context(), book, device, []byte(token), noon); free || err != nil {
			t.Errorf("%s again: free %v, %v", name, free, err)
		}
	}
}

func TestInvitationsAreUsedUp(t *testing.T) {
	s := open(t, t.TempDir())
	create(t, s, bookA, "token a")
	if err := s.Invite(t.Context(), bookA, []byte("code"), noon, noon.Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	join := func(code string, at time.Time) bool {
		book, ok, err := s.Join(t.Context(), []byte(code), "01890000-0000-7000-8000-0000000000fb", bytes.Repeat([]byte(code), 2), at)
		if err != nil || ok && book != bookA {
			t.Fatalf("joined %s, %v", book, err)
		}
		return ok
	}
	if join("other", noon) || join("code", noon.Add(time.Minute)) || !join("code", noon) || join("code", noon) {
		t.Error("a code must work once, in time, and no other")
	}
}
