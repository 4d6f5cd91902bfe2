package main

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"github.com/andybalholm/brotli"
)

// files is a folder of built files: name to content.
type files map[string][]byte

func (f files) names() []string { return slices.Sorted(maps.Keys(f)) }

func (f files) addAll(more files) { maps.Copy(f, more) }

// keepName is the committed placeholder that lets the folder be embedded.
const keepName = ".gitkeep"

// write puts the files and their compressed copies into a folder, in the
// place of everything that was there. It returns how many bytes a browser
// fetches of each.
func (f files) write(dir string, quality int) (map[string]int, error) {
	if err := empty(dir); err != nil {
		return nil, err
	}
	sent := map[string]int{}
	for name, content := range f {
		if err := os.WriteFile(filepath.Join(dir, name), content, 0o644); err != nil {
			return nil, fmt.Errorf("write built file: %w", err)
		}
		sent[name] = len(content)
		if !compressible[filepath.Ext(name)] {
			continue
		}
		small := compress(content, quality)
		sent[name] = len(small)
		if err := os.WriteFile(filepath.Join(dir, name+".br"), small, 0o644); err != nil {
			return nil, fmt.Errorf("write compressed copy: %w", err)
		}
	}
	return sent, nil
}

func empty(dir string) error {
	old, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("empty dist: %w", err)
	}
	for _, o := range old {
		if o.Name() == keepName {
			continue
		}
		if err := os.Remove(filepath.Join(dir, o.Name())); err != nil {
			return fmt.Errorf("empty dist: %w", err)
		}
	}
	return nil
}

// compressible are the endings of files that get a brotli copy.
var compressible = map[string]bool{".js": true, ".css": true, ".html": true, ".wasm": true, ".svg": true, ".webmanifest": true, ".txt": true}

func compress(content []byte, quality int) []byte {
	var out bytes.Buffer
	w := brotli.NewWriterOptions(&out, brotli.WriterOptions{Quality: quality, LGWin: 24}) // the core is larger than the usual window
	_, _ = w.Write(content)                                                               // a bytes.Buffer takes everything
	_ = w.Close()
	return out.Bytes()
}
