package web

import (
	"bytes"
	"errors"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"regexp"
	"strings"
	"time"

	"github.com/labstack/echo/v4"
)

// files serves the built app out of a file system.
type files struct{ app fs.FS }

func newFiles(app fs.FS) *files { return &files{app} }

// hashedName is a file whose name changes with its content.
var hashedName = regexp.MustCompile(`[.-][0-9A-Za-z]{8,}\.[a-z0-9]+$`)

// types are the content types that the machine's own table may lack.
var types = map[string]string{
	".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".html": "text/html; charset=utf-8",
	".wasm": "application/wasm", ".webmanifest": "application/manifest+json", ".svg": "image/svg+xml",
	".json": "application/json", ".woff2": "font/woff2", ".png": "image/png",
}

// notBuilt is what a page says when the program was built without the app.
const notBuilt = "The front end is not built into this program. Run: make run\n"

// serve answers with a file, or with the app's page for any other route, so
// that every address of the app can be opened and reloaded. The app's files
// all lie at the top; a dot further down belongs to a name in the book, as in
// /bike/setting/rear.rebound.
func (f *files) serve(c echo.Context) error {
	name := strings.TrimPrefix(path.Clean("/"+c.Request().URL.Path), "/")
	if name == "" || path.Ext(name) == "" {
		name = "index.html"
	}
	err := f.send(c, name)
	if errors.Is(err, fs.ErrNotExist) && strings.Contains(name, "/") {
		name = "index.html"
		err = f.send(c, name)
	}
	if errors.Is(err, fs.ErrNotExist) && name == "index.html" {
		return c.String(http.StatusServiceUnavailable, notBuilt)
	}
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrInvalid) {
		return echo.ErrNotFound
	}
	return err
}

func (f *files) send(c echo.Context, name string) error {
	h := c.Response().Header()
	plain, err := fs.ReadFile(f.app, name)
	if err != nil {
		return err
	}
	body := plain
	if small, err := fs.ReadFile(f.app, name+".br"); err == nil {
		h.Add(echo.HeaderVary, echo.HeaderAcceptEncoding)
		if takesBrotli(c.Request()) {
			h.Set(echo.HeaderContentEncoding, "br")
			body = small
		}
	}
	h.Set(echo.HeaderContentType, contentType(name))
	h.Set("Cache-Control", "no-cache")
	if hashedName.MatchString(name) {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	http.ServeContent(c.Response(), c.Request(), name, time.Time{}, bytes.NewReader(body))
	return nil
}

// takesBrotli reports whether a whole, compressed file may be sent. A range is
// of the plain file.
func takesBrotli(r *http.Request) bool {
	if r.Header.Get("Range") != "" {
		return false
	}
	for _, part := range strings.Split(r.Header.Get("Accept-Encoding"), ",") {
		name, q, _ := strings.Cut(strings.TrimSpace(part), ";")
		if name == "br" {
			return strings.TrimSpace(q) != "q=0"
		}
	}
	return false
}

func contentType(name string) string {
	ext := path.Ext(name)
	if t, ok := types[ext]; ok {
		return t
	}
	if t := mime.TypeByExtension(ext); t != "" {
		return t
	}
	return "application/octet-stream"
}
