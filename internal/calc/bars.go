package calc

import (
	"math"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

func barTopics() []Topic { return []Topic{barsTopic()} }

func barsTopic() Topic {
	side := func(symbol, label string) *Input {
		return number(symbol, label, unit.Length, 50, 3000, "From a bar end to a point on the tail it is 700 to 1500 mm.").like("1012mm").hint("Wheel straight ahead: from the bar end, or the lever's tip, to one point on the centre line.").read(1).maybe()
	}
	return Topic{
		ID: "bars", Title: "Is the handlebar straight?",
		Why:     "After a fall the fork often turns in its clamps, and then the bar stands aside when the wheel runs straight. The rider feels it as a machine that steers more easily one way than the other. A tape finds it in two minutes, and loosening the clamps usually mends it.",
		Formula: "sin θ = (right² − left²)/(4·c·half), c the point's distance ahead of the steering axis (minus: behind);  offset = half·sin θ",
		Source:  "Elementary geometry, derived; exact for any sweep and height of the bar.",
		Caution: "A bar, clamp or fork tube that is bent shows the same. After a fall have fork and stem checked by somebody qualified, and torque the clamps as the manual says.",
		Inputs: []*Input{
			side("left", "Left distance"), side("right", "Right distance").like("1000mm"),
			number("half", "Bar length from the axis", unit.Length, 100, 700, "From steering axis to bar end it is 320 to 420 mm.").usual(250, 500).like("360mm").hint("Half the width over the bar ends.").read(3).named("length", "half-width"),
			word("point", "Where the point lies", "behind", "ahead").hint("Behind the steering axis, as on the tail; or ahead of it.").otherwise("behind"),
			number("away", "Point's distance from the steering axis", unit.Length, 50, 2500, "A point on the tail is 700 to 1300 mm behind the steering axis.").like("950mm").hint("Along the machine. Left out, the point is taken to be level with the bar ends.").read(10).maybe(),
			number("angle", "Twist angle", unit.Angle, -20, 20, "A bar twisted by more than 5° is seen at once; plus is to the right.").usual(-8, 8).like("1.5deg").hint("Instead of distances.").read(0.2).maybe().named("twist"),
			number("tolerance", "Tolerance at the grip", unit.Length, 0, 20, "A tape tells 1 to 2 mm; less cannot be told from nothing.").like("2mm").otherwise("2mm"),
		},
		Example: "left=1012mm right=1000mm half=360mm away=950mm",
		run:     runBars,
	}
}

func runBars(in given, out *Result) error {
	b, err := barsOf(in)
	if err != nil {
		return err
	}
	way := "right"
	if b.AtGrip < 0 {
		way = "left"
	}
	out.add("offset", "Offset at the grip", unit.Length, b.AtGrip, 1)
	out.add("angle", "Twist", unit.Angle, b.Angle, 2)
	if b.Neutral {
		out.addWord("turned", "Turned", "neutral")
		out.say("The bar is straight within %s mm: {offset}, {angle}.", plain(in.n("tolerance")))
		return nil
	}
	out.addWord("turned", "Turned", way)
	out.say("With the wheel straight the bar is turned to the %s: the ends stand {offset} ahead and behind, {angle} (plus is right).", way)
	out.say("So the lower fork sits turned to the %s in the clamps. Loosen them, hold the wheel, bring the bar back, and tighten as the manual says.", map[string]string{"right": "left", "left": "right"}[way])
	return nil
}

func barsOf(in given) (chassis.Bars, error) {
	if in.has("angle") {
		if in.has("left") || in.has("right") {
			return chassis.Bars{}, refuse("angle", "Distances and angle were both given.", "Give one of them.")
		}
		return chassis.BarsFromTwist(in.n("angle"), in.n("half"), in.n("tolerance"))
	}
	if !in.has("left", "right") {
		return chassis.Bars{}, refuse("left", "Both distances are needed.", "Give left=1012mm and right=1000mm, or angle=1.5deg.")
	}
	left, right, half := in.n("left"), in.n("right"), in.n("half")
	away := in.n("away")
	if away == 0 {
		level := (left*left+right*right)/2 - half*half
		if level <= 0 {
			return chassis.Bars{}, refuse("half", "The distances are shorter than the bar.", "Measure the bar from the steering axis to its end, and the distances again.")
		}
		away = math.Sqrt(level)
	}
	if in.word("point") == "behind" {
		away = -away
	}
	return chassis.BarsFromDistances(left, right, half, away, in.n("tolerance"))
}
