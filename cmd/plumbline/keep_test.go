package main

import (
	"bytes"
	"encoding/json"
	"fmt"
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
