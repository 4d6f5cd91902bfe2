package screen

import (
	"fmt"
	"strconv"
	"strings"
	"sync"

	"plumbline/internal/book"
	"plumbline/internal/calc"
	"plumbline/internal/chassis"
)

// bounceTopic is the damping of an end, by a push on it: recorded by the
// phone's own motion sensor, or by peaks read by eye.
func bounceTopic(end, name, oil string) topic {
	byHand := func(r round) bool { return !r.has("trace") }
	seat := map[string]string{"front": "the tank", "rear": "the seat"}[end]
	return topic{
		id: "bounce-" + end, name: name + " bounce", group: measureGroups[1], what: "How quickly the " + end + " comes to rest after one push",
		needs: "The phone, a helper to hold the bike upright, a quiet place, engine off.",
		why:   "After one push a healthy end comes back, goes past its rest a little and stops. How fast the swing dies tells of the rebound, the oil and the friction. Measured again the same way it shows wear long before you feel it.",
		asks: []ask{
			{symbol: "trace", kind: "bounce", maybe: true, title: "Record the bounce", how: "Bike upright on both wheels, phone flat and firm on " + seat + ". Tap Start, push the " + end + " down hard once, let go, hands off for three seconds, tap Stop."},
			{symbol: "peak_1", calc: "bounce", input: "peaks", title: "First peak", how: "Against a rule beside " + seat + ": how far above its rest it comes after the push. Any unit.", only: byHand},
			{symbol: "peak_2", calc: "bounce", input: "peaks", title: "Second peak on the same side", how: "The next time that it comes up, in the same unit.", only: byHand},
			{symbol: "peak_3", calc: "bounce", input: "peaks", title: "Third peak", how: "If you can still see one.", maybe: true, only: byHand},
			{symbol: "period", calc: "bounce", input: "period", title: "Time from peak to peak", how: "From a film, or leave it out.", maybe: true, only: byHand},
		},
		moved: []book.AdjusterID{book.AdjusterID(end + ".rebound")}, works: []string{oil}, days: 180,
		draw: bounceScene(end),
		run:  readBounce,
	}
}

func readBounce(r round, out *Reading) []book.Refusal {
	if r.has("trace") {
		res, refused := bounceIn(r.word("trace"))
		if refused != nil {
			return []book.Refusal{*refused}
		}
		out.Says = append(out.Says, fmt.Sprintf("Damping ratio %.2f, between %.2f and %.2f; it swings at %.1f Hz.", numberOf(res, "zeta"), numberOf(res, "zeta-least"), numberOf(res, "zeta-most"), numberOf(res, "natural-hz")))
		out.take(res)
		for i := range out.Charts {
			out.Charts[i].Title = "The recording, and the fit on it"
		}
		return nil
	}
	peaks := []string{}
	for _, symbol := range []string{"peak_1", "peak_2", "peak_3"} {
		if r.has(symbol) {
			peaks = append(peaks, strconv.FormatFloat(r.n(symbol), 'f', -1, 64))
		}
	}
	res, refused := r.calc("bounce", "peaks", "="+strings.Join(peaks, ","), "period", "period")
	for i := range refused {
		if refused[i].Field == "peaks" {
			refused[i].Field = "peak_2"
		}
	}
	if refused == nil {
		out.take(res)
	}
	return refused
}

// fits keeps the latest fits: one takes a fraction of a second on a slow
// phone, and a page asks for the same one at every key.
var fits struct {
	sync.Mutex
	kept [4]struct {
		trace   string
		fit     calc.Result
		refused *book.Refusal
	}
	next int
}

// bounceIn finds the bounce in a recording.
func bounceIn(trace string) (calc.Result, *book.Refusal) {
	fits.Lock()
	defer fits.Unlock()
	for _, k := range fits.kept {
		if k.trace == trace && trace != "" {
			return k.fit, k.refused
		}
	}
	k := &fits.kept[fits.next]
	fits.next = (fits.next + 1) % len(fits.kept)
	fit, problems := calcTopics()["bounce-trace"].Run(map[string]string{"trace": trace})
	k.trace, k.fit, k.refused = trace, fit, nil
	if len(problems) > 0 {
		k.refused = &book.Refusal{Field: "trace", Says: problems[0].Says, Mend: problems[0].Mend}
	}
	return k.fit, k.refused
}

// shortTrace is what of a recording the book keeps: the bounce with a little
// before and after, thirty readings a second. Where that no longer shows the
// same, all of it is kept.
func shortTrace(trace string) string {
	b, refused := bounceIn(trace)
	samples, err := chassis.ReadTrace(trace)
	if refused != nil || err != nil {
		return trace
	}
	var short strings.Builder
	last := -1.0
	for _, s := range samples {
		if s.At < numberOf(b, "from")-0.4 || s.At > numberOf(b, "to")+1.4 || s.At < last+0.03 {
			continue
		}
		last = s.At
		fmt.Fprintf(&short, "%.2f,%.2f,%.2f,%.2f\n", s.At, s.X, s.Y, s.Z)
	}
	again, refused := bounceIn(short.String())
	if off := numberOf(again, "zeta") - numberOf(b, "zeta"); refused != nil || off > 0.03 || off < -0.03 {
		return trace
	}
	return short.String()
}

// bounceScene shows the push, and where the phone lies.
func bounceScene(end string) func(round) Scene {
	return func(r round) Scene {
		p := &pencil{asked: r.asked}
		at := p.bike(r.stanceFor())
		phone, push, aside := at.head.add(-220, 40), at.head.add(-40, 320), -60.0
		if end == "rear" {
			phone, push, aside = at.seat.add(0, 30), at.seat.add(-150, 320), 90
		}
		if strings.HasPrefix(r.asked, "peak") {
			p.put("dim", "hand", 0, "rule", phone.add(0, -40), phone.add(0, 110))
			p.arrow(push, push.add(0, -220))
			return p.scene("The bike from its right side: a rule stands beside the "+end+", and an arrow shows the push.", 30)
		}
		p.box("hand", phone.x-75, phone.z, phone.x+75, phone.z+18)
		p.words("hand", "phone", phone.add(aside, 75))
		p.arrow(push, push.add(0, -220))
		return p.scene("The bike from its right side: the phone lies flat, and an arrow shows the push at the "+end+".", 30)
	}
}
