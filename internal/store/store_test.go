package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
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
	_, err := s.Append(ctx, book, plenty, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
		for i, line := range lines {
			if err := put(device, from+int64(i), []byte(line)); err != nil {
				return err
			}
		}
		return nil
	})
	return err
}

// plenty is room for all that the tests put into a book.
const plenty = 1 << 20

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
			_, err := s.Append(t.Context(), bookA, plenty, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
				return errors.Join(put(device, 2, []byte("two")), put(device, 3, []byte("three")), wrong)
			})
			return err
		},
		"a place that is taken": func() error { return put(t.Context(), s, bookA, 3, "three", "four", "five") },
		"a call that is broken off": func() error {
			ctx, cancel := context.WithCancel(t.Context())
			_, err := s.Append(ctx, bookA, plenty, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
				defer cancel()
				return put(device, 2, []byte("two"))
			})
			return err
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

// A book takes what fits, to the byte, and nothing of what does not.
func TestABookHasABound(t *testing.T) {
	s := open(t, t.TempDir())
	create(t, s, bookA, "token a")
	for i, r := range []struct {
		line string
		kept bool
	}{{"123456", true}, {"12345", false}, {"1234", true}, {"1", false}} {
		kept, err := s.Append(t.Context(), bookA, 10, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
			return put(device, int64(i+1), []byte(r.line))
		})
		if kept != r.kept || err != nil {
			t.Errorf("%q: kept %v, %v; want %v", r.line, kept, err, r.kept)
		}
	}
	if got := all(t, s, bookA, nil); got != "123456 1234" {
		t.Errorf("the book holds %q", got)
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
	const counting = 5 // the version whose books count their bytes
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
		if version > 0 {
			if _, err := db.Exec("INSERT INTO book (id, created) VALUES (?, 0); INSERT INTO entry VALUES (?, ?, 1, CAST('older' AS BLOB))", bookB, bookB, device); err != nil {
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
		if version == 0 || version >= counting { // nothing to bring along, or counted by Append
			continue
		}
		var bytes int
		if err := s.read.QueryRow("SELECT bytes FROM book WHERE id = ?", bookB).Scan(&bytes); err != nil || bytes != len("older") {
			t.Errorf("from version %d: an older book counts %d bytes, %v", version, bytes, err)
		}
	}
}

// TestVectorOfManyDevices: each device's highest, and no other book's.
func TestVectorOfManyDevices(t *testing.T) {
	s := open(t, t.TempDir())
	create(t, s, bookA, "token a")
	create(t, s, bookB, "token b")
	want := entry.Vector{"a": 3, "b": 1, "z": 2}
	for book, devices := range map[entry.BookID]entry.Vector{bookA: want, bookB: {"b": 9, "m": 1}} {
		_, err := s.Append(t.Context(), book, plenty, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
			for d, n := range devices {
				for seq := range n {
					if err := put(d, seq+1, []byte("x")); err != nil {
						return err
					}
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if got, err := s.Vector(t.Context(), bookA); err != nil || !maps.Equal(got, want) {
		t.Errorf("vector %v, %v; want %v", got, err, want)
	}
	if got, err := s.Vector(t.Context(), "no book"); err != nil || len(got) != 0 {
		t.Errorf("vector of no book: %v, %v", got, err)
	}
}

// BenchmarkVector asks how far a book of 10,000 entries from three devices is.
func BenchmarkVector(b *testing.B) {
	s, err := Open(b.Context(), b.TempDir())
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	if _, err := s.CreateBook(b.Context(), bookA, device, []byte("token a"), noon); err != nil {
		b.Fatal(err)
	}
	_, err = s.Append(b.Context(), bookA, 1<<30, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
		for n := range int64(10_000) {
			if err := put(entry.DeviceID([]string{"a", "b", "c"}[n%3]), n/3+1, make([]byte, 350)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if v, err := s.Vector(b.Context(), bookA); err != nil || len(v) != 3 {
			b.Fatal(v, err)
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
