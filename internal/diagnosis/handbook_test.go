package diagnosis

import (
	"strings"
	"testing"
)

func TestFamiliesOwnCases(t *testing.T) {
	n := Load()
	told := map[string]bool{}
	for _, e := range n.expects {
		c := Case{Facts: Facts{Marks: e.Facts}}
		for _, id := range e.Given {
			id, absent := strings.CutPrefix(id, "not ")
			if _, ok := n.finding[id]; !ok {
				t.Errorf("%s: no finding %s", e.First, id)
			}
			c.Findings = append(c.Findings, Observed{Finding: id, Absent: absent})
		}
		a := n.Diagnose(c)
		if a.Causes[0].ID != e.First {
			t.Errorf("given %v and %v: %s %.2f before %s %.2f", e.Given, e.Facts, a.Causes[0].ID, a.Causes[0].Posterior, e.First, a.of(e.First).Posterior)
		}
		told[n.causes[n.cause[e.First]].Family] = true
	}
	for f := range n.families {
		if !told[f] {
			t.Errorf("family %s has no case of its own", f)
		}
	}
}

// Every cause can come first: with its own surest findings and its strongest
// fact it does, or shares the first three with its look-alikes, and with its
// check found it does.
func TestEveryCauseCanBeFound(t *testing.T) {
	n := Load()
	for i, cause := range n.causes {
		var c Case
		for _, l := range cause.Links {
			if l.Strength == "always" || l.Strength == "usually" || l.Strength == "often" {
				c.Findings = append(c.Findings, Observed{Finding: l.Finding, Repeat: "every-lap"})
			}
		}
		if len(c.Findings) < 2 {
			for _, l := range cause.Links {
				if l.Strength == "sometimes" {
					c.Findings = append(c.Findings, Observed{Finding: l.Finding, Repeat: "every-lap"})
				}
			}
		}
		best := 1.0
		for _, s := range cause.Facts {
			if s.Times > best {
				best, c.Facts.Marks = s.Times, []string{s.Fact}
			}
		}
		if a := n.Diagnose(c); placeOfCause(a, cause.ID) > 3 && cause.ID != "loose-fastener" { // a loose bolt feels like anything: only the spanner tells
			t.Errorf("%s is at place %d with its own picture; first %s", cause.ID, placeOfCause(a, cause.ID), a.Causes[0].ID)
		}
		c.Findings = append(c.Findings, Observed{Finding: n.causes[i].Check.Finding.ID})
		if a := n.Diagnose(c); a.of(cause.ID).Posterior < 0.8 {
			t.Errorf("%s is %.2f with its check found", cause.ID, a.of(cause.ID).Posterior)
		}
	}
}

func placeOfCause(a Answer, id string) int {
	for i, r := range a.Causes {
		if r.ID == id {
			return i + 1
		}
	}
	return 0
}

func TestPagesTellApart(t *testing.T) {
	n := Load()
	for _, c := range n.causes {
		p, ok := n.Page(c.ID)
		if !ok || p.FamilyTitle == "" || len(p.Shows) == 0 || len(p.Apart) == 0 {
			t.Errorf("%s: %+v", c.ID, p)
		}
		for _, a := range p.Apart {
			if a.This == "" && a.That == "" {
				t.Errorf("%s and %s: the page does not tell them apart", c.ID, a.ID)
			}
		}
	}
	if _, ok := n.Page("gremlin"); ok {
		t.Error("a page for nothing")
	}
}
