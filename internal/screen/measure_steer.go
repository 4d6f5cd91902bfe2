package screen

import (
	"fmt"

	"plumbline/internal/book"
	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

// steerTopics are what steers: the geometry.
func steerTopics() []topic { return []topic{geometryTopic()} }

func geometryTopic() topic {
	noTyre := func(symbol string) func(round) bool { return func(r round) bool { return !r.has(symbol) } }
	return topic{
		id: "geometry", name: "Geometry", group: measureGroups[2], what: "Rake, trail and wheelbase, and what moving the fork does",
		needs: "The machine's manual, a tape, ten minutes.",
		why:   "Rake, trail and wheelbase decide how quickly the bike turns in and how calm it runs straight. A few millimetres at the fork or the shock feel like another bike. With your own numbers the book tells what each setting does, and draws your bike now against the line.",
		asks: []ask{
			{symbol: "wheelbase", calc: "geometry-change", input: "wheelbase", title: "Wheelbase", how: "From axle to axle along the ground, wheel straight ahead, the bike on its wheels. Or from the manual.", lasting: true},
			{symbol: "rake", calc: "geometry", input: "rake", title: "Rake", how: "From the manual. It is measured from the vertical; if yours prints 66°, type 24.", lasting: true},
			{symbol: "offset", calc: "geometry", input: "offset", title: "Offset", how: "How far the axle lies ahead of the steering axis, square to it: printed on many yokes. Don't know? Then trail is asked.", lasting: true, maybe: true},
			{symbol: "trail", calc: "geometry", input: "trail", title: "Trail", how: "From the manual: the offset is worked out from it.", lasting: true, only: func(r round) bool { return !r.has("offset") }},
			{symbol: "front_tyre", calc: "tyre", input: "size", title: "Front tyre size", how: "As on the sidewall, such as 120/70R17. For an old inch size say don't know, and measure the wheel.", typed: true, lasting: true, maybe: true, from: tyreFromBike(0), book: "your bike's description"},
			{symbol: "front_radius", calc: "geometry", input: "radius", title: "Front axle above the ground", how: "From the ground to the middle of the axle, the bike upright.", lasting: true, only: noTyre("front_tyre")},
			{symbol: "rear_tyre", calc: "tyre", input: "size", title: "Rear tyre size", how: "As on the sidewall, such as 180/55R17.", typed: true, lasting: true, maybe: true, from: tyreFromBike(1), book: "your bike's description"},
			{symbol: "rear_radius", calc: "squat", input: "rear-radius", title: "Rear axle above the ground", how: "From the ground to the middle of the axle, the bike upright.", lasting: true, only: noTyre("rear_tyre")},
			{symbol: "swingarm", calc: "geometry-change", input: "swingarm", title: "Swingarm", how: "From the middle of the pivot bolt to the middle of the rear axle.", lasting: true, maybe: true},
			{symbol: "pivot_height", calc: "squat", input: "pivot-height", title: "Pivot above the ground", how: "From the ground to the middle of the swingarm's pivot, the bike upright on its wheels.", lasting: true, maybe: true, only: func(r round) bool { return r.has("swingarm") }},
			{symbol: "motion_ratio", calc: "spring-rate", input: "motion-ratio", title: "Motion ratio at the rear", how: "Shock travel over wheel travel. With it the book knows what a millimetre of ride height does at the axle.", lasting: true, maybe: true, from: fromTopic("spring-rear", "motion_ratio"), book: "the rear spring"},
		},
		draw: geometryScene,
		run:  readGeometry,
	}
}

// geometryScene draws the rider's own bike as far as it is known, with the
// dimension that is asked for.
func geometryScene(r round) Scene {
	p := &pencil{asked: r.asked}
	st := r.stanceFor()
	at := p.bike(st)
	foot := at.front.polar(st.Offset, st.Rake-180)
	p.line("axis", at.head, foot.polar(foot.z/cosDeg(st.Rake), st.Rake-90))
	switch r.asked {
	case "rake":
		p.line("axis", at.head, at.head.add(0, -400))
		p.words("hand", fmt.Sprintf("rake %.1f°", st.Rake), at.head.add(-200, -330))
	case "offset":
		p.tape("offset", "", foot, at.front)
		p.words("hand", "offset "+mm(st.Offset), at.front.add(-250, 60))
	case "trail":
		trail, _ := chassis.Steering{Rake: st.Rake, Offset: st.Offset, Radius: st.FrontRadius}.Trail() // the drawing's own numbers
		p.tape("trail", "trail", spot{at.front.x, -60}, spot{at.front.x + trail.Ground, -60})
	case "front_tyre", "front_radius":
		p.tape(r.asked, mm(st.FrontRadius), spot{at.front.x, 0}, at.front)
	case "rear_tyre", "rear_radius":
		p.tape(r.asked, mm(st.RearRadius), spot{0, 0}, at.rear)
	case "swingarm":
		p.tape("swingarm", mm(st.Swingarm), at.rear.add(0, 60), at.pivot.add(0, 60))
	case "motion_ratio":
		p.shock(at)
	case "pivot_height":
		p.tape("pivot_height", mm(at.pivot.z), spot{at.pivot.x, 0}, at.pivot)
	default:
		p.tape("wheelbase", "wheelbase "+mm(st.Wheelbase), spot{0, -140}, spot{at.front.x, -140})
	}
	return p.scene("A bike from its right side, drawn to the dimensions known so far.", 40)
}

// readGeometry solves the bike and shows what the usual moves do.
func readGeometry(r round, out *Reading) []book.Refusal {
	basic, refused := r.calc("geometry", "rake", "rake", "offset", "offset", "trail", "trail", "radius", "front_radius", "tyre", "front_tyre")
	if refused != nil {
		return refused
	}
	out.Says = append(out.Says, fmt.Sprintf("Rake %s, trail %s, wheelbase %.0f mm.", shownOf(basic, "rake"), shownOf(basic, "trail"), r.n("wheelbase")))
	out.take(basic)
	d := dimensionsFrom(r.k, r.body())
	now, err := d.stance.After(chassis.Move{})
	if err != nil {
		return []book.Refusal{{Field: "wheelbase", Says: "These dimensions do not fit together.", Mend: err.Error()}}
	}
	scene := sideScene(now, nil)
	out.Scene = &scene
	table, err := usualMoves(d)
	if err != nil {
		return []book.Refusal{{Field: "wheelbase", Says: "These dimensions do not fit together.", Mend: err.Error()}}
	}
	out.Tables = append(out.Tables, table)
	return nil
}

// body is the round as the book would keep it.
func (r round) body() book.MeasureBody {
	m := book.MeasureBody{Topic: r.topic.id, Values: map[string]unit.Fixed{}, Words: map[string]string{}}
	for symbol, v := range r.known {
		if v.words != "" {
			m.Words[symbol] = v.words
			continue
		}
		m.Values[symbol], _ = unit.FixedOf(v.number) // within its limits
	}
	return m
}
