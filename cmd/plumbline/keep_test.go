package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"plumbline/internal/book"
	"plumbline/internal/store"
)

// say runs the command and returns what it printed.
func say(t *testing.T, want int, args ...string) string {
	t.Helper()
	var out bytes.Buffer
	if got := run(args, streams{strings.NewReader(""), &out, &out}); got != want {
		t.Fatalf("plumbline %s ended with %d, want %d: %s", strings.Join(args, " "), got, want, &out)
	}
	return out.String()
}

// TestBackupWhileServing backs a server up while a phone pushes, and serves
// the backup from another folder: what was acknowledged before is in it.
func TestBackupWhileServing(t *testing.T) {
	data, elsewhere := t.TempDir(), t.TempDir()
	file := filepath.Join(t.TempDir(), "club.sqlite")
	c := startChild(t, data)
	if err := c.post("/api/books", "", fmt.Sprintf(`{"book":%q,"device":%q,"key":%q}`, killBook, killDevice, killKey), nil); err != nil {
		t.Fatal(err)
	}
	phone := book.Open(killBook, killDevice)
	pushAll(c, killKey, phone, scribble(t, phone, 1))
	more := scribble(t, phone, 2)
	pushed := make(chan int64)
	go func() { pushed <- pushAll(c, killKey, phone, more) }()
	say(t, exitDone, "backup", "--data", data, file)
	if got := <-pushed; got != 40 {
		t.Errorf("while the backup ran only %d of 40 entries were taken", got)
	}
	c.stop(t, syscall.SIGTERM)

	if got := say(t, exitUsage, "backup", "--data", data, file); !strings.Contains(got, "there already") {
		t.Errorf("over another backup: %s", got)
	}
	if got := say(t, exitUsage, "restore", "--data", data, file); !strings.Contains(got, "already") {
		t.Errorf("over a database: %s", got)
	}
	say(t, exitDone, "restore", "--data", elsewhere, file)
	again := startChild(t, elsewhere)
	defer again.stop(t, syscall.SIGTERM)
	if have := serverHas(t, again, killKey); have < 20 {
		t.Errorf("the backup has %d entries; 20 were acknowledged before it began", have)
	}
	var h store.Health
	if err := json.Unmarshal([]byte(say(t, exitDone, "health", "--json", "--data", elsewhere)), &h); err != nil {
		t.Fatal(err)
	}
	if h.Books != 1 || h.Devices != 1 || h.Entries < 20 || h.Bytes == 0 {
		t.Errorf("health counts %+v", h)
	}
	if got := say(t, exitDone, "health", "--data", elsewhere); strings.Contains(got, killBook) || strings.Contains(got, killKey) {
		t.Errorf("health tells content: %s", got)
	}
}

func TestHealthSaysWhatIsBroken(t *testing.T) {
	data := t.TempDir()
	if got := say(t, exitFault, "health", "--data", data); !strings.Contains(got, "no such file") {
		t.Errorf("without a database: %s", got)
	}
	name := filepath.Join(data, store.File)
	if err := os.WriteFile(name, []byte("this is not a database, however long it may be"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := say(t, exitFault, "health", "--data", data); !strings.Contains(got, "not a whole database") {
		t.Errorf("of another file: %s", got)
	}
	if got := say(t, exitUsage, "restore", "--data", t.TempDir(), name); !strings.Contains(got, "not a whole database") {
		t.Errorf("restored what is no backup: %s", got)
	}
	say(t, exitUsage, "backup", "--data", t.TempDir(), filepath.Join(data, "x"))
}

// TestServeSaysWhatIsInTheWay: whoever starts a server reads one sentence that
// says what to do, and no data folder is touched by two.
func TestServeSaysWhatIsInTheWay(t *testing.T) {
	data := t.TempDir()
	c := startChild(t, data)
	taken := strings.TrimPrefix(c.url, "http://")
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, r := range []struct{ addr, data, says string }{
		{"127.0.0.1:0", data, "another plumbline serves the data folder " + data},
		{taken, t.TempDir(), "another program listens at " + taken + " already: stop it, or choose another port"},
		{"127.0.0.1:0", file, "the data folder " + file + " cannot be made: not a directory"},
		{"203.0.113.9:0", t.TempDir(), "this machine has no address 203.0.113.9:0"},
	} {
		if got := say(t, exitUsage, "serve", "--addr", r.addr, "--data", r.data); !strings.HasPrefix(got, "plumbline serve: "+r.says) {
			t.Errorf("said %q; want %q", got, r.says)
		}
	}
	say(t, exitDone, "health", "--data", data) // looks on without a claim
	c.stop(t, syscall.SIGKILL)
	again := startChild(t, data) // a killed server holds nothing
	again.stop(t, syscall.SIGTERM)
}

// TestWhereItIs: the lines that make run ends with, for each kind of address.
func TestWhereItIs(t *testing.T) {
	tcp := func(ip string) net.Addr { return &net.TCPAddr{IP: net.ParseIP(ip), Port: 8085} }
	for _, r := range []struct {
		o    serveOptions
		at   net.Addr
		want []string
	}{
		{serveOptions{addr: "localhost:8085"}, tcp("127.0.0.1"), []string{"Open here: http://localhost:8085\n", "not yet", "make run: ADDR=0.0.0.0:8085", "only over HTTPS"}},
		{serveOptions{addr: "0.0.0.0:8085"}, tcp("::"), []string{"Open here: http://localhost:8085\n", "in the same network: http://", "only over HTTPS"}},
		{serveOptions{addr: ":8085", proxy: true}, tcp("::"), []string{"phones open the proxy's HTTPS address"}},
		{serveOptions{addr: "[2001:db8::1]:8085"}, tcp("2001:db8::1"), []string{"Open here: http://[2001:db8::1]:8085\n", "in the same network: http://[2001:db8::1]:8085\n"}},
	} {
		var out bytes.Buffer
		tellWhere(streams{out: &out}, r.o, r.at)
		for _, want := range r.want {
			if !strings.Contains(out.String(), want) {
				t.Errorf("of %s it says %q; want %q", r.o.addr, out.String(), want)
			}
		}
		if n := strings.Count(out.String(), "\n"); n != 4 {
			t.Errorf("of %s it says %d lines, want 4", r.o.addr, n)
		}
	}
}
