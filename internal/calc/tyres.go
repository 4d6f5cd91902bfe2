package calc

import (
	"fmt"
	"math"
	"time"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

func tyreTopics() []Topic {
	return []Topic{pressureTopic(), atmosphereTopic(), coldPressureTopic(), treadTopic(), tyreAgeTopic(), heatCyclesTopic()}
}

const tyreCaution = "Stay inside the pressures that the machine's and the tyre maker's instructions allow. Do not bleed a hot tyre down to the cold figure."

func pressureInput(symbol, label string) *Input {
	return number(symbol, label, unit.Pressure, 20, 1000,
		"Tyres are ridden at 100 to 350 kPa gauge (1 to 3.5 bar, 15 to 50 psi); a bare number is in kPa, so type 2.1bar or 36psi.").usual(80, 400).
		like("2.1bar", "36psi", "210kPa").read(2)
}

func temperatureInput(symbol, label string) *Input {
	return number(symbol, label, unit.Temperature, -40, 200,
		"Air is −20 to 45 °C where people ride, and a tyre at work 40 to 110 °C; a bare number is in °C, so type 70F.").usual(-20, 120).
		like("20C", "70F").read(1)
}

func altitudeInput(symbol, label string) *Input {
	return number(symbol, label, unit.Altitude, -1000, 11000, "Roads lie between −400 and 5500 m, and the formula holds up to 11,000 m.").usual(-430, 5600).like("1000m").maybe()
}

func ambientInput(symbol, label string) *Input {
	return number(symbol, label, unit.Pressure, 40, 110, "Air presses with 101 kPa at sea level and 90 kPa at 1000 m; weather moves it by 3 kPa. It is not the figure that a forecast has reduced to sea level.").like("101.325kPa").hint("Of a barometer at that place; or give the altitude.").maybe()
}

// ambientOf is the ambient pressure: measured, by altitude, or of the place
// that other says.
func ambientOf(in given, ambient, altitude string, other float64) (float64, error) {
	switch {
	case in.has(ambient, altitude):
		return 0, refuse(altitude, "Altitude and ambient pressure were both given.", "Give one of them.")
	case in.has(ambient):
		return in.n(ambient), nil
	case in.has(altitude):
		a, err := chassis.StandardAtmosphere(in.n(altitude))
		return a.Pressure, renamed(err, altitude)
	}
	return other, nil
}

func pressureTopic() Topic {
	return Topic{
		ID: "pressure", Title: "Tyre pressure by temperature and altitude",
		Why:     "A closed tyre gains pressure as it warms, and a gauge reads more the higher you stand. Both go with absolute pressure and temperature, so scaling the gauge reading gives wrong answers. With the sum you can set a tyre in a cold garage for a warm track.",
		Formula: "(p2 + a2)/(p1 + a1) = T2/T1;  pressures absolute, T = °C + 273.15",
		Source:  "Ideal gas law at constant volume, dry gas; ambient by ISO 2533:1975 (from memory).",
		Caution: tyreCaution,
		Inputs: []*Input{
			pressureInput("pressure", "Pressure"),
			temperatureInput("from", "Temperature there").named("t1", "temperature"),
			temperatureInput("to", "Other temperature").like("75C", "130F").maybe().named("t2"),
			altitudeInput("altitude", "Altitude there").like("0m"), ambientInput("ambient", "Ambient pressure there").named("pa", "pa1"),
			altitudeInput("to-altitude", "Other altitude").named("new-altitude"), ambientInput("to-ambient", "Other ambient pressure").named("new-ambient", "pa2"),
		},
		Example: "pressure=2.1bar from=20C to=75C",
		run:     runPressure,
	}
}

func runPressure(in given, out *Result) error {
	here, err := ambientOf(in, "ambient", "altitude", chassis.Standard)
	if err != nil {
		return err
	}
	there, err := ambientOf(in, "to-ambient", "to-altitude", here)
	if err != nil {
		return err
	}
	if !in.has("to") && there == here {
		return refuse("to", "There is nothing to correct for.", "Give another temperature, as to=75C, or another altitude, as to-altitude=1000m.")
	}
	from, to := in.n("from"), in.or("to", in.n("from"))
	p, err := chassis.PressureAt(in.n("pressure"), chassis.Air{Ambient: here, Temperature: from}, chassis.Air{Ambient: there, Temperature: to})
	if err != nil {
		return err
	}
	out.add("pressure", "Pressure then", unit.Pressure, p, 0)
	out.add("change", "Gained", unit.Pressure, p-in.n("pressure"), 1)
	out.add("ambient", "Ambient there", unit.Pressure, here, 1)
	out.add("to-ambient", "Ambient then", unit.Pressure, there, 1)
	out.say("The gauge then reads {pressure}: {change} more (minus: less).")
	if to != from {
		line := Series{Title: "Pressure over temperature", X: Axis{"Temperature", "°C"}, Y: Axis{"Gauge pressure", "kPa"}}
		for i := range 21 {
			t := from + (to-from)*float64(i)/20
			if p, err := chassis.PressureAt(in.n("pressure"), chassis.Air{Ambient: here, Temperature: from}, chassis.Air{Ambient: there, Temperature: t}); err == nil {
				line.Points = append(line.Points, [2]float64{t, p})
			}
		}
		out.Series = append(out.Series, line)
	}
	return nil
}

func atmosphereTopic() Topic {
	return Topic{
		ID: "atmosphere", Title: "The standard air at an altitude",
		Why:     "Thin air presses less on a gauge and feeds an engine less. A gauge set at sea level reads a tenth of a bar more at 1000 m. The standard air is a mean: weather moves the pressure by some per cent.",
		Formula: "T = 288.15 − 0.0065·H;  p = 101325·(T/288.15)^5.25588;  rho = p/(287.05287·T);  H = r·h/(r + h), r = 6356766 m",
		Source:  "ISO 2533:1975, also ICAO Doc 7488 (from memory).",
		Inputs: []*Input{
			altitudeInput("altitude", "Altitude").must().named("h"),
			word("by", "Kind of altitude", "geopotential", "geometric").hint("Maps and satellites give the geometric one; at 1000 m it makes 2 Pa of difference.").tacit("geopotential"),
		},
		Example: "altitude=1000m",
		run: func(in given, out *Result) error {
			h := in.n("altitude")
			if in.word("by") == "geometric" {
				var err error
				if h, err = chassis.Geopotential(h); err != nil {
					return err
				}
			}
			a, err := chassis.StandardAtmosphere(h)
			if err != nil {
				return err
			}
			out.add("pressure", "Pressure", unit.Pressure, a.Pressure, 2)
			out.addIn("pressure-pa", "Pressure", "Pa", a.Pressure*1000, 0)
			out.add("temperature", "Temperature", unit.Temperature, a.Temperature, 1)
			out.addIn("kelvin", "Temperature", "K", a.Temperature+273.15, 2)
			out.addIn("density", "Density", "kg/m³", a.Density, 4)
			out.addIn("density-share", "Density, share of sea level", "%", 100*a.Density/1.225, 1)
			out.say("The standard air there has {pressure} and {temperature}; it is {density-share} as dense as at sea level.")
			return nil
		},
	}
}

func coldPressureTopic() Topic {
	return Topic{
		ID: "cold-pressure", Title: "Cold pressure for a wanted hot one",
		Why:     "What counts on track is the pressure when hot, but it has to be set cold. Your own pairs from this tyre at this track show how warm it gets there. From them follows today's cold pressure, with an honest interval.",
		Formula: "Th = Tc·(hot + a)/(cold + a) of each pair, averaged;  cold = (wanted + a)·Tc/Th − a;  interval by Student's t, n − 1",
		Source:  "Ideal gas law; prediction interval after NIST/SEMATECH e-Handbook of Statistical Methods (from memory).",
		Caution: tyreCaution,
		Inputs: []*Input{
			pressureInput("cold", "Cold pressures").several().like("1.9,1.9,2.0bar").hint("Before the stint, with commas between. With hot-at instead of pairs leave it out.").maybe(),
			pressureInput("hot", "Hot pressures").several().like("2.35,2.3,2.45bar").hint("Straight after, in the same order.").maybe(),
			temperatureInput("temperatures", "Temperatures when cold").several().like("18,22,25C").hint("One for each pair, or one for all; today's when left out.").maybe(),
			pressureInput("wanted", "Hot pressure wanted").like("2.4bar"),
			temperatureInput("today", "Temperature today").like("20C").named("cold-temperature"),
			temperatureInput("hot-at", "Temperature of the hot tyre").like("80C").hint("Instead of pairs, if you know it.").maybe(),
			altitudeInput("altitude", "Altitude of the track"), ambientInput("ambient", "Ambient pressure"),
		},
		Example: "cold=1.9,1.9,2.0bar hot=2.35,2.3,2.45bar wanted=2.4bar today=20C",
		run:     runColdPressure,
	}
}

func runColdPressure(in given, out *Result) error {
	ambient, err := ambientOf(in, "ambient", "altitude", chassis.Standard)
	if err != nil {
		return err
	}
	if in.has("hot-at") {
		if in.has("cold") || in.has("hot") {
			return refuse("hot-at", "Both pairs and the hot temperature were given.", "Give one of them.")
		}
		if in.n("hot-at") <= in.n("today") {
			return refuse("hot-at", "The hot tyre is no warmer than today's air.", "Check which temperature is which.")
		}
		p, err := chassis.PressureAt(in.n("wanted"), chassis.Air{Ambient: ambient, Temperature: in.n("hot-at")}, chassis.Air{Ambient: ambient, Temperature: in.n("today")})
		if err != nil {
			return renamed(err, "wanted")
		}
		out.add("cold", "Cold pressure", unit.Pressure, p, 0)
		out.say("Set {cold} cold.")
		return nil
	}
	pairs, err := pairsOf(in)
	if err != nil {
		return err
	}
	c, err := chassis.ColdPressure(pairs, in.n("wanted"), in.n("today"), ambient)
	if err != nil {
		return err
	}
	out.add("cold", "Cold pressure", unit.Pressure, c.Cold, 0)
	out.add("hot-at", "Temperature that the filling reached", unit.Temperature, c.HotAt, 0)
	out.addIn("growth", "Absolute hot over absolute cold", "", c.Growth, 3)
	out.say("Set {cold} cold: in these pairs the filling reached {hot-at}.")
	if c.PairCount == 1 {
		out.say("One pair shows no scatter, so there is no interval yet: write down every pair.")
		return nil
	}
	out.addBound("half", "Half the interval", unit.Pressure, c.Half, 0)
	out.addBound("low", "Interval from", unit.Pressure, c.Cold-c.Half, 0)
	out.addBound("high", "Interval to", unit.Pressure, c.Cold+c.Half, 0)
	out.say("By the scatter of %d pairs the right figure lies in 19 of 20 cases within {half} of that, {low} to {high}.", c.PairCount)
	if c.PairCount < 4 {
		out.caution("With so few pairs the interval is wide; each further pair narrows it.")
	}
	return nil
}

func pairsOf(in given) ([]chassis.HotPair, error) {
	cold, hot, at := in.list("cold"), in.list("hot"), in.list("temperatures")
	if len(cold) == 0 || len(cold) != len(hot) {
		return nil, refuse("hot", fmt.Sprintf("Cold pressures given: %d; hot ones: %d.", len(cold), len(hot)), "Give as many of each, in the same order, such as cold=1.9,1.9bar hot=2.35,2.3bar.")
	}
	if len(at) > 1 && len(at) != len(cold) {
		return nil, refuse("temperatures", fmt.Sprintf("There are %d temperatures for %d pairs.", len(at), len(cold)), "Give one for each pair, or one for all.")
	}
	pairs := make([]chassis.HotPair, len(cold))
	for i := range cold {
		t := in.n("today")
		if len(at) > 0 {
			t = at[min(i, len(at)-1)]
		}
		pairs[i] = chassis.HotPair{Cold: cold[i], Hot: hot[i], Temperature: t}
	}
	return pairs, nil
}

func treadTopic() Topic {
	probe := func(symbol, label string) *Input {
		return temperatureInput(symbol, label).usual(10, 130).like("72C").hint("With a needle probe 2 mm into the tread, within a minute of stopping, the hot side of the track first.").read(2)
	}
	return Topic{
		ID: "tread", Title: "Temperatures across the tread",
		Why:     "Three temperatures show which part of the tread works. A middle that is hotter than the edges points to pressure, one edge hotter than the other to lines and lean. A number by itself says little: compare stints on the same tyre and track.",
		Formula: "middle − (inner + outer)/2;  inner − outer",
		Source:  "Common practice, no source; 10 °C as the mark is common practice too.",
		Caution: "It does not say grip, and not wear: surface, track side, time since stopping and the order of probing move it by more than pressure does.",
		Inputs:  []*Input{probe("inner", "Inner edge").named("left"), probe("middle", "Middle").like("80C").named("centre"), probe("outer", "Outer edge").named("right")},
		Example: "inner=72C middle=86C outer=70C",
		run: func(in given, out *Result) error {
			t, err := chassis.TreadFrom(in.n("inner"), in.n("middle"), in.n("outer"))
			if err != nil {
				return err
			}
			out.add("mean", "Mean", unit.Temperature, t.Mean, 0)
			out.addIn("middle-over", "Middle above the edges", "K", t.Middle, 0)
			out.addIn("inner-over", "Inner above outer", "K", t.Inside, 0)
			out.addIn("spread", "Hottest less coldest", "K", t.Spread, 0)
			out.say("The middle is %s the mean of the edges, the inner edge %s the outer one.", hotter(t.Middle), hotter(t.Inside))
			out.say("%s", treadSays(t))
			return nil
		},
	}
}

// hotter says a difference of temperatures, which no probe tells closer than to a degree.
func hotter(by float64) string {
	switch {
	case math.Abs(by) < 0.5:
		return "as hot as"
	case by < 0:
		return fmt.Sprintf("%.0f °C cooler than", -by)
	}
	return fmt.Sprintf("%.0f °C hotter than", by)
}

const treadMark = 10 // K, common practice, no source

func treadSays(t chassis.Tread) string {
	switch {
	case t.Middle > treadMark:
		return "A middle that hot goes with too much pressure, or with long straights: check the hot pressure first."
	case t.Middle < -treadMark:
		return "Edges hotter than the middle go with too little pressure, or with much time at lean: check the hot pressure first."
	case math.Abs(t.Inside) > treadMark:
		return "One edge works more than the other: usual where a track turns one way, and no reason to change pressure."
	}
	return "That is even: nothing here asks for a change."
}

func tyreAgeTopic() Topic {
	return Topic{
		ID: "tyre-age", Title: "Tyre age from the date code",
		Why:     "Rubber hardens with the years, ridden or not, and an old tyre lets go without warning. The last four digits after DOT are the week and the year in which it was made. A used machine often stands on tyres older than its tread suggests.",
		Formula: "WWYY: week and year; three digits: before 2000, decade unknown",
		Source:  "US 49 CFR 574.5 (from memory); ISO 8601 weeks. Inspect yearly after 5 years and replace at 10 at the latest: tyre sellers' pages quoting maker advice.",
		Caution: "Age is not all: cracks, hard or shiny tread, repairs and a fall count too. Ask a tyre fitter when in doubt.",
		Inputs: []*Input{
			word("code", "Date code").like("2714", "XXXXXXX2714").hint("On one side of the tyre only, in a small frame after DOT.").named("dot"),
			word("today", "Date of today").like("2026-11-25").hint("Year, month, day.").maybe(),
		},
		Example: "code=2714 today=2026-11-25",
		run:     runTyreAge,
	}
}

func runTyreAge(in given, out *Result) error {
	d, err := chassis.ParseTyreDate(in.word("code"))
	if err != nil {
		return err
	}
	out.addIn("week", "Week", "", float64(d.Week), 0)
	if d.Year == 0 {
		out.addIn("year-last-digit", "Last digit of the year", "", float64(d.LastDigit), 0)
		out.addWord("decade", "Decade", "unknown, before 2000")
		out.say("Made in week %d of a year before 2000 that ends in %d; three digits do not tell the decade.", d.Week, d.LastDigit)
		out.say("Do not ride on it: it is more than 25 years old.")
		return nil
	}
	out.addIn("year", "Year", "", float64(d.Year), 0)
	out.say("Made in week %d of %d.", d.Week, d.Year)
	if !in.has("today") {
		return nil
	}
	day, err := time.Parse(time.DateOnly, in.word("today"))
	if err != nil {
		return refuse("today", "That is not a date.", "Give it like 2026-11-25: year, month, day.")
	}
	age, err := d.Age(day)
	if err != nil {
		return err
	}
	out.addIn("age", "Age", "years", age, 1)
	out.say("It is {age} old.")
	switch {
	case age >= 10:
		out.say("Do not ride on it: tyres are replaced at 10 years at the latest, whatever their tread.")
	case age >= 5:
		out.say("After 5 years have it inspected every year by somebody who knows tyres.")
	}
	return nil
}

func heatCyclesTopic() Topic {
	return Topic{
		ID: "heat-cycles", Title: "Heat cycles of a tyre",
		Why:     "Each time a tyre heats up and cools down its rubber hardens a little. Sporting tyres show it after a few such cycles, road tyres hardly. Counting them tells a tired tyre from a bad setting.",
		Formula: "one cycle: above hot, then below cool",
		Source:  "Elementary count; 60 °C and 35 °C as the marks are common practice, no source.",
		Caution: "There is no general limit to heat cycles: judge the tyre by feel and by its maker's words.",
		Inputs: []*Input{
			number("sessions", "Sessions on each day", unit.Number, 0, 50, "Nobody rides more than some twenty sessions on a day.").counted().several().like("4,5,3").hint("Sessions after which the tyre cooled down.").maybe(),
			temperatureInput("temperatures", "Temperatures in a row").several().like("20,75,30,80,25C").maybe(),
			temperatureInput("hot", "Counts as hot above").like("60C").tacit("60C"),
			temperatureInput("cool", "Counts as cooled below").like("35C").tacit("35C"),
		},
		Example: "sessions=4,5,3",
		run: func(in given, out *Result) error {
			if in.has("sessions") == in.has("temperatures") {
				return refuse("sessions", "Give either sessions or temperatures.", "Give sessions=4,5,3 or temperatures=20,75,30,80,25C.")
			}
			total := 0.0
			for _, n := range in.list("sessions") {
				total += n
			}
			if in.has("temperatures") {
				n, err := chassis.HeatCycles(in.list("temperatures"), in.n("hot"), in.n("cool"))
				if err != nil {
					return err
				}
				total = float64(n)
			}
			out.addIn("cycles", "Heat cycles", "", total, 0)
			out.say("That is %s heat cycles.", plain(total))
			return nil
		},
	}
}
