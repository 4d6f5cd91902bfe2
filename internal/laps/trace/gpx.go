package trace

import (
	"strconv"
	"strings"
	"time"
)

const brokenOff = "The file breaks off or is damaged here. What came before is kept."

// ReadGPX reads the track points of a GPX 1.1 file. A point with a broken
// position is listed in Bad; one without a readable time makes no lap, so it
// is listed too, and kept in Untimed, which is enough for a map. When the file
// breaks off, what came before is kept and the last Bad says so. Source: GPX
// 1.1 schema, topografix (elements trk, trkseg, trkpt, time).
//
// It has its own small reader of tags instead of encoding/xml, which would add
// a tenth to what a phone downloads; a fuzz test holds the two together.
func ReadGPX(text string) Trace {
	var t Trace
	g := gpxReader{trace: &t, tags: tags{text: strings.ToValidUTF8(text, "�")}}
	g.read()
	if len(t.Points)+len(t.Untimed)+len(t.Bad) == 0 {
		t.bad(1, "There is no track in this file. Export it as GPX with track points and times.")
	}
	t.tidy()
	return t
}

// gpxReader is where the reader stands: how deep inside a track point, 0 outside.
type gpxReader struct {
	trace    *Trace
	tags     tags
	n, depth int
	inTime   bool
	lat, lon string
	at       strings.Builder
}

func (g *gpxReader) read() {
	for {
		g.tags.next()
		switch {
		case g.tags.broken || g.tags.done && g.depth > 0:
			g.trace.bad(max(g.n, 1), brokenOff)
			return
		case g.tags.done:
			return
		}
		if g.inTime && g.depth == 2 {
			g.at.WriteString(g.tags.before)
		}
		g.take(g.tags.tag)
	}
}

func (g *gpxReader) take(t tag) {
	switch {
	case g.depth == 0 && t.opens && t.name == "trkpt":
		g.n++
		g.lat, g.lon = attribute(t.inside, "lat"), attribute(t.inside, "lon")
		g.at.Reset()
		g.depth = 1
	case g.depth > 0 && t.opens:
		g.depth++
		if g.depth == 2 && t.name == "time" {
			g.inTime = true
			g.at.Reset()
		}
	}
	if g.depth > 0 && t.closes {
		if g.depth == 2 {
			g.inTime = false
		}
		if g.depth--; g.depth == 0 {
			g.trace.gpxPoint(g.n, g.lat, g.lon, g.at.String())
		}
	}
}

func (t *Trace) gpxPoint(n int, lat, lon, at string) {
	la, err1 := strconv.ParseFloat(strings.TrimSpace(lat), 64)
	lo, err2 := strconv.ParseFloat(strings.TrimSpace(lon), 64)
	if err1 != nil || err2 != nil {
		t.bad(n, "This point has no readable position.")
		return
	}
	when, err := time.Parse(time.RFC3339Nano, strings.TrimSpace(at))
	if err != nil {
		t.bad(n, "This point has no readable time, so it cannot make a lap.")
		if p := (Point{Lat: la, Lon: lo}); p.onEarth() {
			t.Untimed = append(t.Untimed, p)
		}
		return
	}
	t.add(n, Point{la, lo, float64(when.Unix()) + float64(when.Nanosecond())/1e9})
}

// tag is one tag: its name without a prefix, and what stands inside it. A tag
// such as <x/> opens and closes.
type tag struct {
	name, inside  string
	opens, closes bool
}

// tags goes through a text from tag to tag. Before is the text between the
// last one and this; comments, declarations and the like are passed over.
type tags struct {
	text         string
	tag          tag
	before       string
	done, broken bool
}

func (s *tags) next() {
	s.before = ""
	for {
		at := strings.IndexByte(s.text, '<')
		if at < 0 {
			s.done = true
			return
		}
		s.before += s.text[:at]
		s.text = s.text[at:]
		switch {
		case strings.HasPrefix(s.text, "<![CDATA["):
			inside, ok := s.until("<![CDATA[", "]]>")
			s.before += inside
			s.broken = !ok
		case strings.HasPrefix(s.text, "<!--"):
			_, ok := s.until("<!--", "-->")
			s.broken = !ok
		case strings.HasPrefix(s.text, "<?"):
			_, ok := s.until("<?", "?>")
			s.broken = !ok
		default:
			declared := strings.HasPrefix(s.text, "<!")
			if s.broken = !s.readTag(declared); !declared {
				return
			}
		}
		if s.broken {
			return
		}
	}
}

// until takes what lies between two marks off the text.
func (s *tags) until(from, to string) (inside string, ok bool) {
	inside, s.text, ok = strings.Cut(s.text[len(from):], to)
	return inside, ok
}

// readTag takes a tag off the text. A > in quotes does not end it, nor one
// that belongs to a < inside a declaration.
func (s *tags) readTag(declared bool) bool {
	quote, open := byte(0), 1
	for i := 1; i < len(s.text); i++ {
		switch c := s.text[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '<' && declared:
			open++
		case c == '>':
			if open--; open == 0 {
				s.tag = newTag(s.text[1:i])
				s.text = s.text[i+1:]
				return true
			}
		}
	}
	return false
}

func newTag(inside string) tag {
	t := tag{opens: true}
	if rest, ok := strings.CutPrefix(inside, "/"); ok {
		return tag{name: local(strings.TrimSpace(rest)), closes: true}
	}
	inside, t.closes = strings.CutSuffix(inside, "/")
	end := strings.IndexAny(inside, " \t\r\n")
	if end < 0 {
		end = len(inside)
	}
	t.name, t.inside = local(inside[:end]), inside[end:]
	return t
}

// local is a name without its prefix.
func local(name string) string { return name[strings.LastIndexByte(name, ':')+1:] }

// attribute finds the last value of an attribute in the inside of a tag.
func attribute(inside, name string) string {
	found := ""
	for {
		key, rest, ok := strings.Cut(inside, "=")
		if !ok {
			return found
		}
		rest = strings.TrimLeft(rest, " \t\r\n")
		if rest == "" {
			return found
		}
		value, after, ok := strings.Cut(rest[1:], rest[:1])
		if !ok {
			return found
		}
		if local(strings.TrimSpace(key)) == name {
			found = value
		}
		inside = after
	}
}
