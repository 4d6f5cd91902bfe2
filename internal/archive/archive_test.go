package archive

import (
	"archive/zip"
	"bytes"
	"strings"
	"testing"

	"plumbline/internal/entry"
	"plumbline/internal/example"
)

func season(t testing.TB) []entry.Entry {
	t.Helper()
	c, err := Read(strings.NewReader(strings.Join(example.Lines(), "\n")))
	if err != nil || len(c.Findings) > 0 {
		t.Fatal(err, c.Findings)
	}
	return c.Entries
}

func write(t testing.TB, entries []entry.Entry) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, entries, nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestExportImportExportIsByteIdentical(t *testing.T) {
	first := write(t, season(t))
	c, err := Read(bytes.NewReader(first))
	if err != nil {
		t.Fatal(err)
	}
	log, findings := Verify(c)
	if len(findings) > 0 {
		t.Fatal(findings)
	}
	if second := write(t, log.Lacking(nil)); !bytes.Equal(first, second) {
		t.Error("the second export differs from the first")
	}
}

// Tables are for other programs: an archive with them is read as one without,
// and gives the same bytes again.
func TestTablesRideAlong(t *testing.T) {
	tables := []Table{{"changes.csv", "What was turned.", "a,b\r\n1,2\r\n"}, {"laps.csv", "Every lap.", "c\r\n"}}
	entries := season(t)
	export := func(entries []entry.Entry) []byte {
		var out bytes.Buffer
		if err := Write(&out, entries, nil, tables...); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	first := export(entries)
	c, err := Read(bytes.NewReader(first))
	if err != nil || len(c.Entries) != len(entries) || len(c.Findings) > 0 {
		t.Fatalf("%d entries, findings %v, %v", len(c.Entries), c.Findings, err)
	}
	log, _ := Verify(c)
	if !bytes.Equal(first, export(log.Lacking(nil))) {
		t.Error("the second export differs from the first")
	}
	z, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range z.File {
		names = append(names, f.Name)
		if f.Modified.Year() != 1980 {
			t.Errorf("%s is of %v", f.Name, f.Modified)
		}
	}
	if got := strings.Join(names, " "); got != "README.txt entries.jsonl changes.csv laps.csv" {
		t.Errorf("the archive holds %s", got)
	}
	if text := readmeFor(nil, tables); !strings.Contains(text, "changes.csv\nWhat was turned.") || strings.Contains(text, "photos/") || strings.Contains(readmeFor(nil, nil), "CSV") {
		t.Errorf("the readme says %s", text)
	}
}

func TestVerifySaysWhatIsWrongWhere(t *testing.T) {
	lines := example.Lines()
	without := func(n int) string {
		return strings.Join(append(append([]string{}, lines[:n]...), lines[n+1:]...), "\n")
	}
	altered := strings.Replace(strings.Join(lines, "\n"), "rolled off the side stand", "rolled off the hand stand", 1)
	rows := []struct {
		name, file string
		line       int
		says       string
	}{
		{"a missing line", without(10), 11, "number 11 is missing or broken"},
		{"a changed word", altered, 0, "chain is broken"},
		{"a torn line", lines[0] + "\n" + lines[1][:40], 2, "read line"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			c, err := Read(strings.NewReader(r.file))
			if err != nil {
				t.Fatal(err)
			}
			_, findings := Verify(c)
			for _, f := range findings {
				if strings.Contains(f.Says, r.says) && (r.line == 0 || f.Line == r.line) {
					return
				}
			}
			t.Errorf("findings %v; want one that says %q at line %d", findings, r.says, r.line)
		})
	}
}

// An editor that put its mark before the text, and its ends behind the lines,
// changed no entry.
func TestReadForgivesAnEditor(t *testing.T) {
	file := "\ufeff" + strings.Join(example.Lines(), "\r\n") + "\r\n"
	c, err := Read(strings.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	if log, findings := Verify(c); len(findings) > 0 || log.Len() != len(example.Lines()) {
		t.Errorf("%d entries of %d, findings %v", log.Len(), len(example.Lines()), findings)
	}
}

func TestReadRefusesWhatIsNoBook(t *testing.T) {
	var empty bytes.Buffer
	z := zip.NewWriter(&empty)
	if _, err := z.Create("../../entries.jsonl"); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	rows := []struct{ name, file, says string }{
		{"nothing", "", "no entries"},
		{"prose", "dear diary", "no entries"},
		{"half a zip", "PK\x03\x04 and then nothing", "not a whole archive"},
		{"a zip of other things", empty.String(), "no entries.jsonl"},
		{"one endless line", strings.Repeat("x", entry.MaxLine+10), "longer than an entry"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			if _, err := Read(strings.NewReader(r.file)); err == nil || !strings.Contains(err.Error(), r.says) {
				t.Errorf("Read said %v; want %q", err, r.says)
			}
		})
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(strings.Join(example.Lines()[:3], "\n")))
	f.Add(write(f, season(f)[:3]))
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, file []byte) {
		c, err := Read(bytes.NewReader(file))
		if err != nil {
			return
		}
		log, findings := Verify(c)
		if log.Len() == 0 && len(findings) == 0 {
			t.Error("entries were read, none was kept and nothing was said")
		}
	})
}
