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
	var pages []diagnosis.Cause
	for _, c := range n.Causes() {
		if len(wanted) == 0 || slices.Contains(wanted, c.ID) {
			pages = append(pages, c)
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
	words := map[string]string{}
	for _, f := range n.Findings() {
		words[f.ID] = f.Words
	}
	titles := map[string]string{}
	for _, s := range n.Sources() {
		titles[s.ID] = s.Title
	}
	for _, c := range pages {
		printPage(stdout, c, words, titles)
	}
	return exitDone
}

func printPage(w io.Writer, c diagnosis.Cause, words, titles map[string]string) {
	fmt.Fprintf(w, "%s (%s)\n%s\n", c.Title, c.ID, c.Why)
	if c.Stop != "" {
		fmt.Fprintf(w, "STOP: %s\n", c.Stop)
	}
	fmt.Fprintf(w, "How to tell it: %s\n", c.Tell)
	fmt.Fprintf(w, "Check (%d min, tools: %s): %s\n", c.Check.Minutes, c.Check.Tools, c.Check.How)
	for _, l := range c.Links {
		fmt.Fprintf(w, "  %-9s %s [%s]\n", l.Strength, words[l.Finding], titles[l.Source])
	}
	fmt.Fprintf(w, "Mend: %s\nExpect: %s\nWrong if: %s\nUndo: %s\n", c.Remedy.Words, c.Remedy.Expect, c.Remedy.Wrong, c.Remedy.Undo)
	if c.Remedy.Caution != "" {
		fmt.Fprintf(w, "Caution: %s\n", c.Remedy.Caution)
	}
	fmt.Fprintln(w)
}
