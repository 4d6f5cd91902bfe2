package web_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/desk"
	"plumbline/internal/entry"
	"plumbline/internal/example"
	"plumbline/internal/store"
	"plumbline/internal/web"

	"go.uber.org/goleak"
)

const otherBook = "01890000-0000-7000-8000-0000000000bb"

// station is a whole server on a real database, with a clock to turn.
type station struct {
	t   *testing.T
	url string
	now time.Time
}

var app = fstest.MapFS{
	"index.html":                {Data: []byte("<!doctype html><title>app</title>")},
	"assets/app-0a1b2c3d.js":    {Data: []byte("plain script")},
	"assets/app-0a1b2c3d.js.br": {Data: []byte("small script")},
	"sw.js":                     {Data: []byte("worker")},
}

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

func open(t *testing.T) *station {
	t.Helper()
	s, err := store.Open(t.Context(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	at := &station{t: t, now: time.Date(2026, 9, 12, 9, 0, 0, 0, time.UTC)}
	limits := web.DefaultLimits
	limits.PerSec, limits.Burst, limits.SharedSec = 10_000, 10_000, 10_000
	limits.JoinSec, limits.BookSec = 0.001, 0.001 // no try comes free while a test runs
	srv := httptest.NewServer(web.New(desk.New(s, func() time.Time { return at.now }), app, slog.New(slog.DiscardHandler), limits))
	at.url = srv.URL
	t.Cleanup(func() {
		srv.Close()
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return at
}

// call sends a request and decodes the answer, which must have the status.
func (s *station) call(method, path, token, body string, status int, into any) *http.Response {
	s.t.Helper()
	req, err := http.NewRequest(method, s.url+path, strings.NewReader(body))
	if err != nil {
		s.t.Fatal(err)
	}
	if strings.HasPrefix(body, "{\"") && !strings.Contains(path, "/entries") {
		req.Header.Set("Content-Type", "application/json")
	}
	if token != "" {
		req.Header.Set("Authorization", "Bearer "+token)
	}
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		s.t.Fatal(err)
	}
	defer res.Body.Close()
	answer, err := io.ReadAll(res.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	if res.StatusCode != status {
		s.t.Fatalf("%s %s answered %d: %s; want %d", method, path, res.StatusCode, answer, status)
	}
	if raw, ok := into.(*[]byte); ok {
		*raw = answer
	} else if into != nil {
		if err := json.Unmarshal(answer, into); err != nil {
			s.t.Fatalf("%s %s answered %s: %v", method, path, answer, err)
		}
	}
	return res
}

// keyFor returns a key, always the same for the same word.
func keyFor(word string) string {
	sum := sha256.Sum256([]byte(word))
	return base64.RawURLEncoding.EncodeToString(sum[:])
}

func newBook(book entry.BookID, device, key string) string {
	return fmt.Sprintf(`{"book":%q,"device":%q,"key":%q}`, book, device, key)
}

// create opens a book at the server and returns its key.
func (s *station) create(book entry.BookID, device string) string {
	s.t.Helper()
	key := keyFor(string(book) + device)
	s.call("POST", "/api/books", "", newBook(book, device, key), 204, nil)
	return key
}

type problem struct {
	Status int
	Title  string
	Detail string
	Errors []struct{ Field, Says string }
}

func entriesOf(book entry.BookID) string { return "/api/books/" + string(book) + "/entries" }

func TestPushTwiceAndPull(t *testing.T) {
	s := open(t)
	token := s.create(example.BookID, string(example.DeviceID))
	lines := example.Lines()
	batch := strings.Join(lines, "\n")
	for range 2 {
		var a struct{ Have entry.Vector }
		s.call("POST", entriesOf(example.BookID), token, batch, 200, &a)
		if a.Have[example.DeviceID] != int64(len(lines)) {
			t.Fatalf("the server has %v; want %d lines", a.Have, len(lines))
		}
	}
	var got []byte
	s.call("GET", entriesOf(example.BookID), token, "", 200, &got)
	if string(got) != batch+"\n" {
		t.Error("what was pulled is not what was pushed")
	}
	s.call("GET", fmt.Sprintf("%s?have=%s:%d", entriesOf(example.BookID), example.DeviceID, len(lines)-1), token, "", 200, &got)
	if string(got) != lines[len(lines)-1]+"\n" {
		t.Errorf("pulled %q; want the last line only", got)
	}
}

func TestBadBatchesAreRefusedWhole(t *testing.T) {
	lines := example.Lines()
	foreign := book.Open(otherBook, example.DeviceID)
	other, err := foreign.Stamp([]book.Draft{{Kind: "device", Body: book.DeviceBody{Name: "x"}}}, "", time.Unix(1, 0).UTC(), make([]byte, 16))
	if err != nil {
		t.Fatal(err)
	}
	forged := strings.Replace(lines[2], `"kind":"person"`, `"kind":"strike"`, 1)
	rows := []struct{ name, batch, says string }{
		{"a gap", lines[0] + "\n" + lines[2], "is not here yet"},
		{"a changed line", lines[0] + "\n" + lines[1] + "\n" + forged + "\n" + lines[3], "chain is broken"},
		{"another book's line", lines[0] + "\n" + other[0], "belongs to another book"},
		{"not JSON", lines[0] + "\nhello", "read line"},
		{"not canonical", lines[0] + "\n" + strings.Replace(lines[1], `,"seq"`, `, "seq"`, 1), "canonical"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			s := open(t)
			token := s.create(example.BookID, string(example.DeviceID))
			var p problem
			res := s.call("POST", entriesOf(example.BookID), token, r.batch, 422, &p)
			if !strings.Contains(p.Detail, r.says) || res.Header.Get("Content-Type") != "application/problem+json" {
				t.Errorf("refused with %+v (%s); want %q", p, res.Header.Get("Content-Type"), r.says)
			}
			var got []byte
			s.call("GET", entriesOf(example.BookID), token, "", 200, &got)
			if len(got) != 0 {
				t.Errorf("half of a refused batch was stored: %s", got)
			}
		})
	}
}

func TestOnlyTheBooksOwnKeyOpensIt(t *testing.T) {
	s := open(t)
	token := s.create(example.BookID, string(example.DeviceID))
	theirs := s.create(otherBook, string(example.DeviceID))
	for _, wrong := range []string{"", "x", theirs, token + "x"} {
		s.call("POST", entriesOf(example.BookID), wrong, example.Lines()[0], 403, nil)
		s.call("GET", entriesOf(example.BookID), wrong, "", 403, nil)
		s.call("GET", "/api/books/"+string(example.BookID)+"/vector", wrong, "", 403, nil)
		s.call("POST", "/api/books/"+string(example.BookID)+"/invitations", wrong, "", 403, nil)
	}
}

// TestALostAnswerShutsNobodyOut: at the edge of a network the server hears and
// the phone does not.
func TestALostAnswerShutsNobodyOut(t *testing.T) {
	s := open(t)
	const other = "01890000-0000-7000-8000-0000000000d2"
	key := s.create(example.BookID, string(example.DeviceID))
	s.create(example.BookID, string(example.DeviceID))
	s.call("POST", entriesOf(example.BookID), key, example.Lines()[0], 200, nil)

	var p problem
	rows := []struct{ name, body string }{
		{"another key", newBook(example.BookID, string(example.DeviceID), keyFor("thief"))},
		{"another device with the key", newBook(example.BookID, other, key)},
		{"the key for another book", newBook(otherBook, other, key)},
	}
	for _, r := range rows {
		if s.call("POST", "/api/books", "", r.body, 409, &p); !strings.Contains(p.Detail, "join it with a code") {
			t.Errorf("%s: refused with %+v", r.name, p)
		}
	}
	s.call("GET", entriesOf(example.BookID), keyFor("thief"), "", 403, nil)
	s.call("GET", entriesOf(otherBook), key, "", 403, nil)

	var a struct{ Code, Book string }
	s.call("POST", "/api/books/"+string(example.BookID)+"/invitations", key, "", 201, &a)
	for range 2 {
		s.call("POST", "/api/join", "", fmt.Sprintf(`{"code":%q,"device":%q,"key":%q}`, a.Code, other, keyFor("joins")), 200, &a)
		if a.Book != string(example.BookID) {
			t.Fatalf("joined %q", a.Book)
		}
	}
	s.call("POST", "/api/join", "", fmt.Sprintf(`{"code":%q,"device":%q,"key":%q}`, a.Code, other, keyFor("thief")), 404, nil)
}

func TestInvitationsWorkOnceAndForTenMinutes(t *testing.T) {
	s := open(t)
	token := s.create(example.BookID, string(example.DeviceID))
	invite := func() string {
		var a struct{ Code string }
		s.call("POST", "/api/books/"+string(example.BookID)+"/invitations", token, "", 201, &a)
		return a.Code
	}
	join := func(code string, status int, into any) {
		s.call("POST", "/api/join", "", fmt.Sprintf(`{"code":%q,"device":"01890000-0000-7000-8000-0000000000d2","key":%q}`, code, keyFor(code)), status, into)
	}
	code := invite()
	var a struct{ Book string }
	spoken := strings.ToLower(code[:5]) + "-" + code[5:]
	join(spoken, 200, &a)
	if a.Book != string(example.BookID) {
		t.Fatalf("joined %q", a.Book)
	}
	s.call("POST", entriesOf(example.BookID), keyFor(spoken), example.Lines()[0], 200, nil)
	join(code, 404, nil)

	late := invite()
	s.now = s.now.Add(desk.InvitationLife + time.Second)
	join(late, 404, nil)
}

func TestGuessingCodesIsSlowedDown(t *testing.T) {
	s := open(t)
	guess := fmt.Sprintf(`{"code":"2222222222","device":"01890000-0000-7000-8000-0000000000d2","key":%q}`, keyFor("guesser"))
	for range 6 {
		s.call("POST", "/api/join", "", guess, 404, nil)
	}
	s.call("POST", "/api/join", "", guess, 429, nil)
}

// TestAProxysPhonesAreToldApart: or one busy phone would slow down a club.
func TestAProxysPhonesAreToldApart(t *testing.T) {
	for _, proxy := range []bool{false, true} {
		limits := web.DefaultLimits
		limits.Burst, limits.PerSec, limits.Proxy = 1, 0.001, proxy
		h := web.New(fullDesk{}, app, slog.New(slog.DiscardHandler), limits)
		var last int
		for _, phone := range []string{"203.0.113.1", "203.0.113.2"} {
			r := httptest.NewRequest("GET", "/api/nothing", nil)
			r.RemoteAddr = "127.0.0.1:4000"
			r.Header.Set("X-Forwarded-For", phone)
			answer := httptest.NewRecorder()
			h.ServeHTTP(answer, r)
			last = answer.Code
		}
		if want := map[bool]int{false: 429, true: 404}[proxy]; last != want {
			t.Errorf("proxy %v: the second phone is answered %d; want %d", proxy, last, want)
		}
	}
}

// TestAHouseholdIsOneClient: of IPv6 a guesser has more addresses than tries
// would need, and behind a proxy can write any into the header.
func TestAHouseholdIsOneClient(t *testing.T) {
	for _, r := range []struct {
		name, first, second string
		status              int
	}{
		{"two addresses of one /64", "2001:db8:1:2::1", "2001:db8:1:2:ffff::9", 429},
		{"two households", "2001:db8:1:2::1", "2001:db8:1:3::1", 404},
		{"two of IPv4", "203.0.113.1", "203.0.113.2", 404},
		{"one of IPv4, written as IPv6", "203.0.113.1", "::ffff:203.0.113.2", 404},
		{"another name in front of one's own", "203.0.113.1", "198.51.100.7, 203.0.113.1", 429},
		{"an address that is none", "203.0.113.1", "hello, 203.0.113.1", 429},
	} {
		t.Run(r.name, func(t *testing.T) {
			limits := web.DefaultLimits
			limits.Burst, limits.PerSec, limits.Proxy = 1, 0.001, true
			h := web.New(fullDesk{}, app, slog.New(slog.DiscardHandler), limits)
			var last int
			for _, from := range []string{r.first, r.second} {
				req := httptest.NewRequest("GET", "/api/nothing", nil)
				req.RemoteAddr = "127.0.0.1:4000"
				req.Header.Set("X-Forwarded-For", from)
				answer := httptest.NewRecorder()
				h.ServeHTTP(answer, req)
				last = answer.Code
			}
			if last != r.status {
				t.Errorf("the second call is answered %d; want %d", last, r.status)
			}
		})
	}
}

// TestBeginningBooksIsSlowedDown: each takes room on the disk.
func TestBeginningBooksIsSlowedDown(t *testing.T) {
	s := open(t)
	for n := range 61 {
		id := fmt.Sprintf("01890000-0000-7000-8000-%012d", n)
		s.call("POST", "/api/books", "", newBook(entry.BookID(id), string(example.DeviceID), keyFor(id)), map[bool]int{true: 204, false: 429}[n < 60], nil)
	}
}

func TestShapesAreChecked(t *testing.T) {
	s := open(t)
	var p problem
	s.call("POST", "/api/books", "", `{"book":"heron"}`, 422, &p)
	if len(p.Errors) != 3 || p.Errors[0].Field != "book" || p.Errors[1].Field != "device" || p.Errors[2].Field != "key" {
		t.Errorf("errors %+v; want one for book, device and key", p.Errors)
	}
	s.call("POST", "/api/books", "", newBook(example.BookID, string(example.DeviceID), "short"), 422, nil)
	s.call("POST", "/api/books", "", `{"book":`, 400, &p)
	s.call("GET", "/api/nothing", "", "", 404, &p)
	token := s.create(example.BookID, string(example.DeviceID))
	s.call("GET", entriesOf(example.BookID)+"?have=x", token, "", 400, &p)
	s.call("POST", entriesOf(example.BookID), token, strings.Repeat("x", entry.MaxLine+10), 413, &p)
	s.call("POST", entriesOf(example.BookID), token, strings.Repeat("x\n", 3<<20), 413, &p)
}

func TestFiles(t *testing.T) {
	s := open(t)
	get := func(path string, headers ...string) (*http.Response, string) {
		req, _ := http.NewRequest("GET", s.url+path, nil)
		for i := 0; i < len(headers); i += 2 {
			req.Header.Set(headers[i], headers[i+1])
		}
		res, err := http.DefaultTransport.RoundTrip(req)
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		var b bytes.Buffer
		_, _ = b.ReadFrom(res.Body)
		return res, b.String()
	}
	for _, path := range []string{"/", "/why", "/bike/heron/rear"} {
		res, body := get(path)
		if !strings.Contains(body, "<title>app") || res.Header.Get("Cache-Control") != "no-cache" || !strings.Contains(res.Header.Get("Content-Security-Policy"), "wasm-unsafe-eval") {
			t.Errorf("%s: %s, headers %v", path, body, res.Header)
		}
	}
	res, body := get("/assets/app-0a1b2c3d.js", "Accept-Encoding", "gzip, br")
	if body != "small script" || res.Header.Get("Content-Encoding") != "br" || res.Header.Get("Vary") != "Accept-Encoding" || !strings.Contains(res.Header.Get("Cache-Control"), "immutable") {
		t.Errorf("compressed: %q, headers %v", body, res.Header)
	}
	if _, body = get("/assets/app-0a1b2c3d.js", "Accept-Encoding", "br", "Range", "bytes=0-4"); body != "plain" {
		t.Errorf("range: %q; want the plain file's first bytes", body)
	}
	if res, _ = get("/sw.js"); res.Header.Get("Cache-Control") != "no-cache" {
		t.Errorf("the service worker may be cached: %v", res.Header)
	}
	for _, path := range []string{"/missing.js", "/../go.mod", "/assets/%2e%2e/%2e%2e/go.mod"} {
		if res, _ = get(path); res.StatusCode != 404 {
			t.Errorf("%s answered %d; want 404", path, res.StatusCode)
		}
	}
	if res, err := http.Head(s.url + "/"); err != nil || res.StatusCode != 200 {
		t.Errorf("HEAD / answered %v, %v", res, err)
	}
}

func TestHealth(t *testing.T) {
	s := open(t)
	var got []byte
	s.call("GET", "/healthz", "", "", 200, &got)
	if string(got) != "ok\n" {
		t.Errorf("healthz says %q", got)
	}
}
