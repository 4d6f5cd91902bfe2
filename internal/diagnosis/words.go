package diagnosis

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode"
)

// Concept is one meaning and the trade's ways of saying it: words, slang and
// turns of speech, comma-separated, in any form of the word. Not names the
// concept that its denial means, if that is one: "no grip" is as good as slide.
type Concept struct {
	ID   string `json:"id"`
	Says string `json:"says"`
	Not  string `json:"not,omitempty"`
}

// lexicon reads plain words as concepts. It is what makes the matcher work by
// composition: findings are told in concepts, whatever words were used.
type lexicon struct {
	says  map[string][]*saying // by first stem, longest first
	not   map[string]string
	words []string // every stem of one word, sorted, for spelling
	known map[string]bool
}

type saying struct {
	stems    []string
	concepts []string
}

// word is something that was said, and in which clause: all that it may mean,
// or nothing if the lexicon lacks it.
type word struct {
	senses []sense
	clause int
}

// sense is a concept and whether it was denied.
type sense struct {
	concept string
	not     bool
}

// same says whether another word means the same.
func (t word) same(other word) bool { return len(t.senses) > 0 && slices.Equal(t.senses, other.senses) }

// drop takes a sense out of a word that has others.
func (t *word) drop(concept string) {
	t.senses = slices.DeleteFunc(t.senses, func(s sense) bool { return s.concept == concept && len(t.senses) > 1 })
}

// means returns the sense of a term that is a concept.
func (t word) means(concept string) (sense, bool) {
	for _, s := range t.senses {
		if s.concept == concept {
			return s, true
		}
	}
	return sense{}, false
}

func newLexicon(all []Concept) (*lexicon, error) {
	l := &lexicon{says: map[string][]*saying{}, not: map[string]string{}, known: map[string]bool{}}
	at := map[string]*saying{}
	for _, c := range all {
		if c.Not != "" {
			l.not[c.ID] = c.Not
		}
		for _, s := range strings.Split(c.ID+","+c.Says, ",") {
			stems := stemsOf(s)
			if len(stems) == 0 {
				return nil, fmt.Errorf("word %s: an empty saying", c.ID)
			}
			key := strings.Join(stems, " ")
			if at[key] == nil {
				at[key] = &saying{stems: stems}
				l.says[stems[0]] = append(l.says[stems[0]], at[key])
			}
			if k := at[key]; !slices.Contains(k.concepts, c.ID) {
				k.concepts = append(k.concepts, c.ID)
			}
			for _, w := range stems {
				l.known[w] = true
			}
		}
	}
	for _, s := range l.says {
		sort.SliceStable(s, func(i, j int) bool { return len(s[i].stems) > len(s[j].stems) })
	}
	for w := range l.known {
		if len(w) >= 4 {
			l.words = append(l.words, w)
		}
	}
	sort.Strings(l.words)
	return l, nil
}

func stemsOf(s string) []string {
	var out []string
	for _, w := range raws(s) {
		switch {
		case w == clauseEnd || fillers[w]:
		case denials[w]:
			out = append(out, denial)
		case joins[w]:
			out = append(out, w) // as spelled leaves it
		default:
			out = append(out, stem(w))
		}
	}
	return out
}

// denial stands for every word that denies, so that a saying with one is heard
// with any: "no grip", "doesn't grip", "never grips".
const denial = "not"

// clauseEnd stands in a list of words where a clause ends.
const clauseEnd = "|"

var fillers = set("the a an of my its it is are was were be been i me you your im ive this that there just really very quite a bit some little have has had will would can could do does did as if when with by from for he she they we us our their them which what who where am pm also or strong strongly")

// light are the stems of words that bind others and say nothing alone; they
// count only inside a saying.
var light = set("on at to too over one any each every same second first two here there than more most less off into through around down up back away only still even must see say goes go going come comes made make makes take takes like how no all after other thing things bik rider side way i")

var (
	joins      = set("but and then so until except unless only although though while")
	denials    = set("no not never without dont doesnt isnt wont cant cannot didnt wasnt arent neither nor hardly barely scarcely couldnt wouldnt hasnt havent hadnt aint werent lacks")
	denialEnds = set("when if with after once as from because since")
	denialMax  = 3 // how many concepts a denial reaches
)

// read returns the concepts that words say, in order.
func (l *lexicon) read(words string) []word {
	var out []word
	clause, reach := 0, 0
	stems, bounds := l.spelled(raws(words))
	for i := 0; i < len(stems); {
		w := stems[i]
		if bounds[i] {
			reach = 0
		}
		s := l.longest(stems[i:])
		switch {
		case s != nil:
			if joins[w] {
				clause++ // "then drops": a saying that begins another clause
				reach = 0
			}
			out = append(out, l.term(s, reach > 0, clause))
			if w == "right" && len(s.stems) == 1 && goesOn(stems[i+1:]) {
				out[len(out)-1].drop("good") // "right leg" is a side
			}
			reach--
			if w == "noth" {
				reach = 1 // "nothing bottoms"
			}
			i += len(s.stems)
			continue
		case w == clauseEnd || joins[w]:
			clause++
			reach = 0
		case denials[w]:
			reach = denialMax
		case !light[w]:
			out = append(out, word{clause: clause}) // a word that is not known
		}
		i++
	}
	return out
}

// goesOn says whether a clause has more words.
func goesOn(stems []string) bool {
	return len(stems) > 0 && stems[0] != clauseEnd && !joins[stems[0]]
}

// pattern reads the words of a phrase in the knowledge. Where a word is itself
// the name of a concept it means that concept alone; "not" denies the next.
func (l *lexicon) pattern(words string) ([]sense, error) {
	var out []sense
	stems, _ := l.spelled(raws(words))
	not := false
	for i := 0; i < len(stems); {
		s := l.longest(stems[i:])
		if s == nil && !denials[stems[i]] && !joins[stems[i]] {
			return nil, fmt.Errorf("phrase %q: no word %q", words, stems[i])
		}
		if s == nil {
			not = not || denials[stems[i]]
			i++
			continue
		}
		chosen := s.concepts[0]
		for _, c := range s.concepts {
			if strings.Join(stemsOf(c), " ") == strings.Join(s.stems, " ") {
				chosen = c
			}
		}
		t := l.term(&saying{concepts: []string{chosen}}, not, 0)
		out = append(out, t.senses[0])
		not = false
		i += len(s.stems)
	}
	return out, nil
}

// term is what a saying means; a denied concept that has an opposite is that.
func (l *lexicon) term(s *saying, not bool, clause int) word {
	t := word{clause: clause}
	for _, c := range s.concepts {
		if to, ok := l.not[c]; ok && not {
			t.senses = append(t.senses, sense{concept: to})
		} else {
			t.senses = append(t.senses, sense{c, not})
		}
	}
	return t
}

// longest returns the longest saying that stems begin with, or nil.
func (l *lexicon) longest(stems []string) *saying {
next:
	for _, s := range l.says[stems[0]] {
		if len(s.stems) > len(stems) {
			continue
		}
		for k, w := range s.stems {
			if stems[k] != w {
				continue next
			}
		}
		return s
	}
	return nil
}

// spelled stems words and mends a slip in each that the lexicon lacks: one
// letter in words of five, two from eight on, the first letter kept. Bounds
// tells before which a denial ends: "no hop when the clutch is in".
func (l *lexicon) spelled(all []string) (out []string, bounds []bool) {
	bound := false
	for i, w := range all {
		if denialEnds[w] && !(i > 0 && denials[all[i-1]]) {
			bound = true // but "not when I brake" denies what follows
		}
		if fillers[w] {
			continue
		}
		bounds = append(bounds, bound)
		bound = false
		if denials[w] {
			out = append(out, denial)
			continue
		}
		if w == clauseEnd || joins[w] {
			out = append(out, w)
			continue
		}
		s := stem(w)
		if !l.known[s] && len(w) >= 5 {
			s = l.nearest(s)
		}
		out = append(out, s)
	}
	return out, bounds
}

func (l *lexicon) nearest(w string) string {
	if w == "" || unicode.IsDigit(rune(w[0])) {
		return w
	}
	best, least := w, 1+len(w)/8
	from := sort.SearchStrings(l.words, w[:1])
	for _, k := range l.words[from:] {
		if k[0] != w[0] {
			break
		}
		if d := len(k) - len(w); d > least || -d > least {
			continue
		}
		if len(w) == len(k) && len(w) <= 5 && !sameLetters(w, k) {
			continue // another letter makes another word of a short one
		}
		if s := slips(w, k); s <= least && (best == w || s < least) {
			best, least = k, s
		}
	}
	return best
}

// sameLetters says whether two words are spelled with the same letters.
func sameLetters(a, b string) bool {
	x, y := []byte(a), []byte(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

// slips is the edit distance of two words; two neighbours that changed places
// are one slip. Source: Damerau, A technique for computer detection and
// correction of spelling errors, Communications of the ACM 1964.
func slips(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// raws cuts words into lower-case words without apostrophes, with clauseEnd
// where punctuation ends a clause. A number keeps its sign and decimals; what
// it says of age becomes the word old or new.
func raws(s string) []string {
	s = thousands(s)
	s = strings.NewReplacer("'", "", "’", "", ",", " | ", ";", " | ", ":", " ", "(", " | ", ")", " | ", ". ", " | ", "!", " | ", "?", " | ", "—", " | ", "–", " | ", "/", " / ", "-", " ").Replace(strings.ToLower(s))
	fields := strings.FieldsFunc(s, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("|+.", r)
	})
	sizes := 0 // two tyre sizes in one breath are a change of size
	for i := range fields {
		if tyreSize(fields[i:]) {
			sizes++
		}
	}
	var out []string
	for i, w := range fields {
		w = strings.Trim(w, ".")
		if w == "" {
			continue
		}
		if age := aged(w, fields[i+1:]); age != "" {
			w = age
		}
		if sizes > 1 && tyreSize(fields[i:]) {
			w = "size"
		}
		switch {
		case w == "once":
			w = oneTime(fields[i+1:])
		case w == "right" && i+1 < len(fields) && fields[i+1] == "for":
			w = "fine" // "right for my weight"
		case w == "well" && i > 0 && fields[i-1] == "as":
			w = "too"
		case i > 0 && isSpeed(fields[i-1:]):
			w = "band"
		}
		out = append(out, w)
	}
	return out
}

// thousands takes out the commas inside numbers.
func thousands(s string) string {
	digit := func(i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }
	var out strings.Builder
	for i := range len(s) {
		if s[i] == ',' && digit(i-1) && digit(i+1) && digit(i+2) && digit(i+3) {
			continue
		}
		out.WriteByte(s[i])
	}
	return out.String()
}

// aged reads a number that tells an age: two years or seasons, 15,000 km, six
// heat cycles, a year of make. The limits are common practice, no source.
func aged(w string, after []string) string {
	most := map[string]float64{"year": 1.9, "years": 1.9, "yrs": 1.9, "yr": 1.9, "seasons": 1.9, "winters": 1.9, "km": 12000, "kms": 12000, "miles": 8000, "k": 12, "cycles": 5}
	text := strings.ReplaceAll(w, ",", "")
	unit := ""
	for u := range most {
		if n := strings.TrimSuffix(text, u); n != text {
			if _, err := strconv.ParseFloat(n, 64); err == nil && len(u) > len(unit) {
				unit = u
			}
		}
	}
	text = strings.TrimSuffix(text, unit)
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return ""
	}
	for k := 0; unit == "" && k < min(2, len(after)); k++ {
		if _, ok := most[after[k]]; ok {
			unit = after[k]
		} else if after[k] == "000" {
			x *= 1000
		}
	}
	limit, ok := most[unit]
	switch {
	case unit == "" && len(text) == 4 && x >= 1990 && x < 2100, ok && x > limit:
		return "old"
	case ok && (unit == "year" || unit == "km"):
		return ""
	}
	return ""
}

// tyreSize says whether words begin with a tyre's width and profile: 180/55.
func tyreSize(words []string) bool {
	if len(words) < 2 {
		return false
	}
	width, no := strconv.Atoi(words[0])
	profile, nor := strconv.Atoi(words[1])
	return no == nil && nor == nil && width >= 90 && width <= 240 && width%5 == 0 && profile >= 40 && profile <= 90 && profile%5 == 0
}

// isSpeed says whether words begin with "at 160" and nothing says what of.
func isSpeed(words []string) bool {
	x, err := strconv.Atoi(words[1])
	if err != nil || x < 50 || x > 320 || !set("at from between around about above over")[words[0]] {
		return false
	}
	return len(words) == 2 || !set("mm psi kpa kg n c degrees board m metres meters percent")[words[2]]
}

// oneTime tells "it happened once" from "once it is warm": what follows is
// the end, or where it was.
func oneTime(after []string) string {
	if len(after) == 0 || after[0] == clauseEnd || joins[after[0]] || set("in at on only this")[after[0]] {
		return "sometimes"
	}
	return "when"
}

// unlike are words that their endings would make into others.
var unlike = map[string]string{"wheelies": "wheelie", "wheelie": "wheelie", "tiring": "tiring", "pumped": "pumped", "one": "one", "ones": "ones", "edgy": "edgy", "edging": "edging", "oily": "oily", "springy": "springy"}

// stem cuts the usual endings of a word, a plural before the others.
func stem(w string) string {
	if own := unlike[w]; own != "" {
		return own
	}
	if cut := strings.TrimSuffix(w, "s"); len(cut) > 2 && !strings.HasSuffix(cut, "s") && !strings.HasSuffix(cut, "u") {
		w = cut
	}
	for _, suffix := range []string{"ing", "ed", "ie", "ly", "y"} {
		if cut := strings.TrimSuffix(w, suffix); cut != w && (len(cut) > 3 || len(cut) == 3 && len(suffix) < 3 && suffix != "ed") {
			w = cut
			break
		}
	}
	if k := len(w); k > 3 && w[k-1] == w[k-2] && w[k-1] != 's' && w[k-1] != 'l' {
		w = w[:k-1]
	}
	return strings.TrimSuffix(w, "e")
}

func set(words string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(words) {
		out[w] = true
	}
	return out
}
