package main

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"slices"
	"strings"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/example"
)

// ask calls the bridge as the app does and decodes the answer's value.
func ask(t testing.TB, s shelf, fn string, arg any, into any, lines ...string) reply {
	t.Helper()
	in, err := json.Marshal(arg)
	if err != nil {
		t.Fatal(err)
	}
	var answer struct {
		reply
		Value json.RawMessage `json:"value"`
	}
	if err := json.Unmarshal([]byte(s.call(fn, string(in), beside{lines: strings.Join(lines, "\n")})), &answer); err != nil {
		t.Fatal(err)
	}
	if into != nil {
		if err := json.Unmarshal(answer.Value, into); err != nil {
			t.Fatalf("%s answered %s, bug %q, refusals %v", fn, answer.Value, answer.Bug, answer.Refusals)
		}
	}
	return answer.reply
}

func openExample(t *testing.T) shelf {
	t.Helper()
	s := newShelf()
	var got taken
	ask(t, s, "open", openArg{example.BookID, "01890000-0000-7000-8000-00000000000a"}, &got, example.Lines()...)
	if got.Added != len(example.Lines()) || len(got.Oddities) > 0 {
		t.Fatalf("open took %+v", got)
	}
	return s
}

func TestVectorAndMissing(t *testing.T) {
	s := openExample(t)
	var have map[string]int64
	ask(t, s, "vector", bookArg{Book: example.BookID}, &have)
	if n := have[string(example.DeviceID)]; n != int64(len(example.Lines())) {
		t.Fatalf("vector says %d of %d", n, len(example.Lines()))
	}
	var lacking stamped
	ask(t, s, "missing", map[string]any{"book": example.BookID, "have": map[string]int64{string(example.DeviceID): have[string(example.DeviceID)] - 2}}, &lacking)
	if len(lacking.Lines) != 2 {
		t.Errorf("missing sends %d lines; want the last 2", len(lacking.Lines))
	}
}

func TestViewThroughTheBridge(t *testing.T) {
	s := openExample(t)
	var h struct{ Total int }
	ask(t, s, "view", map[string]any{"book": example.BookID, "name": "history", "args": map[string]string{}, "now": 1789200000000, "offset": 120}, &h)
	if h.Total < 60 {
		t.Errorf("history tells %d lines", h.Total)
	}
}

func TestExampleThroughTheBridge(t *testing.T) {
	var e exampleBook
	ask(t, newShelf(), "example", struct{}{}, &e)
	if e.Book != example.BookID || len(e.Lines) != len(example.Lines()) {
		t.Errorf("example answers book %s with %d lines", e.Book, len(e.Lines))
	}
}

// album is the example season with a photo, and the photos that the phone has:
// that one, and one that no line names.
func album(t *testing.T) (shelf, map[string][]byte) {
	t.Helper()
	s := openExample(t)
	tread := bytes.Repeat([]byte("tread"), 9_000)
	sum := sha256.Sum256(tread)
	name := hex.EncodeToString(sum[:])
	var got stamped
	ask(t, s, "stamp", map[string]any{
		"book": example.BookID, "action": "photo", "form": map[string]string{"photo": name, "what": "tyre-rear"},
		"now": 1789300000000, "offset": 120, "random": make([]byte, 64),
	}, &got)
	ask(t, s, "take", bookArg{Book: example.BookID}, nil, got.Lines...)
	return s, map[string][]byte{name: tread, strings.Repeat("0a", 32): []byte("not put in the book")}
}

// export puts an exported book together as the phone does.
func export(t *testing.T, s shelf, photos map[string][]byte) (file []byte, missing int) {
	t.Helper()
	on := exportArg{Book: example.BookID}
	for name, raw := range photos {
		on.Photos = append(on.Photos, photoOnHand{name, int64(len(raw)), crc32.ChecksumIEEE(raw)})
	}
	var out exported
	ask(t, s, "export", on, &out)
	for _, p := range out.Parts {
		file = append(append(file, p.Bytes...), photos[p.Photo]...)
	}
	return file, out.Missing
}

// read reads a file as the phone does.
func read(t *testing.T, file []byte) (in imported, refused []book.Refusal) {
	t.Helper()
	var answer struct {
		Value    imported
		Refusals []book.Refusal
	}
	if err := json.Unmarshal([]byte(newShelf().call("import", "{}", beside{file: bytes.NewReader(file)})), &answer); err != nil {
		t.Fatal(err)
	}
	return answer.Value, answer.Refusals
}

func TestExportComesBackWhole(t *testing.T) {
	file, _ := export(t, openExample(t), nil)
	in, _ := read(t, file)
	if in.Book != example.BookID || !slices.Equal(in.Lines, example.Lines()) || len(in.Findings) > 0 || in.Name != "Nell's example season" || !in.Example {
		t.Errorf("import read book %s %q (example: %v) with %d lines, findings %v", in.Book, in.Name, in.Example, len(in.Lines), in.Findings)
	}
	if _, refused := read(t, []byte("a holiday photo")); len(refused) != 1 || refused[0].Field != "file" {
		t.Errorf("a file that is no book: %+v", refused)
	}
}

// What is exported, read into an empty core and exported again is the same file,
// with the photos and the tables that other programs open.
func TestExportImportExportIsByteIdentical(t *testing.T) {
	s, photos := album(t)
	first, missing := export(t, s, photos)
	in, _ := read(t, first)
	if missing != 0 || in.Missing != 0 || len(in.Photos) != 1 {
		t.Fatalf("missing %d, then %d; photos %+v", missing, in.Missing, in.Photos)
	}
	cut := map[string][]byte{}
	for _, p := range in.Photos {
		cut[p.Name] = first[p.From : p.From+p.Size]
		if !bytes.Equal(cut[p.Name], photos[p.Name]) {
			t.Errorf("the photo %s came back otherwise", p.Name)
		}
	}
	again := newShelf()
	if got := again.open(openArg{Book: in.Book, Device: "01890000-0000-7000-8000-0000000000ee"}, strings.Join(in.Lines, "\n")); got.Bug != "" {
		t.Fatal(got.Bug)
	}
	if second, _ := export(t, again, cut); !bytes.Equal(first, second) {
		t.Error("the second export differs from the first")
	}
	without, missing := export(t, again, nil)
	if in, _ := read(t, without); missing != 1 || in.Missing != 1 || len(in.Photos) != 0 {
		t.Errorf("without its photo %d are missing, then %d; photos %+v", missing, in.Missing, in.Photos)
	}
	z, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"changes.csv", "sessions.csv", "laps.csv"} {
		f, err := z.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(f).ReadAll()
		if err != nil || len(rows) < 5 {
			t.Errorf("%s: %d lines, %v", name, len(rows), err)
		}
	}
}

func TestBugsAreReportedNotThrown(t *testing.T) {
	rows := []struct{ fn, arg, says string }{
		{"fly", `{}`, "no function"},
		{"view", `not json`, "read argument"},
		{"vector", `{"book":"nowhere"}`, "not open"},
		{"stamp", `{"book":"nowhere"}`, "not open"},
	}
	for _, r := range rows {
		if got := newShelf().call(r.fn, r.arg, beside{}); !strings.Contains(got, `"bug"`) || !strings.Contains(got, r.says) {
			t.Errorf("%s(%s) = %s; want a bug that says %q", r.fn, r.arg, got, r.says)
		}
	}
}

func TestStreamIsReproducibleAndDoesNotRepeat(t *testing.T) {
	a, b := newStream([]byte("seed")), newStream([]byte("seed"))
	first, second := string(a.next(16)), string(a.next(16))
	if string(b.next(16)) != first || string(b.next(16)) != second || first == second {
		t.Error("the stream is not the same each time, or repeats itself")
	}
}

// BenchmarkOpen10000 opens a book of 10,000 entries through the bridge, as the
// app does when it starts, and draws Today.
func BenchmarkOpen10000(b *testing.B) {
	r := book.Open(example.BookID, "01890000-0000-7000-8000-00000000000a")
	r.Take(example.Lines())
	var drafts []book.Draft
	for i := range 10_000 - r.Log.Len() {
		drafts = append(drafts, book.Draft{Kind: book.KindCheck, Body: book.CheckBody{Bike: "heron", Check: "chain", Result: "good", Note: fmt.Sprint("32 mm at the tight spot, turn ", i)}})
	}
	lines, err := r.Stamp(drafts, "", time.Unix(1_789_300_000, 0).UTC(), make([]byte, 16*len(drafts)))
	if err != nil {
		b.Fatal(err)
	}
	text := strings.Join(append(example.Lines(), lines...), "\n")
	open := fmt.Sprintf(`{"book":%q,"device":"01890000-0000-7000-8000-00000000000a"}`, example.BookID)
	view := fmt.Sprintf(`{"book":%q,"name":"today","now":1789400000000,"offset":120,"args":{}}`, example.BookID)
	b.ReportAllocs()
	for b.Loop() {
		s := newShelf()
		s.call("open", open, beside{lines: text})
		if got := s.call("view", view, beside{}); !strings.HasPrefix(got, `{"value"`) {
			b.Fatal(got)
		}
	}
}
