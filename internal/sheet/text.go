package sheet

import (
	"fmt"
	"slices"
	"strings"
)

// Text returns a sheet as plain text, for a terminal or a message.
func Text(s Sheet) string {
	var out strings.Builder
	year := ""
	if s.Bike.Year > 0 {
		year = fmt.Sprint(s.Bike.Year)
	}
	fmt.Fprintf(&out, "%s\n%s\n", commas(s.Bike.Name, year, s.Bike.Class, s.Bike.Tyres), commas("Sheet of "+s.Made, s.Rider))
	if s.Stop != "" {
		fmt.Fprintf(&out, "\nSTOP. %s\n", s.Stop)
	}
	heading := "SETTINGS"
	if s.Line != "" {
		heading += " (line: " + s.Line + ")"
	}
	fmt.Fprintf(&out, "\n%s\n", heading)
	wide := 0
	for _, x := range s.Settings {
		wide = max(wide, len([]rune(x.Name)))
	}
	for _, x := range s.Settings {
		drift := ""
		if x.Drift != "" {
			drift = x.Drift + " from the line"
		}
		standing := x.Standing
		if standing == "unknown" {
			standing = "" // its place says so
		}
		fmt.Fprintf(&out, "  %-*s  %s\n", wide, x.Name, commas(x.At, standing, drift))
	}
	rows(&out, "MEASURED", s.Measures)
	rows(&out, "SERVICE, PARTS, FALLS", s.History)
	changes(&out, s.Changes)
	rows(&out, "FELT", s.Symptoms)
	rows(&out, "LIKELY CAUSES", s.Causes)
	rows(&out, "CHECKS STILL TO MAKE", s.Checks)
	return out.String()
}

func rows(out *strings.Builder, heading string, rows []Row) {
	if len(rows) == 0 {
		return
	}
	fmt.Fprintf(out, "\n%s\n", heading)
	for _, r := range rows {
		fmt.Fprintf(out, "  %s\n", commas(r.Title, strings.TrimSuffix(r.Says, "."), r.When)) // a sentence goes on
	}
}

func changes(out *strings.Builder, changes []Change) {
	if len(changes) == 0 {
		return
	}
	fmt.Fprint(out, "\nLAST CHANGES\n")
	for _, c := range changes {
		fmt.Fprintf(out, "  %s\n", commas(c.When+"  "+c.Title, c.Verdict))
		if says := commas(before("turned by ", c.Who), before("idea of ", c.Idea), c.Why); says != "" {
			fmt.Fprintf(out, "      %s\n", says)
		}
	}
}

// before puts a word before another, unless that is empty.
func before(word, other string) string {
	if other == "" {
		return ""
	}
	return word + other
}

func commas(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), ", ")
}
