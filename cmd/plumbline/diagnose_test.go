package main

import (
	"bytes"
	"strings"
	"testing"
)

func TestDiagnosisVerbs(t *testing.T) {
	type run func([]string, *bytes.Buffer, *bytes.Buffer) int
	diagnose := func(in string) run {
		return func(args []string, out, err *bytes.Buffer) int {
			return runDiagnose(args, strings.NewReader(in), out, err)
		}
	}
	scoring := func(in string) run {
		return func(args []string, out, err *bytes.Buffer) int {
			return runEvaluate(args, strings.NewReader(in), out, err)
		}
	}
	evaluate := scoring("{}")
	knowledge := func(args []string, out, err *bytes.Buffer) int {
		return runKnowledge(args, strings.NewReader(""), out, err)
	}
	const cases = "../../testdata/cases/cases.json"
	rows := []struct {
		name string
		run  run
		args []string
		code int
		says string
	}{
		{"case", diagnose(`{"findings":[{"finding":"front-packs","repeat":"every-lap"}],"facts":{}}`), []string{"-"}, exitDone, "Too much fork rebound"},
		{"case as JSON", diagnose(`{"findings":[{"finding":"front-packs"}],"facts":{}}`), []string{"--json", "-"}, exitDone, `"posterior"`},
		{"unknown field", diagnose(`{"fault":1}`), []string{"-"}, exitFault, "unknown field"},
		{"not JSON", diagnose(`front`), []string{"-"}, exitFault, "not a case file"},
		{"no file", diagnose(""), nil, exitUsage, "Use: plumbline diagnose"},
		{"absent file", diagnose(""), []string{"nowhere.json"}, exitUsage, "nowhere.json"},
		{"vignettes", diagnose(""), []string{cases}, exitDone, "C-001"},
		{"score", evaluate, []string{cases}, exitDone, "top-1"},
		{"score as JSON", evaluate, []string{"--json", cases}, exitDone, `"brier"`},
		{"score of another format", evaluate, []string{"-"}, exitFault, "symptom-cases/1"},
		{"score of no cases", scoring(`{"format":"symptom-cases/1"}`), []string{"-"}, exitFault, "there are no cases in it"},
		{"score of a list", scoring(`[]`), []string{"-"}, exitFault, "it holds no {…} but an array"},
		{"score of a wrong field", scoring(`{"format":"symptom-cases/1","cases":[{"bike":7}]}`), []string{"-"}, exitFault, "cases.bike cannot be a number"},
		{"score of a misspelt cause", scoring(`{"format":"symptom-cases/1","cases":[{"id":"Q","accepted_causes":[{"rank":1,"key":"gremlin"}]}]}`), []string{"-"}, exitFault, `"gremlin"`},
		{"diagnose a wrong field", diagnose(`{"findings":7}`), []string{"-"}, exitFault, "findings cannot be a number"},
		{"score of nothing", evaluate, nil, exitUsage, "Use: plumbline evaluate"},
		{"page", knowledge, []string{"chain-tight"}, exitDone, "Chain too tight"},
		{"all pages", knowledge, nil, exitDone, "Gusts"},
		{"no such page", knowledge, []string{"gremlin"}, exitUsage, "no such cause"},
	}
	for _, row := range rows {
		var out, err bytes.Buffer
		if code := row.run(row.args, &out, &err); code != row.code {
			t.Errorf("%s: exit code %d, want %d: %s", row.name, code, row.code, err.String())
		}
		if all := out.String() + err.String(); !strings.Contains(all, row.says) {
			t.Errorf("%s: does not say %q: %.200s", row.name, row.says, all)
		}
	}
}
