package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"plumbline/internal/store"
)

// onFolder parses the options of a verb that works on the data folder.
func onFolder(f *flag.FlagSet, args []string, files int, std streams) (data string, ok bool) {
	f.StringVar(&data, "data", "data", "the folder that the database is kept in")
	if err := f.Parse(args); err != nil {
		return "", false
	}
	if f.NArg() != files {
		fmt.Fprintf(std.err, "%s: give %s.\n", f.Name(), []string{"no file", "one file"}[files])
		return "", false
	}
	return data, true
}

// backup writes a whole and consistent copy of the database while a server may
// be running.
func backup(args []string, std streams) int {
	f := flags("backup", std)
	data, ok := onFolder(f, args, 1, std)
	if !ok {
		return exitUsage
	}
	h, err := backUp(data, f.Arg(0))
	if err != nil {
		fmt.Fprintf(std.err, "%s: %v\n", f.Name(), err)
		return exitUsage
	}
	fmt.Fprintf(std.out, "wrote %s: %d books, %d entries, %d photos, checked\n", f.Arg(0), h.Books, h.Entries, h.Photos)
	return exitDone
}

func backUp(data, name string) (h store.Health, err error) {
	ctx := context.Background()
	s, err := store.OpenExisting(ctx, data)
	if err != nil {
		return store.Health{}, err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if err := s.Backup(ctx, name); err != nil {
		return store.Health{}, err
	}
	return store.Examine(ctx, name)
}

// restore puts a backup into a data folder that has no database yet.
func restore(args []string, std streams) int {
	f := flags("restore", std)
	data, ok := onFolder(f, args, 1, std)
	if !ok {
		return exitUsage
	}
	h, err := putBack(data, f.Arg(0))
	if err != nil {
		fmt.Fprintf(std.err, "%s: %v\n", f.Name(), err)
		return exitUsage
	}
	fmt.Fprintf(std.out, "restored into %s: %d books, %d entries, %d photos\n", data, h.Books, h.Entries, h.Photos)
	return exitDone
}

func putBack(data, name string) (store.Health, error) {
	h, err := store.Examine(context.Background(), name)
	if err != nil {
		return store.Health{}, err
	}
	if err := os.MkdirAll(data, 0o700); err != nil {
		return store.Health{}, fmt.Errorf("make data folder: %w", err)
	}
	return h, store.Restore(name, data)
}

// health prints counts and sizes, never content.
func health(args []string, std streams) int {
	f := flags("health", std)
	asJSON := f.Bool("json", false, "print for scripts")
	data, ok := onFolder(f, args, 0, std)
	if !ok {
		return exitUsage
	}
	h, err := store.Examine(context.Background(), filepath.Join(data, store.File))
	if err != nil {
		fmt.Fprintf(std.err, "%s: %v\n", f.Name(), err)
		return exitFault
	}
	if *asJSON {
		printJSON(std.out, h)
		return exitDone
	}
	fmt.Fprintf(std.out, "database: whole, version %d, %.1f MB\nbooks: %d\nphones: %d\nentries: %d\nphotos: %d\n",
		h.Version, float64(h.Bytes)/1e6, h.Books, h.Devices, h.Entries, h.Photos)
	return exitDone
}
