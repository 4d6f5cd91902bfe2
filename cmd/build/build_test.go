package main

import (
	"bytes"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
)

func TestIconLooksLikeAPlumbLine(t *testing.T) {
	for _, size := range []int{180, 192, 512} {
		img, err := png.Decode(bytes.NewReader(iconPNG(size)))
		if err != nil || img.Bounds().Dx() != size {
			t.Fatalf("icon of %d: %v, %v", size, img.Bounds(), err)
		}
		at := func(x, y int) color.Color { return img.At(x*size/512, y*size/512) }
		for _, spot := range []struct {
			x, y int
			want color.RGBA
			what string
		}{{10, 10, paper, "ground"}, {256, 200, ink, "line"}, {256, 330, brass, "bob"}, {200, 400, paper, "beside the tip"}} {
			if got := at(spot.x, spot.y); got != color.Color(spot.want) {
				t.Errorf("icon of %d, %s: %v; want %v", size, spot.what, got, spot.want)
			}
		}
	}
}

func TestIconSurvivesARoundMask(t *testing.T) {
	for _, s := range drawing[1:] {
		for _, p := range s.points {
			if d := math.Hypot(p[0]-256, p[1]-256); d > 0.4*512 {
				t.Errorf("point %v is %.0f from the middle, outside the safe zone of %.0f", p, d, 0.4*512)
			}
		}
	}
}

func TestPageHasNothingInline(t *testing.T) {
	var out bytes.Buffer
	if err := pageTemplate.Execute(&out, page{Build: "b", Script: "/app.js", Style: "/app.css", Font: "/f.woff2", Ground: ground}); err != nil {
		t.Fatal(err)
	}
	html := out.String()
	for _, not := range []string{"<style", "style=", "<script>", "javascript:", " on"} {
		if strings.Contains(html, not) {
			t.Errorf("the page contains %q, which the content policy forbids:\n%s", not, html)
		}
	}
	for _, want := range []string{`src="/app.js"`, `href="/app.css"`, `content="b"`, `href="/manifest.webmanifest"`} {
		if !strings.Contains(html, want) {
			t.Errorf("the page lacks %s:\n%s", want, html)
		}
	}
}

func TestWriteReplacesWhatWasThere(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{keepName, "app-old.js", "app-old.js.br"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("old"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	script := bytes.Repeat([]byte("let bob = 1;\n"), 100)
	sent, err := files{"app-new.js": script, "icon.png": {1}}.write(dir, quickQuality)
	if err != nil {
		t.Fatal(err)
	}
	if sent["icon.png"] != 1 || sent["app-new.js"] == 0 || sent["app-new.js"] >= len(script) {
		t.Errorf("a browser fetches %v; the script has %d bytes before it is compressed", sent, len(script))
	}
	got, err := readFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	if names := strings.Join(got.names(), " "); names != keepName+" app-new.js app-new.js.br icon.png" {
		t.Errorf("the folder has %s", names)
	}
	plain, err := io.ReadAll(brotli.NewReader(bytes.NewReader(got["app-new.js.br"])))
	if err != nil || !bytes.Equal(plain, script) {
		t.Errorf("the compressed copy is another file: %v", err)
	}
}

func TestNameChangesWithContentAndName(t *testing.T) {
	one := files{"a.js": []byte("1")}
	for what, other := range map[string]files{"content": {"a.js": []byte("2")}, "name": {"b.js": []byte("1")}, "more": {"a.js": []byte("1"), "b.js": nil}} {
		if nameOf(one, "") == nameOf(other, "") {
			t.Errorf("builds that differ in %s have the same name", what)
		}
	}
	if nameOf(one, "") != nameOf(files{"a.js": []byte("1")}, "") {
		t.Error("the same files have two names")
	}
}

func TestPrecacheIntegrity(t *testing.T) {
	// SHA-256 of "abc": FIPS 180-2, appendix B.1, in base64.
	const want = "sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0="
	got := files{"a.txt": []byte("abc")}.precache()
	if len(got) != 1 || got[0].URL != "/a.txt" || got[0].Integrity != want {
		t.Errorf("precache says %+v; want %s", got, want)
	}
}

func TestSymbolFromDrawing(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "bob.svg")
	if err := os.WriteFile(path, []byte("<!-- note -->\n<svg\n class=\"x\">\n <path d=\"M1 2\" />\n</svg>\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := addSymbol(&out, path); err != nil || out.String() != `<symbol id="bob" viewBox="0 0 24 24"><path d="M1 2" /></symbol>` {
		t.Errorf("%s, %v", out.String(), err)
	}
	if err := os.WriteFile(path, []byte("no drawing"), 0o644); err != nil {
		t.Fatal(err)
	}
	if addSymbol(&out, path) == nil {
		t.Error("a file that is no drawing became a symbol")
	}
}
