package web_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/desk"
	"plumbline/internal/entry"
	"plumbline/internal/example"
	"plumbline/internal/screen"
	"plumbline/internal/store"
	"plumbline/internal/web"
)

const (
	linkID    = "01890000-0000-7000-8000-00000000001a"
	thirdBook = "01890000-0000-7000-8000-0000000000b3"
)

// season puts the example season on the server and returns its key.
func (s *station) season() string {
	s.t.Helper()
	token := s.create(example.BookID, string(example.DeviceID))
	s.call("POST", entriesOf(example.BookID), token, strings.Join(example.Lines(), "\n"), 200, nil)
	return token
}

func (s *station) link(id, secret, may string, days int) string {
	return fmt.Sprintf(`{"id":%q,"secret":%q,"may":%q,"bike":%q,"expires":%q}`, id, keyFor(secret), may, example.Heron, s.now.AddDate(0, 0, days).Format(time.RFC3339))
}

func linksOf(book entry.BookID) string { return "/api/books/" + string(book) + "/links" }

// post sends the form of a link's page.
func (s *station) post(secret string, form url.Values, status int) string {
	s.t.Helper()
	req, err := http.NewRequest("POST", s.url+"/s/"+keyFor(secret), strings.NewReader(form.Encode()))
	if err != nil {
		s.t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		s.t.Fatal(err)
	}
	defer res.Body.Close()
	var page bytes.Buffer
	if _, err := page.ReadFrom(res.Body); err != nil {
		s.t.Fatal(err)
	}
	if res.StatusCode != status {
		s.t.Fatalf("the form was answered %d: %s; want %d", res.StatusCode, page.String(), status)
	}
	return page.String()
}

func proposal() url.Values {
	return url.Values{
		"name": {"Tess Okoro"}, "adjuster": {"rear.rebound"}, "way": {"in"}, "steps": {"2"},
		"why": {"it still pumps"}, "expect": {"calmer out of the hairpin"},
	}
}

func TestALinkShowsTheSheetAndCountsOpenings(t *testing.T) {
	s := open(t)
	token := s.season()
	s.call("POST", linksOf(example.BookID), token, s.link(linkID, "one", "look", 7), 201, nil)
	var page []byte
	res := s.call("GET", "/s/"+keyFor("one"), "", "", 200, &page)
	for _, want := range []string{"Calder Heron 600", "10 clicks out", "3 clicks out", "N. H."} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	for _, never := range []string{"Nell", "Tess", "Bram", "<form", "<script"} {
		if strings.Contains(string(page), never) {
			t.Errorf("the page says %q", never)
		}
	}
	if res.Header.Get("Referrer-Policy") != "no-referrer" || res.Header.Get("Cache-Control") != "no-store" || !strings.Contains(res.Header.Get("Content-Security-Policy"), "form-action 'self'") {
		t.Errorf("headers %v", res.Header)
	}
	s.call("GET", "/s/"+keyFor("one"), "", "", 200, nil)
	var list struct {
		Links []struct {
			ID, May, Secret string
			Opened          int
		}
	}
	s.call("GET", linksOf(example.BookID), token, "", 200, &list)
	if len(list.Links) != 1 || list.Links[0].Opened != 2 || list.Links[0].May != "look" || list.Links[0].Secret != "" {
		t.Errorf("links %+v", list.Links)
	}
	if got := s.post("one", proposal(), 403); !strings.Contains(got, "looking only") {
		t.Errorf("a proposal by a link to look: %s", got)
	}
}

func TestAProposalComesAndItsFateIsShown(t *testing.T) {
	s := open(t)
	token := s.season()
	s.call("POST", linksOf(example.BookID), token, s.link(linkID, "two", "propose", 7), 201, nil)
	s.post("two", proposal(), 303)
	var fetched struct {
		Proposals []struct {
			Number   int64
			Link     string
			Proposal screen.Proposal
		}
	}
	proposals := "/api/books/" + string(example.BookID) + "/proposals"
	s.call("GET", proposals, token, "", 200, &fetched)
	if len(fetched.Proposals) != 1 {
		t.Fatalf("fetched %+v", fetched)
	}
	got := fetched.Proposals[0]
	if got.Link != linkID || got.Proposal.Delta != -2000 || got.Proposal.Name != "Tess Okoro" || got.Proposal.Adjuster != "rear.rebound" {
		t.Errorf("proposal %+v; want 2 clicks in, which is 2 less out", got)
	}
	s.call("GET", fmt.Sprintf("%s?after=%d", proposals, got.Number), token, "", 200, &fetched)
	if len(fetched.Proposals) != 0 {
		t.Errorf("after the last: %+v", fetched)
	}
	s.call("GET", proposals+"?after=x", token, "", 400, nil)

	phone := s.newPhone(token)
	page := func() string {
		var raw []byte
		s.call("GET", "/s/"+keyFor("two"), "", "", 200, &raw)
		return string(raw)
	}
	if p := page(); !strings.Contains(p, "Rear rebound 2 clicks in") || !strings.Contains(p, "Not yet seen by the rider.") {
		t.Errorf("before it is fetched: %s", p)
	}
	phone.act("proposal", got.Proposal)
	phone.act("proposal", got.Proposal) // fetched twice
	advice := phone.advice(got.Proposal.ID)
	phone.act("outcome", map[string]string{"advice": string(advice), "result": "asked", "note": "With the new spring as well?"})
	if p := page(); !strings.Contains(p, "The rider asks: With the new spring as well?") {
		t.Errorf("after a question: %s", p)
	}
	phone.act("turned", map[string]any{"bike": example.Heron, "adjuster": "rear.rebound", "steps": 2, "trial": true, "advice": advice, "expect": "calmer", "idea": map[string]string{"id": "tess"}})
	if p := page(); !strings.Contains(p, "Tried, no verdict yet") {
		t.Errorf("after it was accepted: %s", p)
	}
	k := phone.r.Book().Bikes[example.Heron]
	phone.act("verdict", map[string]any{"change": k.Trials[len(k.Trials)-1].Entry, "verdict": "keep"})
	if p := page(); !strings.Contains(p, "Tried and kept.") {
		t.Errorf("after the verdict: %s", p)
	}
}

// phone is one more replica of the season's book that pushes what it writes.
type phone struct {
	s     *station
	r     *book.Replica
	token string
	n     byte
}

func (s *station) newPhone(token string) *phone {
	r := book.Open(example.BookID, "01890000-0000-7000-8000-0000000000cc")
	if _, wrong := r.Take(example.Lines()); len(wrong) > 0 {
		s.t.Fatal(wrong)
	}
	return &phone{s: s, r: r, token: token}
}

func (p *phone) act(action string, form any) {
	p.s.t.Helper()
	raw := mustJSON(p.s.t, form)
	p.n++
	chance := bytes.Repeat([]byte{p.n}, 400)
	for i := range chance {
		chance[i] += byte(i)
	}
	wall := p.s.now.Add(time.Duration(p.n) * time.Minute)
	minted := 0
	drafts, refused := screen.Act(action, screen.Ask{Book: p.r.Book(), Now: wall, Mint: func() string {
		minted++
		return string(entry.NewID(wall, entry.Chance(chance[300+20*minted:])))
	}}, raw)
	if len(refused) > 0 {
		p.s.t.Fatalf("%s: %+v", action, refused)
	}
	lines, err := p.r.Stamp(drafts, "nell", wall, chance)
	if err != nil {
		p.s.t.Fatal(err)
	}
	if len(lines) == 0 {
		return
	}
	if _, wrong := p.r.Take(lines); len(wrong) > 0 {
		p.s.t.Fatal(wrong)
	}
	p.s.call("POST", entriesOf(example.BookID), p.token, strings.Join(lines, "\n"), 200, nil)
}

// advice is the entry that a proposal became: exactly one.
func (p *phone) advice(proposal string) entry.ID {
	p.s.t.Helper()
	var ids []entry.ID
	for _, a := range p.r.Book().Bikes[example.Heron].Advice {
		if a.Body.Proposal == proposal {
			ids = append(ids, a.Entry)
		}
	}
	if len(ids) != 1 {
		p.s.t.Fatalf("the proposal became %d pieces of advice", len(ids))
	}
	return ids[0]
}

func TestAWrongProposalKeepsWhatWasTyped(t *testing.T) {
	s := open(t)
	s.call("POST", linksOf(example.BookID), s.season(), s.link(linkID, "three", "propose", 7), 201, nil)
	for field, row := range map[string]struct{ value, says string }{
		"name":     {" ", "Who are you?"},
		"adjuster": {"no.such", "Pick an adjuster."},
		"way":      {"up", "Choose in or out."},
		"steps":    {"two", "Type a whole number of steps"},
		"why":      {"", "Say what it should cure."},
		"expect":   {strings.Repeat("x", 501), "Use 500 characters at most."},
	} {
		t.Run(field, func(t *testing.T) {
			form := proposal()
			form.Set(field, row.value)
			page := s.post("three", form, 422)
			if !strings.Contains(page, row.says) || field != "why" && !strings.Contains(page, "it still pumps") {
				t.Errorf("%s", page)
			}
		})
	}
	form := proposal()
	form.Set("steps", "11")
	if page := s.post("three", form, 422); !strings.Contains(page, "it stands at 10 clicks out") {
		t.Errorf("beyond the end: %s", page)
	}
}

// Everything that somebody could type with bad intent comes out as text.
func TestScriptInEveryFieldIsText(t *testing.T) {
	s := open(t)
	s.call("POST", linksOf(example.BookID), s.season(), s.link(linkID, "four", "propose", 7), 201, nil)
	const evil = `"><script>alert(1)</script><img src=x onerror=alert(1)>'`
	form := proposal()
	for _, field := range []string{"name", "why", "expect"} {
		form.Set(field, evil)
	}
	form.Set("name", `<b onclick="x()">`)
	s.post("four", form, 303)
	form.Set("adjuster", evil)
	form.Set("way", evil)
	form.Set("steps", evil)
	var page []byte
	s.call("GET", "/s/"+keyFor("four"), "", "", 200, &page)
	for _, text := range []string{string(page), s.post("four", form, 422)} {
		for _, bad := range []string{"<script", "<img", "<b "} {
			if strings.Contains(text, bad) {
				t.Errorf("the page holds %s", bad)
			}
		}
	}
}

func TestLinksEnd(t *testing.T) {
	s := open(t)
	token := s.season()
	s.call("POST", linksOf(example.BookID), token, s.link(linkID, "five", "propose", 1), 201, nil)
	s.call("POST", linksOf(example.BookID), token, s.link(linkID, "other", "look", 1), 409, nil)
	s.now = s.now.AddDate(0, 0, 2)
	var page []byte
	s.call("GET", "/s/"+keyFor("five"), "", "", 404, &page)
	if !strings.Contains(string(page), "Ask the rider for a new one.") {
		t.Errorf("an expired link shows %s", page)
	}
	s.post("five", proposal(), 404)
	const second = "01890000-0000-7000-8000-00000000001b"
	s.call("POST", linksOf(example.BookID), token, s.link(second, "six", "look", 1), 201, nil)
	s.call("DELETE", linksOf(example.BookID)+"/"+second, token, "", 204, nil)
	s.call("DELETE", linksOf(example.BookID)+"/"+second, token, "", 404, nil)
	s.call("GET", "/s/"+keyFor("six"), "", "", 404, nil)
	s.call("POST", linksOf(example.BookID), token, s.link("01890000-0000-7000-8000-00000000001c", "seven", "look", 500), 422, nil)
	s.call("POST", linksOf(example.BookID), token, s.link("01890000-0000-7000-8000-00000000001d", "eight", "rule", 5), 422, nil)
}

func TestEnoughProposalsAreEnough(t *testing.T) {
	s := open(t)
	s.call("POST", linksOf(example.BookID), s.season(), s.link(linkID, "nine", "propose", 7), 201, nil)
	for range desk.MostProposals {
		s.post("nine", proposal(), 303)
	}
	if page := s.post("nine", proposal(), 429); !strings.Contains(page, "Speak to the rider.") {
		t.Errorf("%s", page)
	}
}

// Another book's key, no key, and a guessed one are refused alike.
func TestSharingIsTheBooksOwn(t *testing.T) {
	s := open(t)
	token := s.season()
	s.call("POST", linksOf(example.BookID), token, s.link(linkID, "ten", "look", 7), 201, nil)
	other := s.create(otherBook, string(example.DeviceID))
	here := "/api/books/" + string(example.BookID)
	for _, c := range []struct{ method, path, body string }{
		{"POST", here + "/links", s.link(linkID, "x", "look", 1)}, {"GET", here + "/links", ""}, {"DELETE", here + "/links/" + linkID, ""},
		{"GET", here + "/proposals", ""}, {"GET", here + "/devices", ""}, {"DELETE", here + "/devices/" + string(example.DeviceID), ""},
		{"PUT", here + "/recovery", `{"key":"` + keyFor("r") + `"}`}, {"DELETE", here, ""},
	} {
		for _, key := range []string{"", other, keyFor("guess"), token + "x"} {
			s.call(c.method, c.path, key, c.body, 403, nil)
		}
	}
	// A guessed id, by way of a book of one's own.
	there := "/api/books/" + otherBook
	s.call("DELETE", there+"/links/"+linkID, other, "", 404, nil)
	const ownDevice = "01890000-0000-7000-8000-0000000000d2"
	third := s.create(thirdBook, ownDevice)
	s.call("DELETE", "/api/books/"+thirdBook+"/devices/"+string(example.DeviceID), third, "", 404, nil)
	s.call("GET", "/s/"+keyFor("ten"), "", "", 200, nil)
	s.call("GET", "/s/"+keyFor("guess"), "", "", 404, nil)
	s.call("GET", "/s/..%2f..%2fetc", "", "", 404, nil)
	s.call("GET", here+"/links", token, "", 200, nil)
}

func TestDevicesAreListedAndRevoked(t *testing.T) {
	s := open(t)
	token := s.season()
	const second = "01890000-0000-7000-8000-0000000000dd"
	var invited struct{ Code string }
	s.call("POST", "/api/books/"+string(example.BookID)+"/invitations", token, "", 201, &invited)
	secondKey := keyFor("second phone")
	s.call("POST", "/api/join", "", fmt.Sprintf(`{"code":%q,"device":%q,"key":%q}`, invited.Code, second, secondKey), 200, nil)
	var list struct{ Devices []struct{ Device string } }
	devices := "/api/books/" + string(example.BookID) + "/devices"
	s.call("GET", devices, secondKey, "", 200, &list)
	if len(list.Devices) != 2 {
		t.Fatalf("devices %+v", list)
	}
	s.call("DELETE", devices+"/"+second, token, "", 204, nil)
	s.call("DELETE", devices+"/"+second, token, "", 404, nil)
	s.call("GET", devices, secondKey, "", 403, nil)
}

// The phone is lost: the phrase's key opens the book again, and lets a new
// phone in.
func TestRecovery(t *testing.T) {
	s := open(t)
	token := s.season()
	here := "/api/books/" + string(example.BookID)
	s.call("PUT", here+"/recovery", token, `{"key":"`+token+`"}`, 409, nil)
	s.call("PUT", here+"/recovery", token, `{"key":"short"}`, 422, nil)
	s.call("PUT", here+"/recovery", token, `{"key":"`+keyFor("first phrase")+`"}`, 204, nil)
	phrase := keyFor("second phrase")
	s.call("PUT", here+"/recovery", token, `{"key":"`+phrase+`"}`, 204, nil)
	s.call("GET", "/api/key", keyFor("first phrase"), "", 403, nil)
	var found struct{ Book entry.BookID }
	s.call("GET", "/api/key", phrase, "", 200, &found)
	if found.Book != example.BookID {
		t.Fatalf("the phrase opens %q", found.Book)
	}
	s.call("POST", here+"/invitations", phrase, "", 201, nil)
}

func TestDeletedForGood(t *testing.T) {
	dir := t.TempDir()
	db, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	srv := httptest.NewServer(web.New(desk.New(db, time.Now), app, slog.New(slog.DiscardHandler), web.DefaultLimits))
	s := &station{t: t, url: srv.URL, now: time.Now()}
	token := s.season()
	s.call("POST", linksOf(example.BookID), token, s.link(linkID, "eleven", "propose", 7), 201, nil)
	s.post("eleven", proposal(), 303)
	var receipt struct {
		Book    entry.BookID
		Deleted time.Time
		Had     entry.Vector
	}
	s.call("DELETE", "/api/books/"+string(example.BookID), token, "", 200, &receipt)
	if receipt.Book != example.BookID || receipt.Had[example.DeviceID] != int64(len(example.Lines())) || receipt.Deleted.IsZero() {
		t.Errorf("receipt %+v", receipt)
	}
	s.call("GET", linksOf(example.BookID), token, "", 403, nil)
	s.call("GET", "/s/"+keyFor("eleven"), "", "", 404, nil)
	s.call("POST", "/api/books", "", newBook(example.BookID, string(example.DeviceID), token), 410, nil)
	srv.Close()
	if err := db.Close(); err != nil { // which empties the write-ahead log
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, name := range files {
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, word := range []string{"Calder Heron", "Tess Okoro", "it still pumps"} {
			if bytes.Contains(raw, []byte(word)) {
				t.Errorf("%s still holds %q", filepath.Base(name), word)
			}
		}
	}
}

// Secrets never reach the log or the database.
func TestSecretsAreNotWrittenDown(t *testing.T) {
	dir := t.TempDir()
	db, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	var log bytes.Buffer
	srv := httptest.NewServer(web.New(desk.New(db, time.Now), app, slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug})), web.DefaultLimits))
	s := &station{t: t, url: srv.URL, now: time.Now()}
	token := s.season()
	s.call("POST", linksOf(example.BookID), token, s.link(linkID, "twelve", "propose", 7), 201, nil)
	s.call("GET", "/s/"+keyFor("twelve"), "", "", 200, nil)
	s.call("GET", "/s/"+keyFor("guessed"), "", "", 404, nil)
	srv.Close()
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(log.String(), "/s/:secret") {
		t.Error("the log does not tell of the link's page at all")
	}
	raw, err := os.ReadFile(filepath.Join(dir, "plumbline.sqlite"))
	if err != nil {
		t.Fatal(err)
	}
	for _, secret := range []string{token, keyFor("twelve"), keyFor("guessed")} {
		if strings.Contains(log.String(), secret) || bytes.Contains(raw, []byte(secret)) {
			t.Errorf("the secret %s was written down", secret)
		}
	}
}

func mustJSON(t *testing.T, v any) []byte {
	t.Helper()
	raw, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}
