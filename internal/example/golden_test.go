package example

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"plumbline/internal/book"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden is the folder that Go, WebAssembly and browser tests share.
const golden = "../../testdata/books/season"

// TestSeasonGolden holds the line format and the fold to what they were: the
// season that is kept in testdata must be what the code writes, and must fold
// to the same bytes on every machine and under WebAssembly.
func TestSeasonGolden(t *testing.T) {
	lines := strings.Join(Lines(), "\n") + "\n"
	compare(t, "entries.jsonl", []byte(lines))

	kept, err := os.ReadFile(filepath.Join(golden, "entries.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	r := book.Open(BookID, "")
	if _, wrong := r.Take(strings.Split(strings.TrimSuffix(string(kept), "\n"), "\n")); len(wrong) > 0 {
		t.Fatal(wrong)
	}
	folded, err := json.MarshalIndent(r.Book(), "", " ")
	if err != nil {
		t.Fatal(err)
	}
	compare(t, "book.golden.json", append(folded, '\n'))
}

func compare(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join(golden, name)
	if *update {
		if err := os.MkdirAll(golden, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is not what the code writes; if the change is meant: go test ./internal/example -update", name)
	}
}
