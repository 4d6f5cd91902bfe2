package store

import (
	"bytes"
	"path/filepath"
	"testing"

	"plumbline/internal/entry"
)

func TestPhotosKeepApartAndGoWithTheirBook(t *testing.T) {
	s := open(t, t.TempDir())
	create(t, s, bookA, "a")
	create(t, s, bookB, "b")
	keep := func(book entry.BookID, hash string, most int) bool {
		t.Helper()
		ok, err := s.PutPhoto(t.Context(), book, []byte(hash), []byte("bytes of "+hash), most)
		if err != nil {
			t.Fatal(err)
		}
		return ok
	}
	if !keep(bookA, "two", 2) || !keep(bookA, "one", 2) || !keep(bookA, "two", 2) || keep(bookA, "three", 2) || !keep(bookB, "three", 2) {
		t.Error("a book keeps two photos here, whatever another has, and the same one once")
	}
	if got, err := s.Photo(t.Context(), bookA, []byte("one")); err != nil || string(got) != "bytes of one" {
		t.Errorf("%q, %v", got, err)
	}
	if got, err := s.Photo(t.Context(), bookB, []byte("one")); err != nil || got != nil {
		t.Errorf("another book shows %q, %v", got, err)
	}
	if got, err := s.Photos(t.Context(), bookA); err != nil || string(bytes.Join(got, []byte(" "))) != "one two" {
		t.Errorf("%q, %v", got, err)
	}
	for range 2 { // the second finds nothing, which is no harm
		if err := s.DropPhoto(t.Context(), bookA, []byte("one")); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := s.Photo(t.Context(), bookA, []byte("one")); err != nil || got != nil || !keep(bookA, "four", 2) {
		t.Errorf("deleted, it shows %q, %v, or its place is not free", got, err)
	}
	if err := s.DropBook(t.Context(), bookA, noon); err != nil {
		t.Fatal(err)
	}
	if got, err := s.Photos(t.Context(), bookA); err != nil || got != nil {
		t.Errorf("after the deletion %q, %v", got, err)
	}
	if got, err := s.Photos(t.Context(), bookB); err != nil || len(got) != 1 {
		t.Errorf("of the other book %q, %v", got, err)
	}
}

func TestABackupHoldsPhotos(t *testing.T) {
	s, elsewhere := open(t, t.TempDir()), t.TempDir()
	create(t, s, bookA, "a")
	if ok, err := s.PutPhoto(t.Context(), bookA, []byte("one"), []byte("bytes of one"), 1); err != nil || !ok {
		t.Fatal(ok, err)
	}
	file := filepath.Join(t.TempDir(), "club.sqlite")
	if err := s.Backup(t.Context(), file); err != nil {
		t.Fatal(err)
	}
	if h, err := Examine(t.Context(), file); err != nil || h.Photos != 1 {
		t.Errorf("the backup counts %+v, %v", h, err)
	}
	if err := Restore(file, elsewhere); err != nil {
		t.Fatal(err)
	}
	if got, err := open(t, elsewhere).Photo(t.Context(), bookA, []byte("one")); err != nil || string(got) != "bytes of one" {
		t.Errorf("restored, the photo is %q, %v", got, err)
	}
}
