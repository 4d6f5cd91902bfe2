package book

import "testing"

func TestTaskSetsHowOftenASymptomComes(t *testing.T) {
	rows := []struct {
		came         int
		says, result string
		want         string
	}{
		{0, "", "done", "once"}, {2, "some", "done", "some"}, {5, "purpose", "done", "purpose"}, {0, "some", "dropped", "once"},
	}
	for _, r := range rows {
		s := newStory(t)
		id := s.write(phoneA, KindSymptom, SymptomBody{Bike: heron, Findings: map[string]string{"wallow": "yes"}, Repeat: "once", Track: "moor"})
		s.write(phoneA, KindRepeat, RepeatBody{Bike: heron, Symptom: id, Passes: 5})
		k := Fold(s.log).Bikes[heron]
		if task, ok := k.Task(id); !ok || task.Body.Result != "" || k.Symptoms[0].Body.Repeat != "once" {
			t.Fatalf("the task is %+v, %v; the symptom %+v", task, ok, k.Symptoms[0])
		}
		s.write(phoneB, KindRepeat, RepeatBody{Bike: heron, Symptom: id, Passes: 5, Result: r.result, Came: r.came, Repeat: r.says})
		b := Fold(s.log)
		k = b.Bikes[heron]
		if got := k.Symptoms[0].Body.Repeat; got != r.want || len(k.Repeats) != 1 {
			t.Errorf("%+v makes it %q with %d tasks", r, got, len(k.Repeats))
		}
		if last := b.Told[len(b.Told)-1]; last.Bike != heron || last.Track != "moor" {
			t.Errorf("history files the result under %q, %q", last.Bike, last.Track)
		}
	}
}

func TestTaskIsChecked(t *testing.T) {
	s := newStory(t)
	id := s.write(phoneA, KindSymptom, SymptomBody{Bike: heron, Words: "it shook once"})
	b := Fold(s.log)
	rows := []struct {
		body  RepeatBody
		field string
	}{
		{RepeatBody{Bike: heron, Symptom: id, Passes: 5}, ""},
		{RepeatBody{Bike: heron, Symptom: id, Result: "dropped"}, ""},
		{RepeatBody{Bike: heron, Symptom: "nobody", Passes: 5}, "symptom"},
		{RepeatBody{Bike: "none", Symptom: id, Passes: 5}, "bike"},
		{RepeatBody{Bike: heron, Symptom: id}, "passes"},
		{RepeatBody{Bike: heron, Symptom: id, Passes: 3, Came: 4, Result: "done"}, "came"},
		{RepeatBody{Bike: heron, Symptom: id, Passes: 3, Result: "maybe"}, "result"},
	}
	for _, r := range rows {
		got := b.Check(r.body)
		if r.field == "" && got != nil || r.field != "" && (len(got) != 1 || got[0].Field != r.field) {
			t.Errorf("%+v: %v; want a refusal of %q", r.body, got, r.field)
		}
	}
}

func TestForgottenVerdictsStayInTheBook(t *testing.T) {
	s := newStory(t)
	one := s.write(phoneA, KindChange, ChangeBody{Bike: heron, Adjuster: "rear.rebound", To: at(9), Trial: true})
	two := s.write(phoneA, KindChange, ChangeBody{Bike: heron, Adjuster: "rear.rebound", To: at(8), Trial: true})
	s.write(phoneA, KindVerdict, VerdictBody{Change: one, Verdict: "keep"})
	s.write(phoneA, KindForget, ForgetBody{Bike: heron})
	s.write(phoneA, KindVerdict, VerdictBody{Change: two, Verdict: "back"})
	k := Fold(s.log).Bikes[heron]
	if !k.Trials[0].Forgotten || k.Trials[0].Verdict != "keep" || k.Trials[1].Forgotten {
		t.Errorf("trials: %+v", k.Trials)
	}
}
