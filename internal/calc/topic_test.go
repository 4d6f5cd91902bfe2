package calc

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"
)

// typed turns an example into the words of a form.
func typed(t *testing.T, args string) map[string]string {
	t.Helper()
	words := map[string]string{}
	for _, a := range strings.Fields(args) {
		name, value, ok := strings.Cut(a, "=")
		if !ok {
			t.Fatalf("%q is not name=value", a)
		}
		if file, ok := strings.CutPrefix(value, "@"); ok { // as the command line reads it
			raw, err := os.ReadFile("../../" + file)
			if err != nil {
				t.Fatal(err)
			}
			value = string(raw)
		}
		words[name] = value
	}
	return words
}

// run works a topic out and fails when it has problems.
func run(t *testing.T, topic, args string) Result {
	t.Helper()
	found, ok := Find(topic)
	if !ok {
		t.Fatalf("there is no topic %q", topic)
	}
	out, problems := found.Run(typed(t, args))
	if len(problems) > 0 {
		t.Fatalf("%s %s: %+v", topic, args, problems)
	}
	return out
}

func TestEveryTopicIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, topic := range Topics() {
		t.Run(topic.ID, func(t *testing.T) {
			if seen[plainName(topic.ID)] {
				t.Error("the id is taken")
			}
			seen[plainName(topic.ID)] = true
			if topic.Title == "" || topic.Formula == "" || topic.Source == "" || topic.Example == "" {
				t.Error("title, formula, source or example is missing")
			}
			if n := strings.Count(topic.Why+" ", ". "); n != 3 {
				t.Errorf("why has %d sentences, want 3", n)
			}
			names := map[string]string{}
			for _, in := range topic.Inputs {
				for _, name := range append([]string{in.Symbol}, in.as...) {
					if other, taken := names[plainName(name)]; taken {
						t.Errorf("%q is a name of %s and of %s", name, other, in.Symbol)
					}
					names[plainName(name)] = in.Symbol
				}
				wholeInput(t, in)
			}
			out := run(t, topic.ID, topic.Example)
			if len(out.Values) == 0 || len(out.Says) == 0 {
				t.Error("the example says nothing")
			}
			for _, s := range append(append([]string(nil), out.Says...), out.Cautions...) {
				if strings.ContainsAny(s, "{}") || strings.Contains(s, "%!") {
					t.Errorf("a sentence is not filled in: %s", s)
				}
			}
		})
	}
}

func wholeInput(t *testing.T, in *Input) {
	t.Helper()
	if in.Label == "" || in.Kind == "" && len(in.Choices)+len(in.Accepts) == 0 {
		t.Errorf("%s: no label, or nothing that it takes", in.Symbol)
	}
	if in.Kind == "" {
		return
	}
	if in.Plausible == "" || !strings.HasSuffix(in.Plausible, ".") {
		t.Errorf("%s: no sentence on what is plausible", in.Symbol)
	}
	if usual := in.Low != 0 || in.High != 0; in.Min >= in.Max || usual && (in.Low >= in.High || in.High > in.Max || in.Low < in.Min) {
		t.Errorf("%s: takes %v to %v, usual %v to %v", in.Symbol, in.Min, in.Max, in.Low, in.High)
	}
	for _, example := range in.Accepts {
		qs, err := in.quantities(example)
		if err != nil {
			t.Errorf("%s: does not accept its own %q: %v", in.Symbol, example, err)
		}
		for _, q := range qs {
			if in.refuse(q) != nil || in.unusual(q.Value) != "" {
				t.Errorf("%s: its own example %q is refused or unusual", in.Symbol, example)
			}
		}
	}
}

// JSON has no NaN, so a result that can be written has none.
func TestResultsAreJSON(t *testing.T) {
	for _, topic := range Topics() {
		out := run(t, topic.ID, topic.Example)
		if _, err := json.Marshal(out); err != nil {
			t.Errorf("%s: %v", topic.ID, err)
		}
		for _, v := range out.Values {
			if math.IsNaN(v.PlusMinus) || v.PlusMinus < 0 || v.Shown == "" {
				t.Errorf("%s: %+v", topic.ID, v)
			}
		}
	}
}
