package diagnosis

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

var adjusters = set("front.preload front.rebound front.compression front.compression-high front.height rear.preload rear.rebound rear.compression rear.compression-high rear.height front.pressure rear.pressure sprocket.front sprocket.rear chain.slack steering.damper bar.position")

// lint returns everything that is wrong with a network.
func lint(n *Network) []string {
	var out []string
	wrong := func(where, what string) { out = append(out, where+": "+what) }
	once := map[string]bool{}
	own := func(id string) {
		if id == "" || once[id] {
			wrong(id, "id is empty or used twice")
		}
		once[id] = true
	}
	sources, facts, linked := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, s := range n.sources {
		own(s.ID)
		sources[s.ID] = s.Title != ""
	}
	for _, f := range n.facts {
		own("fact " + f.ID)
		facts[f.ID] = true
	}
	readable := func(where, words string, most int) {
		if k := len(strings.Fields(words)); k == 0 || k > most {
			wrong(where, "words are absent or too long: "+words)
		}
	}
	for _, c := range n.causes {
		own(c.ID)
		if c.Prior <= 0 || c.Prior > 0.2 || !sources[c.Source] || !sources[c.Check.Source] {
			wrong(c.ID, "prior or source is out of order")
		}
		if _, ok := stages[c.Stage]; !ok {
			wrong(c.ID, "no stage "+c.Stage)
		}
		readable(c.ID+" title", c.Title, 8)
		for _, w := range []string{c.Why, c.Tell, c.Check.How, c.Remedy.Words, c.Remedy.Expect, c.Remedy.Wrong, c.Remedy.Undo, c.Remedy.Side, c.Remedy.Tools, c.Check.Tools} {
			readable(c.ID, w, 18)
		}
		if c.Check.Minutes <= 0 || c.Remedy.Minutes <= 0 {
			wrong(c.ID, "check or remedy takes no time")
		}
		if len(c.Links) == 0 {
			wrong(c.ID, "nothing that a rider could notice reaches it")
		}
		for _, l := range c.Links {
			linked[l.Finding] = true
			if f, ok := n.finding[l.Finding]; ok && n.findings[f].Kind == "check" {
				wrong(c.ID+" "+l.Finding, "the check of another cause")
			}
			if !sources[l.Source] {
				wrong(c.ID+" "+l.Finding, "no source")
			}
			if l.Disputed != "" && n.disputes[l.Disputed] == "" {
				wrong(c.ID+" "+l.Finding, "no dispute "+l.Disputed)
			}
		}
		for _, s := range c.Facts {
			if !facts[s.Fact] || !sources[s.Source] || s.Times <= 0 {
				wrong(c.ID+" "+s.Fact, "no such fact, or no source")
			}
		}
		for _, like := range c.Like {
			if _, ok := n.cause[like]; !ok || like == c.ID {
				wrong(c.ID, "no look-alike "+like)
			}
		}
		if r := c.Remedy; r.Adjuster != "" && (!adjusters[r.Adjuster] || r.Direction != "more" && r.Direction != "less" || r.Steps <= 0) {
			wrong(c.ID, "remedy is not one change")
		}
		if r := c.Remedy; r.Adjuster != "" && n.forbids(c) {
			wrong(c.ID, "suggests what a fact says was just done to bring it about")
		}
		if c.Stop != "" && !strings.Contains(c.Stop, "Do not ") {
			wrong(c.ID, "the stop does not say what not to do")
		}
		if (c.Stage == "safety" || c.Stage == "straightness") && c.Remedy.Caution == "" {
			wrong(c.ID, "a safety job without a caution")
		}
		linked[c.Check.Finding.ID] = true
	}
	for _, f := range n.findings {
		own(f.ID)
		readable(f.ID, f.Words, 16)
		if !linked[f.ID] {
			wrong(f.ID, "no cause produces it")
		}
		if leaks[f.Kind] == 0 {
			wrong(f.ID, "no kind "+f.Kind)
		}
	}
	return append(out, twins(n)...)
}

// forbids says whether a cause's remedy turns the adjuster the way that, by its
// own facts, brought the cause about.
func (n *Network) forbids(c Cause) bool {
	end, what, _ := strings.Cut(c.Remedy.Adjuster, ".")
	way := map[string]string{"more": "in", "less": "out"}[c.Remedy.Direction]
	for _, s := range c.Facts {
		if s.Fact == end+"-"+what+"-"+way && s.Times > 1 {
			return true
		}
	}
	return false
}

// twins finds causes that nothing but their own check tells apart.
func twins(n *Network) []string {
	var out []string
	for a := range n.causes {
		for b := range a {
			apart := false
			for f := range n.findings {
				if n.findings[f].Kind != "check" && n.layer.Strength[f][a] != n.layer.Strength[f][b] {
					apart = true
				}
			}
			if !apart {
				out = append(out, n.causes[a].ID+" and "+n.causes[b].ID+": nothing felt or measured tells them apart")
			}
		}
	}
	return out
}

func TestKnowledgeIsInOrder(t *testing.T) {
	n := Load()
	for _, w := range lint(n) {
		t.Error(w)
	}
	if len(n.causes) < 60 || len(n.findings) < 120 {
		t.Errorf("%d causes, %d findings", len(n.causes), len(n.findings))
	}
}

// No phrase of the knowledge may be a case's own words: six in a row are no
// accident.
func TestNoPhraseEchoesACase(t *testing.T) {
	n := Load()
	known := map[string]string{}
	runs := func(words string, each func(string)) {
		all := raws(words)
		for i := 0; i+6 <= len(all); i++ {
			each(strings.Join(all[i:i+6], " "))
		}
	}
	for _, f := range append(n.Findings(), asFindings(n.facts)...) {
		for _, p := range append([]string{f.Words}, f.Phrases...) {
			runs(p, func(r string) { known[r] = f.ID })
		}
	}
	for _, w := range n.words {
		for _, s := range strings.Split(w.Says, ",") {
			runs(s, func(r string) { known[r] = w.ID })
		}
	}
	for _, v := range slices.Concat(cases(t, published), cases(t, secondHand), cases(t, thirdHand), cases(t, fourthHand)) {
		told := append(append([]string{v.Title}, v.TyreLook...), append(v.ChecksFound, v.Bike.RecentChanges...)...)
		for _, o := range v.Observations {
			told = append(told, o.Says)
		}
		for _, words := range told {
			runs(words, func(r string) {
				if id, echo := known[r]; echo {
					t.Errorf("%s: %q are the words of case %s", id, r, v.ID)
				}
			})
		}
	}
}

func TestLintFindsEachFault(t *testing.T) {
	rows := map[string]func(*Network){
		"used twice":        func(n *Network) { n.findings[1].ID = n.findings[0].ID },
		"no source":         func(n *Network) { n.causes[0].Links[0].Source = "S999" },
		"no stage":          func(n *Network) { n.causes[0].Stage = "later" },
		"takes no time":     func(n *Network) { n.causes[0].Check.Minutes = 0 },
		"no look-alike":     func(n *Network) { n.causes[0].Like = []string{"gremlin"} },
		"not one change":    func(n *Network) { n.causes[0].Remedy.Adjuster = "spanner" },
		"could notice":      func(n *Network) { n.causes[0].Links = nil },
		"too long":          func(n *Network) { n.causes[0].Tell = strings.Repeat("word ", 40) },
		"no such fact":      func(n *Network) { n.causes[0].Facts = []Shift{{Fact: "moon", Times: 2, Source: "CP"}} },
		"no dispute":        func(n *Network) { n.causes[0].Links[0].Disputed = "moon" },
		"does not say":      func(n *Network) { n.causes[n.cause["chain-tight"]].Stop = "Careful." },
		"without a caution": func(n *Network) { n.causes[n.cause["chain-tight"]].Remedy.Caution = "" },
		"just done":         func(n *Network) { n.causes[n.cause["fork-rebound-high"]].Remedy.Direction = "more" },
		"tells them apart": func(n *Network) {
			for f := range n.findings {
				n.layer.Strength[f][1] = n.layer.Strength[f][0]
			}
		},
	}
	for want, breaks := range rows {
		n, err := read(knowledge)
		if err != nil {
			t.Fatal(err)
		}
		breaks(n)
		if all := strings.Join(lint(n), "\n"); !strings.Contains(all, want) {
			t.Errorf("lint does not say %q, it says: %s", want, all)
		}
	}
}

func TestUnknownFieldIsRefused(t *testing.T) {
	files := fstest.MapFS{"knowledge/x.json": {Data: []byte(`{"gremlins":[]}`)}}
	if _, err := read(files); err == nil {
		t.Error("a field that nobody knows was read")
	}
}
