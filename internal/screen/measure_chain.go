package screen

import (
	"fmt"
	"math"

	"plumbline/internal/book"
)

var chainSizes = []Choice{{"415", "415"}, {"420", "420"}, {"428", "428"}, {"520", "520"}, {"525", "525"}, {"530", "530"}}

// teeth and chain are asked in several topics alike; the book mostly has them.
func teethAsk(calcID, end string) ask {
	return ask{symbol: "teeth_" + end, calc: calcID, input: end, title: capital(end) + " sprocket", how: "Count the teeth, or read the number on it.", lasting: true, from: setting(book.AdjusterID("sprocket." + end)), book: "the book"}
}

func chainAsk(calcID string) ask {
	return ask{symbol: "chain", calc: calcID, input: "chain", title: "Chain size", how: "The number on the side plates.", options: chainSizes, lasting: true, from: fromTopic("gearing", "chain"), book: "the gearing"}
}

// chainTopics are chain and gearing.
func chainTopics() []topic {
	return []topic{wearTopic(), alignmentTopic(), slackTopic(), gearingTopic(), squatTopic()}
}

func wearTopic() topic {
	return topic{
		id: "chain-wear", name: "Chain wear", group: measureGroups[3], what: "How much longer the chain has become",
		needs: "A long rule or tape, a weight or a hand to pull the chain straight.",
		why:   "A worn chain is longer, climbs the teeth and can jump or break. Length over twenty pitches shows it before you feel it. Measure at several places: chains wear unevenly.",
		asks: []ask{
			chainAsk("chain-wear"),
			{symbol: "pitches", calc: "chain-wear", input: "pitches", title: "Pitches you measure over", how: "Twenty is usual: count 21 pins.", lasting: true},
			{symbol: "length", calc: "chain-wear", input: "measured", title: "Length over these pitches", how: "Pull the chain straight. From the middle of the first pin to the middle of the last. Take the longest of several places."},
			{symbol: "limit", calc: "chain-wear", input: "limit", title: "Limit in your manual", how: "As a length over the same number of pitches. Never take another machine's limit.", lasting: true, maybe: true},
		},
		works: []string{"chain"}, days: 120,
		draw: wearScene,
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("chain-wear", "measured", "length", "pitches", "pitches", "limit", "limit", "chain", "chain")
			if refused != nil {
				return refused
			}
			out.take(res)
			if limit := numberOf(res, "limit"); limit > 0 {
				e := numberOf(res, "elongation")
				out.Gauges = append(out.Gauges, Gauge{Name: "Wear", Unit: "%", Hi: max(limit*1.4, e*1.1), To: limit, At: max(0, e), Shown: shownOf(res, "elongation"), Says: fmt.Sprintf("Worn by %.2f %% of the %.2f %% that your manual allows.", e, limit)})
			}
			return nil
		},
	}
}

// wearScene draws a piece of chain, pin by pin.
func wearScene(r round) Scene {
	p := &pencil{asked: r.asked}
	n := int(min(40, max(5, r.or("pitches", 20))))
	pitch := 15.875
	if w := r.word("chain"); w == "415" || w == "420" || w == "428" {
		pitch = 12.7
	}
	for i := range n + 1 {
		at := spot{float64(i) * pitch, 0}
		if i < n {
			y := 5.0 - 10*float64(i%2)*0.3
			p.line("soft", at.add(0, y), at.add(pitch, y))
			p.line("soft", at.add(0, -y), at.add(pitch, -y))
		}
		role := "part"
		if i == 0 || i == n {
			role = "hand"
		}
		p.circle(role, at, 3.2)
	}
	p.tape("length", fmt.Sprintf("%d pitches, new %.1f mm", n, float64(n)*pitch), spot{0, 22}, spot{float64(n) * pitch, 22})
	p.words("soft", fmt.Sprintf("%d pins", n+1), spot{float64(n) * pitch / 2, -28})
	return p.scene(fmt.Sprintf("A straight piece of chain: the tape runs from the middle of the first pin to the middle of pin %d.", n+1), 8)
}

func alignmentTopic() topic {
	return topic{
		id: "alignment", name: "Rear wheel straight", group: measureGroups[3], what: "Whether the rear axle stands square in the swingarm",
		needs: "A tape or a trammel, the bike on a rear stand.",
		why:   "The marks on swingarms are often a millimetre or two apart, and a wheel that points aside wears chain and sprockets and makes the bike steer to one side. Equal distances from pivot to axle on both sides are the honest check. One millimetre there is a quarter of a degree.",
		asks: []ask{
			{symbol: "left", calc: "alignment", input: "left", title: "Left side", how: "From the middle of the swingarm's pivot bolt to the middle of the axle, on the left."},
			{symbol: "right", calc: "alignment", input: "right", title: "Right side", how: "The same on the right, the tape held the same way."},
			{symbol: "apart", calc: "alignment", input: "apart", title: "How far apart the two sides are", how: "Across the bike, between the two places where you held the tape at the axle.", lasting: true},
			{symbol: "wheelbase", calc: "alignment", input: "wheelbase", title: "Wheelbase", how: "From axle to axle along the ground.", lasting: true, maybe: true, from: fromTopic("geometry", "wheelbase"), book: "the geometry"},
		},
		moved: []book.AdjusterID{"chain.slack", "sprocket.front", "sprocket.rear"}, works: []string{"chain"}, days: 365,
		draw: alignmentScene,
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("alignment", "left", "left", "right", "right", "apart", "apart", "wheelbase", "wheelbase")
			if refused == nil {
				out.take(res)
			}
			return refused
		},
	}
}

// alignmentScene draws the swingarm from above; what the sides differ by is
// drawn ten times as large.
func alignmentScene(r round) Scene {
	p := &pencil{asked: r.asked}
	left, right, apart := r.or("left", 560), r.or("right", 560), r.or("apart", 240)
	skew := 0.0
	if r.has("left", "right") {
		skew = min(60, max(-60, larger*(left-right)/2))
	}
	long := right
	l, rr := spot{-long - skew, apart / 2}, spot{-long + skew, -apart / 2}
	p.line("tube", spot{0, apart/2 + 20}, spot{0, -apart/2 - 20})
	p.line("part", spot{0, apart / 2}, l)
	p.line("part", spot{0, -apart / 2}, rr)
	p.line("tube", l, rr)
	tilt := math.Atan2(-2*skew, apart) * 180 / math.Pi
	mid := l.to(rr, 0.5)
	ahead, behind := mid.polar(310, tilt), mid.polar(310, tilt+180)
	side := func(a spot, by float64) spot { return a.polar(by, tilt+90) }
	p.area("soft", side(ahead, 75), side(behind, 75), side(behind, -75), side(ahead, -75))
	p.line("axis", spot{320, 0}, spot{-long - 420, 0})
	p.tape("left", "left "+known0(r, "left"), spot{0, apart/2 + 60}, l.add(0, 60))
	p.tape("right", "right "+known0(r, "right"), spot{0, -apart/2 - 90}, rr.add(0, -90))
	p.tape("apart", "", spot{-long - 360, apart / 2}, spot{-long - 360, -apart / 2})
	return p.scene(fmt.Sprintf("The swingarm from above, the front to the right: tapes on both sides from the pivot to the axle. A difference is drawn %d times as large.", larger), 25)
}

func slackTopic() topic {
	arm := []ask{
		{symbol: "swingarm", calc: "chain-tightest", input: "swingarm", title: "Swingarm", how: "From the middle of the pivot to the middle of the axle.", lasting: true, from: fromTopic("geometry", "swingarm"), book: "the geometry"},
		{symbol: "sprocket_ahead", calc: "chain-tightest", input: "sprocket-ahead", title: "Front sprocket ahead of the pivot", how: "Level, from the middle of the pivot to the middle of the gearbox shaft.", lasting: true},
		{symbol: "sprocket_above", calc: "chain-tightest", input: "sprocket-above", title: "Front sprocket above the pivot", how: "Both from the ground, one less the other; minus when it sits lower.", lasting: true},
		{symbol: "at", calc: "chain-tightest", input: "at", title: "Swingarm angle as you measured", how: "Lay the phone's level on the swingarm: how far it falls towards the axle."},
		{symbol: "topped", calc: "chain-tightest", input: "topped", title: "Swingarm angle, wheel hanging", how: "The same with the rear wheel in the air.", lasting: true},
		{symbol: "bottomed", calc: "chain-tightest", input: "bottomed", title: "Swingarm angle, fully in", how: "Shock off or strapped down; minus when the axle stands above the pivot. Or from the manual.", lasting: true},
	}
	first := []ask{teethAsk("chain-tightest", "front"), teethAsk("chain-tightest", "rear"), chainAsk("chain-tightest"),
		{symbol: "slack", calc: "chain-tightest", input: "slack", title: "Slack", how: "Turn the wheel to the tight spot. In the middle of the lower run, all the way up and all the way down together."}}
	return topic{
		id: "slack", name: "Chain slack at its tightest", group: measureGroups[3], what: "How much slack is left when sprocket, pivot and axle stand in line",
		needs: "A tape, the phone's level, the manual.",
		why:   "The axle swings about the pivot and not about the front sprocket, so the chain tightens as the rear sinks and is tightest when sprocket, pivot and axle lie in one line. Slack that is right on the stand can be none there. A chain that goes tight stops the suspension and can break.",
		asks:  append(first, arm...),
		moved: []book.AdjusterID{"chain.slack", "sprocket.front", "sprocket.rear"}, works: []string{"chain"}, days: 365,
		draw: slackScene,
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("chain-tightest", "front", "teeth_front", "rear", "teeth_rear", "chain", "chain", "slack", "slack", "swingarm", "swingarm",
				"sprocket-ahead", "sprocket_ahead", "sprocket-above", "sprocket_above", "at", "at", "topped", "topped", "bottomed", "bottomed")
			if refused == nil {
				out.take(res)
			}
			return refused
		},
	}
}

// slackScene draws sprockets, pivot and swingarm as measured; with "at" the
// arm stands as it does there.
func slackScene(r round) Scene {
	p := &pencil{asked: r.asked}
	angle := r.or("at", 12)
	if r.asked == "topped" || r.asked == "bottomed" {
		angle = r.or(r.asked, map[string]float64{"topped": 15, "bottomed": -4}[r.asked])
	}
	arm := r.or("swingarm", 580)
	sprocket := spot{r.or("sprocket_ahead", 75), r.or("sprocket_above", 5)}
	axle := spot{0, 0}.polar(arm, 180+angle)
	rf, rr := p.drive(r, sprocket, axle)
	p.line("part", spot{0, 0}, axle)
	p.circle("part", spot{0, 0}, 14)
	p.words("soft", "pivot", spot{0, 45})
	p.line("axis", axle, sprocket)
	low := axle.add(0, -rr).to(sprocket.add(0, -rf), 0.5)
	slack := r.or("slack", 35)
	p.tape("slack", "slack "+mm(slack), low.add(0, slack/2), low.add(0, -slack/2))
	switch r.asked {
	case "sprocket_ahead":
		p.tape(r.asked, mm(sprocket.x), spot{0, 110}, spot{sprocket.x, 110})
	case "sprocket_above":
		p.tape(r.asked, mm(sprocket.z), spot{sprocket.x + 90, 0}, spot{sprocket.x + 90, sprocket.z})
	case "swingarm":
		p.tape(r.asked, mm(arm), spot{0, 125}, axle.add(0, 125))
	case "at", "topped", "bottomed":
		p.line("hand", spot{0, 0}, spot{-arm, 0})
		p.words("hand", fmt.Sprintf("%.0f°", angle), spot{-arm * 0.55, 50})
	}
	return p.scene("Front sprocket, swingarm pivot and rear axle from the right side with the chain around both sprockets; the chain is tightest when all three lie in one line.", 30)
}

// drive draws two sprockets with the chain around them, to the size of their
// teeth, and returns their radii.
func (p *pencil) drive(r round, front, rear spot) (rf, rr float64) {
	pitch := 15.875
	if w := r.word("chain"); w == "415" || w == "420" || w == "428" {
		pitch = 12.7
	}
	radius := func(teeth float64) float64 { return pitch / 2 / math.Sin(math.Pi/max(6, teeth)) }
	rf, rr = radius(r.or("teeth_front", 16)), radius(r.or("teeth_rear", 44))
	p.circle("part", front, rf)
	p.circle("part", rear, rr)
	p.circle("part", rear, 12)
	p.circle("part", front, 8)
	for _, side := range []float64{1, -1} {
		run := tangent(front, rear, rf, rr, side)
		p.line("soft", run[0], run[1])
	}
	return rf, rr
}

// tangent is a run of the chain, from the rear sprocket to the front one: the
// upper for side 1, the lower for −1.
func tangent(front, rear spot, rf, rr, side float64) [2]spot {
	dx, dz := front.x-rear.x, front.z-rear.z
	tilt, lean := math.Atan2(dz, dx), math.Asin(max(-1, min(1, (rr-rf)/math.Hypot(dx, dz))))
	at := (tilt + side*(math.Pi/2-lean)) * 180 / math.Pi
	return [2]spot{rear.polar(rr, at), front.polar(rf, at)}
}

func gearingTopic() topic {
	return topic{
		id: "gearing", name: "Gearing", group: measureGroups[3], what: "Speed in each gear, and what a tooth more or less does",
		needs: "The manual for the ratios; links counted once.",
		why:   "One tooth at the front is worth almost three at the rear. It changes speed and revs in every corner, and it moves the axle, so the wheelbase and the chain's pull change with it. Know the numbers before you change a sprocket for a track.",
		asks: []ask{
			teethAsk("gearing", "front"), teethAsk("gearing", "rear"), chainAsk("gearing"),
			{symbol: "links", calc: "gearing", input: "links", title: "Links of the chain", how: "Count them, or read them off the box. It is an even number.", lasting: true, maybe: true},
			{symbol: "tyre", calc: "gearing", input: "tyre", title: "Rear tyre size", how: "As on the sidewall, such as 180/55R17.", typed: true, lasting: true, maybe: true, from: tyreFromBike(1), book: "your bike's description"},
			{symbol: "primary", calc: "gearing", input: "primary", title: "Primary ratio", how: "From the manual: crank to gearbox.", lasting: true, maybe: true},
			{symbol: "gears", calc: "gearing", input: "gears", title: "Gear ratios", how: "From the manual, first to top, with commas: 2.785, 2.052, 1.714.", typed: true, lasting: true, maybe: true},
			{symbol: "rpm", calc: "gearing", input: "rpm", title: "Engine speed to compare at", how: "Such as the speed at which you shift.", lasting: true, maybe: true},
			{symbol: "new_front", calc: "gearing", input: "new-front", title: "Another front sprocket?", how: "To see what it would do. Don't know leaves it out.", maybe: true},
			{symbol: "new_rear", calc: "gearing", input: "new-rear", title: "Another rear sprocket?", how: "To see what it would do. Don't know leaves it out.", maybe: true},
		},
		moved: []book.AdjusterID{"sprocket.front", "sprocket.rear"},
		draw: func(r round) Scene {
			p := &pencil{asked: r.asked}
			front, rear := spot{650, 0}, spot{0, 0}
			rf, rr := p.drive(r, front, rear)
			p.words(handIf(r.asked == "teeth_front"), fmt.Sprintf("%.0f teeth", r.or("teeth_front", 16)), front.add(0, rf+25))
			p.words(handIf(r.asked == "teeth_rear"), fmt.Sprintf("%.0f teeth", r.or("teeth_rear", 44)), rear.add(0, rr+25))
			if r.asked == "tyre" {
				p.circle("hand", rear, 315)
			}
			return p.scene("Both sprockets to the size of their teeth, with the chain around them.", 20)
		},
		run: readGearing,
	}
}

func handIf(asked bool) string {
	if asked {
		return "hand"
	}
	return "soft"
}

func readGearing(r round, out *Reading) []book.Refusal {
	pairs := []string{"front", "teeth_front", "rear", "teeth_rear", "chain", "chain", "links", "links", "new-front", "new_front", "new-rear", "new_rear"}
	if r.has("tyre", "primary", "gears") {
		pairs = append(pairs, "tyre", "tyre", "primary", "primary", "gears", "gears", "rpm", "rpm")
	}
	if v := fromTopic("geometry", "wheelbase")(r); v != "" && r.has("links") {
		pairs = append(pairs, "wheelbase", "="+v)
	}
	res, refused := r.calc("gearing", pairs...)
	if refused == nil {
		out.take(res)
	}
	return refused
}

func squatTopic() topic {
	lasting := func(symbol, input, title, how string, from func(round) string, source string) ask {
		return ask{symbol: symbol, calc: "squat", input: input, title: title, how: how, lasting: true, from: from, book: source}
	}
	return topic{
		id: "squat", name: "Squat", group: measureGroups[3], what: "Whether the throttle lifts the rear or sinks it",
		needs: "A tape, a plumb line, a straight edge; bike upright with you on it.",
		why:   "When you open the throttle the chain and the drive force lift the rear, and the load that moves back pushes it down. The balance of the two decides whether the bike squats and runs wide or rises and loses grip. Pivot height, sprockets and ride height all move it.",
		asks: []ask{
			lasting("wheelbase", "wheelbase", "Wheelbase", "From axle to axle along the ground.", fromTopic("geometry", "wheelbase"), "the geometry"),
			lasting("centre_height", "centre-height", "Height of the centre of gravity", "With you on it, from the ground. 600 mm is common; nobody knows it well, so read changes and not the figure.", nil, ""),
			{symbol: "rear_tyre", calc: "tyre", input: "size", title: "Rear tyre size", how: "As on the sidewall.", typed: true, lasting: true, from: fromTopic("geometry", "rear_tyre"), book: "the geometry"},
			lasting("pivot_ahead", "pivot-ahead", "Pivot ahead of the axle", "Along the ground: drop a plumb line from both.", nil, ""),
			lasting("pivot_height", "pivot-height", "Pivot above the ground", "From the ground to the middle of the swingarm's pivot.", fromTopic("geometry", "pivot_height"), "the geometry"),
			lasting("sprocket_ahead", "sprocket-ahead", "Front sprocket ahead of the axle", "Along the ground: drop a plumb line from the gearbox shaft, too.", nil, ""),
			lasting("sprocket_height", "sprocket-height", "Front sprocket above the ground", "From the ground to the middle of the gearbox shaft.", nil, ""),
			teethAsk("squat", "front"), teethAsk("squat", "rear"), chainAsk("squat"),
		},
		moved: []book.AdjusterID{"sprocket.front", "sprocket.rear", "rear.height"},
		draw:  squatScene,
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("squat", "wheelbase", "wheelbase", "centre-height", "centre_height", "rear-tyre", "rear_tyre", "pivot-ahead", "pivot_ahead",
				"pivot-height", "pivot_height", "sprocket-ahead", "sprocket_ahead", "sprocket-height", "sprocket_height", "front", "teeth_front", "rear", "teeth_rear", "chain", "chain")
			if refused != nil {
				return refused
			}
			out.take(res)
			scene := squatScene(r)
			out.Scene = &scene
			return nil
		},
	}
}

// squatScene draws the rear with the two lines whose meeting point decides.
func squatScene(r round) Scene {
	p := &pencil{asked: r.asked}
	st := r.stanceFor()
	w := r.or("wheelbase", st.Wheelbase)
	axle := spot{0, st.RearRadius}
	pivot := spot{r.or("pivot_ahead", 570), r.or("pivot_height", 426)}
	sprocket := spot{r.or("sprocket_ahead", 645), r.or("sprocket_height", 432)}
	p.line("ground", spot{-360, 0}, spot{w + 340, 0})
	p.circle("tyre", axle, st.RearRadius-12)
	p.circle("tyre", spot{w, st.FrontRadius}, st.FrontRadius-12)
	rf, rr := p.drive(r, sprocket, axle)
	p.line("part", axle, pivot)
	p.circle("part", pivot, 14)
	far := w + 200
	upper := tangent(sprocket, axle, rf, rr, 1)
	p.line("ghost", upper[0], upper[0].to(upper[1], (far-upper[0].x)/max(1, upper[1].x-upper[0].x)))
	p.line("ghost", axle, axle.to(pivot, (far-axle.x)/max(1, pivot.x-axle.x)))
	centre := spot{w * 0.5, r.or("centre_height", 600)}
	p.circle(handIf(r.asked == "centre_height"), centre, 26)
	p.words(handIf(r.asked == "centre_height"), "centre of gravity", centre.add(0, 55))
	for _, d := range []struct {
		symbol string
		a, b   spot
	}{
		{"wheelbase", spot{0, -140}, spot{w, -140}}, {"centre_height", spot{centre.x, 0}, centre},
		{"pivot_ahead", spot{0, pivot.z + 60}, spot{pivot.x, pivot.z + 60}}, {"pivot_height", spot{pivot.x, 0}, pivot},
		{"sprocket_ahead", spot{0, sprocket.z + 130}, spot{sprocket.x, sprocket.z + 130}}, {"sprocket_height", spot{sprocket.x, 0}, sprocket},
		{"rear_tyre", spot{0, 0}, axle},
	} {
		if d.symbol == r.asked {
			p.tape(d.symbol, mm(math.Hypot(d.b.x-d.a.x, d.b.z-d.a.z)), d.a, d.b)
		}
	}
	return p.scene("The bike from its right side: chain, swingarm with its line carried on, and the centre of gravity.", 25)
}
