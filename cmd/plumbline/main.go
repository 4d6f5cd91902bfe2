// Command plumbline is the server and the command line of Plumbline: the
// rider's own book of a motorcycle's setup.
package main

import (
	"fmt"
	"io"
	"os"
	"slices"
)

// The exit codes: 0 done, 1 something is wrong with what was looked at, 2 the
// command was called wrongly or could not run.
const (
	exitDone  = 0
	exitFault = 1
	exitUsage = 2
)

// verb is one thing the command does.
type verb struct {
	name, args, does string
	run              func(args []string, std streams) int
}

// streams are the command's own input and output.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// verbs are listed in the order that help shows them. Init fills the table
// because help reads it.
var verbs []verb

func init() {
	verbs = []verb{
		{"serve", "[--addr HOST:PORT] [--data FOLDER] [--tls-domain NAME] [--behind-proxy]", "serve the app and keep copies of books", serve},
		{"verify", "[--json] FILE", "check an export: its chains, and what is wrong where", verify},
		{"show", "[--json] [--bike ID] [--at DAY] FILE", "print a bike's settings, drift and last changes, now or as the book had them", show},
		{"sheet", "[--json] [--bike ID] [--names] [--notes] FILE", "print the setup sheet, one page for a tuner", printSheet},
		{"csv", "--table changes|sessions|laps FILE | --out FOLDER FILE", "a book's changes, sessions and laps as tables", tables},
		{"calc", "TOPIC name=value... [--json] | --list | help TOPIC", "work out sag, springs, geometry, gearing, pressures and more", runCalc},
		{"diagnose", "[--json] FILE", "likely causes, the check to make, the one change to try", onStreams(runDiagnose)},
		{"evaluate", "[--json] FILE...", "score the diagnosis on case files", onStreams(runEvaluate)},
		{"knowledge", "[--json] [CAUSE]", "print what the diagnosis knows, a page per cause", onStreams(runKnowledge)},
		{"backup", "[--data FOLDER] FILE", "write a whole copy of the database, also while it is served", backup},
		{"restore", "[--data FOLDER] FILE", "put a backup into a folder without a database", restore},
		{"health", "[--json] [--data FOLDER]", "check the database and count what is in it, never what it says", health},
		{"version", "[--json]", "print the version", version},
		{"help", "", "print this", help},
	}
}

// onStreams runs a verb that takes its streams one by one.
func onStreams(run func(args []string, in io.Reader, out, err io.Writer) int) func([]string, streams) int {
	return func(args []string, std streams) int { return run(args, std.in, std.out, std.err) }
}

func main() {
	os.Exit(run(os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
}

func run(args []string, std streams) int {
	if len(args) == 0 {
		help(nil, streams{out: std.err})
		return exitUsage
	}
	name := args[0]
	if asksForHelp(name) {
		name = "help"
	}
	v, ok := verbOf(name)
	if !ok {
		fmt.Fprintf(std.err, "plumbline: there is no %q. Run 'plumbline help'.\n", name)
		return exitUsage
	}
	if slices.ContainsFunc(args[1:], asksForHelp) {
		v.run(args[1:], streams{std.in, std.out, std.out})
		return exitDone
	}
	return v.run(args[1:], std)
}

func verbOf(name string) (verb, bool) {
	at := slices.IndexFunc(verbs, func(v verb) bool { return v.name == name })
	if at < 0 {
		return verb{}, false
	}
	return verbs[at], true
}

// asksForHelp says whether an option makes a verb print its help, which is
// then what was wanted and no mistake.
func asksForHelp(arg string) bool { return arg == "-h" || arg == "-help" || arg == "--help" }

const intro = `Plumbline is the rider's own book of a motorcycle's setup: what is set, who
changed it, whose idea, why, and whether it helped.

Use: plumbline VERB [options]

`

const outro = `
FILE is an export from the app (a zip) or its entries.jsonl; - reads standard
input. --json prints for scripts. Exit codes: 0 done, 1 the file has faults,
2 called wrongly or could not run. 'plumbline VERB --help' tells of its options.

For example:
  plumbline serve --data ./data
  plumbline verify heron.zip
  plumbline show --json heron.zip | less
  plumbline calc geometry rake=24deg tyre=120/70R17 offset=30mm
`

func help(_ []string, std streams) int {
	fmt.Fprint(std.out, intro)
	for _, v := range verbs {
		fmt.Fprintf(std.out, "  %-9s %s\n            %s\n", v.name, v.does, v.args)
	}
	fmt.Fprint(std.out, outro)
	return exitDone
}
