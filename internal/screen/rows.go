package screen

import (
	"fmt"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/unit"
)

// RowsArgs asks for a bike's sessions and laps as tables.
type RowsArgs struct {
	Bike book.BikeID `json:"bike"`
}

// Rows are a bike's sessions and laps as CSV (RFC 4180), in canonical units:
// °C, kPa, l, s.
type Rows struct {
	Sessions string `json:"sessions"`
	Laps     string `json:"laps"`
}

var _ = view("rows", func(a Ask, args RowsArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	return Rows{CSV(SessionRows(a.Book, k)), CSV(LapRows(a.Book, k))}, nil
})

// SessionRows are a bike's sessions in the order ridden, the heading first.
// Units stand in the heading.
func SessionRows(b *book.Book, k *book.Bike) [][]string {
	out := [][]string{{
		"date", "time", "track", "direction", "session", "air °C", "surface °C", "wet", "wind", "fuel l", "tyres", "heat cycle",
		"front cold kPa", "rear cold kPa", "front hot kPa", "rear hot kPa", "felt", "laps", "laps that count", "best s", "middle s", "note",
	}}
	for _, d := range b.RidingDays(k) {
		for i, s := range d.Sessions {
			n, sum := s.Body, sums(stint(k, s.Body.Session))
			tyres, cycle := "", ""
			for _, t := range k.TyreSets {
				if t.ID == n.Tyres {
					tyres, cycle = t.Name, fmt.Sprint(k.HeatCycles(t.ID, n.Session))
				}
			}
			out = append(out, []string{
				d.Date, runTime(s), b.Tracks[d.Track].Name, d.Way, fmt.Sprint(i + 1), plain(n.Air), plain(n.Ground), yesNo(n.Wet), n.Wind, plain(n.Fuel), tyres, cycle,
				plain(n.ColdFront), plain(n.ColdRear), plain(n.Front), plain(n.Rear), n.Felt, fmt.Sprint(sum.All), fmt.Sprint(sum.Counted), secondsPlain(sum.Best), secondsPlain(sum.Middle), n.Note,
			})
		}
	}
	return out
}

// LapRows are a bike's laps in the order ridden, the heading first. Sector
// times follow in as many columns as the longest lap has.
func LapRows(b *book.Book, k *book.Bike) [][]string {
	head := []string{"date", "time", "track", "session", "lap", "seconds", "mark", "whose mark", "source"}
	out := [][]string{head}
	sectors := 0
	for _, d := range b.RidingDays(k) {
		for i, s := range d.Sessions {
			times, all := k.LapsOf(s.Body.Session), stint(k, s.Body.Session)
			for j, l := range all {
				mark, whose := string(l.Mark), "rule"
				if mark == "" {
					mark = "counts"
				}
				if l.Overruled {
					whose = "rider"
				}
				row := []string{d.Date, runTime(s), b.Tracks[d.Track].Name, fmt.Sprint(i + 1), fmt.Sprint(j + 1), times[j].Time.String(), mark, whose, k.Laps[s.Body.Session].Body.Source}
				for _, sector := range times[j].Sectors {
					row = append(row, sector.String())
				}
				sectors = max(sectors, len(times[j].Sectors))
				out = append(out, row)
			}
		}
	}
	for i := range sectors {
		out[0] = append(out[0], fmt.Sprintf("sector %d s", i+1))
	}
	for i := range out {
		for len(out[i]) < len(out[0]) {
			out[i] = append(out[i], "")
		}
	}
	return out
}

func plain(v *unit.Fixed) string {
	if v == nil {
		return ""
	}
	return v.String()
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func secondsPlain(s float64) string {
	if s == 0 {
		return ""
	}
	at, _ := unit.FixedOf(s)
	return at.String()
}

// CSV writes rows as RFC 4180 has it: CRLF, and quotes where a cell needs
// them. Nothing in it runs when a spreadsheet opens it: see defused.
func CSV(rows [][]string) string {
	var b strings.Builder
	for _, row := range rows {
		for i, cell := range row {
			if i > 0 {
				b.WriteByte(',')
			}
			b.WriteString(csvCell(cell))
		}
		b.WriteString("\r\n")
	}
	return b.String()
}

func csvCell(s string) string {
	s = defused(s)
	if strings.ContainsAny(s, ",;\"\r\n") || s != strings.TrimSpace(s) {
		return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return s
}

// defused puts an apostrophe before whatever a spreadsheet would take for a
// formula: = + - @, also in full width, a tab or a carriage return, where a
// cell begins and where one would begin if the file were cut at semicolons,
// tabs or line ends instead of commas. A number is none. Source: OWASP, CSV
// Injection.
func defused(s string) string {
	if _, err := unit.ParseFixed(s); err == nil {
		return s
	}
	var b strings.Builder
	begins := true
	for _, r := range s {
		if begins && strings.ContainsRune("=+-@\t\r＝＋－＠", r) {
			b.WriteByte('\'')
		}
		b.WriteRune(r)
		begins = strings.ContainsRune(";\t\r\n", r) || begins && (r == ' ' || r == '"')
	}
	return b.String()
}
