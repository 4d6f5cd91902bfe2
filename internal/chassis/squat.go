package chassis

import "math"

// Side is the rear of a machine seen from its right, from the rear contact
// patch: x forward, z up.
type Side struct {
	Wheelbase, CentreHeight float64 // of gravity, with rider
	RearRadius              float64
	PivotX, PivotZ          float64
	SprocketX, SprocketZ    float64
	Drive                   Drive
}

// Squat is what driving does to the rear.
type Squat struct {
	Swingarm, Chain  float64 // degrees, falling towards the rear positive
	Parallel         bool    // chain and swingarm do not meet: A is far away
	AX, AZ           float64 // mm, where they meet; 0,0 when parallel
	SquatAngle       float64 // degrees
	TransferAngle    float64 // degrees
	Ratio            float64 // 1 neutral, above squats, below extends
	AntiSquat        float64 // %
	AntiSquatNoChain float64 // %, as if the chain had no pull
	ChainOverDrive   float64 // chain tension / drive force
}

func (s Side) check() error {
	if err := s.Drive.check(); err != nil {
		return err
	}
	if err := within(
		limit{"wheelbase", s.Wheelbase, 500, 3000, "mm"},
		limit{"height of the centre of gravity", s.CentreHeight, 100, 2000, "mm"},
		limit{"rear wheel radius", s.RearRadius, 50, 600, "mm"},
		limit{"pivot ahead of the axle", s.PivotX, 150, 1200, "mm"},
		limit{"pivot height", s.PivotZ, 50, 1200, "mm"},
		limit{"front sprocket ahead of the axle", s.SprocketX, 150, 1500, "mm"},
		limit{"front sprocket height", s.SprocketZ, 50, 1200, "mm"}); err != nil {
		return err
	}
	return s.Drive.checkCentre(math.Hypot(s.SprocketX, s.SprocketZ-s.RearRadius))
}

// chainAngle is the upper run's, radians, rising forward positive.
func (s Side) chainAngle() float64 {
	front, rear := s.Drive.radii()
	line := point{s.SprocketX, s.SprocketZ - s.RearRadius}
	return line.angle() - math.Asin((rear-front)/line.length())
}

// Squat returns angles, the meeting point A of swingarm line and upper chain
// run, and the squat ratio tan q/tan s with tan s = zA/xA, tan q = h/p;
// anti-squat is 100/ratio. When the two lines are parallel tan s is the limit,
// the swingarm's own slope. Source: V. Cossalter, Motorcycle Dynamics, 2006,
// ch. 5-6; T. Foale 2002, squat (both from memory).
//
// A squat angle at or below 0 has no ratio: refused.
func (s Side) Squat() (Squat, error) {
	if err := s.check(); err != nil {
		return Squat{}, err
	}
	_, rear := s.Drive.radii()
	chain := s.chainAngle()
	arm := math.Atan2(s.PivotZ-s.RearRadius, s.PivotX)
	out := Squat{Swingarm: arm / degree, Chain: chain / degree, ChainOverDrive: s.RearRadius / rear}
	apart := (math.Tan(arm) - math.Tan(chain)) * math.Cos(chain) / rear // 1/xA
	tanS, tanQ := math.Tan(arm)+s.RearRadius*apart, s.CentreHeight/s.Wheelbase
	if out.Parallel = math.Abs(apart) < 1e-7; !out.Parallel { // A beyond 10 km
		out.AX = 1 / apart
		out.AZ = s.RearRadius + out.AX*math.Tan(arm)
	}
	if tanS <= 0.01 {
		return Squat{}, Refusal{"pivot height", "With these numbers driving would pull the rear straight down.", "Measure pivot and sprocket again, from the ground and from the rear axle."}
	}
	out.SquatAngle, out.TransferAngle = math.Atan(tanS)/degree, math.Atan(tanQ)/degree
	out.Ratio = tanQ / tanS
	out.AntiSquat = 100 / out.Ratio
	out.AntiSquatNoChain = 100 * s.PivotZ / s.PivotX / tanQ
	return out, sane("pivot height", out.AX, out.AZ, out.Ratio, out.AntiSquat)
}

// Compressed returns the side view with the rear axle this many mm further
// up. The frame is taken to sink level, so pivot, sprocket and centre of
// gravity go down together and the wheelbase follows the swingarm's arc.
func (s Side) Compressed(up float64) (Side, error) {
	if err := s.check(); err != nil {
		return Side{}, err
	}
	if err := within(limit{"travel", up, -300, 300, "mm"}); err != nil {
		return Side{}, err
	}
	arm := math.Hypot(s.PivotX, s.PivotZ-s.RearRadius)
	drop := s.PivotZ - s.RearRadius - up
	if math.Abs(drop) > 0.9*arm {
		return Side{}, Refusal{"travel", "The swingarm is too short to travel that far.", "Check the pivot and the travel."}
	}
	forward := math.Sqrt(arm*arm-drop*drop) - s.PivotX
	s.PivotX, s.PivotZ = s.PivotX+forward, s.PivotZ-up
	s.SprocketX, s.SprocketZ = s.SprocketX+forward, s.SprocketZ-up
	s.Wheelbase, s.CentreHeight = s.Wheelbase+forward, s.CentreHeight-up
	return s, s.check()
}
