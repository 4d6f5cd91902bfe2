package book

import (
	"slices"

	"plumbline/internal/entry"
)

// RepeatBody is a symptom to bring about on purpose. Result is "" while it is
// the task of the next session; "done" says that in Passes passes it came
// Came times, and Repeat what that makes of the symptom: SymptomBody has the
// words; "dropped" says that it is not to be tried.
type RepeatBody struct {
	Bike    BikeID    `json:"bike"`
	Symptom entry.ID  `json:"symptom"`
	Passes  int       `json:"passes,omitempty"`
	Result  string    `json:"result,omitempty"`
	Came    int       `json:"came,omitempty"`
	Repeat  string    `json:"repeat,omitempty"`
	Session SessionID `json:"session,omitempty"`
	Note    string    `json:"note,omitempty"`
}

// ForgetBody takes what the verdicts so far have taught out of the reasoning.
// The verdicts themselves stay.
type ForgetBody struct {
	Bike BikeID `json:"bike"`
}

// repeat keeps the latest word on a symptom's task; a result sets how often
// the symptom comes.
func (b *Book) repeat(k *Bike, t *Told, n RepeatBody) {
	i := slices.IndexFunc(k.Symptoms, func(s Dated[SymptomBody]) bool { return s.Entry == n.Symptom })
	if i < 0 {
		b.odd(t, "the symptom that it is about is not on the bike")
		return
	}
	t.Track = k.Symptoms[i].Body.Track
	if n.Result == repeatDone {
		k.Symptoms[i].Body.Repeat = or(n.Repeat, k.Symptoms[i].Body.Repeat)
	}
	k.Repeats = slices.DeleteFunc(k.Repeats, func(r Dated[RepeatBody]) bool { return r.Body.Symptom == n.Symptom })
	k.Repeats = append(k.Repeats, dated(b, t, n))
}

// Task returns the latest word on bringing a symptom about on purpose.
func (k *Bike) Task(symptom entry.ID) (Dated[RepeatBody], bool) {
	for _, r := range k.Repeats {
		if r.Body.Symptom == symptom {
			return r, true
		}
	}
	return Dated[RepeatBody]{}, false
}

// Symptom returns the symptom that an entry told of.
func (k *Bike) Symptom(id entry.ID) (Dated[SymptomBody], bool) {
	for _, s := range k.Symptoms {
		if s.Entry == id {
			return s, true
		}
	}
	return Dated[SymptomBody]{}, false
}

func forget(k *Bike, _ *Told, _ ForgetBody) {
	for i := range k.Trials {
		k.Trials[i].Forgotten = k.Trials[i].Verdict != ""
	}
}

// Result words of a task.
const (
	repeatDone    = "done"
	repeatDropped = "dropped"
)

func (b *Book) checkRepeat(n RepeatBody) []Refusal {
	k, ok := b.Bikes[n.Bike]
	if !ok {
		return []Refusal{{"bike", "This bike is not in the book.", "Put the bike in the book first."}}
	}
	if _, ok := k.Symptom(n.Symptom); !ok {
		return []Refusal{{"symptom", "This symptom is not in the book.", "Pick one of the symptoms that you wrote down."}}
	}
	switch {
	case n.Result != "" && n.Result != repeatDone && n.Result != repeatDropped:
		return []Refusal{{"result", "What came of it?", "Say how often it came, or drop it."}}
	case n.Result != repeatDropped && (n.Passes < 1 || n.Passes > 100):
		return []Refusal{{"passes", "A task has between 1 and 100 passes.", "Type how many times you went through."}}
	case n.Came < 0 || n.Came > n.Passes:
		return []Refusal{{"came", "It cannot have come more often than you tried.", "Count again: how many passes, and in how many it came."}}
	}
	return nil
}
