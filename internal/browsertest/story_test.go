package browsertest

import (
	"bytes"
	"testing"

	"plumbline/internal/archive"
	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// backup is the server's copy of its only book, taken out as an export and
// verified as `plumbline verify` does.
func (s *Server) backup(id entry.BookID) *book.Book {
	s.t.Helper()
	var log entry.Log
	err := s.db.Each(s.t.Context(), id, nil, func(line []byte) error {
		e, err := entry.Decode(line)
		if err != nil {
			return err
		}
		_, err = log.Add(e)
		return err
	})
	if err != nil {
		s.t.Fatal(err)
	}
	var file bytes.Buffer
	if err := archive.Write(&file, log.Lacking(nil), nil); err != nil {
		s.t.Fatal(err)
	}
	read, err := archive.Read(bytes.NewReader(file.Bytes()))
	if err != nil {
		s.t.Fatal(err)
	}
	whole, findings := archive.Verify(read)
	if len(findings) > 0 {
		s.t.Errorf("the server's copy has findings: %v", findings)
	}
	return book.Fold(whole.Entries())
}

// TestARidersWholeStory is a first day, with the radio off for all of it: a
// first look, a baseline, changes by three people, drift that nobody owned up
// to until somebody did, the way back, a symptom and its causes. Then the
// radio is on, and the server has it all.
func TestARidersWholeStory(t *testing.T) {
	p := Open(t)
	p.RadioOff()
	firstLook(p)
	threePeople(p)
	driftAndItsOwner(p)

	p.Load("/wayback")
	p.See("Rear rebound")
	p.TapElement(`.move[data-adjuster="rear.rebound"]`)
	p.See("Made today")
	for _, id := range []string{"front.rebound", "rear.compression"} {
		p.TapElement(`.move[data-adjuster="` + id + `"]`)
	}
	p.See("The bike is on the line 'First line'")
	symptomAndCauses(p)

	p.Load("/")
	p.See("On this phone only")
	p.Picture("story-today")
	p.Glance("story-today")
	p.Server.Start()
	p.lookUp()
	p.See("Backed up")
	p.synced()
	id := Ask[string](p, shelfScript+`(async (store, done) => (await done(store("books", "readonly").getAll()))[0].id)`)
	checkStory(t, p.Server.backup(entry.BookID(id)), len(p.shelved("entries")))
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

func firstLook(p *Phone) {
	p.t.Helper()
	p.start("Jo", "Heron")
	p.Tap("Yes")
	p.TapElement("#save")
	p.See("was the front end loosened and centred?")
	p.Tap("Don't know")
	p.TapElement("#save")
	p.See("When was the fork's oil changed?")
	p.Load("/first-look?step=check:straight")
	p.Tap("Good")
	p.TapElement("#save")
	for _, c := range []struct{ id, at string }{{"front.rebound", "8"}, {"rear.rebound", "10"}, {"rear.compression", "12"}} {
		p.Load("/first-look?step=count:" + c.id)
		p.See("Where it stands")
		p.Type("at", c.at)
		p.Tap("I counted it")
		p.wait(`!document.querySelector("[name=at]") || document.querySelector("[name=at]").value !== "`+c.at+`"`, "the next step")
	}
	p.Load("/first-look?step=line")
	p.See("It holds 3 settings")
	p.TapElement("#save")
	p.Load("/wayback")
	p.See("The bike is on the line 'First line'")
}

// threePeople log changes: the rider's own, a friend's idea, and one that
// somebody else turned.
func threePeople(p *Phone) {
	p.t.Helper()
	p.Load("/turned?adjuster=rear.rebound")
	p.Tap("2 clicks in")
	p.Tap("Someone new")
	p.Type("idea-name", "Ivo")
	p.Tap("It wallows")
	p.Type("words", "on the drive out")
	p.Tap("Write it down")
	p.SeeElement("#came-in")
	p.Load("/turned?adjuster=front.rebound")
	p.Tap("1 click out")
	p.Tap("Me")
	p.Tap("Write it down")
	p.SeeElement("#came-in")
	p.Load("/turned?adjuster=rear.compression")
	p.Tap("3 clicks in")
	p.Tap("Somebody else turned it")
	p.wait(`document.querySelector("details[open]")`, "who turned it")
	p.TapElement(`details[open] .chip:last-child`)
	p.Type("turned-name", "Bram")
	p.Tap("Write it down")
	p.SeeElement("#came-in")
}

func driftAndItsOwner(p *Phone) {
	p.t.Helper()
	p.count("front.rebound", "12")
	p.See("Front rebound has moved 3 clicks out, from 9 to 12 out")
	p.Load("/")
	p.See("Moved, and nobody said so")
	p.Load("/counted")
	p.Tap("I know who it was: Front rebound")
	p.Tap("Bram")
	p.Type("why", "thought it was his bike")
	p.Tap("Write it down")
	p.SeeNot("Front rebound has moved")
}

func symptomAndCauses(p *Phone) {
	p.t.Helper()
	p.Load("/why")
	p.Ready()
	p.Type("words", "turns easier left than right")
	p.Tap("Yes: It turns in harder one way than the other.")
	p.See("Likely causes")
	p.Run(`document.querySelector("#save").click()`) // the page may still grow; TestCameInThenWhy taps
	p.See("Written down.")
}

func checkStory(t *testing.T, b *book.Book, entries int) {
	t.Helper()
	if len(b.Told) != entries || len(b.Oddities) > 0 {
		t.Errorf("the server has %d of %d entries, oddities %v", len(b.Told), entries, b.Oddities)
	}
	k := b.Bikes[b.BikeOrder[0]]
	turned := map[string]bool{}
	for _, set := range k.Settings {
		for _, m := range set.Line {
			turned[b.People[m.Turned].Name] = true
			turned[b.People[m.Idea].Name] = true
		}
	}
	if !turned["Jo"] || !turned["Ivo"] || !turned["Bram"] {
		t.Errorf("who turned or thought is %v", turned)
	}
	line, drawn := k.Line()
	if !drawn || len(k.WayBack(line)) != 0 || len(k.Unowned()) != 0 || len(k.Symptoms) != 1 {
		t.Errorf("line %v, way back %v, unowned %v, symptoms %d", drawn, k.WayBack(line), k.Unowned(), len(k.Symptoms))
	}
	for _, id := range []book.AdjusterID{"rear.rebound", "front.rebound", "rear.compression"} {
		if at := k.Settings[id].At; at == nil || *at != line.At[id] {
			t.Errorf("%s stands at %v, the line has %v", id, at, line.At[id])
		}
	}
}
