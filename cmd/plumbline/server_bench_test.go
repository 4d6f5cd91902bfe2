package main

import (
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
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

// BenchmarkRiders has riders exchange with the real program as the app does,
// at a steadily higher rate, until one exchange in a hundred takes longer than
// slow, and reports the last rate that it kept up with. An exchange pulls what
// is new, asks how far the server is, pushes 20 entries, which are on disk when
// that is answered, and asks for proposals. It counts from the moment when it
// was due, so a queue shows. Riders and server share the machine.
func BenchmarkRiders(b *testing.B) {
	const (
		riders = 500
		slow   = 250 * time.Millisecond
		each   = 5 * time.Second
	)
	for b.Loop() {
		data := b.TempDir()
		c := startChild(b, data)
		crowd := make([]*rider, riders)
		for n := range crowd {
			crowd[n] = c.rider(b, n)
			crowd[n].exchange(b, crowd[n].batch(b, 200))
		}
		kept, after := 0, time.Duration(0)
		for rate := 50; rate < 5000; rate += rate / 2 {
			took := ride(b, crowd, rate, each)
			middle, last := took[len(took)/2], took[len(took)*99/100]
			b.Logf("%d exchanges/s: half within %v, 99 of 100 within %v", rate, middle.Round(time.Millisecond), last.Round(time.Millisecond))
			if last > slow {
				break
			}
			kept, after = rate, last
		}
		b.ReportMetric(float64(kept), "exchanges/s")
		b.ReportMetric(float64(after.Milliseconds()), "p99-ms")
		b.ReportMetric(resident(b, c.cmd.Process.Pid), "MB-memory")
		c.stop(b, syscall.SIGTERM)
	}
}

// ride starts exchanges at a rate, rider after rider, and returns how long
// each took, the shortest first.
func ride(b *testing.B, crowd []*rider, rate int, during time.Duration) []time.Duration {
	b.Helper()
	n := int(during.Seconds() * float64(rate))
	batches := make([]string, n)
	for i := range batches {
		batches[i] = crowd[i%len(crowd)].batch(b, 20)
	}
	took := make([]time.Duration, n)
	var running sync.WaitGroup
	began := time.Now()
	for i, batch := range batches {
		due := began.Add(time.Duration(i) * time.Second / time.Duration(rate))
		time.Sleep(time.Until(due))
		running.Go(func() {
			crowd[i%len(crowd)].exchange(b, batch)
			took[i] = time.Since(due)
		})
	}
	running.Wait()
	slices.Sort(took)
	return took
}

// rider is a phone with its book's pen. It does one exchange after the other.
type rider struct {
	*child
	key  string
	pen  *entry.Pen
	busy sync.Mutex
}

func (c *child) rider(b *testing.B, n int) *rider {
	b.Helper()
	id := fmt.Sprintf("01890000-0000-7000-8000-%012d", n)
	own, key := c.phone(b, id, n)
	return &rider{child: own, key: key, pen: &entry.Pen{Book: entry.BookID(id), Device: killDevice}}
}

func (r *rider) batch(b *testing.B, n int) string {
	b.Helper()
	return writeLines(b, r.pen, n, n)[0]
}

func (r *rider) exchange(b *testing.B, batch string) {
	r.busy.Lock()
	defer r.busy.Unlock()
	at := "/api/books/" + string(r.pen.Book)
	var has struct{ Have entry.Vector }
	if err := r.ask("GET", at+"/vector", r.key, "", &has); err != nil {
		b.Error(err)
	}
	for _, err := range []error{
		r.ask("GET", fmt.Sprintf("%s/entries?have=%s:%d", at, killDevice, has.Have[killDevice]), r.key, "", nil),
		r.ask("POST", at+"/entries", r.key, batch, nil),
		r.ask("GET", at+"/proposals?after=0", r.key, "", nil),
	} {
		if err != nil {
			b.Error(err)
		}
	}
}

// manyLines writes n entries of a book, joined to batches.
func manyLines(b *testing.B, id entry.BookID, n, batch int) []string {
	b.Helper()
	return writeLines(b, &entry.Pen{Book: id, Device: killDevice}, n, batch)
}

func writeLines(b *testing.B, pen *entry.Pen, n, batch int) []string {
	b.Helper()
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
