package screen

import (
	"fmt"

	"plumbline/internal/book"
)

// barTopics is the symmetry of the bars, the first thing after a fall.
func barTopics() []topic {
	return []topic{{
		id: "bars", name: "Bars straight", group: measureGroups[0], what: "Whether the bar stands square to the wheel, and which way the clamps are turned",
		needs: "A tape, a helper to hold the wheel straight, five minutes.",
		why:   "After a fall, however slow, the fork can turn in its clamps: the bar then points aside when the wheel points ahead, and the bike steers easier one way. Two distances to one point on the tail show it. Nothing else is worth setting before this is right.",
		asks: []ask{
			{symbol: "left", calc: "bars", input: "left", title: "Left bar end to the middle of the tail", how: "Wheel exactly straight ahead. From the left bar end to one point in the middle of the tail; the tape straight through the air."},
			{symbol: "right", calc: "bars", input: "right", title: "Right bar end to the middle of the tail", how: "The same point on the tail, the same place on the bar end."},
			{symbol: "half", calc: "bars", input: "half", title: "Half the bar", how: "From the steering axis to the bar end: half the width over both bar ends.", lasting: true},
			{symbol: "away", calc: "bars", input: "away", title: "Steering axis to that point on the tail", how: "Along the bike, level. Leave it out and it is worked out from the others.", lasting: true, maybe: true},
		},
		days: 365,
		draw: barScene,
		run: func(r round, out *Reading) []book.Refusal {
			res, refused := r.calc("bars", "left", "left", "right", "right", "half", "half", "away", "away")
			if refused == nil {
				out.take(res)
				out.Cautions = append(out.Cautions, "After a fall do not ride until the straightness round is good: equal steering effort both ways, clamps tightened to the manual's torque.")
			}
			return refused
		},
	}}
}

// barScene draws the bike from above, with both distances; a difference is
// drawn to scale.
func barScene(r round) Scene {
	p := &pencil{asked: r.asked}
	half, away := r.or("half", 360), r.or("away", 950)
	turn := 0.0 // mm at the grip, plus is the right end back
	if r.has("left", "right") {
		turn = min(120, max(-120, (r.n("left")*r.n("left")-r.n("right")*r.n("right"))/(4*away)))
	}
	axis, tail := spot{0, 0}, spot{-away, 0}
	left, right := spot{turn, half}, spot{-turn, -half}
	p.box("soft", 180, -60, 760, 60)
	p.box("soft", -away-60, -90, -away+620, 90)
	p.line("axis", spot{-away - 120, 0}, spot{820, 0})
	p.line("tube", left, axis, right)
	p.circle("part", axis, 26)
	p.circle("hand", tail, 20)
	p.tape("left", "left "+known0(r, "left"), left, tail)
	p.tape("right", "right "+known0(r, "right"), right, tail)
	p.tape("half", "half "+mm(half), left.add(140, -half), left.add(140, 0))
	p.tape("away", "", axis.add(0, 24), tail.add(0, 24))
	return p.scene(fmt.Sprintf("The bike from above, the front to the right: from each bar end a tape to one point in the middle of the tail. Half the bar is %.0f mm.", half), 30)
}

func known0(r round, symbol string) string {
	if !r.has(symbol) {
		return ""
	}
	return mm(r.n(symbol))
}
