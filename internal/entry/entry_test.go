package entry

import (
	"encoding/json"
	"strings"
	"testing"
	"time"
)

const (
	bookX = BookID("01890000-0000-7000-8000-0000000000f0")
	phone = DeviceID("01890000-0000-7000-8000-0000000000fa")
	tower = DeviceID("01890000-0000-7000-8000-0000000000fb")
)

var noon = time.Date(2026, 5, 2, 12, 0, 0, 0, time.FixedZone("", 2*3600))

func mustWrite(t testing.TB, p *Pen, kind, body string, wall time.Time) Entry {
	t.Helper()
	e, err := p.Write(kind, "nell", json.RawMessage(body), wall, Chance{15: byte(p.seq + 1)})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// TestCanonicalLine fixes the form of a line for ever: whoever implements it
// anew must get these bytes and this hash.
func TestCanonicalLine(t *testing.T) {
	p := &Pen{Book: bookX, Device: phone}
	first := mustWrite(t, p, "change", `{ "why": "wallows <here> & there", "to": 9.5 }`, noon)
	const want = `{"v":1,"id":"019de821-7500-7000-8000-000000000001","book":"01890000-0000-7000-8000-0000000000f0",` +
		`"device":"01890000-0000-7000-8000-0000000000fa","seq":1,"prev":"","at":"019de82175000000",` +
		`"wall":"2026-05-02T12:00:00.000+02:00","by":"nell","kind":"change","body":{"why":"wallows <here> & there","to":9.5}}`
	if got := string(first.Line()); got != want {
		t.Errorf("line\n%s\nis not\n%s", got, want)
	}
	// By sha256sum of GNU coreutils 9.1 over those bytes.
	if got := first.Hash(); got != "089da05c3f7c013f1ce40609701433d9d7f76bfa3d719602c34bcdff45880960" {
		t.Errorf("hash %s", got)
	}
	p.See(first)
	second := mustWrite(t, p, "count", `{}`, noon)
	if second.Prev != first.Hash() || second.Seq != 2 {
		t.Errorf("second entry has seq %d, prev %s; want 2, %s", second.Seq, second.Prev, first.Hash())
	}
}

// TestHashSpelling holds the hash to the example of FIPS 180-4 (SHA-256 of
// "abc", as printed in NIST's example values; from memory).
func TestHashSpelling(t *testing.T) {
	e := Entry{line: []byte("abc")}
	if got := e.Hash(); got != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Errorf("SHA-256 of abc is %s", got)
	}
}

// TestNewID holds the id to the UUIDv7 example of RFC 9562, appendix A.6 (from
// memory): 1645557742000 ms gives 017F22E2-79B0-7CC3-98C4-DC0C0C07398F.
func TestNewID(t *testing.T) {
	chance := Chance{6: 0x0c, 7: 0xc3, 8: 0x18, 9: 0xc4, 10: 0xdc, 11: 0x0c, 12: 0x0c, 13: 0x07, 14: 0x39, 15: 0x8f}
	if got := NewID(time.UnixMilli(1645557742000), chance); got != "017f22e2-79b0-7cc3-98c4-dc0c0c07398f" {
		t.Errorf("id is %s", got)
	}
}

func TestDecodeRefuses(t *testing.T) {
	p := &Pen{Book: bookX, Device: phone}
	good := string(mustWrite(t, p, "change", `{"to":9}`, noon).Line())
	if _, err := Decode([]byte(good)); err != nil {
		t.Fatal(err)
	}
	rows := []struct{ name, from, to, says string }{
		{"white space", `,"seq"`, ` ,"seq"`, "canonical"},
		{"another order", `{"v":1,`, `{`, "form 0"},
		{"a newer form", `"v":1`, `"v":2`, "form 2"},
		{"an unknown member", `"by":`, `"x":1,"by":`, "unknown field"},
		{"seq 0", `"seq":1`, `"seq":0`, "starts at 1"},
		{"seq 2 without prev", `"seq":1`, `"seq":2`, "prev"},
		{"a clock in capitals", `"at":"019de8217500`, `"at":"019DE8179e00`, "hex"},
		{"a clock after 2199", `"at":"019de8217500`, `"at":"0fffffffffff`, "2199"},
		{"wall time as Z", `+02:00`, `Z`, "RFC 3339"},
		{"a kind in capitals", `"kind":"change"`, `"kind":"Change"`, "kind"},
		{"a body that is a list", `{"to":9}`, `[9]`, "not a JSON object"},
		{"an id that is none", `"id":"019`, `"id":"z19`, "UUID"},
		{"more behind it", `{"to":9}}`, `{"to":9}}{}`, "canonical"},
		{"a duplicate member", `"by":"nell"`, `"by":"x","by":"nell"`, "canonical"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			bad := strings.Replace(good, r.from, r.to, 1)
			if bad == good {
				t.Fatal("the row changes nothing")
			}
			if _, err := Decode([]byte(bad)); err == nil || !strings.Contains(err.Error(), r.says) {
				t.Errorf("Decode said %v; want %q", err, r.says)
			}
		})
	}
	if _, err := Decode(make([]byte, MaxLine+1)); err == nil {
		t.Error("a line that is too long was taken")
	}
}

// TestPenWritesNothingThatOthersRefuse: such a line would break the chain.
func TestPenWritesNothingThatOthersRefuse(t *testing.T) {
	rows := []struct {
		name string
		by   PersonID
		body string
		wall time.Time
	}{
		{"a wall clock in the year 12000", "nell", `{}`, time.Date(12000, 1, 1, 0, 0, 0, 0, time.UTC)},
		{"a person of broken UTF-8", "\xff", `{}`, noon},
		{"words of broken UTF-8", "nell", "{\"why\":\"\xff\"}", noon},
		{"a bottomless body", "nell", `{"a":` + strings.Repeat("[", 40) + strings.Repeat("]", 40) + "}", noon},
	}
	for _, r := range rows {
		p := &Pen{Book: bookX, Device: phone}
		if e, err := p.Write("change", r.by, json.RawMessage(r.body), r.wall, Chance{1}); err == nil {
			t.Errorf("%s was written: %s", r.name, e.Line())
		}
	}
}

// TestWallTimeHasOneSpelling: one wrong sign at any place, and it is none.
func TestWallTimeHasOneSpelling(t *testing.T) {
	const good = "2026-05-02T12:00:00.000+02:00"
	if got, err := parseWall(good); err != nil || !got.Equal(noon) {
		t.Fatalf("%q reads as %s, %v; want %s", good, got, err, noon)
	}
	for i := range good {
		bad := good[:i] + "x" + good[i+1:]
		if got, err := parseWall(bad); err == nil {
			t.Errorf("%q reads as %s; want it refused", bad, got)
		}
	}
	for _, bad := range []string{"2026-05-02T12:00:00.000+24:00", "2026-05-02T12:00:00.000+02:60", "2026-05-02T24:00:00.000+02:00", "2026-13-02T12:00:00.000+02:00"} {
		if got, err := parseWall(bad); err == nil {
			t.Errorf("%q reads as %s; want it refused", bad, got)
		}
	}
}

// TestBodiesAreNestedSoDeepAndNoDeeper holds both ways of reading to one limit.
func TestBodiesAreNestedSoDeepAndNoDeeper(t *testing.T) {
	line := string(mustWrite(t, &Pen{Book: bookX, Device: phone}, "change", `{"a":0}`, noon).Line())
	for _, pair := range []string{"[]", "{}"} {
		open, shut := pair[:1], pair[1:]
		if pair == "{}" {
			open = `{"b":`
		}
		for _, deep := range []int{maxDepth, maxDepth + 1} {
			inner := strings.Repeat(open, deep-1) + "0" + strings.Repeat(shut, deep-1) // in the body's own braces
			nested := strings.Replace(line, `{"a":0}`, `{"a":`+inner+`}`, 1)
			_, plain := decodePlain(nested)
			_, err := decodeAny([]byte(nested))
			if want := deep <= maxDepth; plain != want || (err == nil) != want {
				t.Errorf("%d deep in %s: read the short way %v, the long way %v", deep, pair, plain, err)
			}
		}
	}
}

// TestKindsAndPeopleToTheirEdges: the longest kind, every letter, and every
// sign that needs no escape.
func TestKindsAndPeopleToTheirEdges(t *testing.T) {
	p := &Pen{Book: bookX, Device: phone}
	for _, kind := range []string{"a-z", strings.Repeat("z", 40)} {
		mustWrite(t, p, kind, `{"a":[10,0.90,9]}`, noon)
	}
	for _, kind := range []string{"", strings.Repeat("z", 41), "a{", "a`", "a1"} {
		if e, err := p.Write(kind, "nell", json.RawMessage(`{}`), noon, Chance{1}); err == nil {
			t.Errorf("the kind %q was written: %s", kind, e.Line())
		}
	}
	e, err := p.Write("change", "~ !}", json.RawMessage(`{}`), noon, Chance{1})
	if err != nil {
		t.Fatal(err)
	}
	if _, plain := decodePlain(string(e.Line())); !plain {
		t.Errorf("a person of plain signs is read the long way: %s", e.Line())
	}
}

func TestBodyDoesNotShareItsEnd(t *testing.T) {
	p := &Pen{Book: bookX, Device: phone}
	e := mustWrite(t, p, "change", `{"to":9}`, noon)
	_ = append(e.Body, 'x')
	if !strings.HasSuffix(string(e.Line()), `{"to":9}}`) {
		t.Errorf("appending to the body changed the line to %s", e.Line())
	}
}

func TestClock(t *testing.T) {
	const ms = 1_777_716_000_000
	c := Clock(0).Next(ms)
	if c.Millis() != ms {
		t.Fatalf("clock shows %d; want %d", c.Millis(), ms)
	}
	back := c.Next(ms - 365*24*3600*1000)
	if back <= c || back.Millis() != ms {
		t.Errorf("the wall clock went back a year and the clock with it: %s after %s", back, c)
	}
	full := Clock(ms<<clockCounterBits | 0xffff)
	if next := full.Next(ms); next <= full || next.Millis() != ms+1 {
		t.Errorf("a full counter runs into %s; want the next millisecond", next)
	}
	for _, broken := range []int64{-1, LatestClockMillis + 1} {
		if next := c.Next(broken); next != c+1 {
			t.Errorf("a wall clock at %d gives %s; want %s", broken, next, c+1)
		}
	}
	if _, err := ParseClock("19de8179e000000"); err == nil {
		t.Error("a clock of 15 digits was taken")
	}
}

// TestTheLastClaimIsTheEndOf2199: from there on readings are counted to.
func TestTheLastClaimIsTheEndOf2199(t *testing.T) {
	end := time.Date(2200, 1, 1, 0, 0, 0, 0, time.UTC).UnixMilli()
	if lastClaim.Millis() != end-1 || (lastClaim+1).Millis() != end {
		t.Errorf("the last claim is at %d ms and what follows it at %d; the year 2200 begins at %d", lastClaim.Millis(), (lastClaim + 1).Millis(), end)
	}
	for n := range 3 {
		if c := lastClaim + Clock(n); !c.countedAmong(n) || n > 0 && c.countedAmong(n-1) {
			t.Errorf("reading %d behind the last claim counts among %d: %v, among %d: %v", n, n, c.countedAmong(n), n-1, c.countedAmong(n-1))
		}
	}
}

func TestLogWaitsForGaps(t *testing.T) {
	p := &Pen{Book: bookX, Device: phone}
	var chain []Entry
	for range 4 {
		e := mustWrite(t, p, "change", `{}`, noon)
		p.See(e)
		chain = append(chain, e)
	}
	var l Log
	for _, i := range []int{2, 0, 3} {
		if isNew, err := l.Add(chain[i]); !isNew || err != nil {
			t.Fatalf("entry %d: new %v, %v", i+1, isNew, err)
		}
	}
	if v := l.Vector(); v[phone] != 1 {
		t.Errorf("vector %v; want 1 before the gap is filled", v)
	}
	if _, err := l.Add(chain[1]); err != nil {
		t.Fatal(err)
	}
	if v := l.Vector(); v[phone] != 4 || l.Len() != 4 {
		t.Errorf("vector %v, %d entries; want 4 after", v, l.Len())
	}
}

func TestLogRefusesForgery(t *testing.T) {
	p := &Pen{Book: bookX, Device: phone}
	first := mustWrite(t, p, "change", `{"to":1}`, noon)
	forged := mustWrite(t, p, "change", `{"to":2}`, noon)
	p.See(first)
	second := mustWrite(t, p, "change", `{"to":3}`, noon)
	var l Log
	if _, err := l.Add(forged); err != nil {
		t.Fatal(err)
	}
	if _, err := l.Add(first); err == nil || !strings.Contains(err.Error(), "another entry") {
		t.Errorf("two entries in one place: %v", err)
	}
	if _, err := l.Add(second); err == nil || !strings.Contains(err.Error(), "chain is broken") {
		t.Errorf("an entry that does not follow: %v", err)
	}
	if l.Len() != 1 {
		t.Errorf("%d entries; a refused one must leave the log as it was", l.Len())
	}
}

func TestLogRefusesWhatIsNoEntryOfItsBook(t *testing.T) {
	own, foreign := &Pen{Book: bookX, Device: phone}, &Pen{Book: "01890000-0000-7000-8000-0000000000f1", Device: tower}
	var l Log
	if isNew, err := l.Add(Entry{}); isNew || err == nil {
		t.Errorf("an empty entry: new %v, %v", isNew, err)
	}
	if _, err := l.Add(mustWrite(t, own, "change", `{}`, noon)); err != nil {
		t.Fatal(err)
	}
	if isNew, err := l.Add(mustWrite(t, foreign, "change", `{}`, noon)); isNew || err == nil || !strings.Contains(err.Error(), "another book") {
		t.Errorf("an entry of another book: new %v, %v", isNew, err)
	}
	if l.Len() != 1 {
		t.Errorf("%d entries; want the first one alone", l.Len())
	}
}

// TestForgeryDoesNotShutTheTrueEntryOut: both wait for the one before them,
// and prev decides.
func TestForgeryDoesNotShutTheTrueEntryOut(t *testing.T) {
	p := &Pen{Book: bookX, Device: phone}
	first := mustWrite(t, p, "change", `{"to":1}`, noon)
	p.See(first)
	forger := *p
	forger.prev = strings.Repeat("0", 64)
	forged, second := mustWrite(t, &forger, "change", `{"to":7}`, noon), mustWrite(t, p, "change", `{"to":2}`, noon)
	p.See(second)
	third := mustWrite(t, p, "change", `{"to":3}`, noon)
	for _, order := range [][]Entry{{forged, third, second, first}, {second, forged, first, third}, {third, forged, first, second}} {
		var l Log
		for _, e := range order {
			if _, err := l.Add(e); err != nil && e.ID != forged.ID {
				t.Fatal(err)
			}
		}
		if !same(l.Since(0), []Entry{first, second, third}) {
			t.Errorf("%d entries stand, of which the last is %s", l.Len(), l.Since(0)[l.Len()-1].Body)
		}
		if len(l.early) != 0 {
			t.Errorf("what did not follow waits still: %v", l.early)
		}
	}
}

// TestAClockAtItsEndStopsNobody: one device claims the last moment there is.
func TestAClockAtItsEndStopsNobody(t *testing.T) {
	last, own := &Pen{Book: bookX, Device: tower, at: lastClaim - 1}, &Pen{Book: bookX, Device: phone}
	forged := mustWrite(t, last, "change", `{"to":1}`, noon)
	if forged.At != lastClaim {
		t.Fatalf("the forger's clock is %s; want the last claim %s", forged.At, lastClaim)
	}
	beyond := &Pen{Book: bookX, Device: "01890000-0000-7000-8000-0000000000fc", at: lastCount - 1}
	far := mustWrite(t, beyond, "change", `{"to":2}`, noon)

	var l Log
	for _, e := range []Entry{far, forged} {
		if _, err := l.Add(e); err != nil {
			t.Fatal(err)
		}
	}
	for range 5 {
		for _, e := range l.Since(0) {
			own.See(e)
		}
		e := mustWrite(t, own, "change", `{"to":3}`, noon)
		if _, err := l.Add(e); err != nil {
			t.Fatal(err)
		}
		if got := l.Entries(); got[len(got)-1].ID != e.ID {
			t.Fatalf("entry %d, the latest, stands before %s", e.Seq, got[len(got)-1].ID)
		}
	}
	if l.Len() != 6 || l.Vector()[beyond.Device] != 0 {
		t.Errorf("%d entries stand, vector %v; a reading that nobody could count to must wait", l.Len(), l.Vector())
	}
}
