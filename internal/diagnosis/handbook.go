package diagnosis

import "sort"

// Page is a cause's page in the handbook: the cause with everything that its
// ids stand for put into words.
type Page struct {
	Cause
	FamilyTitle string  `json:"familyTitle"`
	Shows       []Shown `json:"shows"` // what it shows, the surest first
	Apart       []Apart `json:"apart"` // from its look-alikes
}

// Shown is a finding of a cause in words.
type Shown struct {
	Finding  string `json:"finding"`
	Words    string `json:"words"`
	Strength string `json:"strength"`
	Source   string `json:"source"` // title
	Disputed string `json:"disputed,omitempty"`
}

// Apart tells a cause from a look-alike: what speaks most for the one and most
// for the other; either may be empty.
type Apart struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	This  string `json:"this"` // found here and hardly there
	That  string `json:"that"` // found there and hardly here
}

// Page returns a cause's page, and false if there is no such cause.
func (n *Network) Page(cause string) (Page, bool) {
	i, ok := n.cause[cause]
	if !ok {
		return Page{}, false
	}
	c := n.causes[i]
	p := Page{Cause: c, FamilyTitle: n.families[c.Family]}
	for _, l := range c.Links {
		p.Shows = append(p.Shows, Shown{l.Finding, n.findings[n.finding[l.Finding]].Words, l.Strength, n.titleOf(l.Source), n.disputes[l.Disputed]})
	}
	sort.SliceStable(p.Shows, func(a, b int) bool {
		x, _ := Chance(p.Shows[a].Strength)
		y, _ := Chance(p.Shows[b].Strength)
		return x > y
	})
	for _, like := range c.Like {
		k := n.cause[like]
		p.Apart = append(p.Apart, Apart{like, n.causes[k].Title, n.tells(i, k), n.tells(k, i)})
	}
	return p, true
}

// tells is the finding, its check aside, that speaks most for a against b.
func (n *Network) tells(a, b int) string {
	best, most := "", 0.2
	for f, finding := range n.findings {
		if d := n.layer.Strength[f][a] - n.layer.Strength[f][b]; finding.Kind != "check" && d > most {
			best, most = finding.Words, d
		}
	}
	return best
}

func (n *Network) titleOf(source string) string {
	for _, s := range n.sources {
		if s.ID == source {
			return s.Title
		}
	}
	return source
}
