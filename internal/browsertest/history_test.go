package browsertest

import (
	"encoding/base64"
	"net/http"
	"net/http/httptest"
	"sync/atomic"
	"testing"
)

func TestHistoryFiltersAndPages(t *testing.T) {
	p := WithExample(t)
	p.Load("/book")
	p.See("Rear compression: 2 clicks in, from 12 to 10")
	p.See("Nobody has owned up to this yet.")
	fit(t, p, "book")
	p.Tap("Show older lines")
	p.See("As found, made straight")
	p.choose("person", "bram")
	p.See("Bram said: crank it right up")
	p.SeeNot("Fork height in the clamps: 3 mm down")
	p.choose("person", "")
	p.choose("track", "saltmarsh-ring")
	p.See("Fork height in the clamps: 3 mm down")
	p.SeeNot("Rear compression: 2 clicks in")
	p.Narrow()
	p.Wide()
	p.NoComplaints()
}

// TestALineIsCorrectedAndStruck opens a line of the history without signal,
// corrects it, strikes it out and takes that back: both are told.
func TestALineIsCorrectedAndStruck(t *testing.T) {
	p := WithExampleOffline(t)
	p.Load("/book")
	p.choose("what", "change")
	p.SeeNot("Rear rebound found moved") // the list is drawn anew: tap what stays
	p.Tap("Rear compression: 2 clicks in, from 12 to 10 out")
	p.See("Where it stood then")
	fit(t, p, "line")
	p.Type("to", "9")
	p.Type("why-corrected", "miscounted")
	p.Tap("Correct it")
	p.See("Rear compression: 3 clicks in, from 12 to 9 out")
	p.See("it said: Rear compression: 2 clicks in, from 12 to 10 out")
	p.Tap("Rear compression: 3 clicks in")
	p.See("corrected because: miscounted")
	p.Tap("Strike it out")
	p.Tap("Strike it out")
	p.See("Why is it struck out?")
	p.Tap("Written twice")
	fit(t, p, "strike")
	p.Tap("Strike it out")
	p.See("Struck out later: Written twice.")
	fit(t, p, "book-struck")
	p.Tap("Rear compression: 3 clicks in")
	p.Tap("Put it back in")
	p.See("Where it stood then")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// TestPeopleAreNamedAndMerged renames somebody, and makes two names one.
func TestPeopleAreNamedAndMerged(t *testing.T) {
	p := WithExample(t)
	p.Load("/people")
	p.See("Nell's phone")
	fit(t, p, "people")
	p.Tap("Add somebody")
	p.Type("name", "Iwo")
	p.Tap("Write it down")
	p.Tap("Iwo Friend")
	p.Tap("The same person as somebody else here")
	p.Tap("Ivo")
	p.Picture("person")
	p.Tap("Make them one")
	p.See("also Iwo")
	p.Type("device-name", "Old tablet")
	p.Tap("Nell Harrow")
	p.TapElement("#save-device")
	p.See("Old tablet")
	p.See("held by Nell Harrow")
	p.NoComplaints()
}

// choose picks an option of a list by its value.
func (p *Phone) choose(list, value string) {
	p.t.Helper()
	p.SeeElement(`select[name="` + list + `"]`)
	p.Run(`(() => { const el = document.querySelector('select[name="` + list + `"]'); el.value = ` + quoted(value) + `; el.dispatchEvent(new Event("change", { bubbles: true })); })()`)
}

// savedCopy saves the whole book as a file, and is that file.
func (p *Phone) savedCopy() []byte {
	p.t.Helper()
	p.Load("/keep")
	p.Ready()
	p.Run(`(() => { const was = URL.createObjectURL; URL.createObjectURL = (b) => { if (b instanceof File || b.type === "application/zip") window.saved = b; return was(b); }; })()`)
	p.Tap("Save a copy")
	p.See("It can be read without this app")
	return p.bytes(`window.saved.arrayBuffer()`)
}

// bytes is what a script's buffer holds.
func (p *Phone) bytes(buffer string) []byte {
	p.t.Helper()
	raw, err := base64.StdEncoding.DecodeString(Ask[string](p, `(async () => { let s = ""; for (const c of new Uint8Array(await `+buffer+`)) s += String.fromCharCode(c); return btoa(s); })()`))
	if err != nil {
		p.t.Fatal(err)
	}
	return raw
}

func TestASavedCopyComesBack(t *testing.T) {
	p := WithExample(t)
	p.Load("/keep")
	p.Ready()
	p.See("as one file that is yours.")
	p.Picture("keep")
	p.Audit()
	file := p.savedCopy()

	other := NewPhone(t, p.Server)
	other.Load("/keep")
	other.Ready()
	other.giveFile("#read-copy", base64.StdEncoding.EncodeToString(file))
	other.See("Calder Heron 600")
	other.See("Example book, stays on this phone")
	other.Load("/keep")
	other.Ready()
	other.giveFile("#read-copy", "aGVsbG8=")
	other.See("This file is not a Plumbline book.")
	other.NoComplaints()
}

// TestALostAnswerIsAskedForAgain: the server opens the book, but the phone is
// out of range before it hears so.
func TestALostAnswerIsAskedForAgain(t *testing.T) {
	s := NewServer(t)
	s.Stop()
	server := s.handler
	var lost atomic.Bool
	s.handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodPost && r.URL.Path == "/api/books" && lost.CompareAndSwap(false, true) {
			server.ServeHTTP(httptest.NewRecorder(), r)
			panic(http.ErrAbortHandler)
		}
		server.ServeHTTP(w, r)
	})
	s.Start()
	p := NewPhone(t, s)
	p.Load("/")
	p.Ready()
	p.Tap("Start your book")
	p.See("Backed up")
	if !lost.Load() {
		t.Error("no answer was lost; this test shows nothing")
	}
	p.NoComplaints("net::ERR")
}

// giveFile puts a file, given in base64, into a file field.
func (p *Phone) giveFile(selector, file string) {
	p.t.Helper()
	p.SeeElement(selector)
	p.Run(`(() => { const el = document.querySelector(` + quoted(selector) + `); const list = new DataTransfer();
  list.items.add(new File([Uint8Array.from(atob(` + quoted(file) + `), (c) => c.charCodeAt(0))], "book.zip"));
  el.files = list.files; el.dispatchEvent(new Event("change", { bubbles: true })); })()`)
}

func TestASecondPhoneJoinsByCode(t *testing.T) {
	p := Open(t)
	p.Ready()
	p.Tap("Start your book")
	p.See("Backed up")
	p.Load("/keep")
	p.Tap("Make a code")
	p.SeeElement("#join-code")
	code := Ask[string](p, `document.querySelector("#join-code").innerText`)

	other := NewPhone(t, p.Server)
	other.Load("/")
	other.Ready()
	other.Tap("Join a book")
	other.Type("code", code)
	other.Tap("Join")
	other.See("Backed up")
	other.NoComplaints()
}
