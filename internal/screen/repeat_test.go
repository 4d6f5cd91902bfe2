package screen

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestRepeatItOnPurpose takes a symptom that came once to the next session and
// back.
func TestRepeatItOnPurpose(t *testing.T) {
	d := openDesk(t)
	id := d.do("symptom", `{"findings":{"rear-wallow":"yes"},"repeat":"once","track":"tarn-hollow","corner":"Hairpin"}`)[0]
	ask := fmt.Sprintf(`{"symptom":%q}`, id)
	card := see[RepeatCard](d, "repeat", ask)
	if card.Where != "Hairpin, Tarn Hollow" || card.Passes < 3 || card.How == "" || card.Watch == "" || card.Effort == "" || card.Stop == "" || card.Dont != "" || card.State != "" {
		t.Fatalf("card %+v", card)
	}
	d.do("repeat", fmt.Sprintf(`{"symptom":%q,"do":"take"}`, id))
	if today := see[Today](d, "today", `{}`); len(today.Tasks) != 1 || today.Tasks[0].Symptom != id || today.Tasks[0].State != "set" {
		t.Fatalf("Today's tasks: %+v", today.Tasks)
	}
	if r := d.refused("repeat", fmt.Sprintf(`{"symptom":%q,"do":"done","passes":3,"came":4}`, id)); r.Field != "came" {
		t.Errorf("4 of 3 passes: %+v", r)
	}
	d.do("repeat", fmt.Sprintf(`{"symptom":%q,"do":"done","passes":3,"came":2,"note":"not on lap one"}`, id))
	if n, _ := d.bike().Symptom(id); n.Body.Repeat != "some" {
		t.Errorf("2 of 3 passes make it %q", n.Body.Repeat)
	}
	card = see[RepeatCard](d, "repeat", ask)
	if card.State != "done" || !strings.Contains(card.Came, "2 of 3 passes") || len(see[Today](d, "today", `{}`).Tasks) != 0 {
		t.Errorf("afterwards: %+v", card)
	}
	lines := see[Symptoms](d, "symptoms", `{"track":"tarn-hollow"}`).Lines
	if lines[0].Entry != id || lines[0].Often != "some laps" || !strings.Contains(lines[0].Task, "2 of 3") || lines[0].Once || lines[0].Where != "Tarn Hollow, Hairpin" {
		t.Errorf("sheet: %+v", lines[0])
	}
	if h := allLines(see[History](d, "history", `{"kind":"repeat"}`)); len(h) != 2 || h[0].Title != "Tried on purpose" {
		t.Errorf("history: %+v", h)
	}
}

func TestDangerousThingsAreNotAskedForOnPurpose(t *testing.T) {
	d := openDesk(t)
	id := d.do("symptom", `{"findings":{"headshake":"yes"},"repeat":"once"}`)[0]
	if card := see[RepeatCard](d, "repeat", fmt.Sprintf(`{"symptom":%q}`, id)); card.Dont == "" || card.Passes != 0 {
		t.Errorf("a head shake is to be repeated: %+v", card)
	}
	if r := d.refused("repeat", fmt.Sprintf(`{"symptom":%q,"do":"take"}`, id)); r.Field != "do" {
		t.Errorf("%+v", r)
	}
	fell := d.do("symptom", `{"findings":{"one-side-heavier":"yes","bars-off-straight":"yes"},"repeat":"once"}`)[0]
	d.do("fell", `{"side":"left","speed":"slow"}`)
	if card := see[RepeatCard](d, "repeat", fmt.Sprintf(`{"symptom":%q}`, fell)); card.Dont == "" && len(card.Stops) == 0 {
		t.Errorf("after a fall: %+v", card)
	}
}

// TestVerdictsTeachAndAreForgotten tries what Why suggests and keeps it.
func TestVerdictsTeachAndAreForgotten(t *testing.T) {
	d := openDesk(t)
	if n := see[Learned](d, "learned", `{}`); len(n.Lines) == 0 && len(n.Trials) > 0 {
		t.Fatalf("the season: %+v", n)
	}
	before := len(see[Learned](d, "learned", `{}`).Trials)
	d.do("verdict", fmt.Sprintf(`{"change":%q,"verdict":"keep"}`, d.bike().Running()[0].Entry))
	after := len(see[Learned](d, "learned", `{}`).Trials)
	symptom := d.do("symptom", `{"findings":{"rear-wallow":"yes"},"repeat":"every","words":"wallows"}`)[0]
	form := see[Turned](d, "turned", fmt.Sprintf(`{"symptom":%q,"cause":"shock-rebound-low"}`, symptom))
	if form.Try == nil || form.Try.Adjuster != "rear.rebound" || form.Try.Steps <= 0 || form.Try.Expect == "" || form.Try.Why != "wallows" || form.Picked == nil || form.Picked.Says == "" {
		t.Fatalf("the form brings %+v, %+v", form.Try, form.Picked)
	}
	change := d.do("turned", fmt.Sprintf(`{"adjuster":"rear.rebound","steps":%d,"trial":true,"symptom":%q,"cause":"shock-rebound-low","expect":%q}`, form.Try.Steps, symptom, form.Try.Expect))[0]
	if b := d.bike().Trials[len(d.bike().Trials)-1].Body; b.Symptom != symptom || b.Cause != "shock-rebound-low" {
		t.Fatalf("the trial is of %+v", b)
	}
	d.do("verdict", fmt.Sprintf(`{"change":%q,"verdict":"keep"}`, change))
	n := see[Learned](d, "learned", `{}`)
	i := slices.IndexFunc(n.Lines, func(l LearnedLine) bool { return l.Cause == "shock-rebound-low" && l.Finding == "The rear wallows." })
	if i < 0 || n.Lines[i].Now <= n.Lines[i].Was || len(n.Trials) != after+1 || after < before {
		t.Fatalf("learned %+v from %d, %d, %d trials", n.Lines, before, after, len(n.Trials))
	}
	if w := see[Why](d, "why", `{"findings":{"rear-wallow":"yes"}}`); !w.Learned {
		t.Error("Why does not say that verdicts moved it")
	}
	d.do("forget", `{}`)
	if n = see[Learned](d, "learned", `{}`); len(n.Lines)+len(n.Trials) != 0 {
		t.Errorf("after forgetting: %+v", n)
	}
	if r := d.refused("forget", `{}`); r.Field != "forget" {
		t.Errorf("forgetting nothing: %+v", r)
	}
}

func TestAdviceIsWeighedByWhatWasFelt(t *testing.T) {
	d := openDesk(t)
	d.do("symptom", `{"findings":{"rear-wallow":"yes"},"repeat":"every","words":"it wallows"}`)
	in := see[Said](d, "said", `{"adjuster":"rear.rebound","steps":3}`).Weighed
	if in == nil || len(in.Helps) == 0 || !strings.HasPrefix(in.Helps[0], "Too little shock rebound") || !strings.Contains(in.Of, "it wallows") {
		t.Fatalf("rebound in: %+v", in)
	}
	if !slices.ContainsFunc(in.Against, func(s string) bool { return strings.Contains(s, "is on trial: one change at a time") }) {
		t.Errorf("nothing is said of the trial that runs: %v", in.Against)
	}
	if len(in.Before) != 1 || !strings.Contains(in.Before[0], "Fenwick Moor") || !strings.Contains(in.Before[0], "keep it") {
		t.Errorf("tried before: %v", in.Before)
	}
	out := see[Said](d, "said", `{"adjuster":"rear.rebound","steps":-3}`).Weighed
	if len(out.Against) <= len(in.Against) || out.Verdict == "worth-a-try" {
		t.Errorf("rebound out: %+v", out)
	}
	if far := see[Said](d, "said", `{"adjuster":"rear.rebound","steps":30}`).Weighed; far.Verdict != "no-way-left" {
		t.Errorf("30 clicks in from 10: %+v", far)
	}
	open := see[Said](d, "said", `{}`)
	if open.Weighed != nil {
		t.Errorf("nothing is being written, and is weighed: %+v", open.Weighed)
	}
	for _, l := range open.Open {
		if l.Weighed == nil || l.Weighed.Title == "" {
			t.Errorf("%s is not weighed: %+v", l.Title, l.Weighed)
		}
	}
}

// TestFoundFaultStopsTheRide writes down a fault that a check of Why found.
func TestFoundFaultStopsTheRide(t *testing.T) {
	d := openDesk(t)
	d.do("symptom", `{"findings":{"one-side-heavier":"yes","found-forks-twisted":"yes","found-chain-tight":"no"},"repeat":"every"}`)
	if c := d.bike().Checks["straight"].Body; c.Result != "fault" || c.Note == "" {
		t.Errorf("the straightness check is %+v", c)
	}
	if c := d.bike().Checks["chain"].Body; c.Result != "good" || c.Note != "set at the tight spot" {
		t.Errorf("a good finding has overwritten the chain's check: %+v", c)
	}
	if today := see[Today](d, "today", `{}`); len(today.Stops) != 1 {
		t.Errorf("Today's stops: %+v", today.Stops)
	}
	w := see[Why](d, "why", `{"findings":{"rear-wallow":"yes"}}`)
	if len(w.Stops) != 1 {
		t.Errorf("Why's stops: %+v", w.Stops)
	}
	for _, c := range w.Causes {
		if c.Remedy.Adjuster != "" && c.Remedy.NoTry == "" {
			t.Errorf("a click is offered over a stop: %+v", c.Remedy)
		}
	}
}
