package calc

import (
	"math"

	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

func geometryTopics() []Topic {
	return []Topic{geometryTopic(), geometryChangeTopic(), tyreSizeTopic()}
}

const steeringBooks = "V. Cossalter, Motorcycle Dynamics, 2nd ed. 2006, ch. 1; T. Foale, Motorcycle Handling and Chassis Design, 2002 (both from memory)."

func rakeInputs() []*Input {
	return []*Input{
		number("rake", "Rake", unit.Angle, 5, 60, "Rake is from the vertical: 22 to 28° on most machines, up to 40° on long ones, and never 0.").usual(18, 40).like("24deg", "24°30'").maybe().read(0.1).named("e"),
		number("head", "Steering head angle", unit.Angle, 30, 85, "Some makers print the angle from the horizontal, 62 to 68°: rake is 90° less that.").usual(50, 72).like("63.5deg").maybe().read(0.1).named("head-angle"),
	}
}

func radiusInputs() []*Input {
	return []*Input{
		number("radius", "Front wheel radius", unit.Length, 100, 500, "From axle to tread crown a 17 inch front wheel has about 300 mm and a 21 inch one about 350 mm.").usual(200, 370).like("300mm").hint("Axle to ground under a lightly loaded wheel; or give tyre instead.").maybe().read(1).named("r", "rf", "front-radius"),
		word("tyre", "Front tyre size").like("120/70R17").hint("As on the sidewall. Real tyres differ by 1 % from their code.").maybe().named("tire", "front-tyre").fills("radius", freeRadius),
	}
}

func offsetInput() *Input {
	return number("offset", "Offset", unit.Length, -100, 200, "It is square from the steering axis to the front axle: 20 to 60 mm.").usual(15, 90).like("30mm").hint("The yokes' offset, plus what the axle sits ahead of the legs.").maybe().read(0.5).named("d")
}

// rakeOf takes rake from the vertical, or makes it from a head angle.
func rakeOf(in given) (float64, error) {
	if in.has("head") && !in.has("rake") {
		return chassis.RakeOfHead(in.n("head"))
	}
	return oneOf(in, "head", "rake", nil)
}

// renamed puts a refusal at another field.
func renamed(err error, field string) error {
	if r, ok := err.(chassis.Refusal); ok {
		r.Field = field
		return r
	}
	return err
}

func geometryTopic() Topic {
	return Topic{
		ID: "geometry", Title: "Rake, trail and flop",
		Why:     "Trail makes a machine steer itself straight, and rake with offset and wheel radius makes the trail. A few millimetres of it are the difference between a nervous and a heavy front. Knowing yours in numbers lets you undo a change exactly.",
		Formula: "t = (R·sin e − d)/cos e;  tn = R·sin e − d;  flop = t·sin e·cos e;  d = R·sin e − t·cos e",
		Source:  steeringBooks,
		Caution: "For an unloaded, upright tyre on flat ground. A printed trail cannot be met closer than 2 to 3 mm, because tyres of one size differ.",
		Inputs: append(append(rakeInputs(), radiusInputs()...), offsetInput(),
			number("trail", "Trail", unit.Length, -100, 400, "Ground trail is 80 to 120 mm on most machines.").usual(60, 180).like("97mm").hint("Instead of the offset, to find the offset.").maybe().read(0.5).named("t")),
		Example: "rake=24deg radius=300mm offset=30mm",
		run:     runGeometry,
	}
}

func runGeometry(in given, out *Result) error {
	rake, err := rakeOf(in)
	if err != nil {
		return err
	}
	radius, err := in.only("radius", "tyre")
	if err != nil {
		return err
	}
	offset, err := oneOf(in, "trail", "offset", func(trail float64) float64 {
		d, e := chassis.OffsetFor(rake, radius, trail)
		err = e
		return d
	})
	if err != nil {
		return err
	}
	s := chassis.Steering{Rake: rake, Offset: offset, Radius: radius}
	trail, err := s.Trail()
	if err != nil {
		return err
	}
	per, err := s.Sensitivity()
	if err != nil {
		return err
	}
	out.add("trail", "Trail", unit.Length, trail.Ground, 1)
	out.add("normal-trail", "Normal trail", unit.Length, trail.Normal, 1)
	out.add("flop", "Wheel flop", unit.Length, trail.Flop, 1)
	out.add("rake", "Rake", unit.Angle, rake, 2)
	out.add("offset", "Offset", unit.Length, offset, 1)
	out.add("radius", "Front wheel radius", unit.Length, radius, 1)
	out.addIn("trail-per-degree", "Trail per degree of rake", "mm/deg", per.PerDegree, 2)
	out.addIn("trail-per-radius", "Trail per mm of radius", "mm/mm", per.PerRadius, 3)
	out.addIn("trail-per-offset", "Trail per mm of offset", "mm/mm", per.PerOffset, 3)
	out.say("Trail is {trail}, {normal-trail} square to the steering axis; turned, the front drops by the flop of {flop}.")
	out.say("A degree more rake makes %s mm of trail, a millimetre more offset %s mm.", signed(per.PerDegree, 1), signed(per.PerOffset, 2))
	if trail.Ground <= 0 {
		out.caution("Trail is not above 0: the wheel would not follow by itself. Do not ride; measure again.")
	}
	return nil
}

func wheelRadius(symbol, label string, tyreSymbol, tyreLabel string, most float64) []*Input {
	return []*Input{
		number(symbol, label, unit.Length, 100, most, "From axle to tread crown motorcycle wheels have 230 to 370 mm.").usual(200, 380).like("314.9mm").maybe(),
		word(tyreSymbol, tyreLabel).like("180/55R17").maybe().fills(symbol, freeRadius),
	}
}

func moveInput(symbol, label string, most float64, plausible string) *Input {
	return number(symbol, label, unit.Length, -most, most, plausible).like("10mm").maybe()
}

func geometryChangeTopic() Topic {
	inputs := []*Input{
		number("wheelbase", "Wheelbase", unit.Length, 800, 2500, "Motorcycles measure 1200 to 1700 mm from axle to axle.").usual(1150, 1900).like("1400mm").named("p"),
	}
	inputs = append(inputs, rakeInputs()...)
	inputs = append(inputs, offsetInput().must())
	inputs = append(inputs, wheelRadius("front-radius", "Front wheel radius", "front-tyre", "Front tyre size", 500)...)
	inputs = append(inputs, wheelRadius("rear-radius", "Rear wheel radius", "rear-tyre", "Rear tyre size", 500)...)
	inputs = append(inputs,
		moveInput("fork-raised", "Fork height in the clamps", 100, "Tubes are moved up through the yokes by some millimetres; minus is down.").named("h"),
		moveInput("rear-raised", "Rear ride height", 120, "At the axle: a ride-height collar is worth about twice its own millimetres there."),
		moveInput("front-sag", "More front sag", 200, "Along the fork, more settled than before; minus is less."),
		moveInput("rear-sag", "More rear sag", 200, "At the axle, more settled than before; minus is less."),
		moveInput("axle-back", "Axle further back", 100, "Chain adjusters and gearing move the axle by up to some centimetres; minus is forward.").named("axle"),
		moveInput("offset-more", "More offset", 50, "Other yokes differ by a few millimetres."))
	inputs = append(inputs, wheelRadius("new-front-radius", "New front wheel radius", "new-front-tyre", "New front tyre size", 500)...)
	inputs = append(inputs, wheelRadius("new-rear-radius", "New rear wheel radius", "new-rear-tyre", "New rear tyre size", 500)...)
	inputs = append(inputs,
		number("swingarm", "Swingarm length", unit.Length, 250, 900, "From pivot to axle swingarms have 400 to 650 mm.").usual(350, 750).like("580mm").hint("With its angle: the axle then follows its arc.").maybe().named("ls"),
		number("swingarm-angle", "Swingarm angle", unit.Angle, -20, 35, "It falls towards the axle by 5 to 15°.").usual(0, 20).like("11deg").maybe(),
		number("front-share", "Front weight share", unit.Share, 20, 80, "Road machines carry 45 to 55 % on the front wheel.").usual(35, 60).like("51%").maybe().named("front weight share"),
		number("centre-height", "Height of the centre of gravity", unit.Length, 200, 1200, "With the rider it stands at 500 to 750 mm.").usual(350, 900).like("600mm").maybe().named("h-cg"),
		frontTeeth().maybe().hint("With both sprockets, the new ones and the links, gearing moves the axle by itself."), rearTeeth().maybe(),
		frontTeeth().relabel("new-front", "New front sprocket").maybe(),
		rearTeeth().relabel("new-rear", "New rear sprocket").maybe(), linksInput())
	pitch := pitchInputs()
	pitch[1].tacit("525") // of interest only with other sprockets
	inputs = append(inputs, pitch...)
	return Topic{
		ID: "geometry-change", Title: "What a setting does to the geometry",
		Why:     "Fork height, ride height, sag, tyres and gearing all tip the machine, and so change rake, trail and wheelbase together. A few millimetres at one end feel like another machine. With the numbers you can move one thing and put the rest back.",
		Formula: "v = rear to front axle after the change; L = |v|; p' = √(L² − (Rf' − Rr')²); q = angle(v) − atan2(Rf' − Rr', p'); e' = e − q; trail from e'. Rule of thumb: q = what an end drops / wheelbase",
		Source:  "Rigid body in the plane, as reasoned in " + steeringBooks,
		Caution: "Check that nothing touches at full bump and full lock before you ride with another height or tyre, and follow the manual on tyre sizes.",
		Inputs:  inputs,
		Example: "wheelbase=1400mm rake=24deg offset=30mm front-tyre=120/70R17 rear-tyre=180/55R17 fork-raised=10mm",
		run:     runGeometryChange,
	}
}

func stanceOf(in given) (chassis.Stance, error) {
	rake, err := rakeOf(in)
	if err != nil {
		return chassis.Stance{}, err
	}
	rf, err := in.only("front-radius", "front-tyre")
	if err != nil {
		return chassis.Stance{}, err
	}
	rr, err := in.only("rear-radius", "rear-tyre")
	if err != nil {
		return chassis.Stance{}, err
	}
	if in.has("swingarm") != in.has("swingarm-angle") {
		return chassis.Stance{}, refuse("swingarm", "Swingarm length and angle go together.", "Give both, or neither.")
	}
	if in.has("front-share") != in.has("centre-height") {
		return chassis.Stance{}, refuse("centre-height", "Weight share and height of the centre of gravity go together.", "Give both, or neither.")
	}
	return chassis.Stance{
		Wheelbase: in.n("wheelbase"), Rake: rake, Offset: in.n("offset"), FrontRadius: rf, RearRadius: rr,
		FrontShare: in.n("front-share"), CentreHeight: in.n("centre-height"),
		Swingarm: in.n("swingarm"), SwingarmDecline: in.n("swingarm-angle"),
	}, nil
}

func runGeometryChange(in given, out *Result) error {
	s, err := stanceOf(in)
	if err != nil {
		return err
	}
	move := chassis.Move{
		ForkRaised: in.n("fork-raised"), RearRaised: in.n("rear-raised"), FrontSag: in.n("front-sag"), RearSag: in.n("rear-sag"),
		AxleBack: in.n("axle-back"), OffsetMore: in.n("offset-more"),
		FrontRadius: in.n("new-front-radius"), RearRadius: in.n("new-rear-radius"),
	}
	if in.has("new-front") || in.has("new-rear") {
		back, err := axleByGearing(in)
		if err != nil {
			return err
		}
		move.AxleBack += back
		out.say("The gearing moves the axle %s mm (plus is back).", signed(back, 1))
	}
	a, err := s.After(move)
	if err != nil {
		return err
	}
	addStanding(out, s, a)
	forkHeights(out, s, move)
	return nil
}

// axleByGearing is how far back other sprockets on the same chain put the axle.
func axleByGearing(in given) (float64, error) {
	for _, s := range []string{"front", "rear", "links"} {
		if !in.has(s) {
			return 0, refuse(s, "To see what gearing does, both sprockets and the chain's links are needed.", "Give front=16 rear=43 links=114 and the new sprocket, or leave the new one out.")
		}
	}
	d, err := driveOf(in)
	if err != nil {
		return 0, err
	}
	next := chassis.Drive{Front: in.or("new-front", d.Front), Rear: in.or("new-rear", d.Rear), Pitch: d.Pitch}
	return d.AxleMove(next, in.n("links"), in.n("links"))
}

// forkHeights adds what rake and trail would be at fork heights about the one
// that was asked for.
func forkHeights(out *Result, s chassis.Stance, move chassis.Move) {
	height := Axis{"Fork height in the clamps", "mm"}
	trail := Series{Title: "Trail over fork height", X: height, Y: Axis{"Trail", "mm"}}
	rake := Series{Title: "Rake over fork height", X: height, Y: Axis{"Rake", "deg"}}
	asked := move.ForkRaised
	for more := -15.0; more <= 15; more++ {
		move.ForkRaised = asked + more
		if a, err := s.After(move); err == nil {
			trail.Points = append(trail.Points, [2]float64{move.ForkRaised, a.Trail.Ground})
			rake.Points = append(rake.Points, [2]float64{move.ForkRaised, a.Rake})
		}
	}
	out.Series = append(out.Series, trail, rake)
}

func addStanding(out *Result, s chassis.Stance, a chassis.Standing) {
	out.add("rake", "New rake", unit.Angle, a.Rake, 2)
	out.add("trail", "New trail", unit.Length, a.Trail.Ground, 1)
	out.add("wheelbase", "New wheelbase", unit.Length, a.Wheelbase, 1)
	out.add("pitch", "Nose down", unit.Angle, a.Pitch, 2)
	out.add("rake-change", "Rake gained", unit.Angle, a.DRake, 2)
	out.add("trail-change", "Trail gained", unit.Length, a.DTrail, 1)
	out.add("wheelbase-change", "Wheelbase gained", unit.Length, a.DWheelbase, 1)
	out.add("normal-trail", "New normal trail", unit.Length, a.Trail.Normal, 1)
	out.add("flop", "New wheel flop", unit.Length, a.Trail.Flop, 1)
	out.add("rule-pitch", "Nose down by the rule of thumb", unit.Angle, a.RulePitch, 2)
	out.add("rule-error", "Error of the rule", unit.Share, a.RuleError, 1)
	digits := 1
	if math.Abs(a.DRake) < 0.1 {
		digits = 2
	}
	out.say("Rake %s° to %s°, trail %s mm to %s mm, wheelbase %s mm to %s mm.", signed(a.DRake, digits), fixed(a.Rake, digits), signed(a.DTrail, 1), fixed(a.Trail.Ground, 1), signed(a.DWheelbase, 1), fixed(a.Wheelbase, 0))
	if a.Pitch != 0 {
		out.say("The rule of thumb, height over wheelbase, says %s° nose down where it is %s°: %s %% off.", fixed(a.RulePitch, 2), fixed(a.Pitch, 2), signed(a.RuleError, 1))
	}
	if s.FrontShare > 0 && s.CentreHeight > 0 {
		out.add("front-share", "New front weight share", unit.Share, a.FrontShare, 2)
		out.add("front-share-change", "Front weight share gained", unit.Share, a.DFrontShare, 2)
		out.add("centre-height-change", "Centre of gravity gained in height", unit.Length, a.CentreHeightMore, 1)
		out.say("The front wheel then carries {front-share}, %s points.", signed(a.DFrontShare, 2))
	}
	if math.Abs(a.DTrail) > 10 {
		out.caution("More than 10 mm of trail at once changes a machine a lot: go in smaller steps.")
	}
	if a.Trail.Ground < 60 {
		out.caution("Trail under 60 mm is very little: do not ride it before somebody qualified has looked at the numbers.")
	}
}

func tyreSizeTopic() Topic {
	return Topic{
		ID: "tyre", Title: "Tyre size",
		Why:     "A size code tells how tall a tyre is, and its height sets rake, trail and gearing. One size up at the rear is worth several millimetres of ride height. Makers differ by about 1 %, so measure when it matters.",
		Formula: "OD = 25.4·r + 2·W·A/100;  circumference = π·OD",
		Source:  "ETRTO Standards Manual, motorcycle section (from memory); ISO 4000 load index table (from memory).",
		Caution: "Fit only sizes that the machine's manual and its papers allow, on a rim of the right width.",
		Inputs: []*Input{
			word("size", "Tyre size").like("120/70R17", "180/55 ZR 17 M/C (73W)").named("tyre", "code", "tire"),
			number("crown", "Crown correction", unit.Length, -30, 30, "A tyre's crown stands a few millimetres above or below its code.").like("2mm").tacit("0mm"),
			number("sink", "Sink under load", unit.Length, 0, 40, "A loaded tyre stands 5 to 20 mm lower than free.").like("8mm").tacit("0mm"),
			word("new", "Another size").like("190/55R17").hint("To see the difference.").maybe().named("new-size"),
		},
		Example: "size=180/55R17 new=190/55R17",
		run:     runTyreSize,
	}
}

func runTyreSize(in given, out *Result) error {
	size, err := chassis.ParseTyreSize(in.word("size"))
	if err != nil {
		return renamed(err, "size")
	}
	w, err := size.Wheel(in.n("crown"), in.n("sink"))
	if err != nil {
		return err
	}
	out.add("diameter", "Free diameter", unit.Length, w.Diameter, 1)
	out.add("circumference", "Circumference", unit.Length, w.Circumference, 0)
	out.add("radius", "Free radius", unit.Length, w.Radius, 1)
	out.add("loaded-radius", "Loaded radius", unit.Length, w.LoadedRadius, 1)
	out.add("width", "Width by the code", unit.Length, size.Width, 0)
	out.addIn("aspect", "Height over width", "%", size.Aspect, 0)
	out.addIn("rim", "Rim", "in", size.Rim, 1)
	out.say("Free it is {diameter} across and {circumference} around, radius {radius}.")
	if size.Load > 0 {
		kg, err := chassis.LoadOfIndex(size.Load)
		if err != nil {
			return renamed(err, "size")
		}
		out.add("load", "Most load by its index", unit.Mass, kg, 0)
		out.say("Load index %d stands for {load}.", size.Load)
	}
	if !in.has("new") {
		return nil
	}
	other, err := chassis.ParseTyreSize(in.word("new"))
	if err != nil {
		return renamed(err, "new")
	}
	o, err := other.Wheel(in.n("crown"), in.n("sink"))
	if err != nil {
		return renamed(err, "new")
	}
	out.add("new-diameter", "New free diameter", unit.Length, o.Diameter, 1)
	out.add("new-circumference", "New circumference", unit.Length, o.Circumference, 0)
	out.add("radius-change", "Radius gained", unit.Length, o.Radius-w.Radius, 1)
	out.add("speed-change", "Road speed gained at the same engine speed", unit.Share, 100*(o.Diameter/w.Diameter-1), 2)
	out.say("The other is {new-diameter} across: its axle stands %s mm, and at the same engine speed it runs %s %%.", signed(o.Radius-w.Radius, 1), signed(100*(o.Diameter/w.Diameter-1), 1))
	return nil
}
