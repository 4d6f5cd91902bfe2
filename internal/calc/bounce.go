package calc

import (
	"fmt"
	"math"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

func bounceTopics() []Topic { return []Topic{bounceTopic(), bounceTraceTopic(), rideFrequencyTopic()} }

const bounceCaution = "Bounced by hand a machine shows one overshoot at most, friction distorts it, and front and rear are coupled: read it as a band, and compare before and after."

func bounceTopic() Topic {
	return Topic{
		ID: "bounce", Title: "Damping from the peaks of a bounce",
		Why:     "How fast a bounce dies away is the damping, as a share of the critical. It needs no dynamometer: peaks from a video with a ruler in the picture will do. The same bounce before and after a change shows what the clicks did.",
		Formula: "D = (1/m)·ln(x1/x(m+1));  zeta = D/√(4π² + D²);  wd = 2π/Td;  wn = wd/√(1 − zeta²);  k = m·wn²;  c = 2·zeta·wn·m",
		Source:  "S. S. Rao, Mechanical Vibrations, free vibration with viscous damping and example 'Shock absorber for a motorcycle' (statement read, results from memory).",
		Caution: bounceCaution,
		Inputs: []*Input{
			number("peaks", "Peaks", unit.Length, -1e6, 1e6, "They are measured from the rest position, in any one unit; signs tell the sides.").several().like("0.85,0.45,0.25", "40,-12,4").hint("In order. One side only, or both sides with their signs.").maybe().named("x"),
			number("overshoot", "Overshoot ratio", unit.Number, 0.0001, 0.9999, "First overshoot on the other side over the first push: 0 to 0.6.").like("0.25").hint("Instead of peaks: half a cycle.").maybe().named("r", "half-cycle-ratio"),
			number("cycles", "Whole cycles between two peaks", unit.Number, 0.5, 100, "With two peaks only: how many cycles lie between them.").like("3").tacit("1").named("m"),
			number("period", "Period", unit.Time, 0.05, 60, "Motorcycles bounce in 0.3 to 1 s.").usual(0.2, 1.5).like("0.45s").hint("From peak to peak on the same side.").maybe().named("td"),
			number("mass", "Sprung mass", unit.Mass, 5, 1000, "One end carries 50 to 200 kg.").usual(30, 300).like("110kg").maybe(),
		},
		Example: "overshoot=0.25 period=2s mass=200kg",
		run:     runBounce,
	}
}

func runBounce(in given, out *Result) error {
	if in.has("peaks") == in.has("overshoot") {
		return refuse("peaks", "Give either peaks or the overshoot.", "Give peaks=0.85,0.45,0.25, or overshoot=0.25.")
	}
	var d chassis.Decay
	var err error
	peaks := in.list("peaks")
	if in.n("cycles") != 1 && len(peaks) != 2 {
		return refuse("cycles", "The cycles are asked for only with two peaks.", "Leave them out: successive peaks are a cycle apart.")
	}
	switch {
	case in.has("overshoot"):
		d, err = chassis.Decrement(1, in.n("overshoot"), 0.5)
	case len(peaks) == 2 && in.n("cycles") != 1:
		d, err = chassis.Decrement(math.Abs(peaks[0]), math.Abs(peaks[1]), in.n("cycles"))
	default:
		d, err = bounceOf(peaks, out)
	}
	if err != nil {
		return renamed(err, map[bool]string{true: "overshoot", false: "peaks"}[in.has("overshoot")])
	}
	out.add("zeta", "Damping ratio", unit.Number, d.Zeta, 3)
	out.add("decrement", "Logarithmic decrement", unit.Number, d.LogDecrement, 4)
	out.addIn("zeta-shortcut", "Damping ratio by the shortcut D/2π", "", d.LogDecrement/(2*math.Pi), 3)
	out.say("It is damped with {zeta} of the critical.")
	out.say("%s", zetaSays(d.Zeta))
	if in.has("period") {
		return bounceMore(in, d.Zeta, out)
	}
	return nil
}

func bounceOf(peaks []float64, out *Result) (chassis.Decay, error) {
	p, err := chassis.PeaksFrom(peaks)
	if err != nil {
		return p.Decay, err
	}
	if len(peaks) > 2 {
		out.add("zeta-least", "Least of neighbours", unit.Number, p.Least, 3)
		out.add("zeta-most", "Most of neighbours", unit.Number, p.Most, 3)
		first, err := chassis.Decrement(math.Abs(peaks[0]), math.Abs(peaks[1]), p.Cycles/float64(len(peaks)-1))
		if err != nil {
			return p.Decay, err
		}
		out.add("zeta-first", "From the first two peaks", unit.Number, first.Zeta, 4)
		out.add("decrement-first", "Decrement of the first two peaks", unit.Number, first.LogDecrement, 4)
		out.say("Neighbouring peaks give {zeta-least} to {zeta-most}.")
	}
	if p.Most > 1.5*p.Least {
		out.caution("Neighbouring peaks disagree by half or more: friction rules here, or a peak was misread.")
	}
	return p.Decay, nil
}

// zetaSays puts a damping ratio into words. The marks are common practice, no
// source.
func zetaSays(zeta float64) string {
	switch {
	case zeta < 0.15:
		return "That is little: it goes on bouncing. Worn oil or open rebound are the usual reasons."
	case zeta > 0.7:
		return "That is a lot: it creeps back, and may sit low after a row of bumps."
	}
	return "That lies where road machines usually are, about 0.2 to 0.6 (common practice, no source)."
}

func bounceMore(in given, zeta float64, out *Result) error {
	o, err := chassis.OscillatorOf(in.n("period"), zeta, in.n("mass"))
	if err != nil {
		return err
	}
	out.add("natural-hz", "Natural frequency", unit.Frequency, o.NaturalHz, 2)
	out.addIn("wn", "Natural frequency", "rad/s", o.Natural, 3)
	out.addIn("wd", "Damped frequency", "rad/s", o.Damped, 3)
	out.say("Undamped it would bounce at {natural-hz}.")
	if in.has("mass") {
		out.addIn("stiffness", "Stiffness", "N/m", o.Stiffness, 0)
		out.addIn("damping", "Damping", "N·s/m", o.Damping, 0)
		out.addIn("critical", "Critical damping", "N·s/m", o.CriticalAt, 0)
	}
	line := Series{Title: "The bounce", X: Axis{"Time", "s"}, Y: Axis{"Share of the first peak", ""}}
	for i := range 101 {
		t := 4 * in.n("period") * float64(i) / 100
		line.Points = append(line.Points, [2]float64{t, math.Exp(-zeta*o.Natural*t) * math.Cos(o.Damped*t)})
	}
	out.Series = append(out.Series, line)
	return nil
}

func bounceTraceTopic() Topic {
	return Topic{
		ID: "bounce-trace", Title: "Damping from a recording of the phone",
		Why:     "A phone laid on seat or tank feels the bounce and writes it down sixty times a second. The decay is found in the recording and fitted, so no peak has to be read by eye. The fit is drawn on the trace, and a recording without a clean decay is refused.",
		Formula: "a(t) = e^(−σt)·(A·cos wd·t + B·sin wd·t) + C by least squares;  zeta = σ/√(σ² + wd²)",
		Source:  "Free vibration with viscous damping, S. S. Rao, Mechanical Vibrations; fit by least squares, derived, tried on made-up decays and on noise of seven kinds.",
		Caution: bounceCaution,
		Inputs: []*Input{
			word("trace", "Recording").like("@bounce.csv").hint("A line for each reading: time and acceleration in m/s², along one axis or three. Engine off, phone firm on seat or tank, push down hard once, let go, hands off for three seconds."),
			number("mass", "Sprung mass", unit.Mass, 5, 1000, "One end carries 50 to 200 kg.").usual(30, 300).like("110kg").maybe(),
		},
		Example: "trace=@testdata/bounces/made.csv",
		run:     runBounceTrace,
	}
}

func runBounceTrace(in given, out *Result) error {
	samples, err := chassis.ReadTrace(in.word("trace"))
	if err != nil {
		return err
	}
	b, err := chassis.FindBounce(samples)
	if err != nil {
		return err
	}
	out.add("zeta", "Damping ratio", unit.Number, b.Zeta, 2)
	out.addBound("zeta-least", "Band from", unit.Number, b.Least, 2)
	out.addBound("zeta-most", "Band to", unit.Number, b.Most, 2)
	out.add("decrement", "Logarithmic decrement", unit.Number, b.LogDecrement, 2)
	out.add("natural-hz", "Natural frequency", unit.Frequency, b.NaturalHz, 2)
	out.add("period", "Period", unit.Time, b.Period, 2)
	out.add("from", "Fitted from", unit.Time, b.From, 2)
	out.add("to", "Fitted to", unit.Time, b.To, 2)
	out.add("explained", "Explained by the fit", unit.Share, 100*b.Explained, 0)
	out.say("From {from} to {to} it is damped with {zeta} of the critical, {zeta-least} to {zeta-most} by other windows; the fit explains {explained}.")
	out.say("%s", zetaSays(b.Zeta))
	out.say("Undamped it would bounce at {natural-hz}.")
	if in.has("mass") {
		o, err := chassis.OscillatorOf(b.Period, b.Zeta, in.n("mass"))
		if err != nil {
			return err
		}
		out.addIn("stiffness", "Stiffness", "N/m", o.Stiffness, 0)
		out.addIn("damping", "Damping", "N·s/m", o.Damping, 0)
	}
	time, force := Axis{"Time", "s"}, Axis{"Acceleration", "m/s²"}
	out.Series = append(out.Series, Series{"Recording, smoothed", time, force, b.Trace}, Series{"Fit", time, force, b.Fit})
	return nil
}

func rideFrequencyTopic() Topic {
	end := func(symbol, label, like string) *Input {
		return rateInput().relabel(symbol, label).like(like).hint("Rate at the wheel: of both fork legs together, or spring rate times motion ratio squared.").maybe()
	}
	mass := func(symbol, label, like string) *Input {
		return number(symbol, label, unit.Mass, 5, 1000, "One end carries 50 to 200 kg with the rider, less wheel and brakes.").usual(30, 300).like(like).maybe().read(2)
	}
	return Topic{
		ID: "ride-frequency", Title: "Frequencies of front and rear",
		Why:     "The frequency of each end on its spring says how stiff it is for what it carries, whatever the machine weighs. When front and rear are far apart, the machine pitches over bumps. The ratio of the two compares settings of different machines.",
		Formula: "f = √(K/m)/2π",
		Source:  "Elementary; V. Cossalter, Motorcycle Dynamics, 2nd ed. 2006, ch. 5 (from memory). The tyre's own spring and the coupling of the ends are neglected.",
		Inputs: []*Input{
			end("front-rate", "Front wheel rate", "18.5N/mm"), mass("front-mass", "Front sprung mass", "95kg"),
			end("rear-rate", "Rear wheel rate", "23.75N/mm"), mass("rear-mass", "Rear sprung mass", "118kg"),
		},
		Example: "front-rate=18.5N/mm front-mass=95kg rear-rate=23.75N/mm rear-mass=118kg",
		run:     runRideFrequency,
	}
}

func runRideFrequency(in given, out *Result) error {
	found := 0
	for _, end := range []string{"front", "rear"} {
		if !in.has(end+"-rate") && !in.has(end+"-mass") {
			continue
		}
		if !in.has(end+"-rate", end+"-mass") {
			return refuse(end+"-mass", fmt.Sprintf("The %s needs its wheel rate and its sprung mass.", end), "Give both, or neither.")
		}
		f, err := chassis.RideFrequency(in.n(end+"-rate"), in.n(end+"-mass"))
		if err != nil {
			return err
		}
		out.add(end+"-hz", map[string]string{"front": "Front frequency", "rear": "Rear frequency"}[end], unit.Frequency, f, 2)
		out.say("The %s bounces at {%s-hz}.", end, end)
		found++
	}
	switch found {
	case 0:
		return refuse("front-rate", "There is no end to work out.", "Give wheel rate and sprung mass of one end or both.")
	case 2:
		out.addIn("ratio", "Front over rear", "", out.value("front-hz")/out.value("rear-hz"), 2)
		out.say("Front over rear is {ratio}.")
	}
	return nil
}
