package desk_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/desk"
	"plumbline/internal/entry"
	"plumbline/internal/store"

	"go.uber.org/goleak"
)

const (
	ours   = entry.BookID("01890000-0000-7000-8000-0000000000a0")
	theirs = entry.BookID("01890000-0000-7000-8000-0000000000b0")
	phone  = entry.DeviceID("01890000-0000-7000-8000-0000000000fa")
	other  = entry.DeviceID("01890000-0000-7000-8000-0000000000fb")
)

var noon = time.Date(2026, 5, 2, 12, 0, 0, 0, time.UTC)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// place is a desk over a real database in a folder.
type place struct {
	*desk.Desk
	t      *testing.T
	folder string
	db     *store.Store
}

func open(t *testing.T, folder string) *place {
	t.Helper()
	db, err := store.Open(t.Context(), folder)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() }) // some tests close it themselves
	return &place{desk.New(db, func() time.Time { return noon }), t, folder, db}
}

// key is always the same for a word.
func key(word string) string {
	sum := sha256.Sum256([]byte(word))
	return base64.RawURLEncoding.EncodeToString(sum[:])
}

// chain writes n entries of a device.
func chain(t *testing.T, b entry.BookID, d entry.DeviceID, n int) [][]byte {
	t.Helper()
	pen := &entry.Pen{Book: b, Device: d}
	var out [][]byte
	for i := range n {
		e, err := pen.Write(book.KindDevice, "", fmt.Appendf(nil, `{"name":"%d"}`, i), noon, entry.Chance{byte(i + 1), d[len(d)-1]})
		if err != nil {
			t.Fatal(err)
		}
		pen.See(e)
		out = append(out, e.Line())
	}
	return out
}

func (p *place) mustCreate(b entry.BookID) string {
	p.t.Helper()
	k := key(string(b))
	if err := p.Create(p.t.Context(), b, phone, k); err != nil {
		p.t.Fatal(err)
	}
	return k
}

func (p *place) pulled(k string, b entry.BookID) string {
	p.t.Helper()
	var out bytes.Buffer
	err := p.Pull(p.t.Context(), k, b, nil, func(line []byte) error {
		out.Write(line)
		out.WriteByte('\n')
		return nil
	})
	if err != nil {
		p.t.Fatal(err)
	}
	return out.String()
}

func text(lines [][]byte) string { return string(bytes.Join(lines, []byte("\n"))) + "\n" }

func TestPushingAgainChangesNothing(t *testing.T) {
	p := open(t, t.TempDir())
	k, lines := p.mustCreate(ours), chain(t, ours, phone, 20)
	for _, batch := range [][][]byte{lines[:12], lines[:12], lines[5:], lines, nil, lines[:1]} {
		if _, err := p.Push(t.Context(), k, ours, batch); err != nil {
			t.Fatal(err)
		}
	}
	if got := p.pulled(k, ours); got != text(lines) {
		t.Errorf("pulled\n%s\nof\n%s", got, text(lines))
	}
	if have, err := p.Vector(t.Context(), k, ours); err != nil || !maps.Equal(have, entry.Vector{phone: 20}) {
		t.Errorf("vector %v, %v", have, err)
	}
}

func TestARefusedBatchLeavesNothing(t *testing.T) {
	lines, foreign := chain(t, ours, phone, 6), chain(t, theirs, phone, 1)
	changed := bytes.Replace(lines[2], []byte(`"name":"2"`), []byte(`"name":"9"`), 1)
	rows := []struct {
		name  string
		batch [][]byte
		says  string
	}{
		{"a broken chain", [][]byte{lines[0], lines[1], changed, lines[3]}, "line 4: entry"},
		{"a gap", [][]byte{lines[0], lines[2]}, "number 2 is not here yet"},
		{"a foreign book", [][]byte{lines[0], lines[1], foreign[0]}, "line 3: entry"},
		{"two in one place", [][]byte{lines[0], lines[1], lines[2], changed}, "already holds another entry"},
		{"something else", [][]byte{lines[0], []byte("hello")}, "line 2: read line"},
	}
	for _, r := range rows {
		p := open(t, t.TempDir())
		k := p.mustCreate(ours)
		_, err := p.Push(t.Context(), k, ours, r.batch)
		var refused *desk.RefusedError
		if !errors.As(err, &refused) || !strings.Contains(err.Error(), r.says) {
			t.Errorf("%s: %v; want %q", r.name, err, r.says)
		}
		if got := p.pulled(k, ours); got != "" {
			t.Errorf("%s: half of it was stored: %s", r.name, got)
		}
		if _, err := p.Push(t.Context(), k, ours, lines); err != nil {
			t.Errorf("%s: the true lines are refused after it: %v", r.name, err)
		}
	}
}

// TestPhonesPushAtOnce: several phones, overlapping batches, all at a time.
func TestPhonesPushAtOnce(t *testing.T) {
	p := open(t, t.TempDir())
	k := p.mustCreate(ours)
	a, b := chain(t, ours, phone, 30), chain(t, ours, other, 30)
	var all sync.WaitGroup
	for i := range 6 {
		all.Go(func() {
			for n := 10; n <= 30; n += 10 {
				batch := append(append([][]byte{}, a[:n]...), b[:n-i]...)
				if _, err := p.Push(t.Context(), k, ours, batch); err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
	if got := p.pulled(k, ours); got != text(append(a, b...)) {
		t.Errorf("pulled %d bytes; want %d", len(got), len(text(append(a, b...))))
	}
}

// TestSecretsAreNotInTheDatabase: whoever steals the file opens no book.
func TestSecretsAreNotInTheDatabase(t *testing.T) {
	p := open(t, t.TempDir())
	k := p.mustCreate(ours)
	code, _, err := p.Invite(t.Context(), k, ours)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(p.folder, "*"))
	if err != nil {
		t.Fatal(err)
	}
	var stored []byte
	for _, name := range files {
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		stored = append(stored, raw...)
	}
	secret, _ := base64.RawURLEncoding.DecodeString(k)
	for what, s := range map[string][]byte{"key": []byte(k), "key's bytes": secret, "code": []byte(code)} {
		if bytes.Contains(stored, s) {
			t.Errorf("the %s can be read in the database", what)
		}
		if sum := sha256.Sum256(s); what != "key's bytes" && !bytes.Contains(stored, sum[:]) {
			t.Errorf("the %s's hash is not there; this test looks in the wrong place", what)
		}
	}
}

func TestWhatWasAcknowledgedIsThereAfterARestart(t *testing.T) {
	p := open(t, t.TempDir())
	k, lines := p.mustCreate(ours), chain(t, ours, phone, 5)
	if _, err := p.Push(t.Context(), k, ours, lines); err != nil {
		t.Fatal(err)
	}
	if err := p.db.Close(); err != nil {
		t.Fatal(err)
	}
	again := open(t, p.folder)
	if got := again.pulled(k, ours); got != text(lines) {
		t.Errorf("after a restart: %q", got)
	}
	if err := again.Create(t.Context(), ours, phone, k); err != nil {
		t.Errorf("the phone that asks again is told %v", err)
	}
}

func TestOnlyItsKeyOpensABook(t *testing.T) {
	p := open(t, t.TempDir())
	k := p.mustCreate(ours)
	p.mustCreate(theirs)
	for _, wrong := range []string{"", key("thief"), key(string(theirs)), k + "A"} {
		if _, err := p.Push(t.Context(), wrong, ours, nil); !errors.Is(err, desk.ErrDenied) {
			t.Errorf("pushing with key %q: %v", wrong, err)
		}
		if err := p.Pull(t.Context(), wrong, ours, nil, func([]byte) error { return nil }); !errors.Is(err, desk.ErrDenied) {
			t.Errorf("pulling with key %q: %v", wrong, err)
		}
		if _, _, err := p.Invite(t.Context(), wrong, ours); !errors.Is(err, desk.ErrDenied) {
			t.Errorf("inviting with key %q: %v", wrong, err)
		}
	}
	for _, weak := range []string{"", "secret", k[:42], k + "AA", strings.Replace(k, k[:1], "+", 1)} {
		if err := p.Create(t.Context(), "01890000-0000-7000-8000-0000000000c0", phone, weak); !errors.Is(err, desk.ErrWeakKey) {
			t.Errorf("key %q: %v", weak, err)
		}
	}
}

// A book that has grown to the last byte takes nothing more, and says so; its
// other entries stay to be had.
func TestABookHasABound(t *testing.T) {
	p := open(t, t.TempDir())
	if err := p.Create(t.Context(), ours, phone, key("ours")); err != nil {
		t.Fatal(err)
	}
	lines := chain(t, ours, phone, 2)
	if _, err := p.Push(t.Context(), key("ours"), ours, lines[:1]); err != nil {
		t.Fatal(err)
	}
	// The rest of the room, in one stroke: the store does not look into lines.
	_, err := p.db.Append(t.Context(), ours, desk.MostBytes, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
		return put(other, 1, make([]byte, desk.MostBytes-len(lines[0])-len(lines[1])+1))
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Push(t.Context(), key("ours"), ours, lines); !errors.Is(err, desk.ErrBookFull) {
		t.Errorf("one byte too many: %v", err)
	}
	if have, err := p.Push(t.Context(), key("ours"), ours, lines[:1]); err != nil || have[phone] != 1 {
		t.Errorf("what is there already: %v, %v", have, err)
	}
}
