package chassis

import "math"

// Steering is the front end as the ground sees it. Rake is from the vertical;
// Offset is from steering axis to front axle, square to the axis; Radius is
// the front wheel's, to the tread crown.
type Steering struct {
	Rake, Offset, Radius float64
}

func (s Steering) check() error {
	if err := within(
		limit{"rake", s.Rake, 1, 60, "deg"},
		limit{"front wheel radius", s.Radius, 50, 600, "mm"},
		limit{"offset", s.Offset, -200, 300, "mm"}); err != nil {
		return err
	}
	return nil
}

// Trail holds the lengths that make a machine steer itself straight.
type Trail struct {
	Ground float64 // mm, along the ground
	Normal float64 // mm, square to the steering axis
	Flop   float64 // mm, the wheel flop factor
}

// Trail returns ground trail, normal trail and flop.
//
//	t = (R·sin e − d)/cos e;  tn = R·sin e − d;  f = t·sin e·cos e
//
// Rake in [1°, 60°]. Flat ground, unloaded upright tyre. Source: V. Cossalter,
// Motorcycle Dynamics, 2nd ed. 2006, ch. 1; T. Foale, Motorcycle Handling and
// Chassis Design, 2002.
func (s Steering) Trail() (Trail, error) {
	if err := s.check(); err != nil {
		return Trail{}, err
	}
	sin, cos := math.Sincos(s.Rake * degree)
	normal := s.Radius*sin - s.Offset
	t := normal / cos
	return Trail{t, normal, t * sin * cos}, nil
}

// Sensitivity is what ground trail gains per unit of each number.
type Sensitivity struct {
	PerDegree, PerRadius, PerOffset float64
}

// Sensitivity returns the derivatives of ground trail, per degree and per mm.
// Source: the trail formula, derived.
func (s Steering) Sensitivity() (Sensitivity, error) {
	if err := s.check(); err != nil {
		return Sensitivity{}, err
	}
	sin, cos := math.Sincos(s.Rake * degree)
	return Sensitivity{degree * (s.Radius - s.Offset*sin) / (cos * cos), sin / cos, -1 / cos}, nil
}

// OffsetFor returns the offset in mm that gives a ground trail in mm:
// d = R·sin e − t·cos e.
func OffsetFor(rake, radius, trail float64) (float64, error) {
	if err := within(limit{"trail", trail, -200, 500, "mm"}); err != nil {
		return 0, err
	}
	if err := (Steering{rake, 0, radius}).check(); err != nil {
		return 0, err
	}
	sin, cos := math.Sincos(rake * degree)
	d := radius*sin - trail*cos
	return d, Steering{rake, d, radius}.check()
}

// RakeOfHead turns a steering head angle from the horizontal, as some makers
// print it, into a rake from the vertical.
func RakeOfHead(head float64) (float64, error) {
	if err := within(limit{"head angle", head, 30, 89, "deg"}); err != nil {
		return 0, err
	}
	return 90 - head, nil
}

// Stance is a machine at rest on flat ground, suspension at its present
// length. FrontShare (% of weight on the front) and CentreHeight (mm) may be
// 0: not known.
type Stance struct {
	Wheelbase, Rake, Offset   float64
	FrontRadius, RearRadius   float64
	FrontShare, CentreHeight  float64
	Swingarm, SwingarmDecline float64 // mm and degrees below horizontal; 0: not known
}

// Move is what is changed on a stance. All are differences, in mm, except the
// new radii, which are whole; 0 leaves a thing as it is.
type Move struct {
	ForkRaised  float64 // tubes up through the yokes
	FrontSag    float64 // more sag along the fork
	RearRaised  float64 // rear axle down from the frame, at the axle
	RearSag     float64 // more sag, at the axle
	AxleBack    float64 // along the swingarm
	OffsetMore  float64 // wider yokes
	FrontRadius float64 // new front wheel radius
	RearRadius  float64 // new rear wheel radius
}

// Standing is the stance after a move.
type Standing struct {
	Rake, Wheelbase  float64
	Trail            Trail
	Pitch            float64 // degrees, nose down positive
	RulePitch        float64 // degrees by the rule of thumb
	RuleError        float64 // % by which the rule is off; 0 when nothing pitched
	FrontShare       float64 // %, 0 when it was not known
	Stance           Stance  // to go on from
	DRake, DTrail    float64 // degrees and mm gained
	DWheelbase       float64 // mm gained
	DFrontShare      float64 // % gained
	CentreHeightMore float64 // mm the centre of gravity rose
}

type point struct{ x, z float64 }

func (a point) minus(b point) point { return point{a.x - b.x, a.z - b.z} }
func (a point) length() float64     { return math.Hypot(a.x, a.z) }
func (a point) angle() float64      { return math.Atan2(a.z, a.x) }

// pitched turns a vector nose down by q radians.
func (a point) pitched(q float64) point {
	sin, cos := math.Sincos(q)
	return point{a.x*cos + a.z*sin, -a.x*sin + a.z*cos}
}

func (s Stance) check() error {
	if err := (Steering{s.Rake, s.Offset, s.FrontRadius}).check(); err != nil {
		return err
	}
	return within(
		limit{"wheelbase", s.Wheelbase, 500, 3000, "mm"},
		limit{"rear wheel radius", s.RearRadius, 50, 600, "mm"},
		limit{"front weight share", s.FrontShare, 0, 100, "%"},
		limit{"height of the centre of gravity", s.CentreHeight, 0, 2000, "mm"},
		limit{"swingarm length", s.Swingarm, 0, 1200, "mm"},
		limit{"swingarm angle", s.SwingarmDecline, -45, 45, "deg"})
}

func (m Move) check() error {
	return within(
		limit{"fork height in the clamps", m.ForkRaised, -150, 150, "mm"},
		limit{"front sag", m.FrontSag, -300, 300, "mm"},
		limit{"rear ride height", m.RearRaised, -200, 200, "mm"},
		limit{"rear sag", m.RearSag, -300, 300, "mm"},
		limit{"axle position", m.AxleBack, -150, 150, "mm"},
		limit{"offset change", m.OffsetMore, -60, 60, "mm"},
		limit{"new front wheel radius", m.FrontRadius, 0, 600, "mm"},
		limit{"new rear wheel radius", m.RearRadius, 0, 600, "mm"})
}

// rearAxle is where the rear axle comes to in the frame's own axes, from
// (0, RearRadius). With a swingarm it follows the arc; without one it moves
// straight down and straight back.
func (s Stance) rearAxle(m Move) (point, error) {
	down := m.RearRaised - m.RearSag
	if s.Swingarm == 0 {
		return point{-m.AxleBack, s.RearRadius - down}, nil
	}
	arm := s.Swingarm + m.AxleBack
	sin, cos := math.Sincos(s.SwingarmDecline * degree)
	lower := sin + down/arm
	if arm <= 100 || math.Abs(lower) > 0.95 {
		return point{}, Refusal{"rear ride height", "The swingarm is too short to reach there.", "Check the swingarm's length and angle and the change."}
	}
	return point{
		-m.AxleBack*cos + arm*(cos-math.Sqrt(1-lower*lower)),
		s.RearRadius - m.AxleBack*sin - down,
	}, nil
}

// After solves the machine as one rigid body in its plane: the fork moves the
// front axle along the steering axis, the rear axle moves on its arc, and the
// frame then pitches until both wheels touch the ground again.
//
//	L = |v|;  p' = √(L² − (Rf'−Rr')²);  q = angle(v) − atan2(Rf'−Rr', p');  e' = e − q
//
// with v from rear to front axle in the frame's axes. Source: elementary
// rigid-body geometry, as reasoned in Cossalter 2006 and Foale 2002. The mass
// of the parts that move is neglected for the weight shares.
func (s Stance) After(m Move) (Standing, error) {
	if err := s.check(); err != nil {
		return Standing{}, err
	}
	if err := m.check(); err != nil {
		return Standing{}, err
	}
	rear, err := s.rearAxle(m)
	if err != nil {
		return Standing{}, err
	}
	sin, cos := math.Sincos(s.Rake * degree)
	up := m.ForkRaised + m.FrontSag
	front := point{s.Wheelbase - up*sin + m.OffsetMore*cos, s.FrontRadius + up*cos + m.OffsetMore*sin}
	v, rf, rr := front.minus(rear), orElse(m.FrontRadius, s.FrontRadius), orElse(m.RearRadius, s.RearRadius)
	if v.length() < 300 || math.Abs(rf-rr) > v.length()/2 {
		return Standing{}, Refusal{"wheelbase", "The wheels would meet.", "Check the wheelbase and the changes."}
	}
	p := math.Sqrt(v.length()*v.length() - (rf-rr)*(rf-rr))
	q := v.angle() - math.Atan2(rf-rr, p)
	// The baseline's own pitch is 0 by definition: v = (p, Rf − Rr) before.
	after := Standing{Rake: s.Rake - q/degree, Wheelbase: p, Pitch: q / degree}
	after.Trail, err = Steering{after.Rake, s.Offset + m.OffsetMore, rf}.Trail()
	if err != nil {
		return Standing{}, err
	}
	return s.compare(m, after, rear, q, rf, rr)
}

// compare fills in what the move did against the stance before.
func (s Stance) compare(m Move, after Standing, rear point, q, rf, rr float64) (Standing, error) {
	before, err := Steering{s.Rake, s.Offset, s.FrontRadius}.Trail()
	if err != nil {
		return Standing{}, err
	}
	after.RulePitch = s.rulePitch(m, rf, rr)
	if math.Abs(after.Pitch) > 1e-9 {
		after.RuleError = 100 * (after.RulePitch/after.Pitch - 1)
	}
	after.DRake, after.DWheelbase = after.Rake-s.Rake, after.Wheelbase-s.Wheelbase
	after.DTrail = after.Trail.Ground - before.Ground
	after.Stance = Stance{after.Wheelbase, after.Rake, s.Offset + m.OffsetMore, rf, rr, 0, 0, 0, 0}
	if s.Swingarm > 0 {
		arm := s.Swingarm + m.AxleBack
		lower := math.Sin(s.SwingarmDecline*degree) + (m.RearRaised-m.RearSag)/arm
		after.Stance.Swingarm, after.Stance.SwingarmDecline = arm, math.Asin(lower)/degree-after.Pitch
	}
	if s.FrontShare > 0 && s.CentreHeight > 0 {
		centre := point{s.FrontShare / 100 * s.Wheelbase, s.CentreHeight}.minus(rear).pitched(q)
		after.FrontShare = 100 * centre.x / after.Wheelbase
		after.DFrontShare = after.FrontShare - s.FrontShare
		after.CentreHeightMore = centre.z + rr - s.CentreHeight
		after.Stance.FrontShare, after.Stance.CentreHeight = after.FrontShare, centre.z+rr
	}
	return after, sane("wheelbase", after.Rake, after.Wheelbase, after.Trail.Ground, after.FrontShare, after.RuleError)
}

// rulePitch is the rule of thumb: what an end drops, over the wheelbase.
func (s Stance) rulePitch(m Move, rf, rr float64) float64 {
	sin, cos := math.Sincos(s.Rake * degree)
	drop := (m.ForkRaised+m.FrontSag)*cos + m.OffsetMore*sin - (rf - s.FrontRadius)
	lift := m.RearRaised - m.RearSag + (rr - s.RearRadius) + m.AxleBack*math.Sin(s.SwingarmDecline*degree)
	return (drop + lift) / s.Wheelbase / degree
}

func orElse(v, other float64) float64 {
	if v == 0 {
		return other
	}
	return v
}
