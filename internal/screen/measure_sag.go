package screen

import (
	"fmt"

	"plumbline/internal/book"
	"plumbline/internal/chassis"
)

// endNames are the two ends, with the settings that stand on sag there.
var endNames = []struct {
	end, name string
	preload   book.AdjusterID
	oil       string
}{
	{"front", "Front", "front.preload", "fork-oil"},
	{"rear", "Rear", "rear.preload", "shock-oil"},
}

var uses = []Choice{{"race", "Track, race"}, {"road", "Road, sport"}, {"offroad", "Off road"}}

// sagTopics is how the bike sits: the first thing to measure.
func sagTopics() []topic {
	var out []topic
	for _, e := range endNames {
		out = append(out, sagOf(e.end, e.name, e.preload, e.oil))
	}
	return append(out, barTopics()...)
}

func sagOf(end, name string, preload book.AdjusterID, oil string) topic {
	points := "Hold the tape along the fork: middle of the axle to the lower edge of the lower clamp."
	off := "Get the front wheel off the ground: a helper pulls the bike over on its side stand, or a stand under the head."
	if end == "rear" {
		points = "Hold the tape straight up from the middle of the axle to a mark on the tail. Put tape there and draw a line."
		off = "Get the rear wheel off the ground: a helper pulls the bike over on its side stand."
	}
	nobody, you := "Both wheels on the ground, upright, nobody on. ", "You on it in full kit, feet on the pegs; one helper holds the bike, one reads. "
	push, lift := "Push down about 25 mm, let it rise by itself, read.", "Lift about 25 mm, let it settle by itself, read."
	return topic{
		id: "sag-" + end, name: name + " sag", group: measureGroups[0], what: "How far the " + end + " settles, with you and without",
		needs: "A tape, two helpers, ten minutes. Tyres at riding pressure, tank as you ride.",
		why:   "Sag says whether the spring suits your weight and whether the wheel can follow a dip as well as a bump. Everything else is set on top of it: clicks cannot mend a wrong spring. Friction makes one reading lie, so each is taken twice and averaged.",
		asks: []ask{
			{symbol: "extended", calc: "sag", input: "extended", title: "Fully extended", how: off + " " + points},
			{symbol: "free_pushed", calc: "sag", input: "pushed", title: "By itself, pushed down", how: nobody + push, maybe: true},
			{symbol: "free_lifted", calc: "sag", input: "lifted", title: "By itself, lifted", how: nobody + lift, maybe: true},
			{symbol: "rider_pushed", calc: "sag", input: "pushed", title: "With you, pushed down", how: you + push},
			{symbol: "rider_lifted", calc: "sag", input: "lifted", title: "With you, lifted", how: you + lift},
			{symbol: "travel", calc: "sag", input: "travel", title: "Whole travel of the wheel", how: "From the machine's manual.", lasting: true, maybe: true},
			{symbol: "use", calc: "sag", input: "use", title: "What do you ride?", how: "Ranges differ by it.", options: uses, lasting: true},
		},
		moved: []book.AdjusterID{preload}, works: []string{oil}, days: 365,
		draw: sagScene(end),
		run:  func(r round, out *Reading) []book.Refusal { return readSag(r, end, out) },
	}
}

// readSag averages the readings, and holds both sags against their ranges.
func readSag(r round, end string, out *Reading) []book.Refusal {
	rider, refused := r.calc("sag", "extended", "extended", "pushed", "rider_pushed", "lifted", "rider_lifted", "travel", "travel", "with", "=rider")
	if refused != nil {
		return refused
	}
	sag := numberOf(rider, "sag")
	says := mm(sag) + " under you"
	out.Cautions = append(out.Cautions, rider.Cautions...)
	out.Values = append(out.Values, NamedValue{"Rider sag", shownOf(rider, "sag")}, NamedValue{"It sticks within", shownOf(rider, "stiction")})
	if share := shownOf(rider, "share"); share != "" {
		out.Values = append(out.Values, NamedValue{"Share of the travel", share})
	}
	want, err := chassis.SagRange(chassis.End(end), chassis.Use(r.word("use")))
	if err != nil {
		return []book.Refusal{{Field: "use", Says: "There is no range for this.", Mend: "Pick one of the uses."}}
	}
	out.Gauges = append(out.Gauges, gauge("Rider sag", sag, want.RiderLo, want.RiderHi, want.Source))
	if !r.has("free_pushed", "free_lifted") {
		out.Says = append(out.Says, says+".", "Without free sag nothing can be said of the spring's rate.")
		return nil
	}
	free, refused := r.calc("sag", "extended", "extended", "pushed", "free_pushed", "lifted", "free_lifted", "with", "=free")
	if refused != nil {
		return refused
	}
	pair, refused := r.calc("sag-pair", "end", "="+end, "use", "use", "free", fmt.Sprintf("=%.2fmm", numberOf(free, "sag")), "rider", fmt.Sprintf("=%.2fmm", sag), "travel", "travel")
	if refused != nil {
		for i := range refused {
			refused[i].Field = "free_pushed"
		}
		return refused
	}
	out.Says = append(out.Says, says+", "+mm(numberOf(free, "sag"))+" by itself.")
	out.Says = append(out.Says, pair.Says...)
	out.Values = append(out.Values, NamedValue{"Free sag", shownOf(free, "sag")})
	if want.FreeHi > 0 {
		out.Gauges = append(out.Gauges, gauge("Free sag", numberOf(free, "sag"), want.FreeLo, want.FreeHi, want.Source))
	}
	out.Cautions = also(out.Cautions, pair.Cautions...)
	return nil
}

// gauge is a bar around a range in mm.
func gauge(name string, at, from, to float64, source string) Gauge {
	says := "in the range"
	switch {
	case at < from:
		says = fmt.Sprintf("%.0f mm below the range", from-at)
	case at > to:
		says = fmt.Sprintf("%.0f mm above the range", at-to)
	}
	return Gauge{Name: name, Unit: "mm", Lo: 0, Hi: max(to*1.6, at*1.15), From: from, To: to, At: at, Shown: mm(at), Says: fmt.Sprintf("%s is %s: %s (range %.0f to %.0f mm).", name, mm(at), says, from, to), Source: source}
}

// sagNumbers are the sags of an end as its last measurement gives them; ok is
// false when there is none. A book of an older app has them ready made.
func sagNumbers(k *book.Bike, end string) (free, rider, spread *float64) {
	if m, ok := k.Measures["sag-"+end]; ok {
		v := func(symbol string) float64 { return m.Body.Values[symbol].Float() }
		if _, ok := m.Body.Values["rider_pushed"]; ok {
			if s, err := chassis.SagFrom(v("extended"), v("rider_pushed"), v("rider_lifted")); err == nil {
				rider, spread = &s.Sag, &s.Stiction
			}
		}
		if _, ok := m.Body.Values["free_pushed"]; ok {
			if s, err := chassis.SagFrom(v("extended"), v("free_pushed"), v("free_lifted")); err == nil {
				free = &s.Sag
			}
		}
		return free, rider, spread
	}
	old := k.Measures["sag"].Body.Values
	pick := func(symbol string) *float64 {
		f, ok := old[symbol]
		if !ok {
			return nil
		}
		v := f.Float()
		return &v
	}
	return pick(end + "_free"), pick(end + "_rider"), nil
}

// sagFrom is a sag of the book as typed.
func sagFrom(end string, rider bool) func(round) string {
	return func(r round) string {
		free, with, _ := sagNumbers(r.k, end)
		v := free
		if rider {
			v = with
		}
		if v == nil {
			return ""
		}
		return fmt.Sprintf("%.1fmm", *v)
	}
}

// springTopics are springs and travel.
func springTopics() []topic {
	out := []topic{weightTopic()}
	for _, e := range endNames {
		out = append(out, springOf(e.end, e.name, e.preload))
	}
	for _, e := range endNames {
		out = append(out, travelOf(e.end, e.name))
	}
	out = append(out, forkTopic(), wireTopic(), frequencyTopic())
	for _, e := range endNames {
		out = append(out, bounceTopic(e.end, e.name, e.oil))
	}
	return out
}

func springOf(end, name string, preload book.AdjusterID) topic {
	t := topic{
		id: "spring-" + end, name: name + " spring", group: measureGroups[1], what: "Which spring suits you, and which is in there",
		needs: "Your sags, bathroom scales that bear the bike, a block as high as the scales, a helper.",
		why:   "The two sags and what you weigh on this end name the spring that is in there, whatever is printed on it. Preload only lifts the bike; the rate decides how far you sink it further. So before you buy a spring, work it out.",
		asks: []ask{
			{symbol: "free", calc: "spring-rate", input: "free", title: "Free sag", how: "By itself. Or type a sag that you want, to see which spring gives it.", from: sagFrom(end, false), book: "your last sag"},
			{symbol: "rider", calc: "spring-rate", input: "rider", title: "Rider sag", how: "With you on it.", from: sagFrom(end, true), book: "your last sag"},
			{symbol: "rider_load", calc: "spring-rate", input: "rider-load", title: "What you add on this end", how: "The " + end + " wheel on scales, the other on a block as high. Read with you on in full kit, then without: type the difference.", lasting: true, from: addedLoad(end), book: "the weights"},
			{symbol: "load", calc: "spring-rate", input: "load", title: "What it carries without you", how: "The same scales with nobody on, less the wheel and half of what moves with it. With it you learn the preload, too.", lasting: true, maybe: true},
		},
		moved: []book.AdjusterID{preload}, draw: springScene(end),
	}
	legs, ratio := "=2", "=1"
	if end == "rear" {
		legs, ratio = "=1", "motion_ratio"
		t.asks = append(t.asks, ask{symbol: "motion_ratio", calc: "spring-rate", input: "motion-ratio", title: "Motion ratio", how: "Shock travel over wheel travel. Measure both at two heights of the wheel and divide: 20 mm at the shock for 40 mm at the wheel is 0.5.", lasting: true, from: fromTopic("geometry", "motion_ratio"), book: "the geometry"})
	}
	t.run = func(r round, out *Reading) []book.Refusal {
		res, refused := r.calc("spring-rate", "free", "free", "rider", "rider", "rider-load", "rider_load", "load", "load", "motion-ratio", ratio, "legs", legs)
		if refused == nil {
			out.take(res)
		}
		return refused
	}
	return t
}

func travelOf(end, name string) topic {
	rod, tie := "stanchion", "Put a cable tie around the stanchion, ride, and measure from the seal to the tie."
	if end == "rear" {
		rod, tie = "shock shaft", "Put a cable tie around the shock's shaft, ride, and measure from the body to the tie."
	}
	return topic{
		id: "travel-" + end, name: name + " travel used", group: measureGroups[1], what: "How much of the travel a session uses",
		needs: "A cable tie on the " + rod + ", a small rule, a session.",
		why:   "A tie on the " + rod + " shows how much travel a lap really used. Travel that is never used is grip given away; travel used up at every bump means the end bottoms. It is the cheapest data logger there is.",
		asks: []ask{
			{symbol: "used", calc: "travel", input: "used", how: tie},
			{symbol: "stand", calc: "travel", input: "stand", title: "How far it was settled while you measured", how: "0 with the wheel in the air. On its wheels without you it is the free sag, at the " + rod + ".", maybe: true},
			{symbol: "travel", calc: "travel", input: "travel", title: "Whole travel on the same rod", lasting: true},
		},
		moved: []book.AdjusterID{book.AdjusterID(end + ".preload"), book.AdjusterID(end + ".compression")}, days: 180, draw: travelScene(end),
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("travel", "used", "used", "stand", "stand", "travel", "travel")
			if refused != nil {
				return refused
			}
			out.take(res)
			g := Gauge{Name: "Travel used", Unit: "mm", Hi: r.n("travel"), At: numberOf(res, "used"), Shown: shownOf(res, "used")}
			g.Says = unstopped(out.Says[0]) + "."
			out.Gauges = append(out.Gauges, g)
			return nil
		},
	}
}
