package screen

import (
	"fmt"
	"math"

	"plumbline/internal/chassis"
)

// The drawings of what to measure. They are to scale: with the rider's own
// numbers where they are known, and else with those of a common machine, so
// that the picture stands before the first number does.

// usual is the machine that is drawn until the rider's own is known: a sport
// bike of 1400 mm, invented.
var usual = chassis.Stance{Wheelbase: 1400, Rake: 24, Offset: 30, FrontRadius: 300, RearRadius: 315, Swingarm: 580, SwingarmDecline: 11}

// stanceFor is the rider's own machine as far as it is known.
func (r round) stanceFor() chassis.Stance {
	s, own := usual, dimensionsOf(r.k).stance
	own.Wheelbase, own.Rake = r.or("wheelbase", own.Wheelbase), r.or("rake", own.Rake)
	for _, f := range []struct{ to, from *float64 }{
		{&s.Wheelbase, &own.Wheelbase}, {&s.Rake, &own.Rake}, {&s.Offset, &own.Offset}, {&s.FrontRadius, &own.FrontRadius},
		{&s.RearRadius, &own.RearRadius}, {&s.Swingarm, &own.Swingarm},
	} {
		if *f.from > 0 {
			*f.to = *f.from
		}
	}
	if own.Swingarm > 0 {
		s.SwingarmDecline = own.SwingarmDecline
	}
	return s
}

// places of a drawn bike that tapes are held to.
type places struct {
	front, rear, pivot, head, seat, tail spot
}

// bike draws a whole bike on the ground from its stance, and says where its
// parts are.
func (p *pencil) bike(st chassis.Stance) places { return p.bikeOver(st, 0) }

// bikeOver draws the bike with the ground so far under its wheels, in mm.
func (p *pencil) bikeOver(st chassis.Stance, under float64) places {
	front, rear := spot{st.Wheelbase, st.FrontRadius}, spot{0, st.RearRadius}
	p.line("ground", spot{-rear.z - 40, -under}, spot{front.x + front.z + 60, -under})
	for _, w := range []spot{rear, front} {
		p.circle("tyre", w, w.z-12)
		p.circle("soft", w, w.z*0.72)
		p.circle("part", w, 14)
	}
	head := steering(p, "part", st, front)
	p.body(st, head)
	pivot := rear.polar(st.Swingarm, st.SwingarmDecline)
	if st.Swingarm > 0 {
		p.line("part", rear, pivot)
		p.circle("part", pivot, 16)
	}
	return places{front, rear, pivot, head, spot{0.34 * st.Wheelbase, head.z - 55}, spot{0, head.z - 10}}
}

// rider draws somebody in the seat.
func (p *pencil) rider(at places) {
	hip := at.seat.add(0, 60)
	shoulder := hip.add(330, 400)
	p.line("hand", hip, shoulder, at.head.add(-20, 40))
	p.line("hand", hip, hip.add(170, -170), hip.add(-20, -420))
	p.circle("hand", shoulder.add(90, 170), 110)
}

// arrow draws which way a hand pushes or lifts.
func (p *pencil) arrow(a, b spot) {
	angle := math.Atan2(a.z-b.z, a.x-b.x) * 180 / math.Pi
	long := math.Hypot(a.x-b.x, a.z-b.z) / 3
	p.line("hand", a, b)
	p.line("hand", b.polar(long, angle+35), b, b.polar(long, angle-35))
}

// sagScene draws one end with the tape on the two points between which all
// readings are taken, settled as it is for the reading that is asked for.
func sagScene(end string) func(round) Scene {
	return func(r round) Scene {
		p := &pencil{asked: r.asked}
		long := r.or("extended", map[string]float64{"front": 500, "rear": 560}[end])
		if long < 250 { // half typed
			long = 500
		}
		reading := r.or(r.asked, long-map[string]float64{"extended": 0, "free_pushed": 22, "free_lifted": 18, "rider_pushed": 38, "rider_lifted": 34}[r.asked])
		if reading < 0.6*long || reading > 1.3*long { // half typed
			reading = long
		}
		sunk := max(0, long-reading)
		st, raised := r.stanceFor(), 0.0
		if r.asked == "extended" {
			raised = 60
		}
		if end == "front" {
			return p.sagFront(r, st, reading, sunk, raised)
		}
		return p.sagRear(r, st, reading, sunk, raised)
	}
}

func (p *pencil) sagFront(r round, st chassis.Stance, reading, sunk, raised float64) Scene {
	axle := spot{0, st.FrontRadius + raised}
	up := 90 + st.Rake
	yoke := axle.polar(reading, up)
	p.line("ground", spot{-620, 0}, spot{420, 0})
	p.circle("tyre", axle, st.FrontRadius-12)
	p.circle("soft", axle, st.FrontRadius*0.7)
	p.circle("part", axle, 14)
	p.line("tube", axle, axle.polar(260, up))
	p.line("part", axle, yoke.polar(220, up))
	for _, at := range []spot{yoke, yoke.polar(170, up)} {
		p.line("tube", at.polar(45, up-90), at.polar(75, up+90))
	}
	top := yoke.polar(170, up)
	p.line("part", top, top.polar(120, 160))
	p.line("soft", yoke.polar(75, up+90), spot{yoke.x - 420, yoke.z - 120})
	beside := func(s spot) spot { return s.polar(110, up-90) }
	p.line("soft", axle, beside(axle))
	p.line("soft", yoke, beside(yoke))
	p.sagTape(mm(reading), beside(axle), beside(yoke))
	p.hands(r.asked, top.add(-60, 60), spot{1000, 520})
	return p.scene("The front end from its right: the tape runs along the fork, from the middle of the axle to the lower edge of the lower clamp."+sunkSays(sunk), 25)
}

func (p *pencil) sagRear(r round, st chassis.Stance, reading, sunk, raised float64) Scene {
	axle := spot{0, st.RearRadius + raised}
	mark := axle.add(0, reading)
	pivot := spot{st.Swingarm * 0.98, st.RearRadius + 110 - sunk*0.9 + raised}
	p.line("ground", spot{-420, 0}, spot{760, 0})
	p.circle("tyre", axle, st.RearRadius-12)
	p.circle("soft", axle, st.RearRadius*0.7)
	p.circle("part", axle, 14)
	p.line("tube", axle, pivot)
	p.circle("part", pivot, 16)
	p.line("spring", pivot.add(-90, 20), pivot.add(-60, 260))
	p.line("part", pivot, pivot.add(30, 330), mark.add(420, -20), mark.add(-90, 45))
	p.line("part", mark.add(-30, 0), mark.add(60, 0))
	p.sagTape(mm(reading), axle, mark)
	p.hands(r.asked, mark.add(120, 70), spot{1250, 620})
	return p.scene("The rear end from its right: the tape runs straight up from the middle of the axle to a mark on the tail."+sunkSays(sunk), 25)
}

// sagTape is the tape of every reading; it stands back where another thing is asked.
func (p *pencil) sagTape(words string, a, b spot) {
	if p.asked == "travel" || p.asked == "use" {
		p.put("dim", "soft", 0, "", a, b)
		return
	}
	p.put("dim", "hand", 0, words, a, b)
}

// hands shows what to do before a reading is taken.
func (p *pencil) hands(asked string, at, beside spot) {
	words := map[string]string{"extended": "wheel off the ground", "free_pushed": "push, let it rise", "free_lifted": "lift, let it settle", "rider_pushed": "you on it: push", "rider_lifted": "you on it: lift"}[asked]
	switch asked {
	case "free_pushed", "rider_pushed":
		p.arrow(at.add(0, 90), at)
	case "free_lifted", "rider_lifted":
		p.arrow(at, at.add(0, 90))
	}
	if words != "" {
		p.words("hand", words, beside)
	}
}

func sunkSays(sunk float64) string {
	if sunk < 0.5 {
		return ""
	}
	return fmt.Sprintf(" It is drawn settled by %.0f mm.", sunk)
}

// travelScene draws a fork leg or a shock shaft with the tie on it.
func travelScene(end string) func(round) Scene {
	return func(r round) Scene {
		p := &pencil{asked: r.asked}
		total := r.or("travel", map[string]float64{"front": 120, "rear": 60}[end])
		used, stand := r.or("used", total*0.8), r.or("stand", 0)
		seal := 0.0
		p.box("part", -34, -120, 34, seal)
		p.box("soft", -38, seal-10, 38, seal+6)
		p.box("part", -24, seal, 24, total+70-stand)
		p.line("hand", spot{-32, used}, spot{32, used})
		p.words("hand", "tie", spot{-70, used - 5})
		p.tape("used", "used "+mm(used), spot{60, seal}, spot{60, used})
		p.tape("travel", "all "+mm(total), spot{-330, -stand}, spot{-330, total - stand})
		if stand > 0 || r.asked == "stand" {
			p.tape("stand", "settled "+mm(stand), spot{60, -max(stand, 8)}, spot{60, seal})
		}
		return p.scene(fmt.Sprintf("A tube that slides into a seal, with a cable tie pushed up by the travel used: %.0f of %.0f mm.", used, total), 20)
	}
}

// onScales draws a bike with one wheel on scales and the other on a block as
// high, and the rider where they are weighed too.
func (p *pencil) onScales(st chassis.Stance, end string, ridden bool) Scene {
	const high = 60 // of scales and block
	at := p.bikeOver(st, high)
	under, other := at.front, at.rear
	if end == "rear" {
		under, other = at.rear, at.front
	}
	p.box("hand", under.x-170, -high, under.x+170, 0)
	p.box("part", other.x-170, -high, other.x+170, 0)
	p.words("hand", "scales", spot{under.x, -280})
	p.words("soft", "block", spot{other.x, -280})
	if ridden {
		p.rider(at)
	}
	return p.scene("The bike upright with its "+end+" wheel on scales and the other on a block of the same height.", 25)
}

// springScene draws what names an end's spring: its sags, and its load on scales.
func springScene(end string) func(round) Scene {
	return func(r round) Scene {
		p := &pencil{asked: r.asked}
		st := r.stanceFor()
		switch r.asked {
		case "free", "rider":
			return p.sinking(st, end, r.asked == "rider")
		case "motion_ratio":
			at := p.bike(st)
			p.shock(at)
			return p.scene("The bike from its right side: the shock between swingarm and frame.", 25)
		}
		return p.onScales(st, end, r.asked != "load")
	}
}

// sinking draws a bike that settles at one end, with its rider or by itself.
func (p *pencil) sinking(st chassis.Stance, end string, ridden bool) Scene {
	at := p.bike(st)
	top := at.head.add(110, 60)
	if end == "rear" {
		top = at.tail.add(-60, 60)
	}
	if ridden {
		p.rider(at)
	}
	p.arrow(top.add(0, 170), top)
	with := "by itself"
	if ridden {
		with = "with the rider on it"
	}
	return p.scene("The bike from its right side; an arrow shows its "+end+" settle "+with+".", 25)
}

// shock draws the shock between swingarm and frame, pointed out.
func (p *pencil) shock(at places) {
	p.line("spring", at.pivot.add(-120, 20), at.pivot.add(-60, 290))
	p.words("hand", "shock", at.pivot.add(-190, 200))
}

func cosDeg(angle float64) float64 { return math.Cos(angle * math.Pi / 180) }
