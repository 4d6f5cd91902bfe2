package diagnosis

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"strings"
	"sync"
)

//go:embed knowledge/*.json
var knowledge embed.FS

// Finding is one thing that can be felt, seen, checked or measured. Tyre is
// set for what is read on a tyre.
type Finding struct {
	ID      string   `json:"id"`
	Phase   string   `json:"phase"`
	End     string   `json:"end"`
	Kind    string   `json:"kind"`
	Words   string   `json:"words"`
	Phrases []string `json:"phrases"`
	Tyre    *Wear    `json:"tyre,omitempty"`
	// Risk says why a thing felt must not be asked for on purpose.
	Risk string `json:"risk,omitempty"`
}

// Wear is how a mark on a tyre looks, for its drawing. Place is where across
// the tread: centre, band, shoulders, one-shoulder, cuts, all. Edge is the edge
// of a tread block that is raised or torn: leading, trailing, both or none.
// Direction is how the mark runs: across, along, none. Texture is what it is
// like: smooth, melted, ripped, lipped, scalloped, blue, patchy, flat, unused.
type Wear struct {
	Place     string `json:"place"`
	Edge      string `json:"edge"`
	Direction string `json:"direction"`
	Texture   string `json:"texture"`
}

// Fact is something a book can know that moves priors.
type Fact struct {
	ID      string   `json:"id"`
	Words   string   `json:"words"`
	Phrases []string `json:"phrases"`
}

// Source is where a link comes from.
type Source struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Kind  string `json:"kind"`
}

// Link says how often a cause shows a finding, in a strength word. Disputed
// names the dispute of the sources on it, if they disagree.
type Link struct {
	Finding  string `json:"finding"`
	Strength string `json:"strength"`
	Source   string `json:"source"`
	Disputed string `json:"disputed,omitempty"`
}

// Dispute says in words on what the sources disagree.
type Dispute struct {
	ID    string `json:"id"`
	Words string `json:"words"`
}

// Shift says by how many times a fact multiplies a cause's odds.
type Shift struct {
	Fact   string  `json:"fact"`
	Times  float64 `json:"times"`
	Source string  `json:"source"`
}

// Check is the inspection that settles a cause; Minutes is its effort.
type Check struct {
	How      string  `json:"how"`
	Minutes  int     `json:"minutes"`
	Tools    string  `json:"tools"`
	Finding  Finding `json:"finding"`
	Strength string  `json:"strength"`
	Source   string  `json:"source"`
	// Clear names the part, in words, whose being good says that the check
	// finds nothing.
	Clear []string `json:"clear,omitempty"`
}

// Remedy is one reversible change (Adjuster is set) or a job (it is empty).
// Direction is physical: more or less. Steps are the adjuster's own.
type Remedy struct {
	Adjuster  string `json:"adjuster,omitempty"`
	Direction string `json:"direction,omitempty"`
	Steps     int    `json:"steps,omitempty"`
	Words     string `json:"words"`
	Expect    string `json:"expect"`
	Wrong     string `json:"wrong"`
	Undo      string `json:"undo"`
	Side      string `json:"side"`
	Caution   string `json:"caution,omitempty"`
	Minutes   int    `json:"minutes"` // effort, the ride not counted
	Tools     string `json:"tools"`
}

// Cause is a state of bike, tyre, track or rider that produces findings.
type Cause struct {
	ID     string   `json:"id"`
	Title  string   `json:"title"`
	Family string   `json:"family,omitempty"`
	Stage  string   `json:"stage"`
	Why    string   `json:"why"`
	Prior  float64  `json:"prior"`
	Source string   `json:"source"`
	Tell   string   `json:"tell"`
	Check  Check    `json:"check"`
	Remedy Remedy   `json:"remedy"`
	Stop   string   `json:"stop,omitempty"`
	Like   []string `json:"like"`
	Links  []Link   `json:"links"`
	Facts  []Shift  `json:"facts"`
}

// expect is a family's own case: given these findings ("not" before one denies
// it) and facts, this cause comes first.
type expect struct {
	Given []string `json:"given"`
	Facts []string `json:"facts"`
	First string   `json:"first"`
}

// Chance is the probability that a strength word stands for, and false for a
// word that is not one. Common practice, no source; the spacing follows the
// word scales of QMR-DT's frequencies (Shwe et al. 1991).
func Chance(word string) (float64, bool) {
	p, ok := map[string]float64{"always": 0.95, "usually": 0.8, "often": 0.55, "sometimes": 0.3, "rarely": 0.1}[word]
	return p, ok
}

// leaks are the chances that a finding shows with none of the causes present,
// by its kind. Common practice, no source.
var leaks = map[string]float64{"felt": 0.006, "tyre": 0.006, "check": 0.001, "measured": 0.01}

// Network is the knowledge, ready to reason with. It is never changed.
type Network struct {
	findings []Finding
	causes   []Cause
	facts    []Fact
	sources  []Source
	disputes map[string]string
	layer    Layer
	finding  map[string]int
	cause    map[string]int
	words    []Concept
	expects  []expect
	families map[string]string // titles
	matcher  *matcher          // of findings
	marks    *matcher          // of facts
	clears   *matcher          // of checks that find nothing
}

var load = sync.OnceValue(func() *Network {
	n, err := read(knowledge)
	if err != nil {
		panic("diagnosis: the built-in knowledge does not read: " + err.Error())
	}
	return n
})

// Load returns the built-in network. It is read once; the tests hold it valid.
func Load() *Network { return load() }

// Findings returns all findings, those of checks included.
func (n *Network) Findings() []Finding { return append([]Finding(nil), n.findings...) }

// Causes returns all causes.
func (n *Network) Causes() []Cause { return append([]Cause(nil), n.causes...) }

// Facts returns all facts.
func (n *Network) Facts() []Fact { return append([]Fact(nil), n.facts...) }

// Sources returns all sources.
func (n *Network) Sources() []Source { return append([]Source(nil), n.sources...) }

func read(files fs.FS) (*Network, error) {
	n := &Network{finding: map[string]int{}, cause: map[string]int{}, disputes: map[string]string{}, families: map[string]string{}}
	names, err := fs.Glob(files, "knowledge/*.json")
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		raw, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, err
		}
		if err := n.add(strings.TrimPrefix(name, "knowledge/"), raw); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return n, n.link()
}

func (n *Network) add(name string, raw []byte) error {
	var all struct {
		Family   string    `json:"family"`
		Title    string    `json:"title"`
		Findings []Finding `json:"findings"`
		Causes   []Cause   `json:"causes"`
		Facts    []Fact    `json:"facts"`
		Sources  []Source  `json:"sources"`
		Disputes []Dispute `json:"disputes"`
		Words    []Concept `json:"words"`
		Cases    []expect  `json:"cases"`
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	if err := d.Decode(&all); err != nil {
		return err
	}
	if all.Family != "" {
		n.families[all.Family] = all.Title
	}
	for _, c := range all.Causes {
		c.Family = all.Family
		c.Check.Finding.Kind = "check"
		n.cause[c.ID] = len(n.causes)
		n.causes = append(n.causes, c)
		all.Findings = append(all.Findings, c.Check.Finding)
	}
	for _, f := range all.Findings {
		n.finding[f.ID] = len(n.findings)
		n.findings = append(n.findings, f)
	}
	n.facts = append(n.facts, all.Facts...)
	n.sources = append(n.sources, all.Sources...)
	n.words = append(n.words, all.Words...)
	n.expects = append(n.expects, all.Cases...)
	for _, d := range all.Disputes {
		n.disputes[d.ID] = d.Words
	}
	return nil
}

func (n *Network) link() error {
	n.layer = Layer{Strength: make([][]float64, len(n.findings))}
	for f, finding := range n.findings {
		n.layer.Leak = append(n.layer.Leak, leaks[finding.Kind])
		n.layer.Strength[f] = make([]float64, len(n.causes))
	}
	for c, cause := range n.causes {
		n.layer.Prior = append(n.layer.Prior, cause.Prior)
		links := append([]Link{{Finding: cause.Check.Finding.ID, Strength: cause.Check.Strength, Source: cause.Check.Source}}, cause.Links...)
		for _, l := range links {
			f, known := n.finding[l.Finding]
			w, word := Chance(l.Strength)
			if !known || !word {
				return fmt.Errorf("%s: no finding %q or strength %q", cause.ID, l.Finding, l.Strength)
			}
			n.layer.Strength[f][c] = w
		}
	}
	return n.listen()
}

// listen builds the matchers from the words and phrases.
func (n *Network) listen() error {
	l, err := newLexicon(n.words)
	if err != nil {
		return err
	}
	var clears []Finding
	for _, c := range n.causes {
		clears = append(clears, Finding{ID: c.Check.Finding.ID, Phrases: c.Check.Clear})
	}
	if n.matcher, err = newMatcher(l, n.findings); err != nil {
		return err
	}
	if n.marks, err = newMatcher(l, asFindings(n.facts)); err != nil {
		return err
	}
	n.clears, err = newMatcher(l, clears)
	return err
}

func asFindings(facts []Fact) []Finding {
	var out []Finding
	for _, f := range facts {
		out = append(out, Finding{ID: f.ID, Words: f.Words, Phrases: f.Phrases})
	}
	return out
}
