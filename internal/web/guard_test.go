package web_test

import (
	"bytes"
	"context"
	"crypto/tls"
	"errors"
	"log/slog"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"plumbline/internal/entry"
	"plumbline/internal/example"
	"plumbline/internal/share"
	"plumbline/internal/web"
)

// guards are the headers that every answer has, whatever it is.
var guards = map[string]string{
	"X-Content-Type-Options":       "nosniff",
	"Referrer-Policy":              "no-referrer",
	"Cross-Origin-Opener-Policy":   "same-origin",
	"Cross-Origin-Resource-Policy": "same-origin",
	"Permissions-Policy":           "geolocation=(self), camera=(self), accelerometer=(self), microphone=()",
}

// allowed is the whole policy: what is not in it, the page may not do.
var allowed = []string{
	"default-src 'self'", "script-src 'self' 'wasm-unsafe-eval'", "style-src 'self'", "img-src 'self' data: blob:", "worker-src 'self'",
	"connect-src 'self'", "object-src 'none'", "base-uri 'none'", "form-action 'self'", "frame-ancestors 'none'",
}

// TestEveryAnswerIsGuarded: pages, files, calls and each kind of error.
func TestEveryAnswerIsGuarded(t *testing.T) {
	s := open(t)
	token := s.season()
	s.call("POST", linksOf(example.BookID), token, s.link(linkID, "guarded", "propose", 7), 201, nil)
	here := "/api/books/" + string(example.BookID)
	for _, r := range []struct {
		method, path, contentType, body string
		status                          int
	}{
		{"GET", "/", "", "", 200},
		{"HEAD", "/", "", "", 200},
		{"GET", "/bike/setting/rear.rebound", "", "", 200},
		{"GET", "/sw.js", "", "", 200},
		{"GET", "/assets/app-0a1b2c3d.js", "", "", 200},
		{"GET", "/missing.js", "", "", 404},
		{"POST", "/", "", "", 405},
		{"GET", "/healthz", "", "", 200},
		{"GET", "/api/openapi.json", "", "", 200},
		{"GET", here + "/entries", "", "", 200},
		{"GET", here + "/entries?have=x", "", "", 400},
		{"GET", "/api/books/x/vector", "", "", 403},
		{"GET", "/api/nothing", "", "", 404},
		{"PATCH", here, "", "", 405},
		{"POST", here + "/entries", "", strings.Repeat("x", entry.MaxLine+10), 413},
		{"POST", "/api/books", "text/plain", "{}", 415},
		{"POST", "/api/books", "application/json", "{}", 422},
		{"GET", "/s/" + keyFor("guarded"), "", "", 200},
		{"POST", "/s/" + keyFor("guarded"), "application/x-www-form-urlencoded", proposal().Encode(), 303},
		{"POST", "/s/" + keyFor("guarded"), "application/x-www-form-urlencoded", "name=x", 422},
		{"GET", "/s/" + keyFor("nothing"), "", "", 404},
		{"GET", "/s/style.css", "", "", 200},
	} {
		res, got := s.raw(r.method, r.path, token, r.body, "Content-Type", r.contentType)
		name := r.method + " " + r.path
		if res.StatusCode != r.status {
			t.Errorf("%s is answered %d: %.100s; want %d", name, res.StatusCode, got, r.status)
		}
		for header, want := range guards {
			if have := res.Header.Get(header); have != want {
				t.Errorf("%s has %s %q; want %q", name, header, have, want)
			}
		}
		if policy := strings.Split(res.Header.Get("Content-Security-Policy"), "; "); !slices.Equal(policy, allowed) {
			t.Errorf("%s has the policy %q", name, policy)
		}
		private := strings.HasPrefix(r.path, "/api/") || strings.HasPrefix(r.path, "/s/")
		if have := res.Header.Get("Cache-Control"); private != (have == "no-store") {
			t.Errorf("%s has Cache-Control %q", name, have)
		}
		if isError := r.status >= 400 && !strings.HasPrefix(r.path, "/s/"); isError != (res.Header.Get("Content-Type") == "application/problem+json") {
			t.Errorf("%s with status %d is %s", name, r.status, res.Header.Get("Content-Type"))
		}
	}
}

// HTTPS is remembered where it was used, and not claimed where it was not.
func TestOnlyHTTPSIsRemembered(t *testing.T) {
	for _, over := range []*tls.ConnectionState{nil, {}} {
		req, answer := httptest.NewRequest("GET", "/", nil), httptest.NewRecorder()
		req.TLS = over
		web.New(fullDesk{}, app, slog.New(slog.DiscardHandler), web.DefaultLimits).ServeHTTP(answer, req)
		if have := answer.Header().Get("Strict-Transport-Security"); (have == "max-age=31536000") != (over != nil) {
			t.Errorf("over HTTPS %v: %q", over != nil, have)
		}
	}
}

// TestTooManyCallsAreRefused: of everything that costs the server work.
func TestTooManyCallsAreRefused(t *testing.T) {
	limits := web.DefaultLimits
	limits.PerSec, limits.SharedSec = 0.001, 0.001 // none comes free during the test
	for path, most := range map[string]int{"/api/nothing": 60, "/s/style.css": 30, "/s/nothing": 30} {
		h := web.New(tornDesk{}, app, slog.New(slog.DiscardHandler), limits)
		for n := range most + 1 {
			answer := httptest.NewRecorder()
			h.ServeHTTP(answer, httptest.NewRequest("GET", path, nil))
			if refused := answer.Code == 429; refused != (n == most) {
				t.Fatalf("call %d of %s is answered %d", n+1, path, answer.Code)
			}
			if answer.Code == 429 && answer.Header().Get("Content-Type") != "application/problem+json" {
				t.Errorf("%s: 429 comes as %v", path, answer.Header())
			}
		}
	}
}

// tornDesk fails in ways that only its operator should hear of.
type tornDesk struct{ fullDesk }

func (tornDesk) Vector(context.Context, string, entry.BookID) (entry.Vector, error) {
	return nil, errors.New("the disk of shelf 7 is torn")
}

func (tornDesk) Links(context.Context, string, entry.BookID) ([]share.Link, error) {
	panic("shelf 7 fell over")
}

func (tornDesk) OpenLink(context.Context, string, bool) (share.Link, []entry.Entry, error) {
	return share.Link{}, nil, errors.New("the disk of shelf 7 is torn")
}

// What goes wrong inside is in the log, with the route and not the address,
// and not in the answer.
func TestInnerFaultsAreLoggedAndNotTold(t *testing.T) {
	const secret = "this-is-a-secret-of-a-link-or-a-book-id"
	for _, path := range []string{"/api/books/" + secret + "/vector", "/api/books/" + secret + "/links", "/s/" + secret} {
		var log bytes.Buffer
		h := web.New(tornDesk{}, app, slog.New(slog.NewTextHandler(&log, nil)), web.DefaultLimits)
		answer := httptest.NewRecorder()
		req := httptest.NewRequest("GET", path+"?q="+secret, nil)
		req.Header.Set("Authorization", "Bearer "+secret)
		h.ServeHTTP(answer, req)
		if answer.Code != 500 || answer.Header().Get("Content-Type") != "application/problem+json" || strings.Contains(answer.Body.String(), "shelf 7") {
			t.Errorf("%s is answered %d: %s", path, answer.Code, answer.Body)
		}
		if !strings.Contains(log.String(), "shelf 7") || strings.Contains(log.String(), secret) {
			t.Errorf("of %s the log says %s", path, log.String())
		}
	}
}
