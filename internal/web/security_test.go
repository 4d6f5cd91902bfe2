package web_test

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"plumbline/internal/entry"
	"plumbline/internal/example"
)

// This is the list of what somebody could send with bad intent. Other books'
// keys, guessed ids, dead links and script in fields are in share_test.go;
// codes that were used before are in web_test.go; formulas in tables are in
// internal/screen.

// hostile is a call that must be refused, with problem details.
type hostile struct {
	name, method, path, contentType, body string
	status                                int
}

func TestHostileCallsAreRefusedInOneForm(t *testing.T) {
	s := open(t)
	token := s.season()
	s.call("POST", linksOf(example.BookID), token, s.link(linkID, "form", "propose", 7), 201, nil)
	here := "/api/books/" + string(example.BookID)
	book := newBook(otherBook, string(example.DeviceID), keyFor("hostile"))
	xml := "<book><Book>" + otherBook + "</Book><Device>" + string(example.DeviceID) + "</Device><Key>" + keyFor("xml") + "</Key></book>"
	const json, form = "application/json", "application/x-www-form-urlencoded"
	for _, r := range []hostile{
		{"a body over the limit", "POST", "/api/books", json, `{"book":"` + strings.Repeat("x", 5<<20) + `"}`, 413},
		{"many lines over the limit", "POST", here + "/entries", "", strings.Repeat("{}\n", 2<<20), 413},
		{"one endless line", "POST", here + "/entries", "", strings.Repeat("x", entry.MaxLine+10), 413},
		{"a form over the limit", "POST", "/s/" + keyFor("form"), form, "why=" + strings.Repeat("x", 65<<10), 413},
		{"nothing at all", "POST", "/api/books", json, "", 400},
		{"half an object", "POST", "/api/books", json, book[:20], 400},
		{"two objects", "POST", "/api/books", json, book + book, 400},
		{"a list", "POST", "/api/books", json, "[" + book + "]", 400},
		{"null", "POST", "/api/books", json, "null", 422},
		{"a number for a name", "POST", "/api/books", json, `{"book":7}`, 400},
		{"deep nesting", "POST", "/api/books", json, strings.Repeat("[", 100_000), 400},
		{"no UTF-8", "POST", "/api/books", json, "{\"book\":\"\xff\xfe\"}", 422},
		{"a line of zero bytes", "POST", here + "/entries", "", "\x00\x00\x00", 422},
		{"a line with two bodies", "POST", here + "/entries", "", strings.Replace(example.Lines()[0], `"body":`, `"body":{},"body":`, 1), 422},

		{"JSON said to be text", "POST", "/api/books", "text/plain", book, 415},
		{"JSON said to be a form", "POST", "/api/books", form, book, 415},
		{"XML, which a binder could read", "POST", "/api/books", "application/xml", xml, 415},
		{"two types", "POST", "/api/books", "application/json, text/plain", book, 415},
		{"no type", "POST", "/api/books", "", book, 415},
		{"JSON where a form belongs", "POST", "/s/" + keyFor("form"), json, `{"name":"Tess"}`, 415},

		{"GET for POST", "GET", "/api/books", "", "", 405},
		{"POST for GET", "POST", here + "/vector", "", "", 405},
		{"PATCH", "PATCH", here, "", "", 405},
		{"TRACE", "TRACE", "/api/key", "", "", 405},
		{"a method of one's own", "PLUMB", "/api/join", "", "", 405},
		{"DELETE on a shared page", "DELETE", "/s/" + keyFor("form"), "", "", 405},
		{"POST to the app", "POST", "/", "", "", 405},
		{"HEAD where there is only GET", "HEAD", here + "/devices", "", "", 405},

		{"up and out of a book", "GET", here + "/../../../etc/passwd", "", "", 404},
		{"up, encoded", "GET", "/api/books/%2e%2e%2f%2e%2e%2fetc/vector", "", "", 403},
		{"a zero byte in an id", "GET", "/api/books/x%00y/vector", "", "", 403},
		{"a quote in an id", "GET", "/api/books/'%20OR%20'1'='1/vector", "", "", 403},
		{"a percent sign as an id", "GET", "/api/books/%25/vector", "", "", 403},
		{"slashes in front", "GET", "//api/books/../../go.mod", "", "", 404},
		{"backslashes", "GET", `/..%5c..%5cgo.mod`, "", "", 404},
		{"a link's path with more behind it", "DELETE", here + "/links/" + linkID + "/../" + linkID, "", "", 404},
	} {
		t.Run(r.name, func(t *testing.T) {
			at := *s
			at.t = t
			at.refused(r, token)
		})
	}
	s.call("GET", here+"/links", token, "", 200, nil)
}

// refused sends a call and wants problem details with the row's status.
func (s *station) refused(r hostile, token string) {
	s.t.Helper()
	req, err := http.NewRequest(r.method, s.url+r.path, strings.NewReader(r.body))
	if err != nil {
		s.t.Fatal(err)
	}
	if r.contentType != "" {
		req.Header.Set("Content-Type", r.contentType)
	}
	req.Header.Set("Authorization", "Bearer "+token)
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		s.t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	if res.StatusCode != r.status || res.Header.Get("Content-Type") != "application/problem+json" {
		s.t.Fatalf("answered %d, %s: %.200s; want %d", res.StatusCode, res.Header.Get("Content-Type"), body, r.status)
	}
	if r.method != "HEAD" && !strings.Contains(string(body), fmt.Sprintf(`"status":%d`, r.status)) {
		s.t.Errorf("the problem says %s", body)
	}
	if r.status == http.StatusMethodNotAllowed && res.Header.Get("Allow") == "" {
		s.t.Error("405 without Allow")
	}
}

// What a call claims about its host or its sender changes no answer.
func TestHeadersAreNotBelieved(t *testing.T) {
	s := open(t)
	s.call("POST", linksOf(example.BookID), s.season(), s.link(linkID, "hosts", "propose", 7), 201, nil)
	for _, r := range []struct{ header, value string }{
		{"Host", "evil.example"}, {"X-Forwarded-Host", "evil.example"}, {"X-Forwarded-Proto", "gopher"}, {"Forwarded", "host=evil.example"},
		{"X-Original-URL", "/api/evil.example"}, {"X-HTTP-Method-Override", "DELETE"}, {"Origin", "https://evil.example"},
	} {
		t.Run(r.header, func(t *testing.T) {
			req := httptest.NewRequest("POST", s.url+"/s/"+keyFor("hosts"), strings.NewReader(proposal().Encode()))
			req.RequestURI = ""
			req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			req.Header.Set(r.header, r.value)
			if r.header == "Host" {
				req.Host = r.value
			}
			res, err := http.DefaultTransport.RoundTrip(req)
			if err != nil {
				t.Fatal(err)
			}
			defer res.Body.Close()
			if to := res.Header.Get("Location"); res.StatusCode != 303 || to != "/s/"+keyFor("hosts")+"#proposals" {
				t.Errorf("answered %d, on to %q", res.StatusCode, to)
			}
			if all := fmt.Sprint(res.Header); strings.Contains(all, "evil") || res.Header.Get("Access-Control-Allow-Origin") != "" {
				t.Errorf("headers %s", all)
			}
		})
	}
}

// A guesser cannot pass for many by naming other senders.
func TestForwardedForDoesNotGiveMoreTries(t *testing.T) {
	s := open(t)
	last := 0
	for i := range 8 {
		guess := fmt.Sprintf(`{"code":"2222222222","device":%q,"key":%q}`, example.DeviceID, keyFor("guesser"))
		req := httptest.NewRequest("POST", s.url+"/api/join", strings.NewReader(guess))
		req.RequestURI = ""
		req.Header.Set("Content-Type", "application/json")
		req.Header.Set("X-Forwarded-For", fmt.Sprintf("203.0.113.%d", i))
		req.Header.Set("X-Real-IP", fmt.Sprintf("203.0.113.%d", i))
		res, err := http.DefaultTransport.RoundTrip(req)
		if err != nil {
			t.Fatal(err)
		}
		res.Body.Close()
		last = res.StatusCode
	}
	if last != http.StatusTooManyRequests {
		t.Errorf("the eighth guess is answered %d; want 429", last)
	}
}

// What http.Client would not send: a doubled length, a missing or doubled
// host, a line feed in a header.
func TestTornHeadersAreRefused(t *testing.T) {
	s := open(t)
	for _, r := range []struct{ name, head string }{
		{"two lengths", "POST /api/join HTTP/1.1\r\nHost: a\r\nContent-Length: 2\r\nContent-Length: 9\r\n"},
		{"no host", "GET /healthz HTTP/1.1\r\n"},
		{"two hosts", "GET /healthz HTTP/1.1\r\nHost: a\r\nHost: b\r\n"},
		{"a host that is none", "GET /healthz HTTP/1.1\r\nHost: a/b c\r\n"},
		{"a blank in a name", "GET /healthz HTTP/1.1\r\nHost: a\r\nAuthorization : Bearer x\r\n"},
		{"no coding that we know", "POST /api/join HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: evil\r\n"},
	} {
		t.Run(r.name, func(t *testing.T) {
			conn, err := net.Dial("tcp", strings.TrimPrefix(s.url, "http://"))
			if err != nil {
				t.Fatal(err)
			}
			defer conn.Close()
			if _, err := io.WriteString(conn, r.head+"Connection: close\r\n\r\n"); err != nil {
				t.Fatal(err)
			}
			res, err := http.ReadResponse(bufio.NewReader(conn), nil)
			if err != nil {
				t.Fatal(err)
			}
			defer res.Body.Close()
			if res.StatusCode != 400 && res.StatusCode != 501 {
				t.Errorf("answered %d", res.StatusCode)
			}
		})
	}
}
