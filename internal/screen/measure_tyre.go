package screen

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"plumbline/internal/book"
)

// tyreTopics are pressures, temperatures and age.
func tyreTopics() []topic {
	var out []topic
	for _, e := range endNames {
		out = append(out, coldTopic(e.end, e.name))
	}
	out = append(out, dayTopic())
	for _, e := range endNames {
		out = append(out, treadTopic(e.end, e.name))
	}
	return append(out, ageTopic())
}

// coldTopic works out today's cold pressure from the rider's own pairs.
func coldTopic(end, name string) topic {
	return topic{
		id: "cold-" + end, name: name + " cold pressure", group: measureGroups[4], what: "Which cold pressure gives the hot pressure that you want today",
		needs: "A gauge, pressures cold and straight after a session, a thermometer.",
		why:   "What counts on track is the pressure when hot, but it has to be set cold. Your own pairs from this tyre at this track show how warm it gets there. From them follows today's cold pressure, with an honest interval.",
		asks: []ask{
			{symbol: "track", calc: "tyre", input: "new", title: "Which track?", how: "Pairs from your sessions there are taken.", pick: tracksOf, maybe: true, from: lastTrack, book: "your last session", only: func(r round) bool { return len(r.ask.Book.Tracks) > 0 }},
			{symbol: "cold", calc: "pressure", input: "pressure", title: "A pair of your own: cold", how: "Before a session, as it came off the gauge. Leave it out where your sessions have pairs.", maybe: true},
			{symbol: "cold_at", calc: "cold-pressure", input: "today", title: "Temperature then", how: "Of the tyre when it was cold: the air's, or the warmer's.", only: func(r round) bool { return r.has("cold") }},
			{symbol: "hot", calc: "pressure", input: "pressure", title: "The same pair: hot", how: "Straight after the session, before it cools.", only: func(r round) bool { return r.has("cold") }},
			{symbol: "wanted", calc: "cold-pressure", input: "wanted", title: "Hot pressure that you want", how: "From the tyre maker's sheet for this tyre and use.", lasting: true},
			{symbol: "today", calc: "cold-pressure", input: "today", title: "Temperature today", how: "Of the tyre when you set the pressure: the air in the shade, or the warmer's."},
		},
		days: 30,
		draw: gaugeScene(end),
		run:  func(r round, out *Reading) []book.Refusal { return readCold(r, end, out) },
	}
}

// readCold hands the book's pairs and the rider's own to the arithmetic.
func readCold(r round, end string, out *Reading) []book.Refusal {
	cold, hot, at := pairsAt(r.k, end, book.TrackID(r.word("track")))
	used := len(cold)
	if r.has("cold", "hot", "cold_at") {
		cold, hot, at = append(cold, kPa(r.n("cold"))), append(hot, kPa(r.n("hot"))), append(at, fmt.Sprintf("%.1fC", r.n("cold_at")))
	}
	if len(cold) == 0 {
		return []book.Refusal{{Field: "cold", Says: "No pair of a cold and a hot pressure is known for this tyre here.", Mend: "Type one pair, or note hot pressures when you come in."}}
	}
	if r.has("cold", "hot") && r.n("hot") <= r.n("cold") {
		return []book.Refusal{{Field: "hot", Says: "The hot pressure is not above the cold one.", Mend: "Check which reading was which."}}
	}
	res, refused := r.calc("cold-pressure", "cold", "="+strings.Join(cold, ","), "hot", "="+strings.Join(hot, ","), "temperatures", "="+strings.Join(at, ","), "wanted", "wanted", "today", "today")
	if refused != nil {
		return refused
	}
	s := shower{r.ask.Book}
	f := func(symbol string) string {
		return pressureIn(s.b, fixedOf(numberOf(res, symbol))) + " " + pressureUnit(s.b)
	}
	out.Says = append(out.Says, fmt.Sprintf("Set %s cold for %s hot.", f("cold"), pressureIn(s.b, fixedOf(r.n("wanted")))+" "+pressureUnit(s.b)))
	if used > 0 {
		out.Says = append(out.Says, fmt.Sprintf("It rests on %s of cold and hot pressure, %d of them from your sessions.", many(len(cold), "pair"), used))
	}
	if len(cold) > 1 {
		out.Says = append(out.Says, fmt.Sprintf("In 19 of 20 cases the right figure lies between %s and %s.", f("low"), f("high")))
	} else {
		out.Says = append(out.Says, "One pair shows no scatter, so there is no interval yet: write down every pair.")
	}
	out.Cautions = append(out.Cautions, res.Cautions...)
	out.values(res)
	return nil
}

func kPa(v float64) string { return fmt.Sprintf("%.2fkPa", v) }

// pairsAt are a tyre's cold and hot pressures of the sessions at a track, with
// the air's temperature; a session without all three is left out.
func pairsAt(k *book.Bike, end string, track book.TrackID) (cold, hot, at []string) {
	set := k.Settings[book.AdjusterID(end+".pressure")]
	for _, n := range k.Sessions {
		c, h := n.Body.ColdFront, n.Body.Front
		if end == "rear" {
			c, h = n.Body.ColdRear, n.Body.Rear
		}
		if c == nil && set != nil {
			c, _ = stoodAt(set, n.Wall)
		}
		if h == nil || n.Body.Air == nil || track != "" && n.Body.Track != track {
			continue
		}
		if c == nil || *h <= *c {
			continue
		}
		cold, hot, at = append(cold, kPa(c.Float())), append(hot, kPa(h.Float())), append(at, n.Body.Air.String()+"C")
	}
	return cold, hot, at
}

func tracksOf(r round) []Choice {
	var out []Choice
	for id, t := range r.ask.Book.Tracks {
		out = append(out, Choice{string(id), t.Name})
	}
	slices.SortFunc(out, func(a, b Choice) int { return strings.Compare(a.Name, b.Name) })
	return out
}

func lastTrack(r round) string {
	for _, n := range slices.Backward(r.k.Sessions) {
		if n.Body.Track != "" {
			return string(n.Body.Track)
		}
	}
	return ""
}

func gaugeScene(end string) func(round) Scene {
	return func(r round) Scene {
		p := &pencil{asked: r.asked}
		at := p.bike(r.stanceFor())
		w := at.front
		if end == "rear" {
			w = at.rear
		}
		valve := w.polar(w.z*0.66, 200)
		p.line("hand", valve, valve.polar(160, 160))
		p.circle("hand", valve.polar(250, 160), 90)
		p.line("hand", valve.polar(250, 160), valve.polar(310, 130))
		words := map[string]string{"cold": "cold", "hot": "straight after", "wanted": "hot, wanted", "today": "today", "cold_at": "then"}[r.asked]
		if words != "" {
			p.words("hand", words, valve.polar(250, 160).add(0, 120))
		}
		return p.scene("A gauge on the valve of the "+end+" wheel.", 40)
	}
}

// dayTopic corrects a pressure for another temperature or altitude.
func dayTopic() topic {
	return topic{
		id: "pressure-day", name: "Pressure on another day", group: measureGroups[4], what: "What a pressure becomes at another temperature or height",
		needs: "A gauge, both temperatures, the heights from a map.",
		why:   "Air in a tyre follows the absolute temperature: some 10 °C are worth about 3 % of the absolute pressure. A gauge shows the difference to the air outside, which is thinner up a mountain. So the same tyre reads otherwise on a cold morning or at a high track.",
		asks: []ask{
			{symbol: "pressure", calc: "pressure", input: "pressure", title: "Pressure", how: "As the gauge shows it.", from: setting("front.pressure"), book: "the front tyre's setting"},
			{symbol: "from", calc: "pressure", input: "from", title: "Temperature there", how: "Of the tyre when you read the gauge."},
			{symbol: "to", calc: "pressure", input: "to", title: "The other temperature", maybe: true, how: "Of the tyre then. Leave it out to correct for height only."},
			{symbol: "altitude", calc: "pressure", input: "altitude", title: "Height there", how: "Above the sea.", maybe: true},
			{symbol: "to_altitude", calc: "pressure", input: "to-altitude", title: "The other height", how: "Above the sea.", maybe: true},
		},
		draw: gaugeScene("front"),
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("pressure", "pressure", "pressure", "from", "from", "to", "to", "altitude", "altitude", "to-altitude", "to_altitude")
			if refused == nil {
				out.take(res)
			}
			return refused
		},
	}
}

func treadTopic(end, name string) topic {
	how := "With a needle probe 2 mm into the tread, within a minute of stopping, the side that the track works hardest first."
	return topic{
		id: "tread-" + end, name: name + " tread temperatures", group: measureGroups[4], what: "Which part of the tread works, and what that does not say",
		needs: "A needle probe, a minute straight after a session.",
		why:   "Three temperatures show which part of the tread works. A middle that is hotter than the edges points to pressure, one edge hotter than the other to lines and lean. A number by itself says little: compare sessions on the same tyre and track.",
		asks: []ask{
			{symbol: "inner", calc: "tread", input: "inner", title: "Left edge", how: how},
			{symbol: "middle", calc: "tread", input: "middle", title: "Middle", how: how},
			{symbol: "outer", calc: "tread", input: "outer", title: "Right edge", how: how},
		},
		days: 30,
		draw: treadScene,
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("tread", "inner", "inner", "middle", "middle", "outer", "outer")
			if refused != nil {
				return refused
			}
			for i := range res.Says {
				res.Says[i] = strings.NewReplacer("inner edge", "left edge", "outer one", "right one").Replace(res.Says[i])
			}
			out.take(res)
			return nil
		},
	}
}

func treadScene(r round) Scene {
	p := &pencil{asked: r.asked}
	round := []spot{{-95, -60}}
	for angle := 170.0; angle >= 10; angle -= 10 {
		at := spot{0, -10}.polar(80, angle)
		round = append(round, spot{at.x * 1.13, at.z})
	}
	p.line("tube", append(round, spot{95, -60})...)
	for _, at := range []struct {
		symbol, name string
		to           spot
		angle        float64
	}{{"inner", "left", spot{-72, 30}, 140}, {"middle", "middle", spot{0, 70}, 90}, {"outer", "right", spot{72, 30}, 40}} {
		role := handIf(at.symbol == r.asked)
		p.line(role, at.to.polar(-8, at.angle), at.to.polar(45, at.angle))
		words := at.name
		if r.has(at.symbol) {
			words = shower{r.ask.Book}.temperature(fixedOf(r.n(at.symbol)))
		}
		p.words(role, words, at.to.polar(66, at.angle))
	}
	return p.scene("A tyre in section, from behind: a needle probe goes into the tread at the left edge, the middle and the right edge.", 25)
}

func ageTopic() topic {
	return topic{
		id: "tyre-age", name: "Tyre age", group: measureGroups[4], what: "How old the tyres are, and how many sessions they have seen",
		needs: "Good light; the code may be on the other side of the tyre.",
		why:   "Rubber hardens with years and with every time it is heated and cooled. The code on the sidewall tells the week in which a tyre was made. An old tyre can look new and still let go.",
		asks: []ask{
			{symbol: "front", calc: "tyre-age", input: "code", title: "Front tyre's date code", how: "The last four digits after DOT, in a small frame: week and year, such as 2723.", typed: true, maybe: true, lasting: true},
			{symbol: "rear", calc: "tyre-age", input: "code", title: "Rear tyre's date code", how: "The last four digits after DOT: week and year.", typed: true, maybe: true, lasting: true},
		},
		days: 365,
		draw: func(r round) Scene {
			p := &pencil{asked: r.asked}
			p.circle("tyre", spot{0, 0}, 290)
			p.circle("soft", spot{0, 0}, 215)
			p.box("hand", -95, 212, 95, 282)
			code := r.word(r.asked)
			if code == "" {
				code = "2723"
			}
			p.words("hand", "DOT … "+code, spot{0, 320})
			return p.scene("A tyre from its side: the date code stands in a small frame near the rim, after the letters DOT.", 30)
		},
		run: readAge,
	}
}

// readAge reads both codes, and counts the sessions since a tyre was fitted.
func readAge(r round, out *Reading) []book.Refusal {
	now := r.ask.Now.Format(time.DateOnly)
	if !r.at.IsZero() {
		now = r.at.Format(time.DateOnly)
	}
	for _, end := range []string{"front", "rear"} {
		if !r.has(end) {
			continue
		}
		res, refused := r.calc("tyre-age", "code", end, "today", "="+now)
		if refused != nil {
			return refused
		}
		for i, s := range res.Says {
			if i == 0 {
				s = capital(end) + " tyre: " + lower(s)
			}
			out.Says = append(out.Says, s)
		}
		out.Cautions = also(out.Cautions, res.Cautions...)
	}
	if len(out.Says) == 0 {
		return []book.Refusal{{Field: "front", Says: "No code is typed yet.", Mend: "Read one of them."}}
	}
	out.Says = append(out.Says, heatSays(r))
	return nil
}

// heatSays counts the sessions since a tyre was fitted.
func heatSays(r round) string {
	since, n := time.Time{}, 0
	for _, part := range r.k.Parts {
		if name := strings.ToLower(part.Body.Part); strings.Contains(name, "tyre") || strings.Contains(name, "tire") {
			since = part.Wall
		}
	}
	for _, s := range r.k.Sessions {
		if s.Wall.After(since) {
			n++
		}
	}
	from := "in this book"
	if !since.IsZero() {
		from = "since a tyre was fitted, " + shower{r.ask.Book}.day(since, r.ask.Now)
	}
	return fmt.Sprintf("%s %s: each is one time hot and cold again.", capital(many(n, "session")), from)
}
