package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"plumbline/internal/calc"
	"plumbline/internal/unit"
)

const calcHelp = `Use: plumbline calc TOPIC name=value... [--json]
     plumbline calc --list
     plumbline calc help TOPIC

Values take units, such as 95kg, 10.0kgf/mm, 36psi, 30mm, 24deg and 120/70R17;
a bare number is in the unit that the topic's help names. 30±1mm says how well
it was read. Lists have commas: 9,9.5N/mm. name=@FILE reads a value from a file.

For example:
  plumbline calc geometry rake=24deg tyre=120/70R17 offset=30mm
`

// calcCall is what the arguments of calc ask for.
type calcCall struct {
	asJSON, list, help bool
	topic              string
	values             []string
}

func parseCalc(args []string) (calcCall, string) {
	var c calcCall
	for _, a := range args {
		switch {
		case a == "--json" || a == "-json":
			c.asJSON = true
		case a == "--list" || a == "-list":
			c.list = true
		case a == "--help" || a == "-help" || a == "-h" || a == "help" && c.topic == "":
			c.help = true
		case strings.HasPrefix(a, "--"):
			return c, fmt.Sprintf("there is no option %s.", a)
		case c.topic == "":
			c.topic = a
		default:
			c.values = append(c.values, a)
		}
	}
	return c, ""
}

func runCalc(args []string, std streams) int {
	c, wrong := parseCalc(args)
	if wrong != "" {
		fmt.Fprintf(std.err, "plumbline calc: %s\n%s", wrong, calcHelp)
		return exitUsage
	}
	switch {
	case c.list || c.help && c.topic == "" && c.asJSON:
		return calcList(c, std)
	case c.help && c.topic == "":
		fmt.Fprint(std.out, calcHelp, "\nTopics:\n")
		return calcList(c, std)
	case c.topic == "":
		fmt.Fprint(std.err, calcHelp)
		return exitUsage
	}
	t, ok := calc.Find(c.topic)
	if !ok {
		fmt.Fprintf(std.err, "plumbline calc: there is no topic %q. Run 'plumbline calc --list'.\n", c.topic)
		return exitUsage
	}
	if c.help {
		return calcTopicHelp(t, c.asJSON, std)
	}
	return calcTopic(t, c, std)
}

func calcList(c calcCall, std streams) int {
	if c.asJSON {
		printJSON(std.out, calc.Topics())
		return exitDone
	}
	w := tabwriter.NewWriter(std.out, 0, 0, 2, ' ', 0)
	for _, t := range calc.Topics() {
		fmt.Fprintf(w, "  %s\t%s\n", t.ID, t.Title)
	}
	_ = w.Flush() // a closed pipe is the reader's wish
	return exitDone
}

func calcTopic(t calc.Topic, c calcCall, std streams) int {
	typed, err := typedValues(t, c.values, std)
	if err != nil {
		fmt.Fprintf(std.err, "plumbline calc %s: %v\n", t.ID, err)
		return exitUsage
	}
	if _, ok := t.Input("today"); ok && typed["today"] == "" {
		typed["today"] = time.Now().Format(time.DateOnly)
	}
	out, problems := t.Run(typed)
	switch {
	case len(problems) > 0 && c.asJSON:
		printJSON(std.out, map[string][]calc.Problem{"problems": problems})
	case len(problems) > 0:
		for _, p := range problems {
			fmt.Fprintf(std.err, "%s%s %s\n", atField(p.Field), p.Says, p.Mend)
		}
		fmt.Fprintf(std.err, "For the inputs: plumbline calc help %s\n", t.ID)
	case c.asJSON:
		printJSON(std.out, out)
	default:
		printResult(std.out, out)
	}
	if len(problems) > 0 {
		return exitFault
	}
	return exitDone
}

func atField(field string) string {
	if field == "" {
		return ""
	}
	return field + ": "
}

// typedValues reads name=value arguments. A bare one is for the topic's
// leading words: 'calc tyre 120/70R17'.
func typedValues(t calc.Topic, args []string, std streams) (map[string]string, error) {
	typed := map[string]string{}
	bare := 0
	for _, a := range args {
		name, value, ok := strings.Cut(a, "=")
		if !ok {
			if bare >= len(t.Inputs) || t.Inputs[bare].Kind != "" {
				return nil, fmt.Errorf("%q is not name=value. Run 'plumbline calc help %s'", a, t.ID)
			}
			name, value = t.Inputs[bare].Symbol, a
			bare++
		}
		if in, ok := t.Input(name); ok {
			name = in.Symbol
		}
		if _, twice := typed[name]; twice {
			return nil, fmt.Errorf("%s is given twice", name)
		}
		if file, ok := strings.CutPrefix(value, "@"); ok {
			raw, err := readFile(file, std.in)
			if err != nil {
				return nil, err
			}
			value = string(raw)
		}
		typed[name] = value
	}
	return typed, nil
}

func printResult(w io.Writer, out calc.Result) {
	for _, s := range out.Says {
		fmt.Fprintln(w, s)
	}
	fmt.Fprintln(w)
	tab := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, v := range out.Values {
		exact := ""
		if v.Text == "" {
			exact = fmt.Sprintf("%.7g %s", v.Value, v.Unit)
		}
		fmt.Fprintf(tab, "  %s\t%s\t%s\t%s\n", v.Symbol, v.Shown, strings.TrimSpace(exact), v.Label)
	}
	_ = tab.Flush() // a closed pipe is the reader's wish
	for _, t := range out.Tables {
		fmt.Fprintf(w, "\n%s\n", t.Title)
		tab := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		for _, row := range append([][]string{t.Head}, t.Rows...) {
			fmt.Fprintf(tab, "  %s\n", strings.Join(row, "\t"))
		}
		_ = tab.Flush()
	}
	if len(out.Assumed)+len(out.Cautions) > 0 {
		fmt.Fprintln(w)
	}
	for _, s := range out.Assumed {
		fmt.Fprintf(w, "Taken: %s\n", s)
	}
	for _, s := range out.Cautions {
		fmt.Fprintf(w, "Mind:  %s\n", s)
	}
}

func calcTopicHelp(t calc.Topic, asJSON bool, std streams) int {
	if asJSON {
		printJSON(std.out, t)
		return exitDone
	}
	w := std.out
	fmt.Fprintf(w, "%s (%s)\n%s\n\nFormula: %s\nSource:  %s\n", t.Title, t.ID, t.Why, t.Formula, t.Source)
	if t.Caution != "" {
		fmt.Fprintf(w, "Mind:    %s\n", t.Caution)
	}
	fmt.Fprintln(w, "\nInputs:")
	for _, in := range t.Inputs {
		printInput(w, in)
	}
	printGives(t, std)
	fmt.Fprintf(w, "\nFor example:\n  plumbline calc %s %s\n", t.ID, t.Example)
	return exitDone
}

// printGives lists what the topic's example gives: other inputs may give more
// or less. An example that needs a file which is not here lists nothing.
func printGives(t calc.Topic, std streams) {
	typed, err := typedValues(t, strings.Fields(t.Example), std)
	if err != nil {
		return
	}
	out, problems := t.Run(typed)
	if len(problems) > 0 {
		return
	}
	fmt.Fprintln(std.out, "\nThe example gives:")
	tab := tabwriter.NewWriter(std.out, 0, 0, 2, ' ', 0)
	for _, v := range out.Values {
		fmt.Fprintf(tab, "  %s\t%s\t%s\n", v.Symbol, v.Unit, v.Label)
	}
	_ = tab.Flush() // a closed pipe is the reader's wish
}

func printInput(w io.Writer, in *calc.Input) {
	fmt.Fprintf(w, "  %s  %s%s\n", in.Symbol, in.Label, inputNeed(in))
	var about []string
	switch {
	case len(in.Choices) > 0:
		about = append(about, "one of "+strings.Join(in.Choices, ", "))
	case in.Kind == "":
		about = append(about, "like "+strings.Join(in.Accepts, ", "))
	default:
		about = append(about, inputUnits(in), fmt.Sprintf("from %.7g to %.7g", in.Min, in.Max))
		if len(in.Accepts) > 0 {
			about = append(about, "like "+strings.Join(in.Accepts, " or "))
		}
	}
	if in.Reading > 0 {
		about = append(about, fmt.Sprintf("read to ±%.3g %s", in.Reading, in.Unit))
	}
	fmt.Fprintf(w, "      %s\n", strings.Join(about, "; "))
	for _, s := range []string{in.Hint, in.Plausible} {
		if s != "" {
			fmt.Fprintf(w, "      %s\n", s)
		}
	}
}

func inputNeed(in *calc.Input) string {
	switch {
	case in.Default != "":
		return " (" + in.Default + " when not given)"
	case in.Optional:
		return " (may be left out)"
	}
	return ""
}

func inputUnits(in *calc.Input) string {
	if in.Unit == "" {
		return "a number"
	}
	units := slices.DeleteFunc(in.Kind.Distinct(), func(name string) bool { return name == in.Unit })
	if len(units) == 0 || in.Kind == unit.Share {
		return "in " + in.Unit
	}
	return "in " + in.Unit + ", or " + strings.Join(units, ", ")
}
