package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"text/tabwriter"
	"time"

	"plumbline/internal/archive"
	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/screen"
)

// flags returns a flag set for a verb that reports to the verb's own streams.
func flags(name string, std streams) *flag.FlagSet {
	f := flag.NewFlagSet("plumbline "+name, flag.ContinueOnError)
	f.SetOutput(std.err)
	f.Usage = func() {
		v, _ := verbOf(name)
		fmt.Fprintf(std.err, "plumbline %s: %s\n\nUse: plumbline %s %s\n\n", name, v.does, name, v.args)
		f.PrintDefaults()
	}
	return f
}

// oneFile parses a verb's options and reads the one file that it wants.
func oneFile(f *flag.FlagSet, args []string, std streams) (archive.Contents, bool) {
	if err := f.Parse(args); err != nil {
		return archive.Contents{}, false
	}
	if f.NArg() != 1 {
		fmt.Fprintf(std.err, "%s: give one file, or - for standard input.\n", f.Name())
		return archive.Contents{}, false
	}
	raw, err := readFile(f.Arg(0), std.in)
	if err != nil {
		fmt.Fprintf(std.err, "%s: %v\n", f.Name(), err)
		return archive.Contents{}, false
	}
	c, err := archive.Read(bytes.NewReader(raw))
	if err != nil {
		fmt.Fprintf(std.err, "%s: %s: %v\n", f.Name(), f.Arg(0), err)
		return archive.Contents{}, false
	}
	return c, true
}

// wholly is the exit code of a verb that has printed from c, and says on the
// other stream when c is not a whole book.
func wholly(f *flag.FlagSet, c archive.Contents, std streams) int {
	_, findings := archive.Verify(c)
	if len(findings) == 0 {
		return exitDone
	}
	fmt.Fprintf(std.err, "%s: %s has faults, and this may not be the whole book. See plumbline verify %s\n", f.Name(), f.Arg(0), f.Arg(0))
	return exitFault
}

func readFile(name string, in io.Reader) ([]byte, error) {
	if name == "-" {
		return io.ReadAll(in)
	}
	return os.ReadFile(name)
}

func printJSON(w io.Writer, v any) {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	_ = enc.Encode(v) // the values are our own; a closed pipe is the reader's wish
}

// verified is what verify says of a file.
type verified struct {
	Good     bool              `json:"good"`
	Book     entry.BookID      `json:"book"`
	Entries  int               `json:"entries"`
	Devices  entry.Vector      `json:"devices"`
	Photos   int               `json:"photos"`
	Findings []archive.Finding `json:"findings"`
}

func verify(args []string, std streams) int {
	f := flags("verify", std)
	asJSON := f.Bool("json", false, "print for scripts")
	c, ok := oneFile(f, args, std)
	if !ok {
		return exitUsage
	}
	log, findings := archive.Verify(c)
	if !c.Bare {
		findings = append(findings, archive.VerifyPhotos(c, book.Fold(log.Entries()).PhotoNames())...)
	}
	v := verified{Good: len(findings) == 0, Entries: log.Len(), Devices: log.Vector(), Photos: len(c.Photos), Findings: findings}
	if len(c.Entries) > 0 {
		v.Book = c.Entries[0].Book
	}
	if *asJSON {
		printJSON(std.out, v)
	} else {
		printVerified(std.out, v)
	}
	if !v.Good {
		return exitFault
	}
	return exitDone
}

func printVerified(w io.Writer, v verified) {
	devices := "1 device"
	if n := len(v.Devices); n != 1 {
		devices = fmt.Sprint(n, " devices")
	}
	fmt.Fprintf(w, "book %s: %d entries in unbroken chains, of %s; %d photos\n", v.Book, v.Entries, devices, v.Photos)
	for _, f := range v.Findings {
		fmt.Fprintf(w, "%s: %s\n", cmp.Or(f.File, fmt.Sprintf("line %d", f.Line)), f.Says)
	}
	if v.Good {
		fmt.Fprintln(w, "good: nothing is missing and nothing was changed")
	}
}

// shown is what show prints of a bike.
type shown struct {
	screen.Summary
	Last []screen.HistoryDay `json:"last"`
}

func show(args []string, std streams) int {
	f := flags("show", std)
	asJSON := f.Bool("json", false, "print for scripts")
	bike := f.String("bike", "", "the bike's id; without it, the book's first")
	day := f.String("at", "", "what the book said at the end of that day, such as 2026-07-11")
	c, ok := oneFile(f, args, std)
	if !ok {
		return exitUsage
	}
	a := screen.Ask{Book: book.Fold(c.Entries), Now: time.Now()}
	if *day != "" {
		at, err := time.ParseInLocation(time.DateOnly, *day, time.Local)
		if err != nil {
			fmt.Fprintf(std.err, "plumbline show: %q is not a day. Write it as 2026-07-11.\n", *day)
			return exitUsage
		}
		a.Now = at.AddDate(0, 0, 1)
		a.Book = book.FoldUntil(c.Entries, entry.Clock(0).Next(a.Now.UnixMilli()))
	}
	summary, refused := screen.View("summary", a, arg("bike", *bike))
	if len(refused) > 0 {
		fmt.Fprintf(std.err, "plumbline show: %s %s\n", refused[0].Says, refused[0].Mend)
		return exitFault
	}
	history, _ := screen.View("history", a, arg("kind", book.KindChange))
	s := shown{summary.(screen.Summary), history.(screen.History).Days}
	if *asJSON {
		printJSON(std.out, s)
	} else {
		printShown(std.out, s)
	}
	return wholly(f, c, std)
}

func arg(name, value string) json.RawMessage {
	raw, _ := json.Marshal(map[string]string{name: value}) // strings always marshal
	return raw
}

func printShown(w io.Writer, s shown) {
	fmt.Fprintf(w, "%s: %s\n", s.Book, s.Bike)
	if s.Stop != "" {
		fmt.Fprintf(w, "STOP. %s\n", s.Stop)
	}
	if s.Line != "" {
		fmt.Fprintf(w, "the line: %s\n", s.Line)
	}
	fmt.Fprintln(w)
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, row := range s.Settings {
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\n", row.Name, row.At, row.Standing, row.Drift)
	}
	_ = table.Flush()
	fmt.Fprintln(w, "\nlast changes:")
	for _, d := range s.Last {
		for _, l := range d.Lines {
			fmt.Fprintf(w, "%s %s  %s%s\n", d.Day, l.Time, l.Title, because(l))
		}
	}
}

func because(l screen.HistoryLine) string {
	out := ""
	if l.Idea != "" {
		out += "; " + l.Idea + "'s idea"
	}
	if l.Why != "" {
		out += "; because " + l.Why
	}
	return out
}
