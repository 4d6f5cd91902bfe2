package store

import (
	"bytes"
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
