package screen

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// looker is a phone with an empty book, and a clock that moves a minute at
// every form.
type looker struct {
	t    *testing.T
	r    *book.Replica
	now  time.Time
	name int
}

func newLooker(t *testing.T) *looker {
	t.Helper()
	const id = "01890000-0000-7000-8000-0000000000b1"
	return &looker{t: t, r: book.Open(id, "01890000-0000-7000-8000-0000000000d1"), now: time.Date(2026, 5, 2, 9, 0, 0, 0, time.FixedZone("", 7200))}
}

func (l *looker) ask() Ask {
	return Ask{Book: l.r.Book(), Now: l.now, Mint: func() string {
		l.name++
		return fmt.Sprintf("01890000-0000-7000-8000-%012d", l.name)
	}}
}

func (l *looker) try(action, form string) []book.Refusal {
	l.t.Helper()
	l.now = l.now.Add(time.Minute)
	drafts, refused := Act(action, l.ask(), json.RawMessage(form))
	if len(refused) > 0 {
		return refused
	}
	chance := make([]byte, 16*len(drafts))
	for i := range chance {
		l.name++
		chance[i] = byte(l.name * 31)
	}
	lines, err := l.r.Stamp(drafts, "", l.now, chance)
	if err != nil {
		l.t.Fatal(err)
	}
	if _, wrong := l.r.Take(lines); len(wrong) > 0 {
		l.t.Fatal(wrong)
	}
	return nil
}

func (l *looker) do(action, form string) {
	l.t.Helper()
	if refused := l.try(action, form); len(refused) > 0 {
		l.t.Fatalf("%s %s: %v", action, form, refused)
	}
}

func shown[V any](l *looker, name, args string) V {
	l.t.Helper()
	got, refused := View(name, l.ask(), json.RawMessage(args))
	if refused != nil {
		l.t.Fatalf("view %s: %v", name, refused)
	}
	return got.(V)
}

const heronStart = `{"rider":"Jo","weight":181,"name":"Heron","class":"600 sport bike","units":{"mass":"lb","pressure":"psi"}}`

func TestFirstLookFromNothingToALine(t *testing.T) {
	l := newLooker(t)
	v := shown[FirstLook](l, "firstlook", `{}`)
	if v.Started || v.Now == nil || v.Now.Start == nil {
		t.Fatalf("an empty book starts with %+v; want the start form", v.Now)
	}
	l.do("start", heronStart)
	answers := map[string]string{
		"fact":  `{"fact":%q,"answer":"unknown"}`,
		"check": `{"check":%q,"result":"unsure"}`,
		"count": `{"adjuster":%q,"standing":"unknown"}`,
	}
	for seen := map[string]bool{}; ; {
		v = shown[FirstLook](l, "firstlook", `{}`)
		if v.Now.ID == "line" {
			break
		}
		if seen[v.Now.ID] {
			t.Fatalf("step %s comes again after its answer", v.Now.ID)
		}
		seen[v.Now.ID] = true
		kind, id, _ := strings.Cut(v.Now.ID, ":")
		action := kind
		if kind == "count" {
			action = "counted"
		}
		l.do(action, fmt.Sprintf(answers[kind], id))
	}
	if v.Now.Line.Possible {
		t.Error("a line can be drawn through nothing")
	}
	l.do("counted", `{"adjuster":"rear.rebound","at":9}`)
	l.do("baseline", `{"name":"First line"}`)
	v = shown[FirstLook](l, "firstlook", `{}`)
	if v.Now != nil || v.Done != v.Total {
		t.Errorf("after all answers: %s, now %+v; want nothing left", v.Says, v.Now)
	}
}

func TestFirstLookGoesBackWithoutASecondBike(t *testing.T) {
	l := newLooker(t)
	l.do("start", heronStart)
	again := shown[FirstLook](l, "firstlook", `{"step":"start"}`)
	if s := again.Now.Start; s.Weight == nil || s.Weight.String() != "181" || s.Rider != "Jo" {
		t.Errorf("start form comes back as %+v", s)
	}
	l.do("start", strings.Replace(heronStart, "Heron", "Grey heron", 1))
	b := l.r.Book()
	if len(b.Bikes) != 1 || len(b.People) != 1 || b.Bikes[b.BikeOrder[0]].Name != "Grey heron" {
		t.Errorf("going back made bikes %v, people %v", b.BikeOrder, b.People)
	}
	if kg := b.Bikes[b.BikeOrder[0]].RiderKg.String(); kg != "82.1" {
		// 181 lb × 0.45359237 kg/lb = 82.100 kg (NIST SP 811, B.8).
		t.Errorf("181 lb is kept as %s kg", kg)
	}
}

func TestFirstLookAsksOnlyWhatMakesSense(t *testing.T) {
	l := newLooker(t)
	l.do("start", heronStart)
	l.do("fact", `{"fact":"fell","answer":"no"}`)
	v := shown[FirstLook](l, "firstlook", `{}`)
	if v.Now.ID != "fact:fork-oil" {
		t.Errorf("a bike that never fell is asked %s next", v.Now.ID)
	}
}

func TestFirstLookRefusals(t *testing.T) {
	l := newLooker(t)
	l.do("start", heronStart)
	rows := []struct{ action, form, field string }{
		{"start", `{"rider":"Jo"}`, "name"},
		{"start", `{"name":"Heron","weight":12}`, "weight"},
		{"fact", `{"fact":"fell"}`, "answer"},
		{"fact", `{"fact":"fell","answer":"perhaps"}`, "answer"},
		{"fact", `{"fact":"fell","answer":"yes","when":"June"}`, "when"},
		{"check", `{"check":"chain","result":"fine"}`, "result"},
		{"check", `{"result":"good"}`, "check"},
		{"service", `{}`, "what"},
		{"service", `{"what":"other"}`, "note"},
		{"part", `{"part":" "}`, "part"},
		{"part", `{"part":"Pads","when":"June"}`, "when"},
		{"fell", `{"when":"last week"}`, "when"},
		{"bike", `{"name":""}`, "name"},
		{"adjuster", `{"name":"Peg height","step":1,"min":5,"max":5}`, "max"},
		{"adjuster", `{"adjuster":"no.such","name":"x"}`, "adjuster"},
	}
	for _, r := range rows {
		refused := l.try(r.action, r.form)
		if len(refused) != 1 || refused[0].Field != r.field || refused[0].Mend == "" {
			t.Errorf("%s %s: refused %v; want one at %q that says how to mend it", r.action, r.form, refused, r.field)
		}
	}
}

func TestEveryCheckSaysItAll(t *testing.T) {
	for _, c := range roundChecks {
		if c.Why == "" || len(c.How) < 2 || c.Good == "" || !strings.HasSuffix(c.Caution, manualToo) || !strings.HasPrefix(c.Stop, "Do not ride until") {
			t.Errorf("check %s lacks why, how, good, caution or stop", c.Check)
		}
	}
}

func TestFallStopsUntilStraight(t *testing.T) {
	l := newLooker(t)
	l.do("start", heronStart)
	l.do("check", `{"check":"straight","result":"good"}`)
	if v := shown[Fall](l, "fall", `{}`); v.Stop != "" {
		t.Fatalf("a bike that did not fall stops: %s", v.Stop)
	}
	l.do("fell", `{"side":"left","speed":"slow","note":"gravel"}`)
	v := shown[Fall](l, "fall", `{}`)
	if v.Stop != StopAfterFall || v.Last != "Slow fall on the left, 2 May, gravel" || v.Check.Result != "" {
		t.Errorf("after a fall: stop %q, last %q, straight %q", v.Stop, v.Last, v.Check.Result)
	}
	l.do("check", `{"check":"leaks","result":"good"}`)
	l.do("check", `{"check":"straight","result":"unsure"}`)
	v = shown[Fall](l, "fall", `{}`)
	if v.Stop == "" {
		t.Error("not being sure clears a fall")
	}
	for _, c := range v.Also {
		if c.Since != (c.Check == "leaks") {
			t.Errorf("%s since the fall: %v", c.Check, c.Since)
		}
	}
	l.do("check", `{"check":"straight","result":"good"}`)
	if v = shown[Fall](l, "fall", `{}`); v.Stop != "" {
		t.Error("a good straightness check does not clear the fall")
	}
}

func TestPlumbHangsByDrift(t *testing.T) {
	l := newLooker(t)
	l.do("start", heronStart)
	l.do("counted", `{"adjuster":"rear.rebound","at":12}`)
	l.do("counted", `{"adjuster":"front.height","at":6}`)
	l.do("counted", `{"adjuster":"front.pressure","at":30}`)
	l.do("baseline", `{"name":"Dry"}`)
	l.now = l.now.AddDate(0, 0, 3)
	l.do("turned", `{"adjuster":"rear.rebound","steps":3}`)
	l.do("turned", `{"adjuster":"front.height","steps":2}`)
	p := shown[BikePage](l, "bike", `{}`).Plumb
	bobs := map[book.AdjusterID]Bob{}
	for _, b := range p.Bobs {
		bobs[b.ID] = b
	}
	if b := bobs["rear.rebound"]; b.Mark != "+3" || b.Swing != 0.6 || b.Says != "3 clicks in from the line" || b.Hollow {
		t.Errorf("three clicks in hang as %+v; want right of the line: closing is more damping", b)
	}
	if b := bobs["front.height"]; b.Mark != "−2" || b.Swing != -0.4 || b.Says != "1 mm up from the line" {
		t.Errorf("forks a millimetre up in the clamps hang as %+v; want left of the line: the front is lower", b)
	}
	if b := bobs["front.pressure"]; b.Mark != "0" || b.At != "30.0 psi" || b.Swing != 0 {
		t.Errorf("an untouched tyre hangs as %+v", b)
	}
	if b := bobs["rear.preload"]; !b.Hollow || b.Mark != "?" {
		t.Errorf("an uncounted preload hangs as %+v", b)
	}
	if !strings.Contains(p.Says, "Rear rebound 3 clicks in from the line") {
		t.Errorf("the picture says %q", p.Says)
	}
	for _, b := range shown[BikePage](l, "bike", `{"on":"2026-05-02"}`).Plumb.Bobs {
		if b.ID == "rear.rebound" && b.At != "12 clicks out" {
			t.Errorf("on the day of the count rear rebound stood at %s", b.At)
		}
	}
}

func TestSettingTellsWhoAndWhy(t *testing.T) {
	l := newLooker(t)
	l.do("start", heronStart)
	l.do("counted", `{"adjuster":"rear.rebound","at":12}`)
	l.do("turned", `{"adjuster":"rear.rebound","steps":2,"turned":{"name":"Ivo"},"idea":{"name":"Tess"},"why":"it wallows"}`)
	l.do("counted", `{"adjuster":"rear.rebound","at":14}`)
	s := shown[SettingPage](l, "setting", `{"adjuster":"rear.rebound"}`)
	if len(s.Marks) != 3 || !s.Marks[0].Unowned || s.Marks[0].Title != "Found moved 4 clicks out, from 10 to 14 out" {
		t.Fatalf("marks %+v", s.Marks)
	}
	if m := s.Marks[1]; m.Who != "Ivo" || m.Idea != "Tess" || m.Why != "it wallows" {
		t.Errorf("the change tells %+v", m)
	}
}

func TestAdjusterOfOnesOwn(t *testing.T) {
	l := newLooker(t)
	l.do("start", heronStart)
	l.do("adjuster", `{"name":"Peg height","unit":"mm","step":1,"min":0,"max":20,"from":"lowest hole"}`)
	defs := shown[BikePage](l, "bike", `{}`).Adjusters
	own := defs[len(defs)-1]
	if own.Name != "Peg height" || own.Retired {
		t.Fatalf("own adjuster is %+v", own)
	}
	l.do("counted", fmt.Sprintf(`{"adjuster":%q,"at":12}`, own.Adjuster))
	if refused := l.try("adjuster", fmt.Sprintf(`{"adjuster":%q,"name":"Peg height","step":1,"min":0,"max":10}`, own.Adjuster)); len(refused) != 1 || refused[0].Field != "max" {
		t.Errorf("a range below the count: %v", refused)
	}
	own.Retired = true
	form, _ := json.Marshal(own)
	l.do("adjuster", string(form))
	k := l.r.Book().Bikes[l.r.Book().BikeOrder[0]]
	if !k.Settings[own.Adjuster].Retired {
		t.Error("the adjuster is still on the bike")
	}
}

func TestListsAreNewestFirst(t *testing.T) {
	l := newLooker(t)
	l.do("start", heronStart)
	l.do("service", `{"what":"fork-oil","when":"2025-11","done":{"name":"Tess","role":"tuner"}}`)
	l.do("service", `{"what":"other","note":"new grips"}`)
	l.do("part", `{"part":"brake pads","done":{"id":"unknown"}}`)
	p := shown[BikePage](l, "bike", `{}`)
	if len(p.Services) != 2 || p.Services[1].Title != "Fork oil" || p.Services[1].Says != "Nov 2025, by Tess" {
		t.Errorf("services %+v", p.Services)
	}
	if len(p.Parts) != 1 || p.Parts[0].Title != "Brake pads" || p.Parts[0].Says != "2 May, by nobody knows who" {
		t.Errorf("parts %+v", p.Parts)
	}
	if entry.PersonID(l.r.Book().Rider) == "" || p.Rider == "" {
		t.Error("the rider is missing")
	}
}
