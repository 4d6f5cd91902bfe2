package calc

import (
	"fmt"
	"math"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

func forkTopics() []Topic { return []Topic{forkAirTopic()} }

func forkAirTopic() Topic {
	return Topic{
		ID: "fork-air", Title: "Fork air and oil level",
		Why:     "The air above the oil is a second spring that hardly shows at sag and rules the last third of the travel. Ten millimetres of oil change how a fork ends its travel more than a spring step does. It is the cheapest way to stop bottoming without making the start harsh.",
		Formula: "V = V0 − A·x;  p·V^n = p0·V0^n, absolute;  F = (p − pa)·A;  dF/dx = n·p·A²/V;  V0 = π/4·bore²·level + A·travel;  with coil: F + k·(x + P)",
		Source:  "Polytropic law, any text on thermodynamics; V0 from the oil level is geometry, derived: fork compressed, spring out, rod and spring neglected.",
		Caution: "Oil level only inside the manual's range: too much oil bursts seals, too little lets the damper draw air. Never open a pressurised leg.",
		Inputs: []*Input{
			number("volume", "Air at full extension", unit.Volume, 5, 3000, "A road fork leg holds 200 to 500 cm³ of air when fully out.").usual(80, 900).like("300cm3").hint("Of one leg; or give oil level and bore.").maybe().named("v0"),
			number("oil-level", "Oil level", unit.Length, 10, 600, "From the top of the tube down to the oil, fork compressed and spring out: 80 to 180 mm.").usual(50, 300).like("120mm").read(1).maybe().named("level"),
			number("bore", "Tube bore", unit.Length, 15, 80, "Fork tubes are 33 to 45 mm wide inside.").usual(25, 55).like("39mm").read(0.1).maybe(),
			number("diameter", "Moving tube's diameter", unit.Length, 15, 80, "What dips into the other tube is 37 to 50 mm across.").usual(28, 60).like("43mm").hint("Of the stanchion; or give its area.").maybe(),
			number("area", "Displaced area", unit.Area, 150, 5000, "A 43 mm tube displaces 1452 mm².").usual(600, 3000).like("1452mm2").maybe().named("a"),
			travelInput().must(),
			number("at", "At travel", unit.Length, 0, 400, "It is a place within the travel.").like("100mm").maybe().named("x"),
			number("start", "Start pressure", unit.Pressure, 0, 1500, "Gauge, at full extension: 0 where the leg is vented there, 1 to 10 bar in an air fork.").like("2bar").otherwise("0kPa"),
			number("exponent", "Polytropic exponent", unit.Number, 1, 1.7, "1.0 when slow, 1.4 when fast; 1.2 to 1.3 is usual on the road.").like("1.2").otherwise("1.2").named("n"),
			ambientInput("ambient", "Ambient pressure").otherwise("101.325kPa").named("pa"),
			number("oil-raised", "Oil raised", unit.Length, -100, 100, "Oil is raised or lowered by 5 or 10 mm at a time.").like("10mm").hint("Minus is lowered; needs the bore.").maybe(),
			number("oil-added", "Oil added", unit.Volume, -300, 300, "10 mm of oil are about 12 cm³ in a leg.").like("15cm3").maybe(),
			rateInput().maybe().like("9.5N/mm").hint("Coil spring of one leg, for one force curve.").relabel("rate", "Coil rate of one leg"),
			preloadInput().maybe(),
			number("legs", "Legs alike", unit.Number, 1, 2, "A fork has two legs.").counted().like("2").tacit("1"),
		},
		Example: "volume=300cm3 diameter=43mm travel=120mm at=100mm exponent=1.2",
		run:     runForkAir,
	}
}

// forkAirOf puts the leg together, with so much oil added in cm³.
func forkAirOf(in given, added float64) (chassis.ForkAir, error) {
	area, err := oneOf(in, "diameter", "area", func(d float64) float64 { return math.Pi / 4 * d * d })
	if err != nil {
		return chassis.ForkAir{}, err
	}
	volume := in.n("volume")
	switch {
	case in.has("volume", "oil-level"):
		return chassis.ForkAir{}, refuse("oil-level", "Air volume and oil level were both given.", "Give one of them.")
	case in.has("oil-level", "bore"):
		if volume, err = chassis.AirVolume(in.n("oil-level"), in.n("bore"), area, in.n("travel")); err != nil {
			return chassis.ForkAir{}, err
		}
	case !in.has("volume"):
		return chassis.ForkAir{}, refuse("volume", "The air volume is missing.", "Give volume=300cm3, or oil-level=120mm and bore=39mm.")
	}
	if volume -= added; volume <= 5 {
		return chassis.ForkAir{}, refuse("oil-added", "That much oil leaves no air.", "Add less, or check the volume.")
	}
	return chassis.ForkAir{Volume: volume, Area: area, Start: in.n("start"), Ambient: in.n("ambient"), Exponent: in.n("exponent")}, nil
}

func oilAdded(in given) (float64, error) {
	if !in.has("oil-raised") {
		return in.n("oil-added"), nil
	}
	if in.has("oil-added") {
		return 0, refuse("oil-added", "Oil was given as height and as volume.", "Give one of them.")
	}
	if !in.has("bore") {
		return 0, refuse("bore", "The bore is missing.", "Give bore=39mm, so that a height of oil is a volume.")
	}
	section, err := chassis.CircleArea(in.n("bore"))
	return section * in.n("oil-raised") / 1000, err
}

func runForkAir(in given, out *Result) error {
	added, err := oilAdded(in)
	if err != nil {
		return err
	}
	before, err := forkAirOf(in, 0)
	if err != nil {
		return err
	}
	leg, err := forkAirOf(in, added)
	if err != nil {
		return err
	}
	x := in.or("at", in.n("travel"))
	if x > in.n("travel") {
		return refuse("at", "That place lies beyond the travel.", fmt.Sprintf("Give up to %s mm.", plain(in.n("travel"))))
	}
	f, err := leg.At(x)
	if err != nil {
		return err
	}
	legs := in.n("legs")
	out.add("air-pressure", "Air pressure, absolute", unit.Pressure, f.Pressure, 1)
	out.addIn("air-pressure-mpa", "Air pressure, absolute", "MPa", f.Pressure/1000, 4)
	out.add("air-force", "Air force", unit.Force, legs*f.Force, 0)
	out.add("air-rate", "Air rate", unit.Rate, legs*f.Rate, 2)
	out.add("volume", "Air at full extension", unit.Volume, leg.Volume, 0)
	out.add("area", "Displaced area", unit.Area, leg.Area, 0)
	out.say("At %s mm the air pushes with {air-force} and adds {air-rate} to the springs%s.", plain(x), map[bool]string{true: ", both legs", false: ", one leg"}[legs == 2])
	if in.has("rate") {
		out.add("force", "Air and coil", unit.Force, legs*(f.Force+in.n("rate")*(x+in.n("preload"))), 0)
		out.add("total-rate", "Rate of air and coil", unit.Rate, legs*(f.Rate+in.n("rate")), 2)
		out.say("With the coil it is {force} at {total-rate}.")
	}
	if err := tenMillimetres(in, leg, x, out); err != nil {
		return err
	}
	forkCurves(in, leg, "Air", out)
	if added != 0 {
		was, err := before.At(x)
		if err != nil {
			return err
		}
		out.add("force-gained", "Gained by the oil there", unit.Force, legs*(f.Force-was.Force), 0)
		out.say("The oil makes {force-gained} of difference there.")
		forkCurves(in, before, "Before", out)
	}
	return nil
}

// tenMillimetres adds what raising the oil by 10 mm would do.
func tenMillimetres(in given, leg chassis.ForkAir, x float64, out *Result) error {
	if !in.has("bore") {
		return nil
	}
	section, err := chassis.CircleArea(in.n("bore"))
	if err != nil {
		return err
	}
	more := leg
	more.Volume -= section * 10 / 1000
	here, err := leg.At(x)
	if err != nil {
		return err
	}
	there, err := more.At(x)
	if err != nil {
		out.say("Another 10 mm of oil would leave no room for that travel.")
		return nil
	}
	out.add("ten-more", "Gained by 10 mm more oil there", unit.Force, in.n("legs")*(there.Force-here.Force), 0)
	out.say("Another 10 mm of oil would add {ten-more} there.")
	return nil
}

func forkCurves(in given, leg chassis.ForkAir, title string, out *Result) {
	travel, force := Axis{"Travel", "mm"}, Axis{"Force", "N"}
	air := Series{Title: title, X: travel, Y: force}
	all := Series{Title: title + " and coil", X: travel, Y: force}
	coil := Series{Title: "Coil", X: travel, Y: force}
	for i := range 41 {
		x := in.n("travel") * float64(i) / 40
		f, err := leg.At(x)
		if err != nil {
			break
		}
		k := in.n("legs") * in.n("rate") * (x + in.n("preload"))
		air.Points = append(air.Points, [2]float64{x, in.n("legs") * f.Force})
		coil.Points = append(coil.Points, [2]float64{x, k})
		all.Points = append(all.Points, [2]float64{x, in.n("legs")*f.Force + k})
	}
	out.Series = append(out.Series, air)
	if in.has("rate") {
		out.Series = append(out.Series, coil, all)
	}
}
