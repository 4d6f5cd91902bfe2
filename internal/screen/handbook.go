package screen

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
)

// HandbookArgs asks for the list of pages, those that words find when Words
// is set, or for the page of a cause.
type HandbookArgs struct {
	Words string `json:"words"`
	Cause string `json:"cause"`
}

// Handbook is the knowledge as pages to read: families of causes, a page each.
type Handbook struct {
	Families []HandbookFamily `json:"families"`
	Found    int              `json:"found"`
	Says     string           `json:"says"` // "76 pages", "3 pages have these words"
	Page     *HandbookPage    `json:"page,omitempty"`
}

// HandbookFamily is a chapter.
type HandbookFamily struct {
	ID      string         `json:"id"`
	Title   string         `json:"title"`
	Drawing string         `json:"drawing"`
	Pages   []HandbookLine `json:"pages"`
}

// HandbookLine is a page in a list. Stop says that it forbids riding.
type HandbookLine struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Why   string `json:"why"`
	Stop  bool   `json:"stop,omitempty"`
}

// HandbookPage is all that the knowledge holds of a cause.
type HandbookPage struct {
	HandbookLine
	Family  string          `json:"family"`
	Drawing string          `json:"drawing"`
	Forbids string          `json:"forbids,omitempty"` // why one must not ride
	Signs   []HandbookSign  `json:"signs"`
	Facts   []HandbookSign  `json:"facts"` // what makes it likelier
	Tell    string          `json:"tell"`
	Like    []HandbookLine  `json:"like"` // look-alikes
	Check   WhyCheck        `json:"check"`
	Remedy  HandbookRemedy  `json:"remedy"`
	Sources []HandbookTitle `json:"sources"`
}

// HandbookSign is one finding that a cause shows, or a fact that raises it,
// how often, and by which source.
type HandbookSign struct {
	Words  string `json:"words"`
	Often  string `json:"often"`
	Kind   string `json:"kind"`
	Source int    `json:"source"` // its number in the page's list
}

// HandbookTitle is a source in a page's list.
type HandbookTitle struct {
	Number int    `json:"number"`
	Title  string `json:"title"`
	Kind   string `json:"kind"`
}

// HandbookRemedy is how a cause is mended, without any bike's numbers.
type HandbookRemedy struct {
	Says    string `json:"says"`
	Expect  string `json:"expect"`
	Wrong   string `json:"wrong"`
	Side    string `json:"side,omitempty"`
	Undo    string `json:"undo"`
	Caution string `json:"caution,omitempty"`
}

var _ = view("handbook", handbook)

// families are the chapters in the order of work, with their pictures.
var families = []HandbookFamily{
	{ID: "straightness", Title: "After a fall: straightness", Drawing: "straight"},
	{ID: "head", Title: "Steering head", Drawing: "head-bearings"},
	{ID: "rolling", Title: "Wheels, chain and alignment", Drawing: "chain"},
	{ID: "brake", Title: "Brakes", Drawing: "brakes"},
	{ID: "tyre", Title: "Tyres and pressures", Drawing: "pressure"},
	{ID: "spring", Title: "Springs, preload and sag", Drawing: "sag"},
	{ID: "geometry", Title: "Geometry and gearing", Drawing: "geometry"},
	{ID: "damping-front", Title: "Damping at the front", Drawing: "fork"},
	{ID: "damping-rear", Title: "Damping at the rear", Drawing: "shock"},
	{ID: "worn", Title: "Worn or neglected parts", Drawing: "leaks"},
	{ID: "rider", Title: "Rider", Drawing: "rider"},
	{ID: "conditions", Title: "Track and conditions", Drawing: "track"},
	{ID: "none", Title: "Nothing wrong with the bike", Drawing: "even"},
}

// familyOf is a chapter; one that this page does not know yet is called by
// its id and has the rider's picture.
func familyOf(id string) HandbookFamily {
	if i := slices.IndexFunc(families, func(f HandbookFamily) bool { return f.ID == id }); i >= 0 {
		return families[i]
	}
	return HandbookFamily{ID: id, Title: capital(spaced(id)), Drawing: "rider"}
}

// drawings are the causes that have a picture of their own; the others share
// their chapter's.
var drawings = map[string]string{
	"forks-twisted": "twist", "forks-height-unequal": "fork-heights", "bars-or-controls-bent": "bars", "fork-tube-bent": "tube-bent",
	"frame-or-subframe-bent": "alignment", "fork-binding": "fork-binding", "wheel-misaligned": "alignment",
	"chain-worn": "chain-worn", "wheel-unbalanced": "balance", "rim-dented": "rim", "wheel-bearing-worn": "wheel-bearings", "swingarm-play": "swingarm", "loose-fastener": "fastener",
	"steering-damper-tight": "damper", "disc-runout": "disc", "brake-dragging": "brakes",
	"tyre-pressure-high": "pressure-high", "tyre-pressure-low": "pressure-low", "tyre-cold": "cold", "tyre-overheated": "hot", "tyre-worn-profile": "profile",
	"tyre-heat-cycled-out": "hot", "tyre-compound-mismatch": "hot", "tyre-size-or-profile-changed": "profile",
	"fork-spring-soft": "spring-soft", "shock-spring-soft": "spring-soft", "fork-spring-stiff": "spring-stiff", "shock-spring-stiff": "spring-stiff",
	"fork-preload-high": "preload", "fork-preload-low": "preload", "shock-preload-high": "preload", "shock-preload-low": "preload",
	"fork-oil-level-low": "oil-level", "fork-oil-level-high": "oil-level", "fork-oil-old": "oil-level",
	"geometry-steep": "nose-down", "front-too-low": "nose-down", "rear-too-high": "nose-down", "geometry-flat": "nose-up", "front-too-high": "nose-up", "rear-too-low": "nose-up",
	"gearing-wheelbase-chain-angle": "gearing",
	"fork-compression-high":         "compression", "fork-compression-low": "compression", "fork-high-speed-compression-high": "compression-fast",
	"fork-rebound-high": "rebound", "fork-rebound-low": "rebound", "legs-set-unequal": "legs",
	"shock-compression-high": "compression", "shock-compression-low": "compression", "shock-high-speed-compression-high": "compression-fast", "shock-low-speed-compression-low": "compression",
	"shock-rebound-high": "rebound", "shock-rebound-low": "rebound", "shock-worn": "shock", "shock-leak": "shock", "linkage-dry": "linkage", "linkage-worn": "linkage",
	"track-cold": "cold", "track-wet": "wet", "wind": "wind", "track-bumpy": "track",
}

// drawingOf names the picture of a cause.
func drawingOf(c diagnosis.Cause) string {
	return cmp.Or(drawings[c.ID], familyOf(c.Family).Drawing)
}

// checkDrawing names the picture of a cause's check: the round's own where
// the check belongs to it.
func checkDrawing(c diagnosis.Cause) string {
	return cmp.Or(roundOf(c.ID), drawingOf(c))
}

// findingsByID are the knowledge's findings by their ids.
var findingsByID = sync.OnceValue(func() map[string]diagnosis.Finding {
	out := map[string]diagnosis.Finding{}
	for _, f := range diagnosis.Load().Findings() {
		out[f.ID] = f
	}
	return out
})

// sourcesByID are the knowledge's sources by their ids.
var sourcesByID = sync.OnceValue(func() map[string]diagnosis.Source {
	out := map[string]diagnosis.Source{}
	for _, s := range diagnosis.Load().Sources() {
		out[s.ID] = s
	}
	return out
})

func handbook(_ Ask, args HandbookArgs) (any, []book.Refusal) {
	out := Handbook{Families: []HandbookFamily{}}
	if args.Cause != "" {
		c, ok := causesByID()[args.Cause]
		if !ok {
			return nil, []book.Refusal{{Field: "cause", Says: "The handbook has no such page.", Mend: "Go to its list and pick another."}}
		}
		page := handbookPage(c)
		out.Page = &page
		return out, nil
	}
	words := strings.TrimSpace(args.Words)
	all, meant := diagnosis.Load().Causes(), offersFor(words)
	for _, f := range families {
		f.Pages = []HandbookLine{}
		for _, c := range all {
			if c.Family == f.ID && (words == "" || hasWords(c, words, meant)) {
				f.Pages = append(f.Pages, handbookLine(c))
			}
		}
		if len(f.Pages) > 0 {
			out.Families = append(out.Families, f)
			out.Found += len(f.Pages)
		}
	}
	out.Says = many(out.Found, "page")
	if words != "" {
		out.Says += " for these words"
	}
	return out, nil
}

func handbookLine(c diagnosis.Cause) HandbookLine {
	return HandbookLine{ID: c.ID, Title: c.Title, Why: c.Why, Stop: c.Stop != ""}
}

// hasWords says whether words lead to a cause: every word stands somewhere on its
// page, or the words mean something that the cause often shows.
func hasWords(c diagnosis.Cause, words string, meant []string) bool {
	text := strings.ToLower(pageText(c))
	missing := func(w string) bool { return !strings.Contains(text, w) }
	if !slices.ContainsFunc(strings.Fields(strings.ToLower(words)), missing) {
		return true
	}
	return slices.ContainsFunc(c.Links, func(l diagnosis.Link) bool { return slices.Contains(meant, l.Finding) && chance(l.Strength) >= 0.5 })
}

// offersFor are the findings that words mean well.
func offersFor(words string) []string {
	var out []string
	for _, o := range diagnosis.Load().Match(words) {
		if o.Score >= 0.6 && !o.Negated {
			out = append(out, o.Finding)
		}
	}
	return out
}

// pageText is all the words of a cause's page.
func pageText(c diagnosis.Cause) string {
	parts := []string{c.Title, familyOf(c.Family).Title, c.Why, c.Tell, c.Check.How, c.Check.Finding.Words, c.Remedy.Words, c.Stop}
	for _, l := range c.Links {
		parts = append(parts, findingsByID()[l.Finding].Words)
	}
	return strings.Join(parts, " ")
}

func handbookPage(c diagnosis.Cause) HandbookPage {
	p := HandbookPage{
		HandbookLine: handbookLine(c), Family: familyOf(c.Family).Title, Drawing: drawingOf(c), Forbids: c.Stop, Tell: c.Tell,
		Signs: []HandbookSign{}, Facts: []HandbookSign{}, Like: []HandbookLine{}, Sources: []HandbookTitle{},
		Check:  describer{}.check(c),
		Remedy: HandbookRemedy{remedySays(c.Remedy), c.Remedy.Expect, c.Remedy.Wrong, c.Remedy.Side, c.Remedy.Undo, c.Remedy.Caution},
	}
	links := slices.Clone(c.Links)
	slices.SortStableFunc(links, func(a, b diagnosis.Link) int { return cmp.Compare(chance(b.Strength), chance(a.Strength)) })
	for _, l := range links {
		f := findingsByID()[l.Finding]
		p.Signs = append(p.Signs, HandbookSign{f.Words, l.Strength, f.Kind, p.cite(l.Source)})
	}
	for _, s := range c.Facts {
		p.Facts = append(p.Facts, HandbookSign{factWords(s.Fact), timesWords(s.Times), "fact", p.cite(s.Source)})
	}
	for _, id := range c.Like {
		if other, ok := causesByID()[id]; ok {
			p.Like = append(p.Like, handbookLine(other))
		}
	}
	return p
}

// cite puts a source on the page's list and returns its number.
func (p *HandbookPage) cite(id string) int {
	s := sourcesByID()[id]
	for _, have := range p.Sources {
		if have.Title == s.Title {
			return have.Number
		}
	}
	n := len(p.Sources) + 1
	p.Sources = append(p.Sources, HandbookTitle{n, s.Title, s.Kind})
	return n
}

func chance(strength string) float64 {
	p, _ := diagnosis.Chance(strength)
	return p
}

// timesWords says by how much a fact raises or lowers the odds.
func timesWords(times float64) string {
	switch {
	case times >= 4:
		return "much likelier"
	case times > 1:
		return "likelier"
	case times <= 0.25:
		return "much less likely"
	}
	return "less likely"
}

func factWords(id string) string {
	all := diagnosis.Load().Facts()
	if i := slices.IndexFunc(all, func(f diagnosis.Fact) bool { return f.ID == id }); i >= 0 {
		return all[i].Words
	}
	return id
}

// remedySays is a remedy on no bike in particular: the adjuster by its name
// and which way, or the job in words.
func remedySays(r diagnosis.Remedy) string {
	if r.Adjuster == "" {
		return r.Words
	}
	for _, a := range book.Standard("") {
		if string(a.Adjuster) != r.Adjuster {
			continue
		}
		s := &book.Setting{ID: a.Adjuster, Def: a.Def}
		show := shower{&book.Book{}}
		_, delta := show.stepped(s, nil, handSteps(show, s, r))
		does := s.More
		if delta < 0 {
			does = s.Less
		}
		return s.Name + ": " + show.moved(s, delta) + " (" + does + "), then ride and judge."
	}
	return r.Words
}

func sourceTitle(id string) string { return sourcesByID()[id].Title }
