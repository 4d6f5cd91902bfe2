package main

import (
	"fmt"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/screen"
	"plumbline/internal/sheet"
)

// printSheet prints a bike's setup sheet. Names and notes stay at home unless
// they are asked for.
func printSheet(args []string, std streams) int {
	f := flags("sheet", std)
	asJSON := f.Bool("json", false, "print for scripts")
	bike := f.String("bike", "", "the bike's id; without it, the book's first")
	names := f.Bool("names", false, "show people by name; without it, by initials")
	notes := f.Bool("notes", false, "show the rider's own notes")
	c, ok := oneFile(f, args, std)
	if !ok {
		return exitUsage
	}
	a := screen.Ask{Book: book.Fold(c.Entries), Now: time.Now()}
	s, refused := screen.SheetOf(a, screen.SheetArgs{Bike: book.BikeID(*bike), Names: *names, Notes: *notes})
	if len(refused) > 0 {
		fmt.Fprintf(std.err, "plumbline sheet: %s %s\n", refused[0].Says, refused[0].Mend)
		return exitFault
	}
	if *asJSON {
		printJSON(std.out, s)
	} else {
		fmt.Fprint(std.out, sheet.Text(s))
	}
	return wholly(f, c, std)
}
