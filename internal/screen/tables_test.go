package screen

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"plumbline/internal/book"
	"plumbline/internal/example"
	"plumbline/internal/unit"
)

// readBack reads a table as another program does: with Go's own CSV reader,
// which wants the same number of cells in every line.
func readBack(t *testing.T, table Table) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(CSV(table.Rows))).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", table.Name, err)
	}
	return rows
}

func TestTablesTellTheBook(t *testing.T) {
	all := Tables(exampleAsk(t).Book)
	want := map[string][]string{
		"changes":  {"Calder Heron 600", "2026-09-12", "11:30", "Tarn Hollow", "Rear compression", "click", "change", "12", "10", "-2", "Nell Harrow", "Tess Okoro"},
		"sessions": {"Calder Heron 600", "2026-04-18", "09:40", "Fenwick Moor"},
		"laps":     {"Calder Heron 600", "2026-04-18", "09:40", "Fenwick Moor", "1", "1", "124.117", "out", "rule", "hand"},
	}
	for _, table := range all {
		rows := readBack(t, table)
		begins := func(row []string) bool { return slices.Equal(row[:len(want[table.Name])], want[table.Name]) }
		if !slices.ContainsFunc(rows, begins) {
			t.Errorf("%s has no line that begins with %q", table.Name, want[table.Name])
		}
		if rows[0][0] != "bike" || table.About == "" {
			t.Errorf("%s: heading %q, about %q", table.Name, rows[0], table.About)
		}
	}
}

// A found difference has no author until somebody owns up; a move without a
// known start has only how far.
func TestChangeRowsSayWhatIsKnown(t *testing.T) {
	rows := changeRows(exampleAsk(t).Book, exampleAsk(t).Book.Bikes[example.Heron])
	found := slices.IndexFunc(rows, func(r []string) bool { return r[5] == "found" && r[0] == "2026-09-12" })
	if found < 0 || rows[found][3] != "Rear rebound" || rows[found][8] != "3" || rows[found][9] != "" {
		t.Errorf("rows %q", rows)
	}
	by := unit.Whole(-2)
	if got := moved(book.Mark{Delta: &by}); got == nil || *got != by {
		t.Errorf("moved %v; want %v", got, by)
	}
	if got := moved(book.Mark{To: &by}); got != nil {
		t.Errorf("moved %v; want nothing where the start is unknown", *got)
	}
}

func TestABookWithoutABikeHasHeadingsOnly(t *testing.T) {
	for _, table := range Tables(book.Fold(nil)) {
		if rows := readBack(t, table); len(rows) != 1 || rows[0][0] != "bike" || len(rows[0]) < 10 {
			t.Errorf("%s: %q", table.Name, rows)
		}
	}
}

// The sectors of one bike lengthen the lines of another.
func TestLinesOfAllBikesAreOfOneLength(t *testing.T) {
	b := book.Fold(nil)
	b.Bikes = map[book.BikeID]*book.Bike{"a": {Name: "A"}, "b": {Name: "B"}, "c": {Name: "C"}}
	rows := ofAllBikes(b, func(_ *book.Book, k *book.Bike) [][]string {
		if k.Name == "B" {
			return [][]string{{"lap", "sector"}, {"1", "2"}}
		}
		return [][]string{{"lap"}, {"1"}}
	})
	want := [][]string{{"bike", "lap", "sector"}, {"A", "1", ""}, {"B", "1", "2"}, {"C", "1", ""}}
	if !slices.EqualFunc(rows, want, slices.Equal) {
		t.Errorf("rows %q; want %q", rows, want)
	}
}

// Words that somebody chose with bad intent stay words, also in a program that
// cuts lines elsewhere than at commas.
func TestNoCellIsAFormula(t *testing.T) {
	for _, r := range []struct{ cell, want string }{
		{`=HYPERLINK("https://evil.example","x")`, `'=HYPERLINK("https://evil.example","x")`},
		{"@SUM(1,2)", "'@SUM(1,2)"},
		{"+1+cmd|' /C calc'!A0", "'+1+cmd|' /C calc'!A0"},
		{"-2+3", "'-2+3"},
		{" =1", " '=1"},
		{"＝1", "'＝1"},
		{"soft;=1", "soft;'=1"},
		{"soft\n=1", "soft\n'=1"},
		{"soft\t@x", "soft\t'@x"},
		{"-0.5", "-0.5"},
		{"2 clicks - softer", "2 clicks - softer"},
		{"a=b", "a=b"},
	} {
		rows, err := csv.NewReader(strings.NewReader(CSV([][]string{{"x", r.cell}}))).ReadAll()
		if err != nil || rows[0][1] != r.want {
			t.Errorf("%q is read back as %q, %v; want %q", r.cell, rows, err, r.want)
		}
	}
}
