package diagnosis

import (
	"math"
	"sort"
	"strings"
	"unicode"
)

// Offer is a finding that words may mean. Score is in (0, 1]; Negated says
// that the words deny it. The rider chooses; nothing is chosen silently.
type Offer struct {
	Finding string  `json:"finding"`
	Words   string  `json:"words"`
	Score   float64 `json:"score"`
	Negated bool    `json:"negated,omitempty"`
}

// Match offers the findings that words may mean, best first, at most eight.
// It forgives spelling, knows the trade's slang and hears a denial. Words that
// mean nothing here get no offer.
func (n *Network) Match(words string) []Offer { return n.matcher.offers(words, "", "", 8) }

// MatchAt is Match for words said of a phase of the corner and an end, which
// lift the findings that belong there. Either may be empty.
func (n *Network) MatchAt(words, phase, end string) []Offer {
	return n.matcher.offers(words, phase, end, 8)
}

// MatchFacts offers the facts of history that words may mean.
func (n *Network) MatchFacts(words string) []Offer { return n.marks.offers(words, "", "", 8) }

type matcher struct {
	findings []Finding
	phrases  [][][]token
	rarity   map[string]float64
	common   float64
}

type token struct {
	word string
	not  bool
}

func newMatcher(findings []Finding) *matcher {
	m := &matcher{findings: findings, rarity: map[string]float64{}}
	seen := map[string]int{}
	for _, f := range findings {
		var all [][]token
		own := map[string]bool{}
		for _, p := range append([]string{f.Words}, f.Phrases...) {
			t := tokens(p)
			all = append(all, t)
			for _, w := range t {
				own[w.word] = true
			}
		}
		for w := range own {
			seen[w]++
		}
		m.phrases = append(m.phrases, all)
	}
	for w, k := range seen {
		m.rarity[w] = math.Log(1 + float64(len(findings))/float64(k))
	}
	m.common = math.Log(1 + float64(len(findings))/2)
	return m
}

func (m *matcher) offers(words, phase, end string, most int) []Offer {
	said := m.spelled(tokens(words))
	if len(said) == 0 {
		return nil
	}
	var out []Offer
	for i, f := range m.findings {
		best, negated := 0.0, false
		for _, p := range m.phrases[i] {
			if s, not := m.score(said, p); s > best {
				best, negated = s, not
			}
		}
		best *= place(f, phase, end)
		if best >= 0.3 {
			out = append(out, Offer{f.ID, f.Words, math.Min(1, best), negated})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Score > out[j].Score })
	return out[:min(most, len(out))]
}

// place lifts or lowers a finding by where the rider says it happens.
func place(f Finding, phase, end string) float64 {
	by := 1.0
	if phase != "" && f.Phase == phase {
		by *= 1.25
	}
	if f.Kind == "felt" && end != "" && end != "whole" && f.End != "whole" && f.End != end {
		by *= 0.6
	}
	return by
}

// score is the geometric mean of how much of the phrase was said and how much
// of what was said the phrase covers, by rarity of the words.
func (m *matcher) score(said, phrase []token) (float64, bool) {
	var common, denied, inPhrase, inSaid float64
	shared := 0
	for _, p := range phrase {
		inPhrase += m.weight(p.word)
		for _, s := range said {
			if s.word == p.word {
				common += m.weight(p.word)
				shared++
				if s.not != p.not {
					denied += m.weight(p.word)
				}
				break
			}
		}
	}
	for _, s := range said {
		inSaid += m.weight(s.word)
	}
	if common == 0 {
		return 0, false
	}
	fit := math.Pow(common/inPhrase, 0.6) * math.Pow(common/inSaid, 0.4)
	if shared == 1 && len(phrase) > 1 {
		fit *= 0.6 // one word in common is a hint, not a match
	}
	return fit, denied > common/2
}

func (m *matcher) weight(w string) float64 {
	if r, ok := m.rarity[w]; ok {
		return r
	}
	return m.common / 3
}

// spelled replaces each unknown word by a known one that is a slip away.
func (m *matcher) spelled(said []token) []token {
	for i, s := range said {
		if _, ok := m.rarity[s.word]; ok || len(s.word) < 5 {
			continue
		}
		best := ""
		for w := range m.rarity {
			if len(w) > 3 && slips(s.word, w) <= 1+len(s.word)/8 && (best == "" || w < best) {
				best = w
			}
		}
		if best != "" {
			said[i].word = best
		}
	}
	return said
}

// slips is the edit distance of two words.
func slips(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		last := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			old := row[j]
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(old+1, row[j-1]+1, last+cost)
			last = old
		}
	}
	return row[len(b)]
}

var dropped = set("a an the of to in on at is are was it its i my me and or then as that this there with for from by be has have been when while each any so but only very more most than up")

var denials = set("no not never without dont doesnt isnt wont cant didnt nothing neither nor none")

// meanings folds the trade's ways of saying one thing into one word.
var meanings = fold(
	"throttle gas power drive accelerate accelerating", "wide understeer push pushes pushed wash washes",
	"front fork forks nose", "rear back tail arse shock", "bar bars handlebar clip-on clip-ons clipon clipons",
	"shake shimmy waggle wobble headshake wag", "brake brakes braking braked", "bump bumps ripple ripples",
	"harsh hard stiff rigid", "corner bend bends corners turn", "knock clunk clonk", "slide slid slides",
	"exit out", "fast quick quickly faster quicker", "drop drops fall falls fell", "yoke clamp clamps triple",
	"bounce bounces bouncy pogo", "heavy heavier", "tyre tire tyres tires", "sink squat squats sits", "hop hops patter patters pattering",
	"slow slowly lazy", "wheel wheels", "judder judders shudder", "loose vague numb", "skip skips",
	"scrape scrapes grind grinds grinding ground grounds", "centre center middle", "jump jumps lurch lurches",
	"squirm squirms spongy squidgy", "first opening early", "dive dives diving", "pulse pulses pulsing throb",
	"greasy slippery slimy", "downshift downshifts downshifting", "wander wanders", "kick kicks buck bucks",
)

func set(words string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(words) {
		out[w] = true
	}
	return out
}

func fold(groups ...string) map[string]string {
	out := map[string]string{}
	for _, g := range groups {
		words := strings.Fields(g)
		for _, w := range words {
			out[w] = words[0]
		}
	}
	return out
}

// tokens cuts words into stems; a denial marks the three words after it,
// or one after neither and nor.
func tokens(s string) []token {
	s = strings.NewReplacer("'", "", "’", "").Replace(strings.ToLower(s))
	fields := strings.FieldsFunc(s, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-+,;.", r)
	})
	var out []token
	left := 0
	for _, w := range fields {
		end := strings.ContainsAny(w, ",;.")
		w = strings.Trim(w, "-,;.")
		switch {
		case w == "nor" || w == "neither":
			left = 1
		case denials[w]:
			left = 3
		case w == "" || dropped[w]:
		default:
			out = append(out, token{stem(w), left > 0})
			left--
		}
		if end {
			left = 0
		}
	}
	return out
}

func stem(w string) string {
	if m, ok := meanings[w]; ok {
		return m
	}
	for _, suffix := range []string{"ing", "ed", "es", "s", "ly"} {
		if cut := strings.TrimSuffix(w, suffix); cut != w && len(cut) > 2 {
			w = cut
			break
		}
	}
	if m, ok := meanings[w]; ok {
		return m
	}
	return strings.TrimSuffix(w, "e")
}
