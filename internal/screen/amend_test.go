package screen

import (
	"encoding/json"
	"testing"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

func (d *desk) amend(id entry.ID) Amend {
	d.t.Helper()
	got, refused := View("amend", d.ask(), json.RawMessage(`{"entry":"`+string(id)+`"}`))
	if refused != nil {
		d.t.Fatal(refused)
	}
	return got.(Amend)
}

func (d *desk) lineOf(id entry.ID) HistoryLine {
	d.t.Helper()
	l, _ := teller{shower{d.r.Book()}, unowned(d.r.Book())}.line(toldOf(d.r.Book(), id))
	return l
}

// TestAChangeIsCorrected: the form comes filled in, the numbers stay true to
// each other, the setting follows, and history tells both.
func TestAChangeIsCorrected(t *testing.T) {
	d := openDesk(t)
	ids := d.do("turned", `{"adjuster":"rear.rebound","steps":2,"idea":{"id":"ivo"},"why":"It wallows"}`)
	id := ids[len(ids)-1]
	form := d.amend(id)
	if form.Fields[0].Name != "to" || form.Fields[0].Number.String() != "8" || form.Fields[2].Who != "ivo" || form.Fields[3].Text != "It wallows" {
		t.Fatalf("the form is not filled in: %+v", form.Fields)
	}
	d.do("amend", `{"entry":"`+string(id)+`","numbers":{"to":7},"whos":{"idea":{"name":"Mika","role":"friend"}},"texts":{"why":"It wallows"},"why":"miscounted"}`)
	l := d.lineOf(id)
	if l.Title != "Rear rebound: 3 clicks in, from 10 to 7 out" || l.Idea != "Mika" || !l.Corrected || l.Was != "Rear rebound: 2 clicks in, from 10 to 8 out" {
		t.Errorf("history tells %+v", l)
	}
	if at := d.r.Book().Bikes[d.r.Book().BikeOrder[0]].Settings["rear.rebound"].At; at.String() != "7" {
		t.Errorf("the setting stands at %s", at)
	}
	d.do("amend", `{"entry":"`+string(id)+`","texts":{"why":"It pumps"}}`)
	past := d.amend(id).Changes
	if len(past) != 2 || past[1].Why != "miscounted" || past[1].Was != "Rear rebound: 2 clicks in, from 10 to 8 out" || past[0].Was != l.Title {
		t.Errorf("its corrections are %+v", past)
	}
	if _, refused := Act("amend", d.ask(), json.RawMessage(`{"entry":"`+string(id)+`","numbers":{"to":7}}`)); len(refused) != 1 {
		t.Errorf("a correction of nothing is taken: %v", refused)
	}
	if _, refused := Act("amend", d.ask(), json.RawMessage(`{"entry":"`+string(id)+`","numbers":{"to":900}}`)); len(refused) != 1 || refused[0].Field != "to" {
		t.Errorf("a position outside the range: %v", refused)
	}
}

// TestEveryLineOfTheSeasonOpens: what history shows can be opened, and either
// corrected or at least struck out; a session on its own page.
func TestEveryLineOfTheSeasonOpens(t *testing.T) {
	d := openDesk(t)
	fields := map[string]int{}
	for _, told := range d.r.Book().Told {
		if _, ok := (teller{shower{d.r.Book()}, nil}).line(told); ok {
			form := d.amend(told.Entry)
			fields[told.Kind] = len(form.Fields)
			if own := told.Kind == book.KindSession || told.Kind == book.KindLaps; own != (form.Page != "") {
				t.Errorf("a %s is corrected on page %q", told.Kind, form.Page)
			}
		}
	}
	for kind, least := range map[string]int{
		book.KindChange: 6, book.KindCount: 3, book.KindFall: 5, book.KindService: 4, book.KindAdvice: 3, book.KindCheck: 2,
	} {
		if fields[kind] < least {
			t.Errorf("a %s opens with %d fields; want %d", kind, fields[kind], least)
		}
	}
}

// TestPressuresAreCorrectedInTheShownUnit: psi in, kPa in the book.
func TestPressuresAreCorrectedInTheShownUnit(t *testing.T) {
	d := openDesk(t)
	ids := d.do("counted", `{"adjuster":"front.pressure","at":31}`)
	d.do("amend", `{"entry":"`+string(ids[0])+`","numbers":{"at":32.5},"why":"other gauge"}`)
	if l := d.lineOf(ids[0]); l.Title != "Front tyre, cold found moved: 2.5 psi up, from 30.0 to 32.5 psi" {
		t.Errorf("history tells %q", l.Title)
	}
}

// TestStrikingAsksWhyAndCanBeTakenBack strikes a change and takes it back.
func TestStrikingAsksWhyAndCanBeTakenBack(t *testing.T) {
	d := openDesk(t)
	ids := d.do("turned", `{"adjuster":"rear.rebound","steps":2}`)
	id := ids[len(ids)-1]
	if _, refused := Act("strike", d.ask(), json.RawMessage(`{"entry":"`+string(id)+`"}`)); len(refused) != 1 || refused[0].Field != "why" {
		t.Errorf("a strike without a reason: %v", refused)
	}
	d.do("strike", `{"entry":"`+string(id)+`","why":"written twice"}`)
	if l := d.lineOf(id); !l.Struck || l.StruckFor != "written twice" {
		t.Errorf("history tells %+v", l)
	}
	form := d.amend(id)
	if form.Struck == nil || len(form.Fields) != 0 {
		t.Fatalf("a struck line opens as %+v", form)
	}
	d.do("strike", `{"entry":"`+string(form.Struck.Entry)+`","why":"it was right"}`)
	if l := d.lineOf(id); l.Struck {
		t.Error("the strike was taken back, and the line is still struck")
	}
}

// TestTwoNamesOfOnePerson: their deeds add up under one name, and the merge
// can be taken back.
func TestTwoNamesOfOnePerson(t *testing.T) {
	d := openDesk(t)
	d.do("turned", `{"adjuster":"rear.rebound","steps":2,"turned":{"name":"Iwo"}}`)
	iwo := entry.PersonID("")
	for id, p := range d.r.Book().People {
		if p.Name == "Iwo" {
			iwo = id
		}
	}
	d.do("person", `{"id":"`+string(iwo)+`","same":"ivo"}`)
	lines := allLines(historyOf(d, `{"person":"ivo","adjuster":"rear.rebound"}`))
	if len(lines) == 0 || lines[0].Turned != "Ivo" {
		t.Errorf("Ivo's history starts with %+v", lines[:min(1, len(lines))])
	}
	if _, refused := Act("person", d.ask(), json.RawMessage(`{"id":"ivo","same":"`+string(iwo)+`"}`)); len(refused) != 1 || refused[0].Field != "same" {
		t.Errorf("the ring is taken: %v", refused)
	}
	for _, c := range peopleFor(d.ask()) {
		if c.ID == string(iwo) {
			t.Error("one person is offered under two names")
		}
	}
	d.do("person", `{"id":"`+string(iwo)+`","same":"`+string(iwo)+`"}`)
	if lines := allLines(historyOf(d, `{"person":"`+string(iwo)+`"}`)); len(lines) != 1 {
		t.Errorf("taken apart again, Iwo has %d lines", len(lines))
	}
}

func historyOf(d *desk, args string) History {
	d.t.Helper()
	got, refused := View("history", d.ask(), json.RawMessage(args))
	if refused != nil {
		d.t.Fatal(refused)
	}
	return got.(History)
}

// TestThePhoneHasAHolder: who holds the phone is "Me" on it, and turned what
// it says nothing else of.
func TestThePhoneHasAHolder(t *testing.T) {
	d := openDesk(t)
	d.do("device", `{"name":"Mika's phone","holder":{"name":"Mika","role":"friend"}}`)
	ask := d.ask()
	ask.Device = d.r.Device()
	if c := peopleFor(ask)[0]; c.Name != "Me" || nameOf(ask.Book, entry.PersonID(c.ID)) != "Mika" {
		t.Errorf("the first to pick is %+v", c)
	}
	drafts, refused := Act("turned", ask, json.RawMessage(`{"adjuster":"rear.rebound","steps":1}`))
	if refused != nil {
		t.Fatal(refused)
	}
	c := drafts[len(drafts)-1].Body.(book.ChangeBody)
	if nameOf(ask.Book, c.By) != "Mika" {
		t.Errorf("turned by %q", c.By)
	}
	got, _ := View("people", ask, nil)
	if p := got.(People); p.Here.Name != "Mika's phone" || len(p.Devices) != 2 || len(p.People) != 5 {
		t.Errorf("people are %+v", p)
	}
}
