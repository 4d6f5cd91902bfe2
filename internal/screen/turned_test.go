package screen

import (
	"fmt"
	"strings"
	"testing"

	"plumbline/internal/book"
	"plumbline/internal/unit"
)

func TestTurnedSaysWhatTheStepsComeTo(t *testing.T) {
	d := openDesk(t)
	rows := []struct{ args, says, effect string }{
		{`{"adjuster":"rear.rebound","steps":2}`, "Rear rebound: 2 clicks in, from 10 to 8 out", "slower return"},
		{`{"adjuster":"rear.rebound","steps":-1}`, "Rear rebound: 1 click out, from 10 to 11 out", "quicker return"},
		{`{"adjuster":"rear.preload","steps":-2}`, "Rear preload: 0.5 turns out, from 10 to 9.5 in", "less preload"},
		{`{"adjuster":"front.pressure","steps":1}`, "Front tyre, cold: 0.5 psi up, from 30.0 to 30.5 psi", "more pressure"},
		{`{"adjuster":"sprocket.rear","steps":-1}`, "Rear sprocket: 1 tooth down, from 44 to 43 teeth", "taller gearing"},
	}
	for _, r := range rows {
		p := see[Turned](d, "turned", r.args).Picked
		if p.Says != r.says || p.Effect != r.effect || p.Outside != "" {
			t.Errorf("%s says %q, %q, %q; want %q, %q", r.args, p.Says, p.Effect, p.Outside, r.says, r.effect)
		}
	}
	if p := see[Turned](d, "turned", `{"adjuster":"rear.rebound","steps":30}`).Picked; !strings.Contains(p.Outside, "outside") {
		t.Errorf("30 clicks in from 10 out are not refused: %+v", p)
	}
}

func TestAFriendsIdeaIsLoggedWithWhoAndWhy(t *testing.T) {
	d := openDesk(t)
	d.do("turned", `{"adjuster":"rear.rebound","steps":2,"idea":{"name":"Old Pat","role":"friend"},"why":"It wallows","words":"on the drive out","trial":true}`)
	s := d.bike().Settings["rear.rebound"]
	m := s.Line[len(s.Line)-1]
	if *s.At != unit.Whole(8) || m.Turned != "nell" || nameOf(d.r.Book(), m.Idea) != "Old Pat" || m.Why != "It wallows, on the drive out" {
		t.Errorf("at %v, mark %+v", s.At, m)
	}
	if n := len(d.bike().Running()); n != 2 {
		t.Errorf("%d trials run; want 2", n)
	}
	if t0 := d.bike().Trials; t0[len(t0)-1].Body.Track != "tarn-hollow" {
		t.Errorf("the change was made at %q; want today's track", t0[len(t0)-1].Body.Track)
	}
	if r := d.refused("turned", `{"adjuster":"rear.rebound"}`); r.Field != "to" {
		t.Errorf("a change of nothing is refused with %+v", r)
	}
}

func TestCorrectAndStrikeKeepTheLine(t *testing.T) {
	d := openDesk(t)
	id := d.do("turned", `{"adjuster":"rear.rebound","steps":2,"why":"typo"}`)[0]
	d.do("correct", fmt.Sprintf(`{"entry":%q,"body":{"why":"It kicks","turned":"ivo"}}`, id))
	s := d.bike().Settings["rear.rebound"]
	if m := s.Line[len(s.Line)-1]; m.Why != "It kicks" || m.Turned != "ivo" || *m.To != unit.Whole(8) {
		t.Errorf("corrected to %+v", m)
	}
	d.do("strike", fmt.Sprintf(`{"entry":%q,"why":"by mistake"}`, id))
	if at := d.bike().Settings["rear.rebound"].At; *at != unit.Whole(10) {
		t.Errorf("after the strike it is at %v; want 10", at)
	}
	if r := d.refused("strike", fmt.Sprintf(`{"entry":%q}`, id)); r.Field != "entry" {
		t.Errorf("a second strike is refused with %+v", r)
	}
	if r := d.refused("correct", `{"entry":"nowhere","body":{}}`); r.Field != "entry" {
		t.Errorf("refused with %+v", r)
	}
}

func TestACountThatDiffersIsShownAtOnceAndCanBeOwned(t *testing.T) {
	d := openDesk(t)
	before := len(see[Counted](d, "counted", `{}`).Found)
	d.do("counted", `{"adjuster":"front.pressure","at":33}`)
	m := see[Counted](d, "counted", `{"adjuster":"front.pressure"}`)
	if len(m.Found) != before+1 || m.Picked.Value.String() != "33" || m.Picked.Unit != "psi" || m.Picked.Step != 500 {
		t.Fatalf("found %+v, picked %+v", m.Found, m.Picked)
	}
	f := m.Found[before]
	if !strings.HasPrefix(f.Title, "Front tyre, cold has moved") || !strings.HasPrefix(f.Window, "Between ") {
		f = m.Found[0]
	}
	for _, x := range m.Found {
		if x.Adjuster == "front.pressure" {
			f = x
		}
	}
	if f.Title != "Front tyre, cold has moved 3.0 psi up, from 30.0 to 33.0 psi" || !strings.HasSuffix(f.Window, "and today 14:01") {
		t.Errorf("it says %q, %q", f.Title, f.Window)
	}
	if r := d.refused("owned", fmt.Sprintf(`{"found":%q}`, f.Entry)); r.Field != "turned" {
		t.Errorf("refused with %+v", r)
	}
	d.do("owned", fmt.Sprintf(`{"found":%q,"turned":{"id":"ivo"},"why":"it was cold"}`, f.Entry))
	if n := len(see[Counted](d, "counted", `{}`).Found); n != before {
		t.Errorf("%d differences are left; want %d", n, before)
	}
}

func TestCountStandings(t *testing.T) {
	d := openDesk(t)
	d.do("counted", `{"adjuster":"rear.rebound","standing":"unknown","at":4}`)
	if s := d.bike().Settings["rear.rebound"]; s.At != nil || s.Standing != book.Unknown {
		t.Errorf("don't know leaves %v, %s", s.At, s.Standing)
	}
	if r := d.refused("counted", `{"adjuster":"rear.rebound"}`); r.Field != "at" {
		t.Errorf("refused with %+v", r)
	}
	if r := d.refused("counted", `{"adjuster":"rear.rebound","standing":"sworn","at":3}`); r.Field != "standing" {
		t.Errorf("refused with %+v", r)
	}
	if r := d.refused("counted", `{"adjuster":"front.pressure","at":3}`); r.Field != "at" {
		t.Errorf("3 psi is refused with %+v", r)
	}
}

func TestAdviceIsWrittenThenTurnedAndItsRecordKept(t *testing.T) {
	d := openDesk(t)
	d.do("advice", `{"from":{"id":"bram"},"adjuster":"rear.rebound","steps":2,"why":"it looks lively"}`)
	m := see[Said](d, "said", `{}`)
	if m.Open[0].Title != "Bram said: Rear rebound 2 clicks in" {
		t.Fatalf("open advice is %+v", m.Open)
	}
	id := m.Open[0].Entry
	form := see[Turned](d, "turned", fmt.Sprintf(`{"advice":%q}`, id))
	if form.Advice.Steps != 2 || form.Advice.Idea != "bram" || form.Picked.Says != "Rear rebound: 2 clicks in, from 10 to 8 out" {
		t.Errorf("the form is %+v, %+v", form.Advice, form.Picked)
	}
	change := d.do("turned", fmt.Sprintf(`{"adjuster":"rear.rebound","steps":2,"advice":%q,"idea":{"id":"bram"},"trial":true}`, id))[0]
	d.do("verdict", fmt.Sprintf(`{"change":%q,"verdict":"keep"}`, change))
	done := see[Said](d, "said", `{}`)
	if done.Done[0].Came != "Tried and kept" || done.Records[0] != (Record{"Bram", "said 2, tried 1, kept 1, put back 0"}) {
		t.Errorf("came to %+v, records %+v", done.Done[0], done.Records)
	}
}

func TestAdviceInWordsIsWeighedWhenItsMoveIsSaid(t *testing.T) {
	d := openDesk(t)
	id := d.do("advice", `{"from":{"id":"bram"},"what":"slow the rear down"}`)[0]
	if l := see[Said](d, "said", `{}`).Open[0]; !l.Words || l.Weighed != nil {
		t.Errorf("words alone are shown as %+v", l)
	}
	if r := d.refused("meant", fmt.Sprintf(`{"advice":%q,"adjuster":"rear.rebound"}`, id)); r.Field != "steps" {
		t.Errorf("no distance is refused with %+v", r)
	}
	d.do("meant", fmt.Sprintf(`{"advice":%q,"adjuster":"rear.rebound","steps":2}`, id))
	if l := see[Said](d, "said", `{}`).Open[0]; l.Words || l.Weighed == nil || l.Title != "Bram said: Rear rebound 2 clicks in, slow the rear down" {
		t.Errorf("with its move it is %+v", l)
	}
}

func TestAdviceCanBeDeclined(t *testing.T) {
	d := openDesk(t)
	id := d.do("advice", `{"from":{"name":"A stranger"},"what":"buy another bike"}`)[1]
	d.do("outcome", fmt.Sprintf(`{"advice":%q,"result":"declined","note":"too dear"}`, id))
	if m := see[Said](d, "said", `{}`); m.Done[0].Came != "Declined, too dear" {
		t.Errorf("done is %+v", m.Done)
	}
	if r := d.refused("advice", `{"from":{"id":"ivo"}}`); r.Field != "what" {
		t.Errorf("refused with %+v", r)
	}
	if r := d.refused("advice", `{"what":"lower it"}`); r.Field != "from" {
		t.Errorf("refused with %+v", r)
	}
	if r := d.refused("outcome", fmt.Sprintf(`{"advice":%q,"result":"burnt"}`, id)); r.Field != "result" {
		t.Errorf("refused with %+v", r)
	}
}

func TestWayBackInPhysicalWords(t *testing.T) {
	d := openDesk(t)
	d.do("counted", `{"adjuster":"rear.rebound","at":12}`)
	d.do("counted", `{"adjuster":"front.rebound","standing":"unknown"}`)
	m := see[WayBack](d, "wayback", `{}`)
	says := map[book.AdjusterID]BackMove{}
	for _, x := range m.Moves {
		says[x.Adjuster] = x
	}
	if got := says["rear.rebound"].Sentence; got != "Rear rebound: 5 clicks in, from 12 to 7 out; count from fully closed to be sure" {
		t.Errorf("it says %q", got)
	}
	unknown := says["front.rebound"]
	if unknown.Sentence != "Front rebound: set it to 10 clicks out; where it stands now is not known; count from fully closed" || !unknown.Unknown {
		t.Errorf("an unknown one says %+v", unknown)
	}
	for _, x := range m.Moves {
		d.do("turned", fmt.Sprintf(`{"adjuster":%q,"to":%s,"back":%q}`, x.Adjuster, x.To, m.Line))
	}
	after := see[WayBack](d, "wayback", `{}`)
	if len(after.Moves) != 0 || len(after.Done) != len(m.Moves) {
		t.Errorf("%d moves are left, %d done", len(after.Moves), len(after.Done))
	}
	d.do("strike", fmt.Sprintf(`{"entry":%q,"why":"by mistake"}`, after.Done[len(after.Done)-1].Entry))
	if n := len(see[WayBack](d, "wayback", `{}`).Moves); n != 1 {
		t.Errorf("%d moves after one tick was taken back; want 1", n)
	}
}

func TestDrawALineAndDropIt(t *testing.T) {
	d := openDesk(t)
	d.do("baseline", `{"name":"Autumn"}`)
	m := see[WayBack](d, "wayback", `{}`)
	if m.LineName != "Autumn" || len(m.Moves) != 0 || m.Lines[0].Name != "Autumn" {
		t.Fatalf("the way back is %+v", m)
	}
	d.do("baseline", fmt.Sprintf(`{"baseline":%q,"dropped":true}`, m.Line))
	if now := see[WayBack](d, "wayback", `{}`); now.LineName != "Fresh oil, dry" {
		t.Errorf("after dropping it the line is %q", now.LineName)
	}
	if r := d.refused("baseline", `{"name":" "}`); r.Field != "name" {
		t.Errorf("refused with %+v", r)
	}
}

func TestPeople(t *testing.T) {
	d := openDesk(t)
	d.do("person", `{"name":" Zoë ","role":"tuner"}`)
	people := see[Turned](d, "turned", `{}`).People
	if people[0].Name != "Me" || people[len(people)-2].Name != "Zoë" || people[len(people)-1].ID != "unknown" {
		t.Errorf("people are %+v", people)
	}
	if r := d.refused("person", `{"name":""}`); r.Field != "name" {
		t.Errorf("refused with %+v", r)
	}
}
