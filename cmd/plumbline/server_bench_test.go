package main

import (
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/store"
)

// BenchmarkPush1000 pushes 1,000 entries to the real program in batches of 500,
// as a phone does, each acknowledged when it is on disk.
func BenchmarkPush1000(b *testing.B) {
	c := startChild(b, b.TempDir())
	defer c.stop(b, syscall.SIGTERM)
	n := 0
	for b.Loop() {
		n++
		id := fmt.Sprintf("01890000-0000-7000-8000-%012d", n)
		b.StopTimer()
		batches := manyLines(b, entry.BookID(id), 1000, 500)
		own, key := c.phone(b, id, n)
		b.StartTimer()
		for _, batch := range batches {
			if err := own.post("/api/books/"+id+"/entries", key, batch, nil); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// BenchmarkThousandBooks has 1,000 phones at the real program, each with a book
// of its own, 200 entries pushed and the connection still open, and reports
// how much memory and disk the program then uses.
func BenchmarkThousandBooks(b *testing.B) {
	for b.Loop() {
		data := b.TempDir()
		c := startChild(b, data)
		for n := range 1000 {
			id := fmt.Sprintf("01890000-0000-7000-8000-%012d", n)
			own, key := c.phone(b, id, n)
			if err := own.post("/api/books/"+id+"/entries", key, manyLines(b, entry.BookID(id), 200, 200)[0], nil); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(resident(b, c.cmd.Process.Pid), "MB-memory")
		c.stop(b, syscall.SIGTERM)
		file, err := os.Stat(filepath.Join(data, store.File))
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(file.Size())/1e6, "MB-disk")
	}
}

// manyLines writes n entries of a book, joined to batches.
func manyLines(b *testing.B, id entry.BookID, n, batch int) []string {
	b.Helper()
	pen := &entry.Pen{Book: id, Device: killDevice}
	var out, lines []string
	for i := range n {
		body := fmt.Appendf(nil, `{"bike":"heron","adjuster":"rear.rebound","from":%d,"to":%d,"why":"it wallows on the drive out"}`, i%20, (i+1)%20)
		e, err := pen.Write(book.KindChange, "nell", body, time.Unix(int64(i), 0).UTC(), entry.Chance{byte(i), byte(i >> 8)})
		if err != nil {
			b.Fatal(err)
		}
		pen.See(e)
		if lines = append(lines, string(e.Line())); len(lines) == batch {
			out, lines = append(out, strings.Join(lines, "\n")), nil
		}
	}
	return out
}

// phone is one phone with a book at the server: an address, a connection and
// a key of its own, so that the limit for one client does not hold them up.
func (c *child) phone(b *testing.B, id string, n int) (*child, string) {
	b.Helper()
	dial := net.Dialer{LocalAddr: &net.TCPAddr{IP: net.IPv4(127, 1, byte(n>>8), byte(n))}}
	own := &child{c.cmd, c.url, &http.Transport{DialContext: dial.DialContext}}
	key := fmt.Sprintf("AECAwQFBgcICQoLDA0ODxAREhMUFRYXGB%08dAA", n)
	if err := own.post("/api/books", "", fmt.Sprintf(`{"book":%q,"device":%q,"key":%q}`, id, killDevice, key), nil); err != nil {
		b.Fatal(err)
	}
	return own, key
}

// resident returns how much memory of a process is in use, in MB, as Linux
// tells it.
func resident(b *testing.B, pid int) float64 {
	b.Helper()
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		b.Fatalf("this benchmark needs Linux: %v", err)
	}
	_, rest, _ := strings.Cut(string(raw), "VmRSS:")
	var kb float64
	if _, err := fmt.Sscan(rest, &kb); err != nil {
		b.Fatal(err)
	}
	return kb / 1000
}
