package screen

import (
	"fmt"
	"math"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/unit"
)

// weightTopic is the load on both wheels, with and without the rider: what
// springs are chosen by.
func weightTopic() topic {
	with := func(end string) func(round) bool {
		return func(r round) bool { return end == "front" || r.has("front_with") }
	}
	how := "The %s wheel on scales, the other on a block as high, the bike upright, somebody holding. Read %s."
	return topic{
		id: "weights", name: "Weight on both wheels", group: measureGroups[1], what: "How your weight and the bike's are shared between the wheels",
		needs: "Bathroom scales that bear the bike, a block as high, a helper.",
		why:   "How the weight is shared decides how each end is sprung and how the bike turns. Bathroom scales and a block tell it. Weighed with and without you, they also name what you add on each end, which is what a spring is chosen by.",
		asks: []ask{
			{symbol: "front", calc: "weights", input: "front", title: "Front wheel, nobody on", how: fmt.Sprintf(how, "front", "with nobody on"), lasting: true},
			{symbol: "rear", calc: "weights", input: "rear", title: "Rear wheel, nobody on", how: fmt.Sprintf(how, "rear", "with nobody on"), lasting: true},
			{symbol: "front_with", calc: "weights", input: "front-with", title: "Front wheel, with you", how: fmt.Sprintf(how, "front", "with you on it in full kit, as you ride"), maybe: true, only: with("front")},
			{symbol: "rear_with", calc: "weights", input: "rear-with", title: "Rear wheel, with you", how: fmt.Sprintf(how, "rear", "with you on it in full kit, as you ride"), only: with("rear")},
			{symbol: "wheelbase", calc: "weights", input: "wheelbase", title: "Wheelbase", how: "From axle to axle along the ground.", lasting: true, maybe: true, from: fromTopic("geometry", "wheelbase"), book: "the geometry"},
		},
		days: 365,
		draw: func(r round) Scene {
			end := "front"
			if r.asked == "rear" || r.asked == "rear_with" {
				end = "rear"
			}
			p := &pencil{asked: r.asked}
			st := r.stanceFor()
			if r.asked == "wheelbase" {
				p.bike(st)
				p.tape("wheelbase", mm(st.Wheelbase), spot{0, -140}, spot{st.Wheelbase, -140})
				return p.scene("The bike from its right side: the tape runs from axle to axle along the ground.", 25)
			}
			return p.onScales(st, end, strings.HasSuffix(r.asked, "_with"))
		},
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("weights", "front", "front", "rear", "rear", "front-with", "front_with", "rear-with", "rear_with", "wheelbase", "wheelbase")
			if refused == nil {
				out.take(res)
			}
			return refused
		},
	}
}

// addedLoad is what the rider adds on an end by the last weighing, as typed.
func addedLoad(end string) func(round) string {
	return func(r round) string {
		v := r.k.Measures["weights"].Body.Values
		with, ok := v[end+"_with"]
		if added := (with - v[end]).Float(); ok && added > 0 {
			return fmt.Sprintf("%.1fN", added*unit.StandardGravity)
		}
		return ""
	}
}

// wireTopic is a spring on the bench that nothing is printed on.
func wireTopic() topic {
	return topic{
		id: "spring-wire", name: "A spring on the bench", group: measureGroups[1], what: "The rate of a spring that nothing is printed on",
		needs: "A calliper, the spring in your hand.",
		why:   "Springs are often unmarked, or marked for another bike. Wire, coil and a count of turns tell the rate on the bench. Measure the wire with care: one percent of it is four percent of the rate.",
		asks: []ask{
			{symbol: "wire", calc: "spring-wire", input: "wire", title: "Wire", how: "Calliper on bare wire, twice, square to each other."},
			{symbol: "outside", calc: "spring-wire", input: "outside", title: "Outside width", how: "Calliper over the coils, in the middle of the spring."},
			{symbol: "total", calc: "spring-wire", input: "total", title: "Turns", how: "From one end of the wire to the other; quarters count."},
			{symbol: "ends", calc: "spring-wire", input: "ends", title: "How do its ends look?", how: "Squared: the last turn is bent flat on its neighbour.", options: []Choice{{"squared", "Squared"}, {"plain", "Plain"}}},
		},
		draw: coilScene,
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("spring-wire", "wire", "wire", "outside", "outside", "total", "total", "ends", "ends")
			if refused == nil {
				out.take(res)
			}
			return refused
		},
	}
}

// coilScene draws a spring from its wire, width and turns.
func coilScene(r round) Scene {
	p := &pencil{asked: r.asked}
	wire, outside, turns := min(20, r.or("wire", 11.5)), min(120, r.or("outside", 73)), min(30, max(2, r.or("total", 8)))
	half, pitch := max(outside/2, wire), wire*1.9
	n := int(turns*2 + 0.5)
	at := make([]spot, 0, n+1)
	for i := range n + 1 {
		at = append(at, spot{float64(i) * pitch / 2, half * (1 - 2*float64(i%2))})
	}
	p.line("spring", at...)
	long := float64(n) * pitch / 2
	p.tape("outside", "outside "+mm(outside), spot{long + 12, -half}, spot{long + 12, half})
	p.tape("total", fmt.Sprintf("%.4g turns", turns), spot{0, half + 10}, spot{long, half + 10})
	p.circle(handIf(r.asked == "wire"), at[0], wire/2)
	p.tape("wire", fmt.Sprintf("wire %.4g mm", wire), spot{-wire / 2, half + 10 + wire}, spot{wire / 2, half + 10 + wire})
	return p.scene(fmt.Sprintf("A coil spring from its side: wire of %.1f mm, %.0f mm wide outside, %.4g turns.", wire, outside, math.Round(turns*100)/100), 8)
}

// frequencyTopic compares how fast both ends swing.
func frequencyTopic() topic {
	mass := "What this end carries with you on it, less the wheel and half of what moves with it."
	return topic{
		id: "frequency", name: "Front against rear", group: measureGroups[1], what: "How fast each end swings on its spring, and whether they match",
		needs: "Wheel rates from the spring pages, the weights.",
		why:   "Each end is a weight on a spring and swings at its own speed. When the two are far apart the bike pitches over bumps. Their ratio shows a wrong spring at one end before any click is turned.",
		asks: []ask{
			{symbol: "front_rate", calc: "ride-frequency", input: "front-rate", title: "Front wheel rate", how: "Both fork springs together, as under Front spring."},
			{symbol: "front_mass", calc: "ride-frequency", input: "front-mass", title: "Front sprung mass", how: mass},
			{symbol: "rear_rate", calc: "ride-frequency", input: "rear-rate", title: "Rear wheel rate", how: "Spring rate times the motion ratio squared, as under Rear spring."},
			{symbol: "rear_mass", calc: "ride-frequency", input: "rear-mass", title: "Rear sprung mass", how: mass},
		},
		draw: func(r round) Scene {
			p := &pencil{asked: r.asked}
			at := p.bike(r.stanceFor())
			for _, e := range []struct {
				end string
				at  spot
			}{{"front", at.head.add(-120, 130)}, {"rear", at.tail.add(150, 130)}} {
				role := handIf(strings.HasPrefix(r.asked, e.end))
				p.line(role, e.at.add(0, 20), e.at.add(0, 180))
				p.line(role, e.at.add(-35, 55), e.at.add(0, 20), e.at.add(35, 55))
				p.line(role, e.at.add(-35, 145), e.at.add(0, 180), e.at.add(35, 145))
			}
			return p.scene("The bike from its right side: both ends swing up and down on their springs.", 30)
		},
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("ride-frequency", "front-rate", "front_rate", "front-mass", "front_mass", "rear-rate", "rear_rate", "rear-mass", "rear_mass")
			if refused == nil {
				out.take(res)
			}
			return refused
		},
	}
}
