package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"

	"plumbline/internal/diagnosis"
)

const diagnoseHelp = `Use: plumbline diagnose [--json] FILE

FILE is a case (findings and facts) or a file of worked cases
(symptom-cases/1); - reads standard input.
`

// named is the answer to one case of a file.
type named struct {
	Case   string           `json:"case,omitempty"`
	Answer diagnosis.Answer `json:"answer"`
}

func runDiagnose(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	files, asJSON, code := caseFiles("diagnose", diagnoseHelp, args, stderr)
	if code != exitDone || files == nil {
		return code
	}
	if len(files) != 1 {
		fmt.Fprint(stderr, diagnoseHelp)
		return exitUsage
	}
	raw, err := readFile(files[0], stdin)
	if err != nil {
		fmt.Fprintf(stderr, "plumbline: %v\n", err)
		return exitUsage
	}
	answers, err := diagnose(raw)
	if err != nil {
		fmt.Fprintf(stderr, "plumbline: %s: %v\n", files[0], err)
		return exitFault
	}
	if asJSON {
		printJSON(stdout, answers)
		return exitDone
	}
	for _, a := range answers {
		printAnswer(stdout, a)
	}
	return exitDone
}

func diagnose(raw []byte) ([]named, error) {
	n := diagnosis.Load()
	var head struct {
		Format string `json:"format"`
	}
	if err := json.Unmarshal(raw, &head); err != nil {
		return nil, diagnosis.NotCases(err)
	}
	if head.Format != "" {
		cases, err := diagnosis.Vignettes(raw)
		var out []named
		for _, v := range cases {
			out = append(out, named{v.ID + " " + v.Title, n.Diagnose(n.Case(v))})
		}
		return out, err
	}
	var c diagnosis.Case
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	if err := d.Decode(&c); err != nil {
		return nil, diagnosis.NotCases(err)
	}
	return []named{{Answer: n.Diagnose(c)}}, nil
}

func printAnswer(w io.Writer, a named) {
	if a.Case != "" {
		fmt.Fprintf(w, "%s\n", a.Case)
	}
	if s := a.Answer.Stop; s != nil {
		fmt.Fprintf(w, "  STOP: %s\n", s.Words)
	}
	for _, r := range a.Answer.Causes[:min(3, len(a.Answer.Causes))] {
		fmt.Fprintf(w, "  %-13s %s\n", r.Doubt, r.Title)
		for _, e := range r.For {
			fmt.Fprintf(w, "      for      %s\n", e.Words)
		}
		for _, e := range r.Against {
			fmt.Fprintf(w, "      against  %s\n", e.Words)
		}
	}
	for _, p := range a.Answer.Pairs {
		fmt.Fprintf(w, "  Together (%s): %s\n", p.Doubt, p.Words)
	}
	for _, d := range a.Answer.Doubts {
		fmt.Fprintf(w, "  Disputed: %s\n", d)
	}
	printToDo(w, a.Answer)
}

// printToDo says what to do, in the order of work.
func printToDo(w io.Writer, a diagnosis.Answer) {
	switch {
	case a.First != nil:
		fmt.Fprintf(w, "  Check this first (%d min): %s %s\n", a.First.Minutes, a.First.How, a.First.Because)
	case a.Next != nil:
		fmt.Fprintf(w, "  Check (%d min): %s\n", a.Next.Minutes, a.Next.How)
	}
	if c := a.Change; c != nil {
		fmt.Fprintf(w, "  Then: %s Notice it %s: %s It is wrong if: %s To undo: %s\n", c.Words, c.Where, c.Expect, c.Wrong, c.Undo)
	}
	if r := a.Refused; r != nil {
		fmt.Fprintf(w, "  %s %s\n", r.Words, r.Instead)
	}
	if a.Note != "" && a.First == nil && a.Refused == nil {
		fmt.Fprintf(w, "  %s\n", a.Note)
	}
}

// caseFiles reads a verb's options. It returns no files when help was asked.
func caseFiles(name, help string, args []string, stderr io.Writer) ([]string, bool, int) {
	set := flag.NewFlagSet(name, flag.ContinueOnError)
	set.SetOutput(stderr)
	set.Usage = func() { fmt.Fprint(stderr, help) }
	asJSON := set.Bool("json", false, "print for scripts")
	if err := set.Parse(args); err != nil {
		if err == flag.ErrHelp {
			return nil, false, exitDone
		}
		return nil, false, exitUsage
	}
	if set.NArg() == 0 {
		return []string{}, *asJSON, exitDone
	}
	return set.Args(), *asJSON, exitDone
}
