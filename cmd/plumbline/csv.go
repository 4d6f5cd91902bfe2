package main

import (
	"fmt"
	"os"
	"path/filepath"

	"plumbline/internal/book"
	"plumbline/internal/screen"
)

// tables prints one table of a book, or writes all of them into a folder.
func tables(args []string, std streams) int {
	f := flags("csv", std)
	name := f.String("table", "", "print this one: changes, sessions or laps")
	folder := f.String("out", "", "write all of them into this folder")
	c, ok := oneFile(f, args, std)
	if !ok {
		return exitUsage
	}
	if (*name == "") == (*folder == "") {
		fmt.Fprintln(std.err, "plumbline csv: give --table changes, sessions or laps, or --out FOLDER.")
		return exitUsage
	}
	all := screen.Tables(book.Fold(c.Entries))
	if *folder != "" {
		if code := writeTables(*folder, all, std); code != exitDone {
			return code
		}
		return wholly(f, c, std)
	}
	for _, t := range all {
		if t.Name == *name {
			fmt.Fprint(std.out, screen.CSV(t.Rows))
			return wholly(f, c, std)
		}
	}
	fmt.Fprintf(std.err, "plumbline csv: there is no table %q, only changes, sessions and laps.\n", *name)
	return exitUsage
}

func writeTables(folder string, all []screen.Table, std streams) int {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		fmt.Fprintf(std.err, "plumbline csv: %v\n", err)
		return exitUsage
	}
	for _, t := range all {
		to := filepath.Join(folder, t.Name+".csv")
		if err := os.WriteFile(to, []byte(screen.CSV(t.Rows)), 0o600); err != nil {
			fmt.Fprintf(std.err, "plumbline csv: %v\n", err)
			return exitUsage
		}
		fmt.Fprintf(std.out, "wrote %s: %d lines\n", to, len(t.Rows)-1)
	}
	return exitDone
}
