package web_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"plumbline/internal/example"
)

func inGzip(t *testing.T, plain string) string {
	t.Helper()
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	if _, err := io.WriteString(w, plain); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// push sends a body of entries with headers, and returns the answer as it came
// over the wire.
func (s *station) push(token, body string, headers ...string) (*http.Response, []byte) {
	s.t.Helper()
	return s.raw("POST", entriesOf(example.BookID), token, body, headers...)
}

func (s *station) raw(method, path, token, body string, headers ...string) (*http.Response, []byte) {
	s.t.Helper()
	req := httptest.NewRequest(method, s.url+path, strings.NewReader(body))
	req.RequestURI = ""
	req.Header.Set("Authorization", "Bearer "+token)
	for i := 0; i < len(headers); i += 2 {
		req.Header.Set(headers[i], headers[i+1])
	}
	res, err := (&http.Transport{DisableCompression: true, DisableKeepAlives: true}).RoundTrip(req)
	if err != nil {
		s.t.Fatal(err)
	}
	defer res.Body.Close()
	got, err := io.ReadAll(res.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return res, got
}

// A season travels packed both ways, and is the same to the byte.
func TestEntriesTravelPacked(t *testing.T) {
	s := open(t)
	token := s.create(example.BookID, string(example.DeviceID))
	plain := strings.Join(example.Lines(), "\n") + "\n"
	small := inGzip(t, plain)
	if len(small) > len(plain)/4 {
		t.Errorf("%d bytes are packed to %d only", len(plain), len(small))
	}
	if res, got := s.push(token, small, "Content-Encoding", "gzip"); res.StatusCode != 200 {
		t.Fatalf("packed entries are answered %d: %s", res.StatusCode, got)
	}
	res, got := s.raw("GET", entriesOf(example.BookID), token, "", "Accept-Encoding", "gzip")
	if res.Header.Get("Content-Encoding") != "gzip" || res.Header.Get("Vary") != "Accept-Encoding" || len(got) > len(plain)/4 {
		t.Fatalf("a pull has %d bytes, headers %v", len(got), res.Header)
	}
	r, err := gzip.NewReader(bytes.NewReader(got))
	if err != nil {
		t.Fatal(err)
	}
	if back, err := io.ReadAll(r); err != nil || string(back) != plain {
		t.Errorf("unpacked it is not what was pushed: %v", err)
	}
	if res, got = s.raw("GET", entriesOf(example.BookID), token, ""); res.Header.Get("Content-Encoding") != "" || string(got) != plain {
		t.Errorf("who takes no gzip gets %d bytes, headers %v", len(got), res.Header)
	}
	if res, got = s.raw("GET", "/api/books/x/entries", token, "", "Accept-Encoding", "gzip"); res.Header.Get("Content-Type") != "application/problem+json" || !strings.Contains(string(got), `"status":403`) {
		t.Errorf("a refusal comes as %q, headers %v", got, res.Header)
	}
}

// A small packed body may not grow without end, and a torn one is the
// sender's: neither stores anything.
func TestBadlyPackedBodiesAreRefused(t *testing.T) {
	s := open(t)
	token := s.create(example.BookID, string(example.DeviceID))
	whole := inGzip(t, strings.Join(example.Lines(), "\n"))
	bomb := inGzip(t, strings.Repeat("\n", 32<<20))
	if len(bomb) > 1<<20 {
		t.Fatalf("the bomb has %d bytes", len(bomb))
	}
	for _, r := range []struct {
		name, coding, body string
		status             int
	}{
		{"32 MiB of line feeds", "gzip", bomb, 413},
		{"one endless line", "gzip", inGzip(t, strings.Repeat("x", 3<<20)), 413},
		{"cut off", "gzip", whole[:len(whole)-9], 400},
		{"a wrong sum", "gzip", whole[:len(whole)-8] + strings.Repeat("x", 8), 400},
		{"no gzip at all", "gzip", "hello", 400},
		{"nothing", "gzip", "", 400},
		{"another coding", "deflate", whole, 415},
		{"gzip twice", "gzip, gzip", whole, 415},
		{"gzip and not said", "", whole, 422},
	} {
		t.Run(r.name, func(t *testing.T) {
			at := *s
			at.t = t
			res, got := at.push(token, r.body, "Content-Encoding", r.coding)
			if res.StatusCode != r.status || res.Header.Get("Content-Type") != "application/problem+json" {
				t.Errorf("answered %d, %s: %.200s; want %d", res.StatusCode, res.Header.Get("Content-Type"), got, r.status)
			}
			if _, got := at.raw("GET", entriesOf(example.BookID), token, ""); len(got) != 0 {
				t.Errorf("%d bytes were stored", len(got))
			}
		})
	}
}
