package calc

import (
	"strings"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

const (
	manualFirst   = "This is a start, not a limit: the manual of the machine and of its suspension unit comes first."
	linearModel   = "The spring is taken as linear, without top-out spring and fork air; measure what the change did."
	saggingReason = "Sag on a motorcycle is some tenths of its travel, and no travel is longer than 350 mm."
)

func endInput() *Input { return word("end", "End of the machine", "front", "rear") }

func useInput() *Input {
	return word("use", "What it is ridden for", "road", "race", "offroad").otherwise("road")
}

func travelInput() *Input {
	return number("travel", "Whole travel", unit.Length, 20, 400,
		"Road machines have 100 to 140 mm of travel and off-road ones up to 330 mm.").usual(80, 340).
		like("120mm").hint("From the machine's manual, at the wheel.").maybe().named("total")
}

func motionInput() *Input {
	return number("motion-ratio", "Motion ratio", unit.Number, 0.05, 2,
		"It is spring travel over wheel travel: 1 at a fork, 0.3 to 0.7 at most shocks.").usual(0.25, 1).
		like("0.5").otherwise("1").named("mr", "ratio")
}

func loadInput() *Input {
	return number("load", "Load without rider", unit.Force, 1, 10000,
		"It is the sprung weight on that end with nobody on: 400 to 1200 N, or 40 to 120 kg on scales.").usual(150, 2500).
		like("650N", "65kg").hint("Scales under that wheel, less the wheel and half the fork legs or swingarm.").named("w", "load without rider")
}

func riderLoadInput() *Input {
	return number("rider-load", "Rider's load", unit.Force, 0, 5000,
		"It is what that end gains when you sit on: about 45 % of your weight in front, 55 % at the rear, 200 to 800 N.").usual(100, 1500).
		like("280N", "40kg").hint("Scales under that wheel, with you on in full gear less without you.").named("wr", "rider's load")
}

func preloadInput() *Input {
	return number("preload", "Preload", unit.Length, 0, 200,
		"Preload is how much shorter the spring is at full extension than free: 0 to 25 mm.").usual(0, 30).
		like("12mm").named("p")
}

func rateInput() *Input {
	return number("rate", "Spring rate", unit.Rate, 0.01, 2000,
		"Fork springs have 4 to 12 N/mm each, shock springs 40 to 180 N/mm.").usual(2, 300).
		like("95N/mm", "10.0kgf/mm", "550lbf/in").named("k", "spring")
}

func sagLength(symbol, label, hint string) *Input {
	return number(symbol, label, unit.Length, 1, 3000,
		"It is a length between two fixed points that a tape can reach, such as axle to clamp or axle to tail.").
		like("500mm").hint(hint).read(1)
}

func sagInput(symbol, label string) *Input {
	return number(symbol, label, unit.Length, 0, 350, saggingReason).like("31mm").read(1)
}

func sagTopics() []Topic {
	return []Topic{sagTopic(), sagRangeTopic(), sagPairTopic(), settleTopic(), travelTopic(), weightsTopic()}
}

func sagTopic() Topic {
	return Topic{
		ID: "sag", Title: "Sag by averaging",
		Why:     "Sag is how far the machine settles under its own weight or yours, and it sets how much travel is left for bumps both ways. Friction holds the suspension up or down, so one reading lies; the mean of a pushed and a lifted one does not. The spread between the two shows how much the end sticks.",
		Formula: "sag = extended − (pushed + lifted)/2;  stiction band = lifted − pushed",
		Source:  "A suspension maker's technical page 'Sag' (method; its print loses the brackets, which would give nonsense).",
		Inputs: []*Input{
			sagLength("extended", "Extended length", "Wheel off the ground, suspension fully out: from the axle to a point straight above it.").named("l1"),
			sagLength("pushed", "Length after pushing down", "Push down about 25 mm, let it rise slowly by itself, and measure between the same two points. Several with commas are averaged.").named("l2").like("466mm", "466,467,466mm").several(),
			sagLength("lifted", "Length after lifting", "Lift about 25 mm, let it settle slowly by itself, and measure between the same two points. Several with commas are averaged.").named("l3").like("472mm").several(),
			word("with", "Measured with", "rider", "free").otherwise("rider"),
			endInput().maybe().like("front"), useInput(), travelInput(),
		},
		Example: "extended=500mm pushed=466mm lifted=472mm end=front travel=120mm",
		run:     runSag,
	}
}

func runSag(in given, out *Result) error {
	s, err := chassis.SagFrom(in.n("extended"), mean(in.list("pushed")), mean(in.list("lifted")))
	if err != nil {
		return err
	}
	out.add("sag", "Sag", unit.Length, s.Sag, 1)
	out.add("stiction", "Stiction band", unit.Length, s.Stiction, 1)
	out.add("half-stiction", "Half the band", unit.Length, s.Stiction/2, 1)
	out.say("The %s sag is {sag}; it sticks within {stiction}, half of which is {half-stiction}.", in.word("with"))
	if in.has("travel") {
		if s.Sag > in.n("travel") {
			return refuse("travel", "The sag is more than the whole travel.", "Look the travel up, or measure the three lengths again.")
		}
		out.add("share", "Share of the travel", unit.Share, 100*s.Sag/in.n("travel"), 1)
		out.say("That is {share} of the travel.")
	}
	if s.Stiction > 15 {
		out.caution("More than 15 mm between pushed and lifted is a lot of friction: look for a tight linkage, a twisted fork or worn bushes before you set anything (common practice, no source).")
	}
	if in.has("end") {
		return sagAgainst(in, out, s.Sag)
	}
	return nil
}

func mean(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v
	}
	return sum / float64(max(1, len(list)))
}

// sagAgainst puts a sag beside the published start range.
func sagAgainst(in given, out *Result, sag float64) error {
	want, byShare, err := rangeOf(in)
	if err != nil {
		return err
	}
	lo, hi, what := want.RiderLo, want.RiderHi, "rider sag"
	if in.word("with") == "free" {
		lo, hi, what = want.FreeLo, want.FreeHi, "free sag"
		want.Source += byShare
	}
	if hi == 0 {
		out.say("No range for free sag at the %s is published here.", in.word("end"))
		return nil
	}
	where := "inside"
	if sag < lo {
		where = "below"
	}
	if sag > hi {
		where = "above"
	}
	out.addWord("against", "Against the start range", where)
	out.say("It lies %s the start range for %s %s on %s, %s to %s mm (%s).", where, in.word("end"), what, useWords[in.word("use")], plain(lo), plain(hi), want.Source)
	if in.has("travel") && in.word("with") != "free" {
		out.say("As shares of this travel the same source gives %s to %s %%, here %s to %s mm.", plain(want.ShareLo), plain(want.ShareHi),
			fixed(want.ShareLo*in.n("travel")/100, 1), fixed(want.ShareHi*in.n("travel")/100, 1))
	}
	out.caution(manualFirst)
	return nil
}

var useWords = map[string]string{"road": "the road", "race": "the track", "offroad": "rough ground"}

func sagRangeTopic() Topic {
	return Topic{
		ID: "sag-range", Title: "Start ranges for sag",
		Why:     "Sag that suits depends on the travel and on what is ridden, so a number from another machine says little. A published range is where to begin. Your manual wins where it names one.",
		Formula: "mm = travel × share",
		Source:  "A suspension maker's technical page 'Sag' (read); free sag of 5 to 10 % of travel after an article on suspension basics (read).",
		Caution: manualFirst,
		Inputs:  []*Input{endInput(), useInput(), travelInput().must()},
		Example: "end=front use=race travel=120mm",
		run: func(in given, out *Result) error {
			want, byShare, err := rangeOf(in)
			if err != nil {
				return err
			}
			out.add("rider-low", "Rider sag from, by share", unit.Length, want.ShareLo*in.n("travel")/100, 1)
			out.add("rider-high", "Rider sag to, by share", unit.Length, want.ShareHi*in.n("travel")/100, 1)
			out.add("rider-low-printed", "Rider sag from, as printed", unit.Length, want.RiderLo, 0)
			out.add("rider-high-printed", "Rider sag to, as printed", unit.Length, want.RiderHi, 0)
			out.add("free-low", "Free sag from", unit.Length, want.FreeLo, 1)
			out.add("free-high", "Free sag to", unit.Length, want.FreeHi, 1)
			out.say("Rider sag of %s to %s %% of this travel is {rider-low} to {rider-high}; printed in mm it is {rider-low-printed} to {rider-high-printed} (%s).", plain(want.ShareLo), plain(want.ShareHi), want.Source)
			out.say("Free sag: {free-low} to {free-high}%s.", strings.ReplaceAll(byShare, "; free sag as", ","))
			return nil
		},
	}
}

// rangeOf is the published range; where none is printed for free sag and the
// travel is known, free sag is 5 to 10 % of it, and byShare says so.
func rangeOf(in given) (want chassis.Range, byShare string, err error) {
	want, err = chassis.SagRange(chassis.End(in.word("end")), chassis.Use(in.word("use")))
	if err == nil && want.FreeHi == 0 && in.has("travel") {
		want.FreeLo, want.FreeHi = 0.05*in.n("travel"), 0.1*in.n("travel")
		byShare = "; free sag as 5 to 10 % of travel: an article on suspension basics"
	}
	return want, byShare, err
}

func sagPairTopic() Topic {
	return Topic{
		ID: "sag-pair", Title: "What the two sags say",
		Why:     "Free and rider sag together tell whether the spring fits you. Preload moves both alike, so only the step between them shows the rate. That saves buying springs on a guess.",
		Formula: "rider − free = rider's load / wheel rate, while neither is topped out",
		Source:  "P. Thede, L. Parks, Race Tech's Motorcycle Suspension Bible, 2010 (rule, from memory); a suspension maker's technical page 'Sag' (ranges).",
		Caution: manualFirst,
		Inputs: []*Input{
			endInput().like("rear"), useInput(),
			sagInput("free", "Free sag").like("8mm").hint("The machine upright, nobody on.").named("free-sag"),
			sagInput("rider", "Rider sag").like("32mm").hint("You on it in full gear, feet up, somebody holding.").named("rider-sag"),
			travelInput(), riderLoadInput().maybe(), motionInput(),
		},
		Example: "end=rear use=road free=8mm rider=32mm rider-load=560N motion-ratio=0.5",
		run:     runSagPair,
	}
}

func runSagPair(in given, out *Result) error {
	want, byShare, err := rangeOf(in)
	if err != nil {
		return err
	}
	want.Source += byShare
	free, rider := in.n("free"), in.n("rider")
	reading, err := chassis.ReadPair(free, rider, want)
	if err != nil {
		return err
	}
	if in.has("travel") && rider > in.n("travel") {
		return refuse("travel", "Rider sag is more than the whole travel.", "Look the travel up, or measure the sag again.")
	}
	out.addWord("reading", "What the pair says", string(reading))
	out.add("difference", "Rider less free", unit.Length, rider-free, 1)
	out.say("%s", reading.Says())
	out.say("Start range at the %s on %s: rider sag %s to %s mm%s (%s).", in.word("end"), useWords[in.word("use")], plain(want.RiderLo), plain(want.RiderHi), freeRange(want), want.Source)
	if in.has("travel") {
		out.add("rider-share", "Rider sag, share of the travel", unit.Share, 100*rider/in.n("travel"), 1)
		out.add("free-share", "Free sag, share of the travel", unit.Share, 100*free/in.n("travel"), 1)
		out.say("Rider sag is {rider-share} of the travel; the same source gives %s to %s %%.", plain(want.ShareLo), plain(want.ShareHi))
	}
	if in.has("rider-load") && in.n("rider-load") > 0 && free > 0 {
		wheel, spring, err := chassis.RateFromSags(free, rider, in.n("rider-load"), in.n("motion-ratio"))
		if err != nil {
			return err
		}
		out.add("wheel-rate", "Wheel rate", unit.Rate, wheel, 2)
		out.add("rate", "Spring rate", unit.Rate, spring, 2)
		out.say("The step between them shows a wheel rate of {wheel-rate}, a spring of {rate}.")
	}
	return nil
}

func freeRange(r chassis.Range) string {
	if r.FreeHi == 0 {
		return ""
	}
	return ", free sag " + plain(r.FreeLo) + " to " + plain(r.FreeHi) + " mm"
}

func settleTopic() Topic {
	return Topic{
		ID: "settle", Title: "Sag from spring and preload",
		Why:     "Before you buy a spring or turn a collar, the sums say what sag it will give. Preload does not make a spring stiffer: it only lifts the machine. Only the rate changes how far you sink it further.",
		Formula: "K = k·MR²;  free = max(0, W/K − P/MR);  rider = max(0, (W + Wr)/K − P/MR)",
		Source:  "Linear spring; motion ratio squared after T. Foale, Motorcycle Handling and Chassis Design, 2002 (from memory).",
		Caution: linearModel,
		Inputs: []*Input{
			rateInput().several().like("9.5N/mm", "9,9.5N/mm").hint("One number, or one for each fork leg: unlike legs add."),
			number("legs", "Legs with that spring", unit.Number, 1, 2, "A fork has two legs and a shock is one.").counted().like("2").tacit("1"),
			preloadInput(), motionInput(), loadInput(), riderLoadInput(),
			rateInput().maybe().like("100N/mm").hint("To see what another spring would do at the same preload.").relabel("new-rate", "New spring rate"),
			preloadInput().maybe().relabel("new-preload", "New preload"),
		},
		Example: "rate=9.5N/mm legs=2 preload=12mm load=650N rider-load=280N",
		run:     runSettle,
	}
}

func (in *Input) relabel(symbol, label string) *Input {
	in.Symbol, in.Label, in.as = symbol, label, nil
	return in
}

func runSettle(in given, out *Result) error {
	rates := in.list("rate")
	if len(rates) > 2 || len(rates) == 2 && in.n("legs") == 1 && in.n("motion-ratio") != 1 {
		return refuse("rate", "One end has one shock spring or two fork springs.", "Give one rate, or two with a comma for the legs of a fork.")
	}
	rate, err := chassis.Parallel(rates...)
	if err != nil {
		return err
	}
	if len(rates) == 1 {
		rate *= in.n("legs")
	} else {
		out.say("Two springs were read, %s and %s N/mm, one in each leg. For one spring write a point, as in 9.5N/mm.", plain(rates[0]), plain(rates[1]))
	}
	spring := chassis.Spring{Rate: rate, Preload: in.n("preload"), MotionRatio: in.n("motion-ratio")}
	s, err := chassis.Settle(spring, in.n("load"), in.n("rider-load"))
	if err != nil {
		return err
	}
	out.add("wheel-rate", "Wheel rate", unit.Rate, s.WheelRate, 2)
	out.add("free", "Free sag", unit.Length, s.Free, 1)
	out.add("rider", "Rider sag", unit.Length, s.Rider, 1)
	out.add("difference", "Rider less free", unit.Length, s.Rider-s.Free, 1)
	out.add("raw-free", "Free sag before the end tops out", unit.Length, s.RawFree, 1)
	out.say("It settles {free} by itself and {rider} with you on it.")
	if s.ToppedOut {
		out.say("Preload holds it topped out: without the stop it would stand {raw-free} from it, so the step between the sags no longer shows the rate.")
	}
	out.Series = append(out.Series, springLine("Wheel force", s.WheelRate, spring))
	if in.has("new-rate") || in.has("new-preload") {
		return settleNew(in, out, spring)
	}
	return nil
}

// springLine is the force at the wheel over the first 120 mm of travel.
func springLine(title string, wheelRate float64, s chassis.Spring) Series {
	line := Series{Title: title, X: Axis{"Wheel travel", "mm"}, Y: Axis{"Force at the wheel", "N"}}
	for x := 0.0; x <= 120; x += 10 {
		line.Points = append(line.Points, [2]float64{x, wheelRate * (x + s.Preload/s.MotionRatio)})
	}
	return line
}

func settleNew(in given, out *Result, spring chassis.Spring) error {
	spring.Preload = in.or("new-preload", spring.Preload)
	if in.has("new-rate") {
		spring.Rate = in.n("new-rate")
		if len(in.list("rate")) == 2 {
			spring.Rate *= 2
		} else {
			spring.Rate *= in.n("legs")
		}
	}
	s, err := chassis.Settle(spring, in.n("load"), in.n("rider-load"))
	if err != nil {
		return err
	}
	out.add("new-wheel-rate", "New wheel rate", unit.Rate, s.WheelRate, 2)
	out.add("new-free", "New free sag", unit.Length, s.Free, 1)
	out.add("new-rider", "New rider sag", unit.Length, s.Rider, 1)
	out.Series = append(out.Series, springLine("After the change", s.WheelRate, spring))
	out.say("After the change it settles {new-free} by itself and {new-rider} with you on it.")
	return nil
}

func travelTopic() Topic {
	rod := func(symbol, label string) *Input {
		return number(symbol, label, unit.Length, 0, 500, "It is a length on the stanchion or the shaft, within the whole travel.").like("98mm").read(1)
	}
	return Topic{
		ID: "travel", Title: "Travel used, by a cable tie",
		Why:     "A cable tie on the stanchion or shaft shows how much of the travel a lap really used. Travel that is never used is comfort and grip given away; travel used up at every bump means the end bottoms. It is the cheapest data logger there is.",
		Formula: "used = tie + stand;  left = total − used;  share = 100·used/total",
		Source:  "Elementary; a tie on the stanchion is common practice, no source.",
		Caution: "A hydraulic or rubber stop may keep the last 10 to 20 mm from ever showing: know where yours begins.",
		Inputs: []*Input{
			rod("used", "Travel used").hint("From the seal to the tie. Measured standing on its wheels? Then give the sag there too.").named("tie"),
			rod("stand", "Sag while you measured").like("30mm").hint("0 with the wheel in the air; else how far it was settled when you measured.").tacit("0mm"),
			travelInput().must().hint("On the same rod as the tie: at a shock this is the stroke, not the wheel travel."),
			rateInput().maybe().relabel("wheel-rate", "Wheel rate").like("18.5N/mm"),
			loadInput().maybe().hint("With the wheel rate it gives the load at which the travel is used up."),
			preloadInput().maybe(),
		},
		Example: "used=98mm travel=120mm",
		run:     runTravel,
	}
}

func runTravel(in given, out *Result) error {
	t, err := chassis.TravelUsed(in.n("used")+in.n("stand"), in.n("travel"))
	if err != nil {
		return err
	}
	out.add("used", "Used from full extension", unit.Length, t.Used, 0)
	out.add("left", "Left", unit.Length, t.Left, 0)
	out.add("share", "Share used", unit.Share, t.Share, 0)
	out.say("It used {used} of %s mm, {share}; {left} are left.", plain(in.n("travel")))
	switch {
	case t.Left < 3:
		out.say("That is the end of the travel: it bottomed, or stood on its stop.")
	case t.Share < 75:
		out.say("A quarter of the travel or more was never used on this ride.")
	}
	if !in.has("wheel-rate") {
		return nil
	}
	force := in.n("wheel-rate") * (in.n("travel") + in.n("preload"))
	out.add("full-force", "Spring force at full travel", unit.Force, force, 0)
	out.say("The spring alone holds {full-force} at the end of the travel.")
	if in.has("load") {
		out.addIn("full-load", "Load at full travel over load at rest", "times", force/in.n("load"), 2)
		out.say("That is {full-load} the load at rest; a faster or harder bump needs damping or the stop.")
	}
	return nil
}

func weightsTopic() Topic {
	scales := func(symbol, label, like string) *Input {
		return number(symbol, label, unit.Mass, 10, 600, "A wheel of a motorcycle carries 50 to 200 kg on scales.").usual(30, 300).like(like).read(0.5)
	}
	return Topic{
		ID: "weights", Title: "Weight shares on two scales",
		Why:     "How the weight is shared between the wheels decides how each end is sprung and how the machine turns. Two bathroom scales and a plank tell it. Weighed with and without you, they also give the load that your body adds to each end.",
		Formula: "front share = front/(front + rear);  rider's load = (with − without)·g",
		Source:  "Elementary; g = 9.80665 m/s² (NIST SP 811).",
		Caution: "Stand both wheels level and upright, somebody holding; a machine that leans or slopes reads wrong.",
		Inputs: []*Input{
			scales("front", "Front wheel", "98kg"), scales("rear", "Rear wheel", "102kg"),
			scales("front-with", "Front wheel with rider", "132kg").maybe(), scales("rear-with", "Rear wheel with rider", "150kg").maybe(),
			number("wheelbase", "Wheelbase", unit.Length, 800, 2500, "Motorcycles measure 1200 to 1700 mm from axle to axle.").usual(1150, 1900).like("1400mm").maybe(),
		},
		Example: "front=98kg rear=102kg front-with=132kg rear-with=150kg",
		run:     runWeights,
	}
}

func runWeights(in given, out *Result) error {
	front, rear := in.n("front"), in.n("rear")
	out.add("total", "Machine", unit.Mass, front+rear, 1)
	out.add("front-share", "Front weight share", unit.Share, 100*front/(front+rear), 1)
	out.say("The machine weighs {total} and carries {front-share} of it in front.")
	if in.has("wheelbase") {
		out.add("centre-ahead", "Centre of gravity ahead of the rear axle", unit.Length, in.n("wheelbase")*front/(front+rear), 0)
	}
	if in.has("front-with") != in.has("rear-with") {
		return refuse("rear-with", "With the rider both wheels are needed.", "Give front-with and rear-with, or neither.")
	}
	if !in.has("front-with") {
		return nil
	}
	f, r := in.n("front-with"), in.n("rear-with")
	if f <= front || r <= rear {
		return refuse("front-with", "With the rider a wheel carries no more than without.", "Check which reading was which, and weigh again.")
	}
	out.add("rider", "Rider", unit.Mass, f+r-front-rear, 1)
	out.add("front-share-with", "Front weight share with rider", unit.Share, 100*f/(f+r), 1)
	out.add("front-rider-load", "Rider's load in front", unit.Force, (f-front)*unit.StandardGravity, 0)
	out.add("rear-rider-load", "Rider's load at the rear", unit.Force, (r-rear)*unit.StandardGravity, 0)
	out.say("You are {rider} of it and add {front-rider-load} in front and {rear-rider-load} at the rear; with you the front carries {front-share-with}.")
	return nil
}
