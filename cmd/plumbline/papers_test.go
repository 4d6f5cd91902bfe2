package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The README lists what there is, and no more.
func TestReadmeListsEveryVerb(t *testing.T) {
	raw, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{"help": true, "version": true} // which need no line of their own
	for line := range strings.Lines(string(raw)) {
		words := strings.Fields(strings.TrimPrefix(line, "    $ "))
		if strings.HasPrefix(line, "    ") && len(words) > 1 && words[0] == "plumbline" {
			listed[words[1]] = true
		}
	}
	for _, v := range verbs {
		if !listed[v.name] {
			t.Errorf("README.md does not list %q", v.name)
		}
		delete(listed, v.name)
	}
	for name := range listed {
		t.Errorf("README.md lists %q, which is not there", name)
	}
}

// TestPapersNameWhatIsThere holds the papers to the tree: a file or a test that
// they name is one that a reader finds.
func TestPapersNameWhatIsThere(t *testing.T) {
	files, tests := tree(t, "../..")
	quoted := regexp.MustCompile("`([^`\n]+)`")
	for _, paper := range []string{"README.md", "DEVELOPERS.md"} {
		raw, err := os.ReadFile(filepath.Join("../..", paper))
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range quoted.FindAllStringSubmatch(string(raw), -1) {
			switch name := m[1]; {
			case isTest.MatchString(name):
				if !strings.Contains(tests, "func "+name+"(") {
					t.Errorf("%s names the test %s, which is not there", paper, name)
				}
			case isFile.MatchString(name):
				if !slices.ContainsFunc(files, func(f string) bool { return endsIn(f, name) }) {
					t.Errorf("%s names the file %s, which is not there", paper, name)
				}
			}
		}
	}
}

// tree lists the files of the source, with the text of all tests.
func tree(t *testing.T, root string) (files []string, tests string) {
	t.Helper()
	var text strings.Builder
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && slices.Contains([]string{".git", "node_modules", "dist", "data", "bin"}, d.Name()):
			return filepath.SkipDir
		case d.IsDir():
			return nil
		}
		files = append(files, filepath.ToSlash(path))
		if !strings.HasSuffix(path, "_test.go") {
			return nil
		}
		raw, err := os.ReadFile(path)
		text.Write(raw)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files, text.String()
}

var (
	isTest = regexp.MustCompile(`^(Test|Fuzz|Benchmark)[A-Z]\w*$`)
	isFile = regexp.MustCompile(`^[a-zA-Z][\w./*-]*\.(go|ts|tsx|css|json|txt|md)$`)
)

// endsIn reports whether the last folders of a path fit what a paper calls it.
func endsIn(path, name string) bool {
	parts := strings.Split(path, "/")
	n := strings.Count(name, "/") + 1
	if n > len(parts) {
		return false
	}
	ok, err := filepath.Match(name, strings.Join(parts[len(parts)-n:], "/"))
	return ok && err == nil
}
