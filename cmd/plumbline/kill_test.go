package main

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// child is the real program serving on a port of its own.
type child struct {
	cmd *exec.Cmd
	url string
	via http.RoundTripper // how calls reach it; nil is the usual way
}

// TestMain turns this test binary into the real program when asked to, so that
// it can be killed.
func TestMain(m *testing.M) {
	if os.Getenv("PLUMBLINE_CHILD") == "1" {
		os.Exit(run(os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
	}
	os.Exit(m.Run())
}

func startChild(t testing.TB, data string) *child {
	t.Helper()
	cmd := exec.Command(os.Args[0], "serve", "--addr", "127.0.0.1:0", "--data", data)
	cmd.Env = append(os.Environ(), "PLUMBLINE_CHILD=1")
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if url, ok := strings.CutPrefix(lines.Text(), "Open here: "); ok {
			return &child{cmd: cmd, url: url}
		}
	}
	t.Fatal("the server did not say where it listens")
	return nil
}

func (c *child) stop(t testing.TB, s os.Signal) {
	t.Helper()
	if err := c.cmd.Process.Signal(s); err != nil {
		t.Fatal(err)
	}
	_ = c.cmd.Wait() // a killed process reports just that
}

func (c *child) post(path, token, body string, into any) error {
	return c.ask("POST", path, token, body, into)
}

func (c *child) ask(method, path, token, body string, into any) error {
	req, err := http.NewRequest(method, c.url+path, strings.NewReader(body))
	if err != nil {
		return err
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Authorization", "Bearer "+token)
	via := c.via
	if via == nil {
		via = http.DefaultTransport
	}
	res, err := via.RoundTrip(req)
	if err != nil {
		return err
	}
	defer res.Body.Close()
	if res.StatusCode >= 300 {
		return fmt.Errorf("%s answered %s", path, res.Status)
	}
	if into == nil {
		_, err := io.Copy(io.Discard, res.Body) // read to the end, the connection serves again
		return err
	}
	return json.NewDecoder(res.Body).Decode(into)
}

const (
	killBook   = "01890000-0000-7000-8000-0000000000cc"
	killDevice = "01890000-0000-7000-8000-0000000000cd"
	killKey    = "AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8" // the bytes 0 to 31
)

// TestKilledServerLosesNothingAcknowledged kills the real program with SIGKILL
// in the middle of pushes of entries and photos, again and again, and then
// looks at what is on disk. PLUMBLINE_KILLS sets how often; make bench sets it
// to 1000.
func TestKilledServerLosesNothingAcknowledged(t *testing.T) {
	kills := 15
	if s := os.Getenv("PLUMBLINE_KILLS"); s != "" {
		if _, err := fmt.Sscan(s, &kills); err != nil {
			t.Fatal(err)
		}
	}
	data := t.TempDir()
	c := startChild(t, data)
	if err := c.post("/api/books", "", fmt.Sprintf(`{"book":%q,"device":%q,"key":%q}`, killBook, killDevice, killKey), nil); err != nil {
		t.Fatal(err)
	}
	phone := book.Open(killBook, killDevice)
	var acknowledged int64
	var photos [][]byte // those acknowledged
	for n := range kills {
		lines, photo := scribble(t, phone, n), snapshot(t, n)
		taken := make(chan bool)
		killer := time.AfterFunc(time.Duration(n%25)*time.Millisecond, func() { _ = c.cmd.Process.Kill() })
		go func() {
			status, _, err := c.photo("PUT", photo)
			taken <- err == nil && status == http.StatusNoContent
		}()
		acknowledged = max(acknowledged, pushAll(c, killKey, phone, lines))
		if <-taken {
			photos = append(photos, photo)
		}
		killer.Stop()
		c.stop(t, syscall.SIGKILL)
		c = startChild(t, data)
		have := serverHas(t, c, killKey)
		if have < acknowledged {
			t.Fatalf("after kill %d the server has %d entries; %d were acknowledged", n, have, acknowledged)
		}
		if err := c.post("/api/books/"+killBook+"/entries", killKey, joined(phone, have), &struct{}{}); err != nil {
			t.Fatalf("after kill %d the rest could not be pushed: %v", n, err)
		}
		acknowledged = phone.Log.Vector()[killDevice]
		if len(photos) > 0 {
			c.hasPhoto(t, photos[len(photos)-1])
		}
	}
	for _, photo := range photos {
		c.hasPhoto(t, photo)
	}
	c.stop(t, syscall.SIGTERM)
	t.Logf("%d kills, %d entries and %d photos acknowledged, none lost", kills, acknowledged, len(photos))
	if _, err := os.Stat(filepath.Join(data, "plumbline.sqlite")); err != nil {
		t.Error(err)
	}
}

// snapshot is a photo that no other round has: its number stands behind the
// picture's end, where decoders do not look.
func snapshot(t *testing.T, n int) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, 640, 480)), nil); err != nil {
		t.Fatal(err)
	}
	return fmt.Append(out.Bytes(), n)
}

// photo puts or gets a photo under its own name.
func (c *child) photo(method string, photo []byte) (status int, got []byte, err error) {
	name := fmt.Sprintf("%x", sha256.Sum256(photo))
	req, err := http.NewRequest(method, c.url+"/api/books/"+killBook+"/photos/"+name, bytes.NewReader(photo))
	if err != nil {
		return 0, nil, err
	}
	req.Header.Set("Content-Type", "image/jpeg")
	req.Header.Set("Authorization", "Bearer "+killKey)
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		return 0, nil, err
	}
	defer res.Body.Close()
	got, err = io.ReadAll(res.Body)
	return res.StatusCode, got, err
}

func (c *child) hasPhoto(t *testing.T, photo []byte) {
	t.Helper()
	if status, got, err := c.photo("GET", photo); err != nil || status != http.StatusOK || !bytes.Equal(got, photo) {
		t.Fatalf("a photo that was acknowledged is answered %d, %d bytes of %d, %v", status, len(got), len(photo), err)
	}
}

// scribble writes some entries on the phone and returns how many it has.
func scribble(t *testing.T, phone *book.Replica, n int) int64 {
	t.Helper()
	var drafts []book.Draft
	for i := range 20 {
		drafts = append(drafts, book.Draft{Kind: book.KindDevice, Body: book.DeviceBody{Name: fmt.Sprint(n, "/", i)}})
	}
	chance := bytes.Repeat([]byte{byte(n), byte(n >> 8), 1, 2}, 4*len(drafts))
	lines, err := phone.Stamp(drafts, "", time.Unix(int64(n), 0).UTC(), chance)
	if err != nil {
		t.Fatal(err)
	}
	if _, wrong := phone.Take(lines); wrong != nil {
		t.Fatal(wrong)
	}
	return phone.Log.Vector()[killDevice]
}

// pushAll pushes one entry at a time until the server is gone, and returns the
// last seq that was acknowledged.
func pushAll(c *child, token string, phone *book.Replica, upTo int64) int64 {
	var got int64
	for _, e := range phone.Log.Lacking(entry.Vector{killDevice: upTo - 20}) {
		var a struct{ Have entry.Vector }
		if err := c.post("/api/books/"+killBook+"/entries", token, string(e.Line()), &a); err != nil {
			return got
		}
		got = a.Have[killDevice]
	}
	return got
}

func joined(phone *book.Replica, have int64) string {
	var out []string
	for _, e := range phone.Log.Lacking(entry.Vector{killDevice: have}) {
		out = append(out, string(e.Line()))
	}
	return strings.Join(out, "\n")
}

// serverHas counts what the server has by pulling all of it: each line once,
// in an unbroken chain.
func serverHas(t *testing.T, c *child, token string) int64 {
	t.Helper()
	req, err := http.NewRequest("GET", c.url+"/api/books/"+killBook+"/entries", nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Authorization", "Bearer "+token)
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	var log entry.Log
	in := bufio.NewScanner(res.Body)
	for in.Scan() {
		e, err := entry.Decode(in.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if isNew, err := log.Add(e); err != nil || !isNew {
			t.Fatalf("entry %d came twice or does not follow: %v", e.Seq, err)
		}
	}
	return log.Vector()[killDevice]
}
