package chassis

import (
	"fmt"
	"math"
	"strings"
)

// pitches by chain size, mm. Source: ISO 606 and ISO 10190 (numbers from
// memory), pitch values read in a chain maker's guide.
var pitches = map[string]float64{
	"415": 12.7, "420": 12.7, "428": 12.7, "520": 15.875, "525": 15.875, "530": 15.875, "532": 15.875,
	"630": 19.05, "219": 7.774, "25": 6.35, "35": 9.525, "40": 12.7, "50": 15.875,
	"06B": 9.525, "08A": 12.7, "08B": 12.7, "10A": 15.875, "10B": 15.875, "12A": 19.05,
}

// PitchOf returns the pitch in mm of a chain size such as "525" or "520 VX".
func PitchOf(size string) (float64, error) {
	size = strings.ToUpper(strings.TrimSpace(size))
	p, ok := pitches[size]
	if !ok && len(size) > 3 { // letters after the number are the maker's
		p, ok = pitches[size[:3]]
	}
	if !ok {
		return 0, Refusal{"chain", "That chain size is not known here.", "Read the number on the side plates, such as 520, 525 or 530, or give pitch in mm."}
	}
	return p, nil
}

// Drive is two sprockets and the pitch of their chain.
type Drive struct {
	Front, Rear float64 // teeth
	Pitch       float64 // mm
}

func (d Drive) check() error {
	return within(
		limit{"front sprocket", d.Front, 6, 60, "teeth"},
		limit{"rear sprocket", d.Rear, 6, 120, "teeth"},
		limit{"chain pitch", d.Pitch, 4, 40, "mm"})
}

// PitchDiameter returns a sprocket's pitch circle: p/sin(π/N). Source: ANSI
// B29.1 (from memory).
func PitchDiameter(pitch, teeth float64) (float64, error) {
	if err := within(limit{"teeth", teeth, 6, 120, "teeth"}, limit{"chain pitch", pitch, 4, 40, "mm"}); err != nil {
		return 0, err
	}
	return pitch / math.Sin(math.Pi/teeth), nil
}

func (d Drive) radii() (front, rear float64) {
	return d.Pitch / math.Sin(math.Pi/d.Front) / 2, d.Pitch / math.Sin(math.Pi/d.Rear) / 2
}

// checkCentre refuses sprockets that touch.
func (d Drive) checkCentre(centre float64) error {
	if err := d.check(); err != nil {
		return err
	}
	if err := within(limit{"centre distance", centre, 1, 5000, "mm"}); err != nil {
		return err
	}
	front, rear := d.radii()
	if centre <= front+rear {
		return Refusal{"centre distance", fmt.Sprintf("At %.0f mm these sprockets would touch.", centre), fmt.Sprintf("Give more than %.0f mm.", front+rear)}
	}
	return nil
}

// Links returns the chain's length in pitches for a centre distance, by the
// handbook formula.
//
//	L = 2C/p + (N1+N2)/2 + (N2−N1)²/(4π²·C/p)
//
// Source: machine-design handbooks; a published example (N 20/63, C 36
// pitches) prints 114.8.
func (d Drive) Links(centre float64) (float64, error) {
	if err := d.checkCentre(centre); err != nil {
		return 0, err
	}
	c, n := centre/d.Pitch, d.Rear-d.Front
	return 2*c + (d.Front+d.Rear)/2 + n*n/(4*math.Pi*math.Pi*c), nil
}

// ExactLinks counts links along the tangents to the pitch circles and the
// teeth on the wraps.
//
//	L = 2(C/p)·cos a + N1(π−2a)/2π + N2(π+2a)/2π;  sin a = (r2−r1)/C
func (d Drive) ExactLinks(centre float64) (float64, error) {
	if err := d.checkCentre(centre); err != nil {
		return 0, err
	}
	front, rear := d.radii()
	a := math.Asin((rear - front) / centre)
	return 2*centre/d.Pitch*math.Cos(a) + d.Front*(math.Pi-2*a)/(2*math.Pi) + d.Rear*(math.Pi+2*a)/(2*math.Pi), nil
}

// Centre returns the centre distance in mm that a chain of so many links
// spans: the handbook formula solved for C. Refuses a chain too short to go
// around both sprockets.
//
//	C = p/4·[−A + √(A² − 8((N2−N1)/2π)²)];  A = (N1+N2)/2 − L
func (d Drive) Centre(links float64) (float64, error) {
	if err := d.checkLinks(links); err != nil {
		return 0, err
	}
	a, b := (d.Front+d.Rear)/2-links, (d.Rear-d.Front)/(2*math.Pi)
	under := a*a - 8*b*b
	if a >= 0 || under < 0 {
		return 0, tooShort(links)
	}
	c := d.Pitch / 4 * (-a + math.Sqrt(under))
	if d.checkCentre(c) != nil {
		return 0, tooShort(links)
	}
	return c, nil
}

// ExactCentre returns the centre distance by the tangent solution, found by
// halving to 1e-9 mm.
func (d Drive) ExactCentre(links float64) (float64, error) {
	if err := d.checkLinks(links); err != nil {
		return 0, err
	}
	front, rear := d.radii()
	lo, hi := (front+rear)*(1+1e-9), links*d.Pitch/2
	least, err := d.ExactLinks(lo)
	if err != nil || least > links || hi <= lo {
		return 0, tooShort(links)
	}
	for hi-lo > 1e-9 {
		mid := (lo + hi) / 2
		if mid <= lo || mid >= hi {
			break
		}
		l, err := d.ExactLinks(mid)
		if err != nil {
			return 0, err
		}
		if l < links {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, nil
}

func (d Drive) checkLinks(links float64) error {
	if err := d.check(); err != nil {
		return err
	}
	return within(limit{"chain length", links, 10, 250, "links"})
}

func tooShort(links float64) error {
	return Refusal{"chain length", fmt.Sprintf("A chain of %.0f links does not go around these sprockets.", links), "Count the links again; most chains on motorcycles have 98 to 124."}
}

// AxleMove returns how far back the axle goes, in mm, from this drive with a
// chain of so many links to another drive and chain. Negative is forward.
func (d Drive) AxleMove(to Drive, links, linksAfter float64) (float64, error) {
	before, err := d.Centre(links)
	if err != nil {
		return 0, err
	}
	after, err := to.Centre(linksAfter)
	return after - before, err
}

// Spare returns how much longer the lower run is than straight, in mm, for a
// slack (whole up-and-down movement at mid-span) over a straight run:
// s²/(2S). Small-angle model of a weightless taut V; derived, no published
// source. It differs from the exact V by under 0.2 %.
func Spare(slack, run float64) (float64, error) {
	if err := within(limit{"straight run", run, 100, 2000, "mm"}, limit{"slack", slack, 0, 200, "mm"}); err != nil {
		return 0, err
	}
	return slack * slack / (2 * run), nil
}

// AxleForSlack returns how far back the axle goes to bring slack from one
// value to another, in mm: (s1² − s2²)/(4S). Negative is forward.
func AxleForSlack(from, to, run float64) (float64, error) {
	a, err := Spare(from, run)
	if err != nil {
		return 0, err
	}
	b, err := Spare(to, run)
	return (a - b) / 2, err
}

// Elongation returns a chain's wear in %: 100·(measured/(n·p) − 1).
func Elongation(measured, pitch, n float64) (float64, error) {
	if err := within(
		limit{"chain pitch", pitch, 4, 40, "mm"},
		limit{"number of pitches", n, 5, 200, ""},
		limit{"measured length", measured, 10, 8000, "mm"}); err != nil {
		return 0, err
	}
	e := 100 * (measured/(n*pitch) - 1)
	if e < -1 || e > 10 {
		return 0, Refusal{"measured length", fmt.Sprintf("%.1f mm over %.0f pitches is not a length this chain can have; new it is %.1f mm.", measured, n, n*pitch), "Pull the chain straight, count the pins again, and check the chain size."}
	}
	return e, nil
}

// Arm is a swingarm in its frame: length from pivot to axle, and where the
// front sprocket lies from the pivot (forward and up).
type Arm struct {
	Length               float64
	SprocketX, SprocketZ float64
}

func (a Arm) check() error {
	return within(
		limit{"swingarm length", a.Length, 200, 1000, "mm"},
		limit{"front sprocket ahead of the pivot", a.SprocketX, -100, 300, "mm"},
		limit{"front sprocket above the pivot", a.SprocketZ, -200, 200, "mm"})
}

// Centre returns the distance of axle from front sprocket with the swingarm
// at an angle below horizontal.
func (a Arm) Centre(below float64) float64 {
	sin, cos := math.Sincos(below * degree)
	return math.Hypot(a.Length*cos+a.SprocketX, a.Length*sin+a.SprocketZ)
}

// InLine returns the swingarm angle below horizontal at which sprocket, pivot
// and axle lie in one line, where the chain is tightest.
func (a Arm) InLine() float64 {
	if a.SprocketX == 0 && a.SprocketZ == 0 {
		return 0
	}
	return math.Atan2(a.SprocketZ, a.SprocketX) / degree
}

// Slack is a chain's slack where it was set and where it is tightest.
type Slack struct {
	Tightest float64 // swingarm angle below horizontal, degrees
	InReach  bool    // whether in-line lies within the travel
	Growth   float64 // mm the centre distance gains from stance to tightest
	AtTight  float64 // mm of slack there; 0 when none is left
	Short    float64 // mm of chain missing when none is left
	Run      float64 // mm, straight lower run at the stance
}

// SlackAtTightest translates slack measured with the swingarm at one angle to
// slack where the chain is tightest between two angles of its travel (all in
// degrees below horizontal; topped is the largest, bottomed the smallest).
// Exact tangents for the length, the small-angle V for slack. Source:
// geometry, derived; tightest in line: a maker's technician, quoted in print.
func (a Arm) SlackAtTightest(d Drive, slack, at, topped, bottomed float64) (Slack, error) {
	if err := a.checkTravel(d, at, topped, bottomed); err != nil {
		return Slack{}, err
	}
	out := Slack{Tightest: a.InLine()}
	out.InReach = out.Tightest <= topped && out.Tightest >= bottomed
	out.Tightest = min(topped, max(bottomed, out.Tightest))
	spare, err := a.spareAt(d, slack, at)
	if err != nil {
		return Slack{}, err
	}
	grown, err := a.lengthGained(d, at, out.Tightest)
	if err != nil {
		return Slack{}, err
	}
	out.Run, out.Growth = d.run(a.Centre(at)), a.Centre(out.Tightest)-a.Centre(at)
	left := spare - grown
	if left <= 0 {
		out.Short = -left
		return out, nil
	}
	out.AtTight = math.Sqrt(2 * d.run(a.Centre(out.Tightest)) * left)
	return out, nil
}

// SlackAt translates slack measured with the swingarm at one angle to another
// angle; 0 when none is left.
func (a Arm) SlackAt(d Drive, slack, measured, at float64) (float64, error) {
	spare, err := a.spareAt(d, slack, measured)
	if err != nil {
		return 0, err
	}
	grown, err := a.lengthGained(d, measured, at)
	return math.Sqrt(2 * d.run(a.Centre(at)) * max(0, spare-grown)), err
}

// SlackToSet is the other way: the slack to set at one angle so that this
// much is left where the chain is tightest.
func (a Arm) SlackToSet(d Drive, atTight, at, topped, bottomed float64) (float64, error) {
	if err := a.checkTravel(d, at, topped, bottomed); err != nil {
		return 0, err
	}
	tightest := min(topped, max(bottomed, a.InLine()))
	spare, err := a.spareAt(d, atTight, tightest)
	if err != nil {
		return 0, err
	}
	grown, err := a.lengthGained(d, at, tightest)
	if err != nil {
		return 0, err
	}
	return math.Sqrt(2 * d.run(a.Centre(at)) * max(0, spare+grown)), nil
}

func (a Arm) checkTravel(d Drive, at, topped, bottomed float64) error {
	if err := a.check(); err != nil {
		return err
	}
	if err := within(
		limit{"swingarm angle, topped out", topped, -45, 60, "deg"},
		limit{"swingarm angle, bottomed", bottomed, -60, 45, "deg"}); err != nil {
		return err
	}
	if !(bottomed <= at && at <= topped) {
		return Refusal{"swingarm angle", "The swingarm angle at which you measured lies outside the travel.", "Give angles below horizontal: the largest is topped out, the smallest is bottomed."}
	}
	return d.checkCentre(a.Centre(at))
}

func (a Arm) spareAt(d Drive, slack, at float64) (float64, error) {
	return Spare(slack, d.run(a.Centre(at)))
}

// lengthGained is how much more chain the path takes, in mm.
func (a Arm) lengthGained(d Drive, from, to float64) (float64, error) {
	l1, err := d.ExactLinks(a.Centre(from))
	if err != nil {
		return 0, err
	}
	l2, err := d.ExactLinks(a.Centre(to))
	return (l2 - l1) * d.Pitch, err
}

// run is the straight part of the lower chain.
func (d Drive) run(centre float64) float64 {
	front, rear := d.radii()
	return math.Sqrt(max(0, centre*centre-(rear-front)*(rear-front)))
}

// Alignment is what both-side distances say of the rear wheel.
type Alignment struct {
	Angle float64 // degrees the axle is turned; positive: left side further back
	Toe   float64 // mm the left side is further back
}

// AlignmentFrom compares pivot-to-axle distances on both sides, measured so
// far apart, in mm. Elementary geometry, derived.
func AlignmentFrom(left, right, apart float64) (Alignment, error) {
	if err := within(
		limit{"left distance", left, 100, 1500, "mm"},
		limit{"right distance", right, 100, 1500, "mm"},
		limit{"distance between the two sides", apart, 50, 1000, "mm"}); err != nil {
		return Alignment{}, err
	}
	if math.Abs(left-right) > 50 {
		return Alignment{}, Refusal{"left distance", "The two sides differ by more than 50 mm.", "Hold the tape on the same points on both sides and measure both again."}
	}
	return Alignment{math.Atan2(left-right, apart) / degree, left - right}, nil
}
