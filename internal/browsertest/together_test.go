package browsertest

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// start puts a bike into a fresh book, through the first form.
func (p *Phone) start(rider, bike string) {
	p.t.Helper()
	p.Ready()
	p.Tap("Start your book")
	p.Type("rider", rider)
	p.Type("name", bike)
	p.TapElement("#save")
	p.See("Has this bike ever fallen?")
}

// count notes a position that was counted, through the app.
func (p *Phone) count(adjuster, at string) {
	p.t.Helper()
	p.Load("/counted?adjuster=" + adjuster)
	p.See("How sure are you?")
	p.Type("at", at)
	p.Tap("Write it down")
	p.See("is in the book")
}

// turn logs a change of one tap, through the app.
func (p *Phone) turn(adjuster, move string) {
	p.t.Helper()
	p.Load("/turned?adjuster=" + adjuster)
	p.Tap(move)
	p.Tap("Write it down")
	p.SeeElement("#came-in")
}

// synced waits until nothing of this phone waits to be sent.
func (p *Phone) synced() {
	p.t.Helper()
	p.wait(shelfScript+`(async (store, done) => {
  const [b] = await done(store("books", "readonly").getAll());
  const mine = (await done(store("entries", "readonly").getAllKeys(IDBKeyRange.bound([b.id, b.device], [b.id, b.device, []])))).length;
  return b.sent === mine;
})`, "everything at the server")
}

// lookUp asks the server now, as a phone does that sees the network again.
func (p *Phone) lookUp() {
	p.t.Helper()
	p.Run(`dispatchEvent(new Event("online"))`)
}

// join lets another phone into this one's book by a code.
func (p *Phone) join() *Phone {
	p.t.Helper()
	p.Load("/keep")
	p.Tap("Make a code")
	p.SeeElement("#join-code")
	code := Ask[string](p, `document.querySelector("#join-code").innerText`)
	other := NewPhone(p.t, p.Server)
	other.Load("/")
	other.Ready()
	other.Tap("Join a book")
	other.Type("code", code)
	other.Tap("Join")
	other.See("You have joined")
	return other
}

// TestTwoPhonesApartAndTogether: both offline, both change the same adjuster
// and different ones; back together they agree on everything, say what is in
// dispute, and a count settles it.
func TestTwoPhonesApartAndTogether(t *testing.T) {
	a := Open(t)
	a.start("Jo", "Heron")
	a.count("rear.rebound", "10")
	a.count("front.rebound", "8")
	a.count("rear.compression", "9")
	a.synced()
	b := a.join()
	b.Type("device-name", "Mika's phone")
	b.Tap("Someone new")
	b.Type("holder-name", "Mika")
	fit(t, b, "joined")
	b.Tap("Write it down")
	b.SeeElement("#came-in")
	b.See("Heron")
	a.OfflineReady()
	b.OfflineReady()
	b.synced()

	a.RadioOff()
	a.turn("rear.rebound", "2 clicks in")
	a.turn("front.rebound", "1 click out")
	b.turn("rear.rebound", "1 click out")
	b.turn("rear.compression", "3 clicks in")
	a.See("waiting")
	b.See("waiting")

	a.Server.Start()
	a.lookUp()
	a.synced()
	b.lookUp()
	b.synced()
	a.lookUp()
	for _, p := range []*Phone{a, b} {
		p.Load("/bike/setting/front.rebound")
		p.See("9 clicks out")
		p.Load("/bike/setting/rear.compression")
		p.See("6 clicks out")
		p.See("turned by Mika")
		p.Load("/bike/setting/rear.rebound")
		p.See("which is real now?")
		p.See("8 clicks out")
		p.See("11 clicks out")
		p.See("Mika's phone")
	}
	fit(t, a, "dispute-setting")
	if x, y := a.shelved("entries"), b.shelved("entries"); !slices.Equal(x, y) {
		t.Errorf("the phones hold different entries: %d and %d", len(x), len(y))
	}
	if x, y := a.words(), b.words(); x != y {
		t.Errorf("the phones say different things:\n%s\n%s", x, y)
	}
	b.Load("/bike")
	b.See("Rear rebound: which is real now?")
	b.Load("/")
	b.See("Rear rebound: which is real now?")

	a.Tap("Count it")
	a.See("Two phones changed this")
	fit(t, a, "dispute-count")
	a.Type("at", "8")
	a.Tap("Write it down")
	a.See("is in the book")
	a.synced()
	b.lookUp()
	b.SeeNot("which is real now?")
	a.Load("/bike/setting/rear.rebound")
	a.See("Counted: 8 clicks out")
	a.SeeNot("which is real now?")
	a.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
	b.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// TestTwoTabsKeepOneChain writes from two tabs of one browser at once: the
// device's chain has no fork and no gap, and each tab shows the other's lines.
func TestTwoTabsKeepOneChain(t *testing.T) {
	a := Open(t)
	a.start("Jo", "Heron")
	a.count("rear.rebound", "20")
	b := a.Tab()
	b.Load("/book")
	b.Ready()
	a.Load("/book")
	a.Ready()
	for _, p := range []*Phone{a, b} {
		p.See("counted at 20 clicks")
	}
	a.Go("/turned?adjuster=rear.rebound")
	b.Go("/turned?adjuster=rear.rebound")
	a.Tap("1 click in")
	b.Tap("3 clicks in")
	// Both tabs are told to save in the same moment.
	both := `setTimeout(() => document.querySelector("#save").click(), new Date(+localStorage.getItem("go")) - Date.now())`
	a.SeeElement("#save:not([disabled])")
	b.SeeElement("#save:not([disabled])")
	a.Run(`localStorage.setItem("go", Date.now() + 1500)`)
	a.Run(both)
	b.Run(both)
	a.SeeElement("#came-in")
	b.SeeElement("#came-in")
	a.Go("/book")
	b.Go("/book")
	for _, p := range []*Phone{a, b} {
		p.See("Rear rebound: 1 click in")
		p.See("Rear rebound: 3 clicks in")
	}
	a.synced() // the relay refuses a broken chain
	a.SeeNot("waiting")
	b.SeeNot("waiting")
	if x, y := a.words(), b.words(); x != y {
		t.Errorf("the tabs say different things:\n%s\n%s", x, y)
	}
	seqs := Ask[[]int](a, shelfScript+`(async (store, done) => (await done(store("entries", "readonly").getAllKeys())).map((k) => k[2]))`)
	for i, seq := range seqs {
		if seq != i+1 {
			t.Fatalf("the chain has a gap or a fork: %v", seqs)
		}
	}
	a.NoComplaints()
	b.NoComplaints()
}

// TestALongSyncTellsHowFarItIs: another phone wrote 1,200 entries; this one
// says how many of them have come, and has them all in the end. What it sends
// travels packed.
func TestALongSyncTellsHowFarItIs(t *testing.T) {
	s := NewServer(t)
	s.Stop()
	server := s.handler
	var packed atomic.Int64
	s.handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodPost && strings.HasSuffix(r.URL.Path, "/entries") && r.Header.Get("Content-Encoding") == "gzip" {
			packed.Add(1)
		}
		server.ServeHTTP(w, r)
	})
	s.Start()
	a := NewPhone(t, s)
	a.Load("/")
	a.start("Jo", "Heron")
	a.synced()
	a.Load("/book")
	a.See("Backed up")
	a.Run(`(() => { window.said = new Set(); new MutationObserver(() => said.add(document.querySelector(".state")?.innerText)).observe(document.body, { subtree: true, childList: true, characterData: true }); })()`)
	id := entry.BookID(Ask[string](a, shelfScript+`(async (store, done) => (await done(store("books", "readonly").getAll()))[0].id)`))
	s.scribble(id, 1200)
	a.lookUp()
	a.wait(`document.querySelector("#total").innerText.startsWith("1200 ")`, "all the lines of the other phone")
	told := Ask[[]string](a, `[...window.said]`)
	if !slices.ContainsFunc(told, func(w string) bool {
		return strings.HasPrefix(w, "Fetching entries: ") && strings.HasSuffix(w, " of 1,200")
	}) {
		t.Errorf("while they came it said %q", told)
	}
	a.See("Backed up")
	if packed.Load() == 0 {
		t.Error("nothing travelled packed")
	}
	a.NoComplaints()
}

// scribble puts so many checks of another phone into a book on the server.
func (s *Server) scribble(id entry.BookID, n int) {
	s.t.Helper()
	r := book.Open(id, "01890000-0000-7000-8000-0000000000d8")
	if err := s.db.Each(s.t.Context(), id, nil, func(line []byte) error {
		r.Take([]string{string(line)})
		return nil
	}); err != nil {
		s.t.Fatal(err)
	}
	drafts, chance := make([]book.Draft, n), []byte{}
	for i := range drafts {
		chance = fmt.Appendf(chance, "%016d", i)
		drafts[i] = book.Draft{Kind: book.KindCheck, Body: book.CheckBody{Bike: r.Book().BikeOrder[0], Check: "chain", Result: "good", Note: fmt.Sprint("turn ", i)}}
	}
	lines, err := r.Stamp(drafts, "", time.Now(), chance)
	if err != nil {
		s.t.Fatal(err)
	}
	if _, err := s.db.Append(s.t.Context(), id, 64<<20, func(_ func(entry.DeviceID, int64) ([]byte, error), put func(entry.DeviceID, int64, []byte) error) error {
		for i, line := range lines {
			if err := put(r.Device(), int64(i+1), []byte(line)); err != nil {
				return err
			}
		}
		return nil
	}); err != nil {
		s.t.Fatal(err)
	}
}

// TestAServerThatWentBackIsBroughtUp: a server that was lost and restored from
// an older copy gets what it had acknowledged once more from the phone.
func TestAServerThatWentBackIsBroughtUp(t *testing.T) {
	p := Open(t)
	p.start("Jo", "Heron")
	p.synced()
	older := p.Server.Copy()
	p.count("rear.rebound", "9")
	p.synced()
	p.Server.GoBack(older)
	other := p.join()
	other.Load("/bike/setting/rear.rebound")
	other.See("9 clicks out")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}
