package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
)

// small are the packages whose functions are not put into each other: the
// core loads sooner for the bytes that this saves (about 95 KB compressed, of
// which most is the table of what was put where). Not among them is what runs
// thousands of times when a book opens: entry, book, unit, reflect, the
// runtime. The last pattern that fits a package counts.
var small = []string{
	"plumbline/...=-l", "plumbline/internal/entry=", "plumbline/internal/book=", "plumbline/internal/unit=",
	"fmt=-l", "time=-l", "encoding/json=-l", "encoding/binary=-l", "io/fs=-l", "archive/zip=-l", "compress/flate=-l",
	"gonum.org/...=-l", "rsc.io/...=-l",
}

// compileCore compiles the core for the browser. Without version control's
// stamp, so that the same source gives the same bytes.
func compileCore(root string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "plumbline-core-")
	if err != nil {
		return nil, fmt.Errorf("compile core: %w", err)
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "core.wasm")
	args := []string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", out}
	for _, s := range small {
		args = append(args, "-gcflags="+s)
	}
	cmd := exec.Command("go", append(args, "./cmd/phonecore")...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	if said, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("compile core: %w\n%s", err, said)
	}
	return os.ReadFile(out)
}

// goRoot is where the toolchain is whose runtime the core was built with.
func goRoot() (string, error) {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", fmt.Errorf("find toolchain: %w", err)
	}
	return strings.TrimSpace(string(out)), nil
}

// shared is how every bundle is made. 2022 is what browsers with the rest of
// what the app needs understand.
var shared = []string{"--bundle", "--minify", "--target=es2022", "--log-level=warning", "--legal-comments=none"}

// esbuild runs npm's esbuild in static/ and returns what it printed.
func esbuild(root string, args ...string) ([]byte, error) {
	program, err := filepath.Abs(filepath.Join(root, "static", "node_modules", ".bin", "esbuild"))
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(program); err != nil {
		return nil, errors.New("npm's packages are not installed; run: make run")
	}
	cmd := exec.Command(program, append(args, shared...)...)
	cmd.Dir = filepath.Join(root, "static")
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("bundle %s: %w\n%s", args[0], err, said.Bytes())
	}
	return out, nil
}

func bundleWorker(root, coreURL string) ([]byte, error) {
	toolchain, err := goRoot()
	if err != nil {
		return nil, err
	}
	return esbuild(root, "src/core.worker.ts", "--format=iife", define("CORE_URL", coreURL),
		"--alias:wasm_exec="+filepath.Join(toolchain, "lib", "wasm", "wasm_exec.js"))
}

func define(name, text string) string {
	quoted, _ := json.Marshal(text) // strings always marshal
	return "--define:" + name + "=" + string(quoted)
}

// bundleApp bundles the app with its styles, fonts and parts that load later.
func bundleApp(root string, defines map[string]string) (files, error) {
	dir, err := os.MkdirTemp("", "plumbline-app-")
	if err != nil {
		return nil, fmt.Errorf("bundle app: %w", err)
	}
	defer os.RemoveAll(dir)
	args := []string{"src/app.tsx", "--format=esm", "--splitting", "--outdir=" + dir, "--public-path=/", "--loader:.woff2=file",
		"--entry-names=[name]-[hash]", "--chunk-names=[name]-[hash]", "--asset-names=[name]-[hash]"}
	for name, text := range defines {
		args = append(args, define(name, text))
	}
	if _, err := esbuild(root, args...); err != nil {
		return nil, err
	}
	return readFolder(dir)
}

func readFolder(dir string) (files, error) {
	list, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("read bundle: %w", err)
	}
	out := files{}
	for _, entry := range list {
		if out[entry.Name()], err = os.ReadFile(filepath.Join(dir, entry.Name())); err != nil {
			return nil, fmt.Errorf("read bundle: %w", err)
		}
	}
	return out, nil
}

func bundleServiceWorker(root string, precache []byte) ([]byte, error) {
	return esbuild(root, "../sw/src/sw.ts", "--format=iife", "--define:MANIFEST="+string(precache))
}

// inside is what stands between an SVG file's outermost tags.
var inside = regexp.MustCompile(`(?s)<svg[^>]*>(.*)</svg>`)

// sprite puts the general icons that lucide.txt names, and our own, into one file.
func sprite(root string) ([]byte, error) {
	var out bytes.Buffer
	out.WriteString(`<svg xmlns="http://www.w3.org/2000/svg">`)
	wanted, err := os.ReadFile(filepath.Join(root, "static", "icons", "lucide.txt"))
	if err != nil {
		return nil, fmt.Errorf("make icon sprite: %w", err)
	}
	var paths []string
	for _, name := range strings.Fields(string(wanted)) {
		paths = append(paths, filepath.Join(root, "static", "node_modules", "lucide-static", "icons", name+".svg"))
	}
	own, err := filepath.Glob(filepath.Join(root, "static", "icons", "*.svg"))
	if err != nil {
		return nil, fmt.Errorf("make icon sprite: %w", err)
	}
	for _, p := range append(paths, own...) {
		if err := addSymbol(&out, p); err != nil {
			return nil, err
		}
	}
	out.WriteString("</svg>\n")
	return out.Bytes(), nil
}

func addSymbol(out *bytes.Buffer, path string) error {
	raw, err := os.ReadFile(path)
	if err != nil {
		return fmt.Errorf("make icon sprite: %w", err)
	}
	drawn := inside.FindSubmatch(raw)
	if drawn == nil {
		return fmt.Errorf("make icon sprite: %s is not one SVG drawing", path)
	}
	id := strings.TrimSuffix(filepath.Base(path), ".svg")
	fmt.Fprintf(out, `<symbol id="%s" viewBox="0 0 24 24">%s</symbol>`, id, strings.Join(strings.Fields(string(drawn[1])), " "))
	return nil
}

// licences puts the notices together of what is in the bundle.
func licences(root string) ([]byte, error) {
	toolchain, err := goRoot()
	if err != nil {
		return nil, err
	}
	modules := filepath.Join(root, "static", "node_modules")
	var out bytes.Buffer
	for _, part := range []struct{ name, file string }{
		{"Plumbline", filepath.Join(root, "LICENSE")},
		{"Go", filepath.Join(toolchain, "LICENSE")},
		{"preact", filepath.Join(modules, "preact", "LICENSE")},
		{"idb", filepath.Join(modules, "idb", "LICENSE")},
		{"qr", filepath.Join(modules, "qr", "LICENSE")},
		{"Lucide", filepath.Join(modules, "lucide-static", "LICENSE")},
		{"Atkinson Hyperlegible Next", filepath.Join(modules, "@fontsource-variable", "atkinson-hyperlegible-next", "LICENSE")},
	} {
		text, err := os.ReadFile(part.file)
		if err != nil {
			return nil, fmt.Errorf("gather licences: %w", err)
		}
		fmt.Fprintf(&out, "# %s\n\n%s\n\n", part.name, bytes.TrimSpace(text))
	}
	return out.Bytes(), nil
}
