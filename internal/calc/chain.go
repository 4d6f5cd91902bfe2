package calc

import (
	"fmt"
	"math"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

func chainTopics() []Topic {
	return []Topic{chainLengthTopic(), gearingTopic(), chainSlackTopic(), chainTightestTopic(), chainWearTopic(), alignmentTopic(), squatTopic()}
}

func teethInput(symbol, label string, least, most, low, high float64) *Input {
	return number(symbol, label, unit.Number, least, most,
		fmt.Sprintf("Motorcycles have %s to %s teeth there.", plain(low), plain(high))).usual(low, high).counted()
}

func frontTeeth() *Input {
	return teethInput("front", "Front sprocket", 6, 60, 11, 20).like("16").named("n1", "front-teeth")
}

func rearTeeth() *Input {
	return teethInput("rear", "Rear sprocket", 6, 120, 28, 62).like("43").named("n2", "rear-teeth")
}

func pitchInputs() []*Input {
	return []*Input{
		number("pitch", "Chain pitch", unit.Length, 4, 40, "Chains 520, 525 and 530 have 15.875 mm (5/8 in) and 428 has 12.7 mm (1/2 in).").usual(6, 20).like("15.875mm", "5/8in").maybe(),
		word("chain", "Chain size").like("525", "428").hint("The number on the side plates; or give pitch.").otherwise("525"),
	}
}

func pitchOf(in given) (float64, error) {
	if in.has("pitch") {
		return in.n("pitch"), nil
	}
	p, err := chassis.PitchOf(in.word("chain"))
	return p, renamed(err, "chain")
}

func driveOf(in given) (chassis.Drive, error) {
	p, err := pitchOf(in)
	return chassis.Drive{Front: in.n("front"), Rear: in.n("rear"), Pitch: p}, err
}

const designBooks = "Machine-design handbooks (length formula; a published example prints 114.8 pitches for 20/63 teeth at 36 pitches); ISO 606 and ISO 10190 pitches (numbers from memory)"

func linksInput() *Input {
	return number("links", "Chain length", unit.Number, 10, 250, "Most motorcycle chains have 90 to 130 links, and an even number of them.").usual(80, 140).counted().like("114").maybe().named("l", "chain length")
}

func centreInput() *Input {
	return number("centre", "Centre distance", unit.Length, 50, 2500, "From front sprocket to rear axle it is 500 to 750 mm.").usual(350, 900).like("667mm").hint("Gearbox shaft to rear axle, along the swingarm.").maybe().read(1).named("c", "center")
}

func chainLengthTopic() Topic {
	inputs := append([]*Input{frontTeeth(), rearTeeth()}, pitchInputs()...)
	inputs = append(inputs, linksInput(), centreInput(),
		frontTeeth().relabel("new-front", "New front sprocket").maybe(),
		rearTeeth().relabel("new-rear", "New rear sprocket").maybe(),
		linksInput().relabel("new-links", "New chain length").maybe())
	return Topic{
		ID: "chain-length", Title: "Chain length and centre distance",
		Why:     "Sprockets and chain length decide where the rear axle can sit, and that moves wheelbase and ride height. A tooth more at the rear pulls the wheel about four millimetres forward. Count before you buy: a chain a link too short cannot be fitted.",
		Formula: "L = 2C/p + (N1+N2)/2 + (N2−N1)²/(4π²·C/p);  C = p/4·[−A + √(A² − 8((N2−N1)/2π)²)], A = (N1+N2)/2 − L;  exact: straight runs tangent to both pitch circles plus the teeth on the wraps",
		Source:  designBooks + ".",
		Caution: "Real centres include the chain's free play. Chains are closed at even link counts; rivet the joint as the chain's maker says.",
		Inputs:  inputs,
		Example: "front=16 rear=43 chain=525 links=114 new-rear=44",
		run:     runChainLength,
	}
}

func runChainLength(in given, out *Result) error {
	d, err := driveOf(in)
	if err != nil {
		return err
	}
	if in.has("links") == in.has("centre") {
		return refuse("links", "Give either the links or the centre distance.", "Give links=114 to learn the distance, or centre=667mm to learn the links.")
	}
	links, centre := in.n("links"), in.n("centre")
	if in.has("centre") {
		if links, err = d.Links(centre); err != nil {
			return err
		}
		exact, err := d.ExactLinks(centre)
		if err != nil {
			return err
		}
		out.add("links", "Length in links", unit.Number, links, 2)
		out.add("exact-links", "By exact tangents", unit.Number, exact, 2)
		even := 2 * math.Ceil(exact/2-1e-6)
		out.add("even-links", "Next even number", unit.Number, even, 0)
		out.say("At %s mm the chain takes %s links; the next even number is {even-links}.", plain(centre), fixed(exact, 1))
	} else {
		exact, err := d.ExactCentre(links)
		if err != nil {
			return err
		}
		if centre, err = d.Centre(links); err != nil {
			return err
		}
		out.add("centre", "Centre distance", unit.Length, centre, 1)
		out.add("exact-centre", "By exact tangents", unit.Length, exact, 1)
		out.addIn("centre-pitches", "Centre distance in pitches", "pitches", centre/d.Pitch, 3)
		out.say("The axle sits {centre} from the front sprocket.")
		if math.Mod(links, 2) != 0 {
			out.caution("An odd number of links needs a cranked link, which motorcycle chains do not take.")
		}
	}
	return chainLengthMore(in, d, links, centre, out)
}

func chainLengthMore(in given, d chassis.Drive, links, centre float64, out *Result) error {
	for _, s := range []struct {
		symbol, label string
		teeth         float64
	}{{"front-diameter", "Front pitch diameter", d.Front}, {"rear-diameter", "Rear pitch diameter", d.Rear}} {
		pd, err := chassis.PitchDiameter(d.Pitch, s.teeth)
		if err != nil {
			return err
		}
		out.add(s.symbol, s.label, unit.Length, pd, 1)
	}
	if !in.has("new-front") && !in.has("new-rear") && !in.has("new-links") {
		return nil
	}
	if in.has("centre") && !in.has("new-links") {
		links = out.value("even-links")
		var err error
		if centre, err = d.Centre(links); err != nil {
			return err
		}
		out.Assumed = append(out.Assumed, fmt.Sprintf("The change is seen from a chain of %s links.", plain(links)))
	}
	next := chassis.Drive{Front: in.or("new-front", d.Front), Rear: in.or("new-rear", d.Rear), Pitch: d.Pitch}
	c, err := next.Centre(in.or("new-links", links))
	if err != nil {
		return err
	}
	out.add("new-centre", "New centre distance", unit.Length, c, 1)
	out.add("axle-move", "Axle moves back", unit.Length, c-centre, 1)
	out.say("After the change the axle sits {new-centre} away: {axle-move} further back (minus: forward).")
	return nil
}

func gearingTopic() Topic {
	inputs := []*Input{
		frontTeeth(), rearTeeth(),
		frontTeeth().relabel("new-front", "New front sprocket").maybe(),
		rearTeeth().relabel("new-rear", "New rear sprocket").maybe(),
		number("primary", "Primary ratio", unit.Number, 0.5, 10, "From crank to gearbox the ratio is 1.3 to 3.5.").usual(1, 4).like("1.974").maybe(),
		number("gears", "Gear ratios", unit.Number, 0.2, 10, "From first, about 2.5 to 3.2, to top, about 0.9 to 1.3.").usual(0.5, 4).like("2.785,2.052,1.714,1.5,1.347,1.208").several().maybe().named("gear", "ratios"),
		number("rpm", "Engine speed", unit.Turning, 0, 30000, "Engines turn to between 6,000 and 16,000 in a minute.").usual(500, 20000).like("10000rpm").otherwise("1000rpm").named("engine", "n"),
		number("circumference", "Rear tyre circumference", unit.Length, 500, 4000, "Rear tyres roll 1.7 to 2.2 m in a turn.").usual(1000, 2400).like("1979mm").read(5).maybe(),
		word("tyre", "Rear tyre size").like("180/55R17").hint("Or measure the circumference.").maybe().named("tire", "rear-tyre").fills("circumference", freeGirth),
		linksInput().hint("With it you learn where the axle goes, and with the wheelbase what becomes of that."),
	}
	inputs = append(inputs, pitchInputs()...)
	inputs = append(inputs,
		number("wheelbase", "Wheelbase", unit.Length, 800, 2500, "Motorcycles measure 1200 to 1700 mm from axle to axle.").usual(1150, 1900).like("1400mm").maybe(),
		number("within", "Alternatives within", unit.Share, 0, 5, "One tooth at the rear is worth about 2 %.").like("1%").tacit("1%"))
	return Topic{
		ID: "gearing", Title: "Gearing",
		Why:     "One tooth at the front is worth about three at the rear, and both move the axle. Gearing decides which gear a corner takes and whether the last straight ends on the limiter. The same ratio can often be had from other sprockets that keep the axle where you want it.",
		Formula: "ratio = rear/front;  v = n·Ct/(primary·gear·ratio)",
		Source:  "Elementary. " + designBooks + ".",
		Caution: "No slip and no growth: a rolling tyre is smaller than its code by 1 to 3 %, and grows with speed. Small front sprockets wear chain and slider faster.",
		Inputs:  inputs,
		Example: "front=16 rear=43 primary=1.974 gears=1.208 rpm=10000rpm tyre=180/55R17",
		run:     runGearing,
	}
}

func runGearing(in given, out *Result) error {
	ratio, err := chassis.FinalRatio(in.n("front"), in.n("rear"))
	if err != nil {
		return err
	}
	out.add("ratio", "Final ratio", unit.Number, ratio, 3)
	out.say("%s/%s is a final ratio of {ratio}.", plain(in.n("rear")), plain(in.n("front")))
	next, changed := ratio, in.has("new-front") || in.has("new-rear")
	if changed {
		f, r := in.or("new-front", in.n("front")), in.or("new-rear", in.n("rear"))
		if next, err = chassis.FinalRatio(f, r); err != nil {
			return err
		}
		change, err := chassis.RatioChange(in.n("front"), in.n("rear"), f, r)
		if err != nil {
			return err
		}
		out.add("new-ratio", "New final ratio", unit.Number, next, 3)
		out.add("change", "Change", unit.Share, change, 2)
		out.say("%s/%s is {new-ratio}, %s %%: %s.", plain(r), plain(f), signed(change, 1), shorter(change))
	}
	if err := gearingSpeeds(in, ratio, next, changed, out); err != nil {
		return err
	}
	if err := gearingAxle(in, changed, out); err != nil {
		return err
	}
	if err := oneTooth(in, ratio, out); err != nil {
		return err
	}
	return gearingAlternatives(in, next, out)
}

func shorter(change float64) string {
	switch {
	case change > 0:
		return "shorter, more pull and less speed in every gear"
	case change < 0:
		return "longer, less pull and more speed in every gear"
	}
	return "the same gearing"
}

// gearingSpeeds adds the speed in each gear, before and after.
func gearingSpeeds(in given, ratio, next float64, changed bool, out *Result) error {
	if !in.has("primary") && !in.has("gears") && !in.has("circumference") {
		return nil
	}
	for _, s := range []string{"primary", "gears", "circumference"} {
		if !in.has(s) {
			return refuse(s, "Speeds need the primary ratio, the gear ratios and the rear tyre.", "Give the missing "+s+", or leave all three out.")
		}
	}
	gears := in.list("gears")
	if len(gears) > 10 {
		return refuse("gears", "That is more gears than a gearbox has.", "Give up to ten ratios.")
	}
	t := Table{Title: "Speed in each gear", Head: []string{"Gear", "km/h per 1000/min", fmt.Sprintf("km/h at %s/min", plain(in.n("rpm")))}}
	if changed {
		t.Head = append(t.Head, "after")
	}
	for i := range gears {
		row, err := gearingSpeed(in, i, ratio, next, changed, out)
		if err != nil {
			return err
		}
		t.Rows = append(t.Rows, row)
	}
	out.Tables = append(out.Tables, t)
	top := gearSymbol(len(gears)-1, len(gears))
	out.say("At %s/min it runs {speed%s}%s.", plain(in.n("rpm")), top, gearName(len(gears)-1, len(gears)))
	if changed {
		out.say("After the change it runs {new-speed%s}.", top)
	}
	return nil
}

// gearingSpeed adds one gear, and returns its row.
func gearingSpeed(in given, i int, ratio, next float64, changed bool, out *Result) ([]string, error) {
	gear, n := in.list("gears")[i], len(in.list("gears"))
	symbol, name := gearSymbol(i, n), gearName(i, n)
	at := func(rpm, final float64) (float64, error) {
		return chassis.RoadSpeed(rpm, in.n("primary"), gear, final, in.n("circumference"))
	}
	v, err := at(in.n("rpm"), ratio)
	if err != nil {
		return nil, err
	}
	per, err := at(1000, ratio)
	if err != nil {
		return nil, err
	}
	out.add("speed"+symbol, "Speed"+name, unit.Speed, v, 1)
	out.add("per-1000"+symbol, "Speed per 1000/min"+name, unit.Speed, per, 2)
	if n == 1 {
		mph, _ := unit.Speed.FromCanonical(v, "mph")
		out.addIn("speed-mph", "Speed", "mph", mph, 1)
		out.addIn("turns", "Crank turns for one of the wheel", "", in.n("primary")*gear*ratio, 3)
	}
	row := []string{plain(float64(i + 1)), fixed(per, 2), fixed(v, 1)}
	out.Series = append(out.Series, speedLine(in, gear, ratio, "Gear "+plain(float64(i+1))))
	if !changed {
		return row, nil
	}
	after, err := at(in.n("rpm"), next)
	if err != nil {
		return nil, err
	}
	out.add("new-speed"+symbol, "New speed"+name, unit.Speed, after, 1)
	out.Series = append(out.Series, speedLine(in, gear, next, "Gear "+plain(float64(i+1))+" after"))
	return append(row, fixed(after, 1)), nil
}

// gearSymbol tells the values of several gears apart.
func gearSymbol(i, n int) string {
	if n == 1 {
		return ""
	}
	return fmt.Sprintf("-%d", i+1)
}

func gearName(i, n int) string {
	if n == 1 {
		return ""
	}
	return fmt.Sprintf(" in gear %d", i+1)
}

func speedLine(in given, gear, ratio float64, title string) Series {
	s := Series{Title: title, X: Axis{"Engine speed", "1/min"}, Y: Axis{"Road speed", "km/h"}}
	for _, n := range []float64{0, max(in.n("rpm"), 1000)} {
		v, err := chassis.RoadSpeed(n, in.n("primary"), gear, ratio, in.n("circumference"))
		if err == nil {
			s.Points = append(s.Points, [2]float64{n, v})
		}
	}
	return s
}

// gearingAxle adds where the axle goes with the same chain.
func gearingAxle(in given, changed bool, out *Result) error {
	if !changed || !in.has("links") {
		return nil
	}
	d, err := driveOf(in)
	if err != nil {
		return err
	}
	moved, err := d.AxleMove(chassis.Drive{Front: in.or("new-front", d.Front), Rear: in.or("new-rear", d.Rear), Pitch: d.Pitch}, in.n("links"), in.n("links"))
	if err != nil {
		return err
	}
	out.add("axle-move", "Axle moves back", unit.Length, moved, 1)
	out.say("With the same %s links the axle moves %s mm (plus is back).", plain(in.n("links")), signed(moved, 1))
	if in.has("wheelbase") {
		out.add("wheelbase", "New wheelbase", unit.Length, in.n("wheelbase")+moved, 1)
		out.say("The wheelbase becomes {wheelbase}, the swingarm taken as level; geometry-change does it exactly.")
	}
	return nil
}

// oneTooth adds what one tooth more or fewer does at either sprocket.
func oneTooth(in given, ratio float64, out *Result) error {
	d, err := driveOf(in)
	if err != nil {
		return err
	}
	t := Table{Title: "One tooth", Head: []string{"Change", "Ratio", "Shorter by"}}
	if in.has("links") {
		t.Head = append(t.Head, "Axle back")
	}
	for _, c := range []struct {
		name        string
		front, rear float64
	}{{"front −1", -1, 0}, {"front +1", 1, 0}, {"rear −1", 0, -1}, {"rear +1", 0, 1}} {
		next := chassis.Drive{Front: d.Front + c.front, Rear: d.Rear + c.rear, Pitch: d.Pitch}
		r, err := chassis.FinalRatio(next.Front, next.Rear)
		if err != nil {
			continue // beyond the smallest or largest sprocket
		}
		row := []string{c.name, fixed(r, 3), signed(100*(r/ratio-1), 1) + " %"}
		if in.has("links") {
			move, err := d.AxleMove(next, in.n("links"), in.n("links"))
			if err != nil {
				return err
			}
			row = append(row, signed(move, 1)+" mm")
		}
		t.Rows = append(t.Rows, row)
	}
	out.Tables = append(out.Tables, t)
	return nil
}

func gearingAlternatives(in given, ratio float64, out *Result) error {
	if ratio < 1 || ratio > 6 {
		return nil
	}
	pairs, err := chassis.Alternatives(ratio, in.n("within"))
	if err != nil {
		return err
	}
	t := Table{Title: "Sprockets with nearly the same ratio", Head: []string{"Front", "Rear", "Ratio", "Off by"}}
	for _, p := range pairs[:min(8, len(pairs))] {
		t.Rows = append(t.Rows, []string{fmt.Sprint(p.Front), fmt.Sprint(p.Rear), fixed(p.Ratio, 3), signed(p.Off, 1) + " %"})
	}
	if len(t.Rows) > 0 {
		out.Tables = append(out.Tables, t)
	}
	return nil
}

func slackInput(symbol, label string) *Input {
	return number(symbol, label, unit.Length, 0, 150, "It is the whole movement up and down at mid-span: manuals say 20 to 45 mm, off-road up to 60.").usual(10, 70).like("30mm").read(2)
}

func chainSlackTopic() Topic {
	return Topic{
		ID: "chain-slack", Title: "How far the axle goes for a slack",
		Why:     "Slack is set by a few tenths of a millimetre at the axle, so small turns of the adjuster do it. A chain too tight wears bearings and sprockets and stops the suspension; too loose it can jump. Measure at the tightest place while you turn the wheel.",
		Formula: "spare length = s²/(2S);  axle move = (s1² − s2²)/(4S)",
		Source:  "Weightless taut V over a straight run, derived, no published source; within 0.2 % of the exact V.",
		Caution: "Take the machine's own figure and its own stance: side stand, paddock stand and loaded differ. Do not ride with a chain that is tight anywhere in the travel.",
		Inputs: []*Input{
			slackInput("slack", "Slack now"), slackInput("to", "Slack wanted").like("30mm").maybe(),
			number("run", "Straight lower run", unit.Length, 100, 2000, "From sprocket to sprocket it is about 600 mm.").usual(350, 900).like("600mm").read(5),
		},
		Example: "slack=45mm to=30mm run=600mm",
		run: func(in given, out *Result) error {
			spare, err := chassis.Spare(in.n("slack"), in.n("run"))
			if err != nil {
				return err
			}
			out.add("spare", "Spare chain in the lower run", unit.Length, spare, 2)
			out.say("The lower run has {spare} of chain to spare.")
			if !in.has("to") {
				return nil
			}
			after, err := chassis.Spare(in.n("to"), in.n("run"))
			if err != nil {
				return err
			}
			move, err := chassis.AxleForSlack(in.n("slack"), in.n("to"), in.n("run"))
			if err != nil {
				return err
			}
			out.add("spare-after", "Spare chain after", unit.Length, after, 2)
			out.add("axle-move", "Axle to move back", unit.Length, move, 2)
			out.say("Move the axle {axle-move} back (minus: forward), both sides alike.")
			return nil
		},
	}
}

func chainTightestTopic() Topic {
	angle := func(symbol, label, hint string) *Input {
		return number(symbol, label, unit.Angle, -60, 60, "A swingarm falls 5 to 20° towards the axle when topped out, and rises by up to 10° when bottomed (minus).").usual(-25, 30).like("15deg").hint(hint).read(0.5)
	}
	return Topic{
		ID: "chain-tightest", Title: "Slack where the chain is tightest",
		Why:     "The axle swings about the pivot and not about the front sprocket, so the chain tightens on the way up and is tightest when sprocket, pivot and axle lie in one line. Slack that is right on the stand can be none at that place. A chain that goes tight there can break, or bend the gearbox shaft.",
		Formula: "C(angle) = |pivot to axle + sprocket to pivot|, greatest in line;  length by exact tangents;  slack by s²/(2S)",
		Source:  "Geometry, derived; tightest in line: a maker's technician, quoted in print. 10 mm left there is common practice, no source.",
		Caution: "Do not ride when no slack is left at the tightest place. Without these dimensions: take the shock off or strap the rear down until front sprocket, pivot and axle are in line, and see that the chain is still free.",
		Inputs: append([]*Input{
			frontTeeth(), rearTeeth(), slackInput("slack", "Slack").like("35mm"),
			number("swingarm", "Swingarm length", unit.Length, 250, 900, "From pivot to axle swingarms have 400 to 650 mm.").usual(350, 750).like("580mm").read(1),
			number("sprocket-ahead", "Front sprocket ahead of the pivot", unit.Length, -100, 300, "The gearbox shaft sits 50 to 110 mm ahead of the pivot.").usual(30, 150).like("75mm").read(1),
			number("sprocket-above", "Front sprocket above the pivot", unit.Length, -200, 200, "It sits within some centimetres of the pivot's height; minus is below.").usual(-60, 60).like("10mm").read(1).tacit("0mm"),
			angle("at", "Swingarm angle where you measured", "Below horizontal; on the stand with the wheel hanging it is the topped-out one.").named("swingarm angle"),
			angle("topped", "Swingarm angle, topped out", "Below horizontal, wheel hanging."),
			angle("bottomed", "Swingarm angle, bottomed", "Below horizontal: minus when the axle stands above the pivot.").like("-5deg"),
			slackInput("wanted", "Slack wanted there").like("10mm").otherwise("10mm"),
		}, pitchInputs()...),
		Example: "front=16 rear=43 slack=35mm swingarm=580mm sprocket-ahead=75mm sprocket-above=10mm at=15deg topped=15deg bottomed=-5deg",
		run:     runChainTightest,
	}
}

func runChainTightest(in given, out *Result) error {
	d, err := driveOf(in)
	if err != nil {
		return err
	}
	a := chassis.Arm{Length: in.n("swingarm"), SprocketX: in.n("sprocket-ahead"), SprocketZ: in.n("sprocket-above")}
	at, top, bottom := in.n("at"), in.n("topped"), in.n("bottomed")
	s, err := a.SlackAtTightest(d, in.n("slack"), at, top, bottom)
	if err != nil {
		return err
	}
	set, err := a.SlackToSet(d, in.n("wanted"), at, top, bottom)
	if err != nil {
		return err
	}
	out.add("at-tightest", "Slack at the tightest place", unit.Length, s.AtTight, 0)
	out.add("missing", "Chain missing there", unit.Length, s.Short, 2)
	out.add("tightest", "Swingarm angle there", unit.Angle, s.Tightest, 1)
	out.add("growth", "Centre distance gained on the way", unit.Length, s.Growth, 2)
	out.add("set", "Slack to set where you measured", unit.Length, set, 0)
	out.say("The chain is tightest with the swingarm {tightest} below horizontal.")
	if s.AtTight == 0 {
		out.say("No slack is left there: {missing} of chain are missing. Do not ride; loosen the chain.")
	} else {
		out.say("Of your slack {at-tightest} are left there.")
	}
	out.say("To have %s mm left there, set {set} where you measured.", plain(in.n("wanted")))
	line := Series{Title: "Slack over the travel", X: Axis{"Swingarm below horizontal", "deg"}, Y: Axis{"Slack", "mm"}}
	for i := range 25 {
		x := bottom + (top-bottom)*float64(i)/24
		here, err := a.SlackAt(d, in.n("slack"), at, x)
		if err != nil {
			return err
		}
		line.Points = append(line.Points, [2]float64{x, here})
	}
	out.Series = append(out.Series, line)
	return nil
}

func chainWearTopic() Topic {
	return Topic{
		ID: "chain-wear", Title: "Chain wear by length",
		Why:     "A worn chain is longer, climbs the teeth and can jump or break. Length over twenty pitches shows it before you feel it. Measure at several places: chains wear unevenly.",
		Formula: "elongation = 100·(measured/(n·p) − 1)",
		Source:  "Elementary; limits in manuals run from 0.6 % to 2 %, so none is used here unless you give your machine's own.",
		Caution: "Never apply one machine's limit to another: take it from your manual, and replace both sprockets with the chain.",
		Inputs: append([]*Input{
			number("measured", "Measured length", unit.Length, 10, 8000, "Twenty new pitches of a 5/8 inch chain are 317.5 mm, and at most some per cent more when worn.").like("319.4mm").hint("Pulled tight, from pin to pin, middle to middle.").read(0.5).named("measured length"),
			number("pitches", "Pitches measured", unit.Number, 5, 200, "Twenty is usual: 21 pins.").counted().like("20").otherwise("20").named("n"),
			number("limit", "Limit in the manual, as a length", unit.Length, 10, 8000, "The manual prints it for the same number of pitches.").like("319.4mm").maybe(),
			number("limit-share", "Limit in the manual, as a share", unit.Share, 0.1, 5, "Limits in manuals run from 0.6 to 2 %.").like("1%").maybe(),
		}, pitchInputs()...),
		Example: "measured=319.4mm pitches=20 chain=525",
		run:     runChainWear,
	}
}

func runChainWear(in given, out *Result) error {
	p, err := pitchOf(in)
	if err != nil {
		return err
	}
	n := in.n("pitches")
	e, err := chassis.Elongation(in.n("measured"), p, n)
	if err != nil {
		return err
	}
	out.add("elongation", "Elongation", unit.Share, e, 2)
	out.add("new-length", "Length when new", unit.Length, n*p, 1)
	out.say("It is {elongation} longer than new ({new-length} over %s pitches).", plain(n))
	limit := in.n("limit-share")
	if in.has("limit") {
		if in.n("limit") <= n*p {
			return refuse("limit", "That limit is not longer than a new chain.", "Look up over how many pitches the manual measures.")
		}
		limit = 100 * (in.n("limit")/(n*p) - 1)
	}
	if limit <= 0 {
		out.say("The limit is in your manual: they run from 0.6 to 2 %%.")
		return nil
	}
	out.add("limit", "Your limit", unit.Share, limit, 2)
	out.add("used", "Share of the limit used", unit.Share, 100*max(0, e)/limit, 0)
	if e >= limit {
		out.say("That is at or beyond the limit of {limit}: do not ride on it, replace chain and sprockets.")
	} else {
		out.say("That is {used} of the limit of {limit}.")
	}
	return nil
}

func alignmentTopic() Topic {
	side := func(symbol, label string) *Input {
		return number(symbol, label, unit.Length, 100, 1500, "From the swingarm pivot to the axle it is 400 to 650 mm.").usual(350, 750).like("552mm").hint("From the middle of the pivot bolt to the middle of the axle, on that side.").read(0.5)
	}
	return Topic{
		ID: "alignment", Title: "Rear wheel alignment",
		Why:     "The marks on swingarms are often a millimetre or two apart, and a wheel that points aside wears chain and sprockets and makes the machine steer to one side. Equal distances from pivot to axle on both sides are the honest check. One millimetre over a quarter of a metre is a quarter of a degree.",
		Formula: "angle = atan((left − right)/apart)",
		Source:  "Elementary geometry, derived.",
		Caution: "This sets the axle square to the pivot. A bent frame or swingarm needs a workshop with a frame gauge.",
		Inputs: []*Input{
			side("left", "Left distance"), side("right", "Right distance").like("550mm"),
			number("apart", "Distance between the two sides", unit.Length, 50, 1000, "The two ends of the axle are 200 to 350 mm apart.").usual(120, 450).like("250mm").read(5).named("distance between the two sides"),
			number("wheelbase", "Wheelbase", unit.Length, 800, 2500, "Motorcycles measure 1200 to 1700 mm from axle to axle.").usual(1150, 1900).like("1400mm").maybe(),
		},
		Example: "left=552mm right=550mm apart=250mm",
		run: func(in given, out *Result) error {
			a, err := chassis.AlignmentFrom(in.n("left"), in.n("right"), in.n("apart"))
			if err != nil {
				return err
			}
			out.add("angle", "Axle turned", unit.Angle, a.Angle, 2)
			out.add("toe", "Left side further back", unit.Length, a.Toe, 1)
			switch {
			case math.Abs(a.Toe) < 1:
				out.say("Both sides are alike within a millimetre: the axle is square to the pivot.")
			case a.Toe > 0:
				out.say("The left side is {toe} further back, the axle turned by {angle}: bring it forward, or the right side back.")
			default:
				out.say("The right side is further back by %s mm, the axle turned by {angle}: bring it forward, or the left side back.", fixed(-a.Toe, 1))
			}
			if in.has("wheelbase") {
				out.add("aside", "The rear wheel points aside at the front axle", unit.Length, math.Abs(in.n("wheelbase")*math.Tan(a.Angle*math.Pi/180)), 1)
				out.say("A line along the rear wheel passes the front axle {aside} to the side.")
			}
			return nil
		},
	}
}

func squatTopic() Topic {
	place := func(symbol, label, like, plausible string, least, most float64) *Input {
		return number(symbol, label, unit.Length, least, most, plausible).like(like).read(2)
	}
	inputs := []*Input{
		place("wheelbase", "Wheelbase", "1400mm", "Motorcycles measure 1200 to 1700 mm from axle to axle.", 800, 2500).named("p"),
		place("centre-height", "Height of the centre of gravity", "600mm", "With the rider it stands at 500 to 750 mm.", 200, 1200).read(20).named("h"),
		place("rear-radius", "Rear wheel radius", "314.9mm", "From axle to ground it is 290 to 330 mm.", 100, 500).maybe().named("rw"),
		word("rear-tyre", "Rear tyre size").like("180/55R17").maybe().named("tyre").fills("rear-radius", freeRadius),
		place("pivot-ahead", "Pivot ahead of the axle", "570mm", "Along the ground it is 400 to 650 mm.", 150, 1200).named("px"),
		place("pivot-height", "Pivot height", "420mm", "From the ground it is 350 to 480 mm.", 50, 1200).named("pz"),
		place("sprocket-ahead", "Front sprocket ahead of the axle", "645mm", "Along the ground it is 450 to 750 mm.", 150, 1500).named("sx"),
		place("sprocket-height", "Front sprocket height", "430mm", "From the ground it is 350 to 480 mm.", 50, 1200).named("sz", "front sprocket height"),
		frontTeeth(), rearTeeth(),
		frontTeeth().relabel("new-front", "New front sprocket").maybe(),
		rearTeeth().relabel("new-rear", "New rear sprocket").maybe(),
		number("up", "Axle further up", unit.Length, -150, 250, "Rear wheels travel 110 to 330 mm; minus is down.").like("30mm").tacit("0mm"),
	}
	return Topic{
		ID: "squat", Title: "Squat and anti-squat",
		Why:     "When you open the throttle the chain and the drive force lift the rear, and the load that moves back pushes it down. The balance of the two decides whether the machine squats and runs wide or rises and loses grip. Pivot height, sprockets and ride height all move it.",
		Formula: "A = swingarm line × upper chain run;  tan s = zA/xA;  tan q = h/p;  ratio = tan q/tan s;  anti-squat = 100/ratio",
		Source:  "V. Cossalter, Motorcycle Dynamics, 2nd ed. 2006, ch. 5 and 6; T. Foale 2002, squat (both from memory).",
		Caution: "Heights to 2 mm are needed, and the centre of gravity is usually a guess: read changes, not the figure itself.",
		Inputs:  append(inputs, pitchInputs()...),
		Example: "wheelbase=1400mm centre-height=600mm rear-radius=314.9mm pivot-ahead=570mm pivot-height=420mm sprocket-ahead=645mm sprocket-height=430mm front=16 rear=43",
		run:     runSquat,
	}
}

func runSquat(in given, out *Result) error {
	d, err := driveOf(in)
	if err != nil {
		return err
	}
	radius, err := in.only("rear-radius", "rear-tyre")
	if err != nil {
		return err
	}
	side := chassis.Side{
		Wheelbase: in.n("wheelbase"), CentreHeight: in.n("centre-height"), RearRadius: radius,
		PivotX: in.n("pivot-ahead"), PivotZ: in.n("pivot-height"), SprocketX: in.n("sprocket-ahead"), SprocketZ: in.n("sprocket-height"), Drive: d,
	}
	at := side
	if in.n("up") != 0 {
		if at, err = side.Compressed(in.n("up")); err != nil {
			return err
		}
	}
	s, err := at.Squat()
	if err != nil {
		return err
	}
	addSquat(out, s)
	if in.has("new-front") || in.has("new-rear") {
		at.Drive.Front, at.Drive.Rear = in.or("new-front", d.Front), in.or("new-rear", d.Rear)
		n, err := at.Squat()
		if err != nil {
			return err
		}
		out.add("new-anti-squat", "New anti-squat", unit.Share, n.AntiSquat, 1)
		out.add("new-squat-ratio", "New squat ratio", unit.Number, n.Ratio, 3)
		out.say("With the other sprockets anti-squat is {new-anti-squat}, %s points.", signed(n.AntiSquat-s.AntiSquat, 1))
	}
	squatSeries(side, out)
	return nil
}

func addSquat(out *Result, s chassis.Squat) {
	out.add("anti-squat", "Anti-squat", unit.Share, s.AntiSquat, 1)
	out.add("squat-ratio", "Squat ratio", unit.Number, s.Ratio, 3)
	out.add("anti-squat-no-chain", "Anti-squat without chain pull", unit.Share, s.AntiSquatNoChain, 1)
	out.add("swingarm-angle", "Swingarm angle", unit.Angle, s.Swingarm, 2)
	out.add("chain-angle", "Chain angle", unit.Angle, s.Chain, 2)
	out.add("squat-angle", "Squat angle", unit.Angle, s.SquatAngle, 2)
	out.add("transfer-angle", "Load transfer angle", unit.Angle, s.TransferAngle, 2)
	if !s.Parallel {
		out.add("a-ahead", "Lines meet ahead of the axle", unit.Length, s.AX, 0)
		out.add("a-height", "Lines meet at height", unit.Length, s.AZ, 0)
	}
	out.addIn("chain-over-drive", "Chain pull over drive force", "", s.ChainOverDrive, 3)
	what := "the rear rises under throttle"
	if s.AntiSquat < 100 {
		what = "the rear squats under throttle"
	}
	out.say("Anti-squat is {anti-squat}, {anti-squat-no-chain} of it without chain pull: over 100 %% the rear rises, under it squats; here %s.", what)
}

func squatSeries(side chassis.Side, out *Result) {
	line := Series{Title: "Anti-squat over the travel", X: Axis{"Axle further up", "mm"}, Y: Axis{"Anti-squat", "%"}}
	for up := -40.0; up <= 80; up += 5 {
		at, err := side.Compressed(up)
		if err != nil {
			continue
		}
		if s, err := at.Squat(); err == nil {
			line.Points = append(line.Points, [2]float64{up, s.AntiSquat})
		}
	}
	if len(line.Points) > 1 {
		out.Series = append(out.Series, line)
	}
}
