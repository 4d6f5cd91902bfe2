package screen

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"plumbline/internal/book"
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
		b, err := bounceIn(r.word("trace"))
		if err != nil {
			return []book.Refusal{refusalOf("trace", err)}
		}
		out.bounce(b)
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

// bounce says what a recorded bounce shows, with the fit on the trace.
func (o *Reading) bounce(b chassis.Bounce) {
	o.Says = append(o.Says,
		fmt.Sprintf("Damping ratio %.2f, between %.2f and %.2f; it swings at %.1f Hz.", b.Zeta, b.Least, b.Most, b.NaturalHz), zetaWords(b.Zeta),
		fmt.Sprintf("The fit explains %.0f %% of the movement.", 100*b.Explained))
	o.Cautions = append(o.Cautions, "A push by hand shows one or two swings, friction bends them, and front and rear move together: read the band, and compare only with your own earlier ones.")
	c := Chart{Title: "The recording, and the fit on it", X: axis("Time", "s"), Y: axis("Acceleration", "m/s²"), Spots: []ChartPoint{},
		Lines: []ChartLine{{"Recorded", fewer(between(b.Trace, b.From-0.6, b.To+1))}, {"Fitted", fewer(b.Fit)}}}
	c.frame()
	o.Charts = append(o.Charts, c)
	o.Values = append(o.Values, NamedValue{"Damping ratio", fmt.Sprintf("%.3f", b.Zeta)}, NamedValue{"Undamped frequency", fmt.Sprintf("%.2f Hz", b.NaturalHz)},
		NamedValue{"Period", fmt.Sprintf("%.2f s", b.Period)}, NamedValue{"Logarithmic decrement", fmt.Sprintf("%.2f", b.LogDecrement)})
}

// zetaWords put a damping ratio into words; the marks are common practice, no
// source.
func zetaWords(zeta float64) string {
	switch {
	case zeta < 0.15:
		return "That is little: it goes on bouncing. Worn oil or open rebound are the usual reasons."
	case zeta > 0.7:
		return "That is a lot: it creeps back, and may sit low after a row of bumps."
	}
	return "That lies where road machines usually are, about 0.2 to 0.6 (common practice, no source)."
}

func between(points [][2]float64, from, to float64) [][2]float64 {
	var out [][2]float64
	for _, p := range points {
		if p[0] >= from && p[0] <= to {
			out = append(out, p)
		}
	}
	return out
}

// fewer leaves some hundred points, rounded: a screen shows no more.
func fewer(points [][2]float64) [][2]float64 {
	step := max(1, len(points)/120)
	var out [][2]float64
	for i := 0; i < len(points); i += step {
		out = append(out, [2]float64{thousandth(points[i][0]), thousandth(points[i][1])})
	}
	return out
}

func thousandth(v float64) float64 { return fixedOf(v).Float() }

// refusalOf is an error of the arithmetic at a field.
func refusalOf(field string, err error) book.Refusal {
	var r chassis.Refusal
	if errors.As(err, &r) {
		return book.Refusal{Field: field, Says: r.Says, Mend: r.Mend}
	}
	return book.Refusal{Field: field, Says: err.Error(), Mend: "Record it again."}
}

// fits keeps the latest fits: one takes a fraction of a second on a slow
// phone, and a page asks for the same one at every key.
var fits struct {
	sync.Mutex
	trace [4]string
	fit   [4]chassis.Bounce
	err   [4]error
	next  int
}

// bounceIn finds the bounce in a recording.
func bounceIn(trace string) (chassis.Bounce, error) {
	fits.Lock()
	defer fits.Unlock()
	for i, t := range fits.trace {
		if t == trace && t != "" {
			return fits.fit[i], fits.err[i]
		}
	}
	samples, err := chassis.ReadTrace(trace)
	var b chassis.Bounce
	if err == nil {
		b, err = chassis.FindBounce(samples)
	}
	i := fits.next
	fits.trace[i], fits.fit[i], fits.err[i], fits.next = trace, b, err, (i+1)%len(fits.trace)
	return b, err
}

// shortTrace is what of a recording the book keeps: the bounce with a little
// before and after, thirty readings a second. Where that no longer shows the
// same, all of it is kept.
func shortTrace(trace string) string {
	b, err := bounceIn(trace)
	samples, err2 := chassis.ReadTrace(trace)
	if err != nil || err2 != nil {
		return trace
	}
	var short strings.Builder
	last := -1.0
	for _, s := range samples {
		if s.At < b.From-0.4 || s.At > b.To+1.4 || s.At < last+0.03 {
			continue
		}
		last = s.At
		fmt.Fprintf(&short, "%.2f,%.2f,%.2f,%.2f\n", s.At, s.X, s.Y, s.Z)
	}
	if again, err := bounceIn(short.String()); err != nil || again.Zeta < b.Zeta-0.03 || again.Zeta > b.Zeta+0.03 {
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
