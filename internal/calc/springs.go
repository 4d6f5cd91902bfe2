package calc

import (
	"fmt"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

func springTopics() []Topic {
	return []Topic{springWireTopic(), springCutTopic(), springsTopic(), wheelRateTopic(), preloadTopic(), springForTopic()}
}

// addRate puts in a rate, and the two other ways in which springs are marked.
func addRate(out *Result, symbol, label string, rate float64) {
	out.add(symbol, label, unit.Rate, rate, 2)
	kgf, _ := unit.Rate.FromCanonical(rate, "kgf/mm")
	lbf, _ := unit.Rate.FromCanonical(rate, "lbf/in")
	out.addIn(symbol+"-kgf-mm", label, "kgf/mm", kgf, 3)
	out.addIn(symbol+"-lbf-in", label, "lbf/in", lbf, 1)
}

func springWireTopic() Topic {
	return Topic{
		ID: "spring-wire", Title: "Spring rate from wire and coils",
		Why:     "Springs are often unmarked, or marked for another machine. Wire, coil and a count of turns tell the rate on the bench. Measure the wire with care: 1 % of it is 4 % of the rate.",
		Formula: "k = G·d⁴/(8·D³·Na);  D = outside − d;  Na = total − 2 for squared ends",
		Source:  "R. G. Budynas, J. K. Nisbett, Shigley's Mechanical Engineering Design, ch. 10 and table 10-1 (from memory).",
		Caution: "Paint, worn callipers and close coils that touch put this off by 5 to 10 %; a spring on a press or scales tells more.",
		Inputs: []*Input{
			number("wire", "Wire diameter", unit.Length, 0.1, 40, "Fork springs are wound from 4 to 6 mm wire, shock springs from 8 to 16 mm.").like("11.5mm", "0.037in").hint("Calliper on bare wire, twice, square to each other.").read(0.02).named("d"),
			number("outside", "Outside diameter", unit.Length, 1, 450, "Fork springs measure 25 to 45 mm outside, shock springs 55 to 100 mm.").like("73mm").hint("Calliper over the coils; or give mean instead.").read(0.1).maybe().named("od"),
			number("mean", "Mean coil diameter", unit.Length, 0.5, 400, "It is the outside less one wire.").like("61.5mm").maybe().named("mean-diameter"),
			number("active", "Active coils", unit.Number, 0.5, 200, "Coils that are free to move: 3 to 10 at a shock, 20 to 60 in a fork.").like("6").maybe().named("na", "active-coils"),
			number("total", "Total coils", unit.Number, 1.5, 200, "Count from one end of the wire to the other; quarter turns count.").like("8").maybe().named("nt", "total-coils"),
			word("ends", "Ends", "squared", "plain").hint("Squared: the last coil is bent flat on its neighbour, ground or not.").tacit("squared"),
			number("modulus", "Shear modulus", unit.Stress, 20000, 120000, "Spring steel has 77 to 82 GPa and titanium about 42 GPa.").usual(38000, 83000).like("79300MPa", "11.5Mpsi").otherwise("79300MPa").named("g"),
		},
		Example: "wire=11.5mm mean=61.5mm active=6",
		run:     runSpringWire,
	}
}

func runSpringWire(in given, out *Result) error {
	mean, err := oneOf(in, "outside", "mean", func(outside float64) float64 { return outside - in.n("wire") })
	if err != nil {
		return err
	}
	active := in.n("active")
	switch {
	case in.has("active", "total"):
		return refuse("total", "Active and total coils were both given.", "Give one of them.")
	case in.has("total"):
		if active, err = chassis.ActiveCoils(in.n("total"), chassis.Ends(in.word("ends"))); err != nil {
			return err
		}
	case !in.has("active"):
		return refuse("active", "The coils are missing.", "Give active=6, or total=8 with ends=squared.")
	}
	rate, err := chassis.CoilRate(in.n("modulus"), in.n("wire"), mean, active)
	if err != nil {
		return err
	}
	addRate(out, "rate", "Spring rate", rate)
	out.add("mean", "Mean coil diameter", unit.Length, mean, 2)
	out.add("active", "Active coils", unit.Number, active, 2)
	out.say("This spring has {rate}: {rate-kgf-mm}, {rate-lbf-in}.")
	if index := mean / in.n("wire"); index < 4 || index > 12 {
		out.caution("The coil is %.1f wires wide; springs are usually 4 to 12. Measure wire and coil again.", index)
	}
	return nil
}

// oneOf takes a number given directly as second, or made from first.
func oneOf(in given, first, second string, from func(float64) float64) (float64, error) {
	switch {
	case in.has(first, second):
		return 0, refuse(second, fmt.Sprintf("%s and %s were both given.", first, second), "Give one of them.")
	case in.has(second):
		return in.n(second), nil
	case in.has(first):
		return from(in.n(first)), nil
	}
	return 0, refuse(first, fmt.Sprintf("Neither %s nor %s was given.", first, second), "Give one of them.")
}

func springCutTopic() Topic {
	coils := func(symbol, label string) *Input {
		return number(symbol, label, unit.Number, 0.5, 200, "Coils that are free to move: 3 to 10 at a shock, 20 to 60 in a fork.").like("30")
	}
	return Topic{
		ID: "spring-cut", Title: "Rate after cutting or blocking coils",
		Why:     "A shorter spring is a stiffer one: the same wire twists over fewer coils. Spacers that block coils do the same. The sum shows how little one coil of a long fork spring changes.",
		Formula: "k' = k·Na/Na'",
		Source:  "Shigley's Mechanical Engineering Design, ch. 10 (from memory): k is as 1/Na.",
		Caution: "A cut end is not squared and may cut its seat: shock springs are not to be cut. Ask a suspension workshop.",
		Inputs: []*Input{
			rateInput().like("6.75N/mm"),
			coils("active", "Active coils before").named("active-old", "na-old"),
			coils("new-active", "Active coils after").like("29").named("active-new", "na-new"),
		},
		Example: "rate=6.748403N/mm active=30 new-active=29",
		run: func(in given, out *Result) error {
			rate, err := chassis.Recoiled(in.n("rate"), in.n("active"), in.n("new-active"))
			if err != nil {
				return err
			}
			addRate(out, "new-rate", "New spring rate", rate)
			out.add("change", "Change", unit.Share, 100*(rate/in.n("rate")-1), 1)
			out.say("The spring then has {new-rate}, a change of {change}.")
			return nil
		},
	}
}

func springsTopic() Topic {
	return Topic{
		ID: "springs", Title: "Springs side by side and end to end",
		Why:     "Two unlike fork springs work side by side, and their rates add: that is how halves of a step are made. A spring on top of another is softer than either. Mixing legs is common practice and does not twist a fork that is in order.",
		Formula: "side by side: k = k1 + k2;  end to end: 1/k = 1/k1 + 1/k2",
		Source:  "Elementary mechanics.",
		Inputs: []*Input{
			rateInput().several().relabel("rates", "Spring rates").like("9,9.5N/mm").hint("With commas between; the unit once, at the end."),
		},
		Example: "rates=9,9.5N/mm",
		run: func(in given, out *Result) error {
			if len(in.list("rates")) > 20 {
				return refuse("rates", "That is more springs than one end of a motorcycle has.", "Give two or three rates.")
			}
			side, err := chassis.Parallel(in.list("rates")...)
			if err != nil {
				return err
			}
			end, err := chassis.Series(in.list("rates")...)
			if err != nil {
				return err
			}
			addRate(out, "parallel", "Side by side", side)
			addRate(out, "series", "End to end", end)
			out.say("Side by side, as in the two legs of a fork, they make {parallel}; end to end {series}.")
			return nil
		},
	}
}

func wheelRateTopic() Topic {
	table := func(symbol, label, hint string) *Input {
		return number(symbol, label, unit.Length, -500, 500, "It is measured from full extension, some tenths of a metre at most.").like("0,30,60,90,120mm").hint(hint).several().maybe()
	}
	return Topic{
		ID: "wheel-rate", Title: "Wheel rate through the motion ratio",
		Why:     "The shock spring is stiff because it moves less than the wheel: what counts is the rate at the wheel. It goes with the motion ratio squared, so a small linkage change is a large one in spring. A table of your own linkage shows how the rate rises over the travel.",
		Formula: "K = k·MR²;  MR = shock stroke / wheel travel, the slope of the table;  preload at the wheel = P/MR",
		Source:  "T. Foale, Motorcycle Handling and Chassis Design, 2002 (from memory).",
		Inputs: []*Input{
			rateInput(), motionInput(),
			table("wheel", "Wheel travel", "Raise the wheel in steps, spring off, from full extension up."),
			table("shock", "Shock stroke", "The shock's shortening at each of these steps."),
			number("at", "At wheel travel", unit.Length, 0, 500, "It is a place within the travel of the table.").like("60mm").maybe(),
			preloadInput().maybe(),
		},
		Example: "rate=95N/mm motion-ratio=0.5 preload=10mm",
		run:     runWheelRate,
	}
}

func runWheelRate(in given, out *Result) error {
	ratio := in.n("motion-ratio")
	if in.has("wheel") || in.has("shock") {
		table, err := chassis.MotionTableOf(in.list("wheel"), in.list("shock"))
		if err != nil {
			return err
		}
		rows := table.Rows()
		at := in.or("at", (rows[0].Wheel+rows[len(rows)-1].Wheel)/2)
		if at < rows[0].Wheel || at > rows[len(rows)-1].Wheel {
			return refuse("at", "That place lies outside the table.", fmt.Sprintf("Give from %s to %s mm.", plain(rows[0].Wheel), plain(rows[len(rows)-1].Wheel)))
		}
		ratio = table.Ratio(at)
		out.add("stroke", "Shock stroke there", unit.Length, table.Shock(at), 1)
		wheelRateSeries(in.n("rate"), table, out)
		out.say("At %s mm of wheel travel the motion ratio is {motion-ratio}.", plain(at))
	}
	k, err := chassis.WheelRate(in.n("rate"), ratio)
	if err != nil {
		return err
	}
	out.add("motion-ratio", "Motion ratio", unit.Number, ratio, 3)
	addRate(out, "wheel-rate", "Wheel rate", k)
	out.say("The wheel feels {wheel-rate}.")
	if in.has("preload") {
		out.add("wheel-preload", "Preload at the wheel", unit.Length, in.n("preload")/ratio, 1)
		out.say("The preload is worth {wheel-preload} at the wheel.")
	}
	return nil
}

func wheelRateSeries(rate float64, table chassis.MotionTable, out *Result) {
	rows := table.Rows()
	from, to := rows[0].Wheel, rows[len(rows)-1].Wheel
	travel := Axis{"Wheel travel", "mm"}
	ratios := Series{Title: "Motion ratio", X: travel, Y: Axis{"Motion ratio", ""}}
	rates := Series{Title: "Wheel rate", X: travel, Y: Axis{"Wheel rate", "N/mm"}}
	for i := range 41 {
		x := from + (to-from)*float64(i)/40
		r := table.Ratio(x)
		ratios.Points = append(ratios.Points, [2]float64{x, r})
		rates.Points = append(rates.Points, [2]float64{x, rate * r * r})
	}
	out.Series = append(out.Series, ratios, rates)
}

func preloadTopic() Topic {
	return Topic{
		ID: "preload", Title: "Preload that gives a sag",
		Why:     "Preload is the usual way to sag, and the sum saves the guessing between two measurements. When it asks for less than none, the spring is too stiff; when it asks for a lot, too soft. Makers of suspension name 8 to 15 mm as a good span.",
		Formula: "P = MR·(W/K − sag);  K = k·MR²",
		Source:  "Linear spring, derived; 8 to 15 mm after a suspension specialist's road set-up page.",
		Caution: linearModel,
		Inputs: []*Input{
			rateInput(), number("legs", "Legs with that spring", unit.Number, 1, 2, "A fork has two legs and a shock is one.").counted().like("2").tacit("1"),
			motionInput(), loadInput().hint("All that rests on that end for the sag you want: with you on it for rider sag."),
			sagInput("sag", "Sag").like("30mm"),
			preloadInput().maybe().relabel("preload-now", "Preload now").hint("To be told how much to add or take off."),
		},
		Example: "rate=95N/mm motion-ratio=0.5 load=1160N sag=30mm",
		run:     runPreload,
	}
}

func runPreload(in given, out *Result) error {
	p, err := chassis.PreloadFor(in.n("rate")*in.n("legs"), in.n("motion-ratio"), in.n("load"), in.n("sag"))
	if err != nil {
		return err
	}
	out.add("preload", "Preload", unit.Length, p, 1)
	out.say("That sag needs {preload} of preload at the spring.")
	if p > 20 {
		out.caution("That is a lot of preload: a stiffer spring with less of it is the better way.")
	}
	if in.has("preload-now") {
		out.add("change", "Preload to add", unit.Length, p-in.n("preload-now"), 1)
		out.say("From now that is {change} (minus: take off).")
	}
	return nil
}

func springForTopic() Topic {
	return Topic{
		ID: "spring-rate", Title: "Spring rate from the sags, or for them",
		Why:     "Two sags and your weight name the spring that is in there, whatever is printed on it. The same sum with the sags you want names the spring to fit. Springs are sold in steps, so it shows what the nearest ones give.",
		Formula: "K = Wr/(rider − free);  k = K/MR²;  P = MR·(W/K − free)",
		Source:  "Linear spring, derived; steps of 0.5 N/mm in forks and 5 N/mm at shocks are common practice, no source.",
		Caution: linearModel,
		Inputs: []*Input{
			sagInput("free", "Free sag").like("8mm").named("free-sag"),
			sagInput("rider", "Rider sag").like("32mm").named("rider-sag"),
			riderLoadInput().read(10), motionInput(),
			number("legs", "Legs with that spring", unit.Number, 1, 2, "A fork has two legs and a shock is one.").counted().like("2").tacit("1"),
			loadInput().maybe().read(10).hint("With it you also get the preload."),
			rateInput().maybe().relabel("step", "Step in which springs are sold").like("5N/mm").hint("0.5 N/mm when nothing is said for two legs, 5 N/mm for one."),
		},
		Example: "free=8mm rider=32mm rider-load=560N motion-ratio=0.5 load=600N",
		run:     runSpringFor,
	}
}

func runSpringFor(in given, out *Result) error {
	ratio, legs := in.n("motion-ratio"), in.n("legs")
	wheel, rate, err := chassis.RateFromSags(in.n("free"), in.n("rider"), in.n("rider-load"), ratio)
	if err != nil {
		return err
	}
	out.add("wheel-rate", "Wheel rate", unit.Rate, wheel, 2)
	addRate(out, "rate", "Spring rate, each", rate/legs)
	out.say("These sags belong to a spring of {rate}, {wheel-rate} at the wheel.")
	if in.has("load") {
		s, err := chassis.SpringFor(in.n("free"), in.n("rider"), in.n("load"), in.n("rider-load"), ratio)
		if err != nil {
			return err
		}
		out.add("preload", "Preload", unit.Length, s.Preload, 1)
		out.say("Its preload is {preload} at the spring.")
	}
	return nearestSprings(in, out, rate/legs)
}

// nearestSprings shows what the springs on sale beside a rate would give.
func nearestSprings(in given, out *Result, rate float64) error {
	step := in.or("step", 5)
	if !in.has("step") && in.n("legs") == 2 {
		step = 0.5
	}
	below, above, err := chassis.Steps(rate, step)
	if err != nil {
		return err
	}
	if below > 0 {
		out.say("Springs are commonly sold as %s and %s N/mm about there.", plain(below), plain(above))
	} else {
		out.say("The softest spring commonly sold is %s N/mm.", plain(above))
	}
	if !in.has("load") {
		return nil
	}
	t := Table{Title: "With your rider sag, set by preload", Head: []string{"Spring", "Preload", "Free sag"}}
	for _, k := range []float64{below, above} {
		if k <= 0 {
			continue
		}
		all, ratio := k*in.n("legs"), in.n("motion-ratio")
		p, err := chassis.PreloadFor(all, ratio, in.n("load")+in.n("rider-load"), in.n("rider"))
		if err != nil {
			why := "below none: too stiff"
			if k < rate {
				why = "too much: too soft"
			}
			t.Rows = append(t.Rows, []string{plain(k) + " N/mm", why, ""})
			continue
		}
		s, err := chassis.Settle(chassis.Spring{Rate: all, Preload: p, MotionRatio: ratio}, in.n("load"), in.n("rider-load"))
		if err != nil {
			return err
		}
		t.Rows = append(t.Rows, []string{plain(k) + " N/mm", fixed(p, 1) + " mm", fixed(s.Free, 1) + " mm"})
	}
	out.Tables = append(out.Tables, t)
	return nil
}
