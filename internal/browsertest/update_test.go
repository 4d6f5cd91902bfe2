package browsertest

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"io/fs"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"plumbline/static"
	"plumbline/sw"
)

// release is a copy of the built app that can be made into a newer one.
type release struct {
	mu    sync.Mutex
	files fstest.MapFS
}

func (r *release) Open(name string) (fs.File, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.files.Open(name)
}

func newRelease(t *testing.T) *release {
	t.Helper()
	r := &release{files: fstest.MapFS{}}
	for _, from := range []fs.FS{static.Dist, sw.Dist} {
		list, err := fs.ReadDir(from, ".")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range list {
			if strings.HasSuffix(f.Name(), ".br") {
				continue
			}
			raw, err := fs.ReadFile(from, f.Name())
			if err != nil {
				t.Fatal(err)
			}
			r.files[f.Name()] = &fstest.MapFile{Data: raw}
		}
	}
	return r
}

func integrity(raw []byte) []byte {
	sum := sha256.Sum256(raw)
	return []byte("sha256-" + base64.StdEncoding.EncodeToString(sum[:]))
}

var buildMeta = regexp.MustCompile(`name="build" content="([0-9a-f]+)"`)

// newer changes the page and what the service worker says of it, as a build
// with one changed file does.
func (r *release) newer(t *testing.T, name string) {
	t.Helper()
	r.mu.Lock()
	defer r.mu.Unlock()
	page, worker := r.files["index.html"].Data, r.files["sw.js"].Data
	found := buildMeta.FindSubmatch(page)
	if found == nil {
		t.Fatal("the page does not name its build")
	}
	fresh := bytes.ReplaceAll(page, found[1], []byte(name))
	changed := bytes.ReplaceAll(worker, integrity(page), integrity(fresh))
	changed = bytes.ReplaceAll(changed, found[1], []byte(name))
	if bytes.Equal(changed, worker) {
		t.Fatal("the service worker does not name the page's hash")
	}
	r.files["index.html"], r.files["sw.js"] = &fstest.MapFile{Data: fresh}, &fstest.MapFile{Data: changed}
}

// asked remembers the addresses that a server was asked for.
type asked struct {
	mu    sync.Mutex
	paths []string
}

func (a *asked) watch(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		a.mu.Lock()
		a.paths = append(a.paths, r.URL.Path)
		a.mu.Unlock()
		next.ServeHTTP(w, r)
	})
}

func (a *asked) take() []string {
	a.mu.Lock()
	defer a.mu.Unlock()
	out := a.paths
	a.paths = nil
	return out
}

func TestUpdateOnTheRidersWord(t *testing.T) {
	r := newRelease(t)
	s := serverOf(t, r)
	var a asked
	s.Stop()
	s.handler = a.watch(s.handler)
	s.Start()
	p := NewPhone(t, s)
	p.Load("/phone")
	p.OfflineReady()
	p.Load("/phone")
	p.Ready()
	a.take()

	r.newer(t, "feedc0ffee")
	p.Run(`navigator.serviceWorker.ready.then((r) => r.update())`)
	p.See("A new version is ready")
	p.SeeNot("Version feedc0ffee") // nothing changes before the rider says so
	p.Tap("Use it now")
	p.See("Version feedc0ffee")

	got := a.take()
	if !slices.Contains(got, "/index.html") {
		t.Errorf("the changed page was not fetched: %v", got)
	}
	for _, path := range got {
		if strings.HasSuffix(path, ".wasm") || strings.HasSuffix(path, ".woff2") {
			t.Errorf("%s did not change and was fetched again", path)
		}
	}
}
