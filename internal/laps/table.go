package laps

import (
	"strconv"
	"strings"
)

// Columns says which column, counted from 0, holds what; −1 for none. Time
// is the lap time; Lap its number; Session the stint it belongs to.
type Columns struct{ Time, Lap, Session int }

// Row is one lap read from a table: the line it stood on, counted from 1,
// its time in seconds, its number (0 if none) and its session as written.
type Row struct {
	Line    int
	Seconds float64
	Lap     int
	Session string
}

// BadRow is a line that was not read, kept as it stood, with a sentence why.
type BadRow struct {
	Line int
	Text string
	Says string
}

// Table is what ReadTable made of a file. Every line that is not blank is in
// Rows, in Bad, or is the heading: nothing is lost. Names holds the heading's
// words, nil if the file has none; Mark is what parts the columns, 0 when
// each line is one time; Width is the most columns that a line has.
type Table struct {
	Mark    rune
	Names   []string
	Width   int
	Columns Columns
	Rows    []Row
	Bad     []BadRow
}

// ReadTable reads laps from text with comma, semicolon, tab or bar between
// columns, quotes or none, decimal point or comma. With choice nil it finds
// the columns itself; show Table.Columns to the rider and pass the confirmed
// ones back. A file without a single readable time gives no Rows, and every
// line in Bad.
func ReadTable(text string, choice *Columns) Table {
	text = strings.TrimPrefix(strings.ToValidUTF8(text, "�"), "\ufeff")
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	lines := strings.Split(text, "\n")
	t := Table{Mark: findMark(lines)}
	cells := make([][]string, len(lines))
	head := -1
	for i, l := range lines {
		if strings.TrimSpace(l) == "" {
			continue
		}
		cells[i] = splitCells(l, t.Mark)
		t.Width = max(t.Width, len(cells[i]))
		if head == -1 {
			head = i
		}
	}
	if head >= 0 && isHeading(cells[head]) {
		t.Names = cells[head]
		cells[head] = nil
	}
	t.Columns = findColumns(t.Names, cells)
	if choice != nil {
		t.Columns = *choice
	}
	for i, c := range cells {
		if c != nil {
			t.take(i+1, lines[i], c)
		}
	}
	return t
}

// Cells cuts a line of the table into its columns.
func (t Table) Cells(line string) []string { return splitCells(line, t.Mark) }

func (t *Table) take(line int, text string, c []string) {
	bad := func(says string) { t.Bad = append(t.Bad, BadRow{line, text, says}) }
	cell := func(i int) string {
		if i < 0 || i >= len(c) {
			return ""
		}
		return c[i]
	}
	if cell(t.Columns.Time) == "" {
		bad("There is no lap time in this line.")
		return
	}
	s, err := ParseTime(cell(t.Columns.Time))
	if err != nil {
		bad(err.Error())
		return
	}
	r := Row{Line: line, Seconds: s, Session: cell(t.Columns.Session)}
	if n, err := strconv.Atoi(cell(t.Columns.Lap)); err == nil && n > 0 {
		r.Lap = n
	}
	t.Rows = append(t.Rows, r)
}

// findMark picks what parts the columns. If most lines are a time as they
// stand, nothing does: "1:52,4" is one time with a decimal comma.
func findMark(lines []string) rune {
	whole, full := 0, 0
	for _, l := range lines {
		if strings.TrimSpace(l) == "" {
			continue
		}
		full++
		if _, err := ParseTime(l); err == nil {
			whole++
		}
	}
	if 2*whole > full {
		return 0
	}
	best, most := rune(0), 0
	for _, m := range []rune{';', '\t', '|', ','} {
		if n := steadyTimes(lines, m); n > most {
			best, most = m, n
		}
	}
	return best
}

// steadyTimes counts the lines that have the commonest number of cells, more
// than one, and a lap time in one of them.
func steadyTimes(lines []string, mark rune) int {
	counts := map[int]int{}
	most := 0
	for _, l := range lines {
		c := splitCells(l, mark)
		if len(c) < 2 {
			continue
		}
		for _, s := range c {
			if _, err := ParseTime(s); err == nil {
				counts[len(c)]++
				most = max(most, counts[len(c)])
				break
			}
		}
	}
	return most
}

// splitCells cuts a line at mark outside double quotes; a doubled quote
// within quotes is one. A quote inside a bare cell stays, as in 1'52"4.
func splitCells(line string, mark rune) []string {
	if mark == 0 {
		return []string{strings.TrimSpace(line)}
	}
	var out []string
	var cell strings.Builder
	quoted, fresh := false, true
	r := []rune(line)
	for i := 0; i < len(r); i++ {
		switch {
		case quoted && r[i] == '"' && i+1 < len(r) && r[i+1] == '"':
			cell.WriteRune('"')
			i++
		case quoted && r[i] == '"':
			quoted = false
		case !quoted && r[i] == '"' && fresh:
			quoted, fresh = true, false
		case !quoted && r[i] == mark:
			out = append(out, strings.TrimSpace(cell.String()))
			cell.Reset()
			fresh = true
		default:
			cell.WriteRune(r[i])
			fresh = fresh && r[i] == ' '
		}
	}
	return append(out, strings.TrimSpace(cell.String()))
}

// isHeading tells whether no cell reads as a number or time and one at least
// holds a word.
func isHeading(c []string) bool {
	word := false
	for _, s := range c {
		if s == "" {
			continue
		}
		if strings.ContainsAny(s[:1], "0123456789") {
			return false
		}
		word = true
	}
	return word
}

var (
	timeWords    = []string{"laptime", "lap time", "lap_time", "rundenzeit", "zeit", "time", "temps", "tempo", "tiempo", "tijd", "seconds", "sec"}
	lapWords     = []string{"lap", "lap no", "lap number", "no", "nr", "#", "runde", "tour", "giro", "vuelta", "ronde"}
	sessionWords = []string{"session", "stint", "run", "turn", "sitzung", "sessione", "sesión", "sessie"}
)

// findColumns takes the heading's word for it and otherwise the column with
// the most lap times, those with a colon counting double so that a column of
// lap numbers or speeds does not win.
func findColumns(names []string, cells [][]string) Columns {
	c := Columns{Time: named(names, timeWords), Lap: named(names, lapWords), Session: named(names, sessionWords)}
	if c.Time >= 0 {
		return c
	}
	score := map[int]int{}
	for _, row := range cells {
		for i, s := range row {
			if _, err := ParseTime(s); err != nil {
				continue
			}
			score[i]++
			if strings.ContainsAny(s, ":'.,") {
				score[i]++
			}
		}
	}
	best := 0
	for i, n := range score {
		if n > best || n == best && i < c.Time {
			best, c.Time = n, i
		}
	}
	if c.Lap == -1 && c.Time > 0 && counts(cells, 0) {
		c.Lap = 0
	}
	return c
}

// named returns the first column whose name is one of words, in the order of
// words; −1 if none is.
func named(names, words []string) int {
	for _, w := range words {
		for i, n := range names {
			n, _, _ = strings.Cut(strings.ToLower(n), "(")
			if strings.TrimSpace(n) == w {
				return i
			}
		}
	}
	return -1
}

// counts tells whether every filled cell of a column is a small whole number.
func counts(cells [][]string, column int) bool {
	any := false
	for _, row := range cells {
		if column >= len(row) || row[column] == "" {
			continue
		}
		n, err := strconv.Atoi(row[column])
		if err != nil || n < 0 || n > 999 {
			return false
		}
		any = true
	}
	return any
}
