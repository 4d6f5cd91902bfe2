package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"plumbline/internal/archive"
	"plumbline/internal/book"
	demo "plumbline/internal/example"
)

// TestVerifyNamesPhotosThatAreMissingOrAltered in an export of the season with
// one photo.
func TestVerifyNamesPhotosThatAreMissingOrAltered(t *testing.T) {
	raw := bytes.Repeat([]byte("tread "), 100)
	sum := sha256.Sum256(raw)
	name := hex.EncodeToString(sum[:])
	r := book.Open(demo.BookID, "01890000-0000-7000-8000-0000000000d7")
	r.Take(demo.Lines())
	lines, err := r.Stamp([]book.Draft{{Kind: book.KindPhoto, Body: book.PhotoBody{Bike: demo.Heron, Photo: name, What: "part"}}},
		"", time.Date(2026, 10, 1, 9, 0, 0, 0, time.UTC), make([]byte, 16))
	if err != nil {
		t.Fatal(err)
	}
	r.Take(lines)
	export := func(photos ...archive.Photo) []byte {
		t.Helper()
		var out bytes.Buffer
		if err := archive.Write(&out, r.Log.Lacking(nil), photos); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	whole := export(archive.Photo{Name: name, Size: int64(len(raw)), CRC32: crc32.ChecksumIEEE(raw), Copy: func(w io.Writer) error {
		_, err := w.Write(raw)
		return err
	}})
	altered := bytes.Replace(whole, []byte("tread tread"), []byte("tread bread"), 1)
	for says, file := range map[string][]byte{
		"1 photos\ngood: nothing is missing":                                            whole,
		"photos/" + name + ".jpg: an entry names this photo, and it is not in the file": export(),
		"photos/" + name + ".jpg: this photo was altered":                               altered,
	} {
		path := filepath.Join(t.TempDir(), "heron.zip")
		if err := os.WriteFile(path, file, 0o600); err != nil {
			t.Fatal(err)
		}
		code, out, errs := call("verify", path)
		if !strings.Contains(out, says) || (code == exitDone) != strings.Contains(says, "good") {
			t.Errorf("exit %d, said %q and %q; want %q", code, out, errs, says)
		}
	}
}
