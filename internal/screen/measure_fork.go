package screen

import (
	"fmt"

	"plumbline/internal/book"
)

// forkTopic is the air above the fork's oil as a spring.
func forkTopic() topic {
	return topic{
		id: "fork-air", name: "Fork oil and air", group: measureGroups[1], what: "What the air above the oil adds to the spring",
		needs: "The fork's oil level as it was filled, a calliper, the manual.",
		why:   "The air above the oil is a second spring that grows steeply near the end of the travel. Ten millimetres of oil hardly change the ride and much change the last third. So it is the oil level, not the spring, that keeps a fork from bottoming.",
		asks: []ask{
			{symbol: "oil_level", calc: "fork-air", input: "oil-level", title: "Oil level", how: "From the top of the tube down to the oil, spring out and fork pushed together, as the manual says.", lasting: true},
			{symbol: "bore", calc: "fork-air", input: "bore", title: "Bore of the tube", how: "Inside width where the oil stands.", lasting: true},
			{symbol: "diameter", calc: "fork-air", input: "diameter", title: "Tube that dips in", how: "Outside width of the stanchion.", lasting: true},
			{symbol: "travel", calc: "fork-air", input: "travel", title: "Whole travel", lasting: true, from: fromTopic("sag-front", "travel"), book: "the front sag"},
			{symbol: "rate", calc: "fork-air", input: "rate", title: "Spring of one leg", how: "Printed on the spring, or worked out under Front spring. With it air and coil make one curve.", lasting: true, maybe: true},
			{symbol: "preload", calc: "fork-air", input: "preload", title: "Preload of the spring", how: "How much shorter it is in the fork than free, fully extended.", lasting: true, maybe: true, only: func(r round) bool { return r.has("rate") }},
		},
		works: []string{"fork-oil"},
		draw:  forkScene,
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("fork-air", "oil-level", "oil_level", "bore", "bore", "diameter", "diameter", "travel", "travel", "rate", "rate", "preload", "preload", "legs", "=2")
			if refused == nil {
				out.take(res)
			}
			return refused
		},
	}
}

// forkScene draws a leg in section with its oil. Its widths are drawn three
// times as large as its lengths, or nothing could be told apart.
func forkScene(r round) Scene {
	const wider = 3
	p := &pencil{asked: r.asked}
	level, travel := r.or("oil_level", 120), r.or("travel", 120)
	bore, thin := wider*r.or("bore", 43)/2, wider*r.or("diameter", 41)/2
	top := level + 120
	p.line("part", spot{-bore, 0}, spot{-bore, top})
	p.line("part", spot{bore, 0}, spot{bore, top})
	p.box("soft", 4-bore, 0, bore-4, top-level)
	p.box("part", -thin, -travel-20, thin, 0)
	p.tape("oil_level", "air "+mm(level), spot{bore + 40, top}, spot{bore + 40, top - level})
	p.tape("bore", "bore", spot{-bore, top + 15}, spot{bore, top + 15})
	p.tape("diameter", "tube", spot{-thin, -travel - 90}, spot{thin, -travel - 90})
	if r.asked == "rate" || r.asked == "preload" {
		p.coil(spot{0, -travel}, spot{0, top}, thin*0.6)
	} else {
		p.words("soft", "oil", spot{0, (top - level) / 2})
	}
	p.tape("travel", "travel "+mm(travel), spot{bore + 40, 0}, spot{bore + 40, -travel})
	return p.scene(fmt.Sprintf("One leg of the fork in section, its widths drawn %d times as large: %.0f mm of air above the oil in a tube of %.0f mm.", wider, level, r.or("bore", 43)), 12)
}

// coil draws a spring from one end to the other, upright.
func (p *pencil) coil(low, high spot, half float64) {
	const turns = 9
	at := []spot{low}
	for i := range 2 * turns {
		at = append(at, low.to(high, (float64(i)+0.5)/(2*turns)).add(half*(1-2*float64(i%2)), 0))
	}
	p.line("spring", append(at, high)...)
}
