package screen

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"plumbline/internal/book"
	"plumbline/internal/unit"
)

// rides reports a session with laps at Tarn Hollow.
func (d *desk) rides(felt string, laps ...string) {
	d.t.Helper()
	d.do("session", fmt.Sprintf(`{"track":{"id":"tarn-hollow"},"felt":%q,"laps":%q}`, felt, strings.Join(laps, "\n")))
}

var (
	slow = []string{"1:48", "1:38.1", "1:38.3", "1:38.0", "1:38.4", "1:38.2", "1:38.1", "1:52"}
	fast = []string{"1:47", "1:36.6", "1:36.8", "1:36.5", "1:36.9", "1:36.7", "1:36.6", "1:51"}
)

func (d *desk) trial() book.Trial {
	d.t.Helper()
	running := d.bike().Running()
	if len(running) != 1 {
		d.t.Fatalf("%d trials run", len(running))
	}
	return running[0]
}

// idle judges the example's own trial; the next day begins.
func (d *desk) idle() {
	d.do("verdict", fmt.Sprintf(`{"change":%q,"verdict":"back","undo":true}`, d.trial().Entry))
	d.a = d.a.AddDate(0, 0, 1)
}

func (d *desk) page(chance string, peek bool) TrialPage {
	d.t.Helper()
	running := d.bike().Running()
	return see[TrialPage](d, "trial", fmt.Sprintf(`{"trial":%q,"chance":%q,"peek":%v}`, running[0].Entry, chance, peek))
}

func (d *desk) isSet(m TrialPage) {
	d.t.Helper()
	if m.Do.Act != "set" || m.Do.To == nil {
		d.t.Fatalf("next is %+v, not to set it", m.Do)
	}
	d.do("turned", fmt.Sprintf(`{"adjuster":%q,"to":%s}`, m.Adjuster, *m.Do.To))
}

func TestThereAndBackLeadsToAVerdict(t *testing.T) {
	d := openDesk(t)
	d.idle()
	begin := see[Try](d, "try", `{"adjuster":"rear.rebound","plan":"back","steps":2}`)
	if !begin.Known || !strings.Contains(begin.Tells, "Two runs each way") || begin.Running != "" {
		t.Errorf("the form says %+v", begin)
	}
	d.do("try", `{"adjuster":"rear.rebound","plan":"back","steps":2,"expect":"less pumping"}`)
	m := d.page("", false)
	if m.A != "10 clicks out" || m.B != "8 clicks out" || m.Do.Act != "ride" || m.Ready || len(m.Steps) != 3 {
		t.Fatalf("it begins as %+v", m)
	}
	d.rides("same", slow...)
	d.isSet(d.page("", false))
	d.rides("better", fast...)
	once := d.page("", false)
	if !once.Ready || once.Laps.Title != "The laps say: keep it for now" || !strings.Contains(once.Laps.Says, "You never went back") {
		t.Errorf("after one run each way the laps say %+v", once.Laps)
	}
	d.isSet(once)
	d.rides("worse", slow...)
	d.do("rate", fmt.Sprintf(`{"trial":%q,"felt":"better"}`, d.trial().Entry))
	m = d.page("", false)
	if m.Laps.Call != "keep" || m.Laps.Title != "The laps say: keep it" || m.Laps.Span.Middle >= 0 || m.Do.Act != "judge" || m.Spoiled != "" {
		t.Errorf("in the end: %+v, %+v", m.Laps, m.Do)
	}
	if strings.Contains(m.Laps.Says+strings.Join(m.Laps.How, ""), "p =") {
		t.Error("a bare p-value")
	}
	for _, page := range []any{m, once, see[Feel](d, "feel", `{}`), see[Worked](d, "worked", `{}`), see[Try](d, "try", `{}`)} {
		if raw, _ := json.Marshal(page); strings.Contains(string(raw), ":null") {
			t.Errorf("a list is null, which the page cannot draw: %s", raw)
		}
	}
	if len(m.Dots.Runs) != 3 || m.Dots.Runs[1].Word != "new" || !m.Dots.Runs[1].Band || m.Dots.Runs[1].Middle >= m.Dots.Runs[0].Middle || len(m.Dots.Ticks) < 2 {
		t.Errorf("the picture is %+v", m.Dots)
	}
	id := d.trial().Entry
	d.do("verdict", fmt.Sprintf(`{"change":%q,"verdict":"keep","undo":true}`, id))
	k := d.bike()
	if at := *k.Settings["rear.rebound"].At; at != unit.Whole(8) || len(k.Running()) != 0 {
		t.Errorf("kept, it stands at %v", at)
	}
	f := see[Feel](d, "feel", `{}`)
	if f.Laps.Yes != 2 || f.Laps.Of != 2 || f.Past[0].Entry != id || !strings.Contains(f.Past[0].Says, "the laps said keep") {
		t.Errorf("the record is %+v, %+v", f.Laps, f.Past[0])
	}
}

func TestARunIsPlacedByHand(t *testing.T) {
	d := openDesk(t)
	d.idle()
	d.do("try", `{"adjuster":"rear.rebound","plan":"back","steps":2}`)
	d.rides("same", slow...)
	run := d.page("", false).Runs[0]
	place := func(side string) TrialRunLine {
		d.do("side", fmt.Sprintf(`{"trial":%q,"session":%q,"side":%q}`, d.trial().Entry, run.Session, side))
		return d.page("", false).Runs[0]
	}
	if r := place("b"); r.Side != "b" || !r.Overruled {
		t.Errorf("placed on b: %+v", r)
	}
	if r := place("out"); r.Counts || r.Out != "you left it out" {
		t.Errorf("left out: %+v", r)
	}
	if r := place(""); r.Side != "a" || r.Overruled {
		t.Errorf("taken back: %+v", r)
	}
	if r := d.refused("side", fmt.Sprintf(`{"trial":%q,"session":%q,"side":"at:x"}`, d.trial().Entry, run.Session)); r.Field != "side" {
		t.Errorf("refused with %+v", r)
	}
}

func TestABlindTrialKeepsItsSecretAndItsRecord(t *testing.T) {
	d := openDesk(t)
	d.idle()
	d.do("try", `{"adjuster":"front.rebound","plan":"blind","steps":3}`)
	chance := base64.StdEncoding.EncodeToString([]byte("1234567890abcdefg")) // '1' is odd: the new setting
	if m := d.page("", false); m.Do.Act != "draw" {
		t.Fatalf("it begins with %+v", m.Do)
	}
	trial := d.trial().Entry
	d.do("draw", fmt.Sprintf(`{"trial":%q,"chance":%q,"by":{"id":"ivo"}}`, trial, chance))
	m := d.page(chance, true)
	if m.Blind.Friend == nil || m.Blind.Friend.To != "Front rebound: set it to 7 clicks out" {
		t.Fatalf("the friend is told %+v", m.Blind.Friend)
	}
	// Nothing that the rider can see tells which it is.
	for name, args := range map[string]string{"trial": fmt.Sprintf(`{"trial":%q,"chance":%q}`, trial, chance), "today": `{}`, "history": `{}`, "bike": `{}`} {
		raw, _ := json.Marshal(see[any](d, name, args))
		if strings.Contains(string(raw), "set it to") || strings.Contains(string(raw), `"side":"b"`) {
			t.Errorf("%s gives the draw away", name)
		}
	}
	d.rides("", slow...)
	if r := d.refused("verdict", fmt.Sprintf(`{"change":%q,"verdict":"keep"}`, trial)); !strings.Contains(r.Says, "sealed") {
		t.Errorf("a verdict under seal is refused with %+v", r)
	}
	m = d.page(chance, false)
	if m.Do.Act != "say" || !m.Blind.Secret || m.Runs[0].Where != "under seal" {
		t.Errorf("after the run: %+v, %+v", m.Do, m.Blind)
	}
	say := func(said, with string) string {
		return fmt.Sprintf(`{"trial":%q,"draw":%q,"said":%q,"chance":%q}`, trial, m.Blind.Sealed, said, with)
	}
	if r := d.refused("reveal", say("a", base64.StdEncoding.EncodeToString([]byte("2234567890abcdefg")))); r.Field != "draw" {
		t.Errorf("another secret is refused with %+v", r)
	}
	d.do("reveal", say("a", chance))
	m = d.page("", false)
	if m.Progress != "You named 0 of 1 draw right." || m.Blind.Draws[0].Right || m.Runs[0].Side != "b" {
		t.Errorf("opened: %q, %+v, %+v", m.Progress, m.Blind.Draws, m.Runs[0])
	}
	f := see[Feel](d, "feel", `{}`)
	// The season has three draws, two of them right, and one trial that its laps settled.
	if f.Draws.Of != 4 || f.Draws.Yes != 2 || len(f.Marks) != 5 || f.Draws.High < 0.93 {
		t.Errorf("the record is %+v", f.Draws)
	}
}

func TestASweepIsRiddenAndChosen(t *testing.T) {
	d := openDesk(t)
	d.idle()
	if m := see[Try](d, "try", `{"adjuster":"front.compression","plan":"sweep","apart":2,"stops":5}`); strings.Join(m.Stops, ", ") != "9 clicks out, 5 clicks out, 13 clicks out, 7 clicks out, 11 clicks out" {
		t.Errorf("the stops are %v", m.Stops)
	}
	d.do("try", `{"adjuster":"front.compression","plan":"sweep","apart":2,"stops":5}`)
	for i, pace := range []float64{38.0, 39.1, 38.9, 37.8, 38.1} {
		if i > 0 {
			d.isSet(d.page("", false))
		}
		d.rides("same", "1:49", fmt.Sprintf("1:%.1f", pace+0.1), fmt.Sprintf("1:%.1f", pace), fmt.Sprintf("1:%.1f", pace+0.2), "1:52")
	}
	m := d.page("", false)
	if m.Do.Act != "judge" || m.Sweep == nil || len(m.Sweep.Stops) != 5 || m.Sweep.Best == nil || len(m.Sweep.Curve) < 10 {
		t.Fatalf("ridden: %+v, %+v", m.Do, m.Sweep)
	}
	for _, c := range m.Sweep.Curve {
		if math.IsNaN(c[0]+c[1]) || c[1] < 0 || c[1] > 1 {
			t.Errorf("the curve leaves the picture at %v", c)
		}
	}
	d.do("verdict", fmt.Sprintf(`{"change":%q,"verdict":"keep","chosen":9,"undo":true}`, d.trial().Entry))
	k := d.bike()
	if at := *k.Settings["front.compression"].At; at != unit.Whole(9) || *k.Trials[len(k.Trials)-1].Chosen != unit.Whole(9) {
		t.Errorf("chosen, it stands at %v", at)
	}
}

func TestAChangeOnTrialCanBeGivenAPlan(t *testing.T) {
	d := openDesk(t)
	m := see[TrialPage](d, "trial", fmt.Sprintf(`{"trial":%q}`, d.trial().Entry))
	if len(m.Plans) != 1 || m.Kind != "" {
		t.Fatalf("it offers %+v", m.Plans)
	}
	d.do("plan", fmt.Sprintf(`{"trial":%q,"plan":"back"}`, m.Entry))
	if m = see[TrialPage](d, "trial", fmt.Sprintf(`{"trial":%q}`, m.Entry)); m.Kind != book.PlanBack || len(m.Steps) != 3 {
		t.Errorf("planned: %+v", m)
	}
	if r := d.refused("plan", `{"trial":"nowhere","plan":"back"}`); r.Field != "trial" {
		t.Errorf("refused with %+v", r)
	}
}

func TestEndsFirst(t *testing.T) {
	for n, want := range map[int]string{3: "[1 0 2]", 5: "[2 0 4 1 3]", 7: "[3 0 6 1 5 2 4]"} {
		if got := fmt.Sprint(endsFirst(n)); got != want {
			t.Errorf("%d positions in the order %s; want %s", n, got, want)
		}
	}
}

func TestAdvisersHaveRecords(t *testing.T) {
	d := openDesk(t)
	lines := map[string]AdviserLine{}
	for _, l := range see[Feel](d, "feel", `{}`).Advisers {
		lines[l.Name] = l
	}
	ivo := lines["Ivo"]
	if ivo.Kept != 1 || ivo.Back != 1 || !strings.Contains(ivo.Says, "kept 1, put back 1") || !strings.Contains(ivo.Worth, "Too few") {
		t.Errorf("Ivo's record is %+v", ivo)
	}
}

func TestWhatWorkedAtATrack(t *testing.T) {
	d := openDesk(t)
	m := see[Worked](d, "worked", `{"track":"fenwick-moor"}`)
	by := map[book.AdjusterID]WorkedSetting{}
	for _, s := range m.Settings {
		by[s.Adjuster] = s
	}
	if w := by["front.rebound"]; w.At != "10 clicks out" || !strings.Contains(w.Evidence, "kept after a trial on 11 Jul") {
		t.Errorf("front rebound: %+v", w)
	}
	if w := by["rear.rebound"]; w.At != "7 clicks out" || !w.Moved {
		t.Errorf("rear rebound: %+v", w)
	}
	if len(m.Pressures) != 2 || !strings.Contains(m.Pressures[0].Says, "psi cold when the air has") || len(m.Pressures[0].Rows) < 4 {
		t.Errorf("pressures: %+v", m.Pressures)
	}
	if m.Compare == nil || len(m.Compare.Head) < 3 || len(m.Compare.Rows) == 0 {
		t.Errorf("compared: %+v", m.Compare)
	}
	if len(m.Corners) == 0 || m.Moves == 0 {
		t.Errorf("corners %+v, moves %d", m.Corners, m.Moves)
	}
	d.do("worked", `{"track":"fenwick-moor"}`)
	line, _ := d.bike().Line()
	if line.Name != "Fenwick Moor, dry: what worked" || line.At["rear.rebound"] != unit.Whole(7) || line.Track != "fenwick-moor" {
		t.Errorf("the line is %+v", line)
	}
	if len(see[WayBack](d, "wayback", `{}`).Moves) == 0 {
		t.Error("the way to what worked has no moves")
	}
	if r := d.refused("worked", `{"track":"fenwick-moor","wet":true}`); r.Field != "track" {
		t.Errorf("the wet is refused with %+v", r)
	}
	if m := see[Worked](d, "worked", `{}`); m.Track != "tarn-hollow" {
		t.Errorf("without a track it shows %q", m.Track)
	}
}

func TestPutBackAtATrackSaysSo(t *testing.T) {
	d := openDesk(t)
	for _, s := range see[Worked](d, "worked", `{"track":"saltmarsh-ring"}`).Settings {
		if s.Adjuster == "front.height" && (s.At != "4 mm" || !strings.Contains(s.Evidence, "put back after a trial")) {
			t.Errorf("fork height: %+v", s)
		}
	}
}

func TestWhatWorkedIsOfferedBeforeTheFirstSession(t *testing.T) {
	d := openDesk(t)
	d.a = d.a.AddDate(0, 0, 7)
	d.do("day", fmt.Sprintf(`{"track":{"id":"fenwick-moor"},"date":%q}`, d.a.Format("2006-01-02")))
	offered := func() bool {
		for _, n := range see[Today](d, "today", `{}`).Due {
			if n.Title == "What worked at Fenwick Moor" && n.Href == "/worked?track=fenwick-moor" {
				return true
			}
		}
		return false
	}
	if !offered() {
		t.Error("before the first session nothing is offered")
	}
	d.do("session", `{"track":{"id":"fenwick-moor"},"felt":"same"}`)
	if offered() {
		t.Error("it is still offered after the first session")
	}
}
