package main

import (
	"fmt"
	"io"
	"strings"

	"plumbline/internal/diagnosis"
)

const evaluateHelp = `Use: plumbline evaluate [--json] FILE...

Score the diagnosis on files of worked cases (symptom-cases/1).
`

func runEvaluate(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	files, asJSON, code := caseFiles("evaluate", evaluateHelp, args, stderr)
	if code != exitDone || files == nil {
		return code
	}
	if len(files) == 0 {
		fmt.Fprint(stderr, evaluateHelp)
		return exitUsage
	}
	network := diagnosis.Load()
	var all []diagnosis.Vignette
	for _, name := range files {
		raw, err := readFile(name, stdin)
		if err != nil {
			fmt.Fprintf(stderr, "plumbline: %v\n", err)
			return exitUsage
		}
		cases, err := diagnosis.Vignettes(raw)
		if err == nil {
			err = network.Known(cases)
		}
		if err != nil {
			fmt.Fprintf(stderr, "plumbline: %s: %v\n", name, err)
			return exitFault
		}
		all = append(all, cases...)
	}
	score := network.Evaluate(all)
	if asJSON {
		printJSON(stdout, score)
		return exitDone
	}
	printScore(stdout, score)
	return exitDone
}

func printScore(w io.Writer, s diagnosis.Score) {
	fmt.Fprintf(w, "cases %d  top-1 %.1f %%  top-3 %.1f %%  first action safe %.1f %%  Brier %.3f\n\n",
		s.Cases, 100*s.Top1, 100*s.Top3, 100*s.FirstSafe, s.Brier)
	fmt.Fprintln(w, "said        count  mean said  came true")
	for _, b := range s.Reliability {
		fmt.Fprintf(w, "%.1f to %.1f  %5d  %9.2f  %9.2f\n", b.Low, b.High, b.Count, b.Said, b.Came)
	}
	for _, m := range s.Misses {
		fmt.Fprintf(w, "\n%s\n  wanted %s, at place %d; ranked %s\n", m.Case, m.Want, m.Place, strings.Join(m.Ranked, ", "))
		fmt.Fprintf(w, "  heard: %s\n", strings.Join(m.Heard, ", "))
		if m.Wrong != "" {
			fmt.Fprintf(w, "  wrong action first: %s\n", m.Wrong)
		}
	}
}
