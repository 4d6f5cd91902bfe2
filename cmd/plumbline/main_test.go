package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const season = "../../testdata/books/season/entries.jsonl"

func call(args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = run(args, streams{strings.NewReader(""), &o, &e})
	return code, o.String(), e.String()
}

func TestVerbs(t *testing.T) {
	raw, err := os.ReadFile(season)
	if err != nil {
		t.Fatal(err)
	}
	altered := filepath.Join(t.TempDir(), "altered.jsonl")
	torn := bytes.Replace(raw, []byte("rolled off the side stand"), []byte("rolled off"), 1)
	if err := os.WriteFile(altered, torn, 0o600); err != nil {
		t.Fatal(err)
	}
	rows := []struct {
		args []string
		code int
		says string
	}{
		{nil, exitUsage, "rider's own book"},
		{[]string{"--help"}, exitDone, "plumbline verify heron.zip"},
		{[]string{"fly"}, exitUsage, `no "fly"`},
		{[]string{"verify", "--help"}, exitDone, "Use: plumbline verify [--json] FILE"},
		{[]string{"serve", "./data"}, exitUsage, "given with --data"},
		{[]string{"version"}, exitDone, release},
		{[]string{"verify"}, exitUsage, "give one file"},
		{[]string{"verify", "no-such-file"}, exitUsage, "no such file"},
		{[]string{"verify", season}, exitDone, "nothing was changed"},
		{[]string{"verify", altered}, exitFault, "chain is broken"},
		{[]string{"show", altered}, exitFault, "may not be the whole book"},
		{[]string{"sheet", altered}, exitFault, "may not be the whole book"},
		{[]string{"csv", "--table", "laps", altered}, exitFault, "may not be the whole book"},
		{[]string{"csv", "--out", t.TempDir(), altered}, exitFault, "may not be the whole book"},
		{[]string{"show", season}, exitDone, "Rear rebound               10 clicks out  counted  3 clicks out from the line"},
		{[]string{"show", "--at", "2026-04-12", season}, exitDone, "Rear rebound               9 clicks out   counted"},
		{[]string{"show", "--at", "last summer", season}, exitUsage, "is not a day"},
		{[]string{"show", "--at", "2020-01-01", season}, exitFault, "no bike"},
		{[]string{"show", "--bike", "ghost", season}, exitFault, "no bike"},
		{[]string{"sheet", season}, exitDone, "Rear rebound               10 clicks out, counted, 3 clicks out from the line"},
		{[]string{"sheet", "--names", season}, exitDone, "Nell Harrow"},
		{[]string{"sheet", "--bike", "ghost", season}, exitFault, "no bike"},
		{[]string{"sheet"}, exitUsage, "give one file"},
		{[]string{"csv", "--table", "changes", season}, exitDone, "Rear compression,click,change,12,10,-2,Nell Harrow,Tess Okoro"},
		{[]string{"csv", "--out", t.TempDir(), season}, exitDone, "laps.csv: 180 lines"},
		{[]string{"csv", "--table", "oil", season}, exitUsage, "only changes, sessions and laps"},
		{[]string{"csv", season}, exitUsage, "give --table"},
		{[]string{"csv", "--table", "laps", "--out", t.TempDir(), season}, exitUsage, "give --table"},
		{[]string{"show", "-x", season}, exitUsage, "flag provided but not defined"},
	}
	for _, r := range rows {
		code, out, errs := call(r.args...)
		if code != r.code || !strings.Contains(out+errs, r.says) {
			t.Errorf("plumbline %v: exit %d, said %q and %q; want exit %d and %q", r.args, code, out, errs, r.code, r.says)
		}
	}
}

func TestJSONOutput(t *testing.T) {
	for _, args := range [][]string{{"version", "--json"}, {"verify", "--json", season}, {"show", "--json", season}} {
		code, out, errs := call(args...)
		var any map[string]any
		if err := json.Unmarshal([]byte(out), &any); err != nil || code != exitDone || errs != "" {
			t.Errorf("plumbline %v: exit %d, %v, %q", args, code, err, errs)
		}
	}
}
