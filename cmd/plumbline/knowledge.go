package main

import (
	"fmt"
	"io"
	"slices"

	"plumbline/internal/diagnosis"
)

const knowledgeHelp = `Use: plumbline knowledge [--json] [CAUSE...]

Print what the diagnosis knows, a page for each cause.
`

func runKnowledge(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	wanted, asJSON, code := caseFiles("knowledge", knowledgeHelp, args, stderr)
	if code != exitDone || wanted == nil {
		return code
	}
	n := diagnosis.Load()
	var pages []diagnosis.Page
	for _, c := range n.Causes() {
		if len(wanted) == 0 || slices.Contains(wanted, c.ID) {
			p, _ := n.Page(c.ID)
			pages = append(pages, p)
		}
	}
	if len(pages) == 0 {
		fmt.Fprintf(stderr, "plumbline: there is no such cause. Run 'plumbline knowledge' for all.\n")
		return exitUsage
	}
	if asJSON {
		printJSON(stdout, pages)
		return exitDone
	}
	for _, p := range pages {
		printPage(stdout, p)
	}
	return exitDone
}

func printPage(w io.Writer, p diagnosis.Page) {
	fmt.Fprintf(w, "%s: %s (%s)\n%s\n", p.FamilyTitle, p.Title, p.ID, p.Why)
	if p.Stop != "" {
		fmt.Fprintf(w, "STOP: %s\n", p.Stop)
	}
	fmt.Fprintf(w, "How to tell it: %s\n", p.Tell)
	for _, a := range p.Apart {
		fmt.Fprintf(w, "  not %s: %s\n", a.Title, apartWords(a))
	}
	fmt.Fprintf(w, "Check (%d min, tools: %s): %s\n  It is this if: %s\n", p.Check.Minutes, p.Check.Tools, p.Check.How, p.Check.Finding.Words)
	fmt.Fprintln(w, "What it shows:")
	for _, s := range p.Shows {
		fmt.Fprintf(w, "  %-9s %s [%s]\n", s.Strength, s.Words, s.Source)
		if s.Disputed != "" {
			fmt.Fprintf(w, "            Disputed: %s\n", s.Disputed)
		}
	}
	r := p.Remedy
	fmt.Fprintf(w, "Mend (%d min, tools: %s): %s\nExpect: %s\nWrong if: %s\nSide effect: %s\nUndo: %s\n", r.Minutes, r.Tools, r.Words, r.Expect, r.Wrong, r.Side, r.Undo)
	if r.Caution != "" {
		fmt.Fprintf(w, "Caution: %s\n", r.Caution)
	}
	fmt.Fprintln(w)
}

// apartWords says what tells a cause from a look-alike.
func apartWords(a diagnosis.Apart) string {
	switch {
	case a.This == "":
		return "there, " + a.That
	case a.That == "":
		return "here, " + a.This
	}
	return "here, " + a.This + " There, " + a.That
}
