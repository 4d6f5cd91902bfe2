package chassis

import "fmt"

// Sag is how far one end has settled, from three readings of one length.
type Sag struct {
	Sag      float64 // mm from full extension, mean of pushed and lifted
	Stiction float64 // mm between pushed and lifted: the whole band
}

// SagFrom averages three readings between the same two points: fully
// extended, after pushing the machine down and letting it rise, and after
// lifting it and letting it settle.
//
//	sag = extended − (pushed + lifted)/2;  stiction = lifted − pushed
//
// Method: a suspension maker's technical page "Sag". Refuses pushed above lifted and
// lifted at or above extended.
func SagFrom(extended, pushed, lifted float64) (Sag, error) {
	if err := within(
		limit{"extended length", extended, 1, 3000, "mm"},
		limit{"length after pushing down", pushed, 1, 3000, "mm"},
		limit{"length after lifting", lifted, 1, 3000, "mm"}); err != nil {
		return Sag{}, err
	}
	if lifted > extended {
		return Sag{}, Refusal{"length after lifting", "The length after lifting is more than fully extended.", "Hold the tape on the same two points each time and measure all three again."}
	}
	if pushed > lifted {
		return Sag{}, Refusal{"length after pushing down", "The length after pushing down is more than after lifting; stiction holds it the other way.", "Check which reading was which, or measure both again."}
	}
	return Sag{extended - (pushed+lifted)/2, lifted - pushed}, nil
}

// End is one end of the machine.
type End string

// The two ends.
const (
	Front End = "front"
	Rear  End = "rear"
)

// Use is what the machine is ridden for; sag ranges differ by it.
type Use string

// The uses that have a published range.
const (
	Road    Use = "road"
	Race    Use = "race"
	OffRoad Use = "offroad"
)

// Range is a start range for sag at one end. It is where to begin, not a
// limit: the machine's and the suspension unit's own manual comes first.
type Range struct {
	RiderLo, RiderHi float64 // mm
	ShareLo, ShareHi float64 // % of travel
	FreeLo, FreeHi   float64 // mm; 0,0 when nothing is published
	Source           string
}

const makersPage = "a suspension maker's technical page 'Sag', start ranges"

var ranges = map[Use]map[End]Range{
	Road: {
		Front: {30, 35, 28, 33, 0, 0, makersPage + ", road sport"},
		Rear:  {30, 40, 28, 35, 2, 17, makersPage + ", road sport"},
	},
	Race: {
		Front: {25, 35, 23, 27, 0, 0, makersPage + ", road race"},
		Rear:  {25, 35, 23, 30, 2, 17, makersPage + ", road race"},
	},
	OffRoad: {
		Front: {65, 75, 22, 25, 0, 0, makersPage + ", off-road over 300 mm travel"},
		Rear:  {95, 110, 30, 35, 25, 50, makersPage + ", off-road over 300 mm travel"},
	},
}

// SagRange returns the published start range for an end and a use.
func SagRange(end End, use Use) (Range, error) {
	r, ok := ranges[use][end]
	if !ok {
		return Range{}, Refusal{"use", fmt.Sprintf("There is no range for %q at the %q.", use, end), "Say end=front or rear, and use=road, race or offroad."}
	}
	return r, nil
}

// Reading is what free and rider sag say together about spring and preload.
type Reading string

// The readings of a pair.
const (
	RateSuits    Reading = "rate suits"
	TooSoft      Reading = "spring too soft"
	TooStiff     Reading = "spring too stiff"
	MorePreload  Reading = "more preload first"
	LessPreload  Reading = "less preload first"
	RiderInRange Reading = "rider sag in range"
)

// Says returns the reading as a sentence.
func (r Reading) Says() string {
	switch r {
	case RateSuits:
		return "Free and rider sag are both in range: the spring rate suits you."
	case TooSoft:
		return "The spring is too soft for you and held up by preload: fit a stiffer one."
	case TooStiff:
		return "The spring is too stiff for you: fit a softer one with more preload."
	case MorePreload:
		return "That is too much sag: add preload, then measure both again before judging the rate."
	case LessPreload:
		return "That is too little sag: take preload off, then measure both again before judging the rate."
	default:
		return "Rider sag is in range. No range for free sag is published for this end, so it says nothing about the rate."
	}
}

// ReadPair judges a pair of sags in mm against a range. Rule: P. Thede,
// L. Parks, Race Tech's Motorcycle Suspension Bible, 2010 (from memory); the
// mixed cases follow from rider − free = load/rate. Refuses free above rider.
func ReadPair(free, rider float64, want Range) (Reading, error) {
	if err := checkPair(free, rider); err != nil {
		return "", err
	}
	r := side(rider, want.RiderLo, want.RiderHi)
	if want.FreeHi == 0 {
		return map[int]Reading{-1: LessPreload, 0: RiderInRange, 1: MorePreload}[r], nil
	}
	f := side(free, want.FreeLo, want.FreeHi)
	if free == 0 && f == 0 {
		f = -1 // topped out
	}
	switch {
	case r == 0 && f == 0:
		return RateSuits, nil
	case r > 0 && f > 0:
		return MorePreload, nil
	case r < 0 && f < 0:
		return LessPreload, nil
	case r > 0 && f < 0, r == 0 && f < 0:
		return TooSoft, nil
	case r < 0 && f > 0, r == 0 && f > 0:
		return TooStiff, nil
	case r > 0:
		return MorePreload, nil // free in range
	default:
		return LessPreload, nil
	}
}

func checkPair(free, rider float64) error {
	if err := within(limit{"free sag", free, 0, mostTravel, "mm"}, limit{"rider sag", rider, 0, mostTravel, "mm"}); err != nil {
		return err
	}
	if free >= rider {
		return Refusal{"free sag", "Free sag is not below rider sag; your weight must add some.", "Check which reading was which and measure both again."}
	}
	return nil
}

// side is -1 below the range, 1 above, 0 inside.
func side(v, lo, hi float64) int {
	if v < lo {
		return -1
	}
	if v > hi {
		return 1
	}
	return 0
}

// Spring is one end's spring as the wheel feels it: linear, without top-out
// spring and without air.
type Spring struct {
	Rate        float64 // N/mm at the spring; of all legs together at a fork
	Preload     float64 // mm at the spring
	MotionRatio float64 // spring travel / wheel travel; 1 at a fork
}

func (s Spring) check() error {
	return within(
		limit{"spring rate", s.Rate, 0.01, 2000, "N/mm"},
		limit{"preload", s.Preload, 0, mostPreload, "mm"},
		limit{"motion ratio", s.MotionRatio, 0.05, 2, ""})
}

// Settled is where one end comes to rest.
type Settled struct {
	WheelRate float64 // N/mm
	Free      float64 // mm, 0 when topped out
	RawFree   float64 // mm, negative when topped out
	Rider     float64 // mm
	ToppedOut bool
}

// No motorcycle has more travel at the wheel, and no spring is set with more
// preload, in mm.
const (
	mostTravel  = 500
	mostPreload = 200
)

// Settle returns free and rider sag at the wheel for the end's load in N
// without the rider and what the rider adds. Refuses numbers by which it would
// sink further than any motorcycle has travel.
//
//	K = k·MR²; free = max(0, W/K − P/MR); rider = max(0, (W+Wr)/K − P/MR)
//
// Source: linear spring; motion ratio squared after T. Foale, Motorcycle
// Handling and Chassis Design, 2002 (from memory).
func Settle(s Spring, load, riderLoad float64) (Settled, error) {
	if err := s.check(); err != nil {
		return Settled{}, err
	}
	if err := within(limit{"load without rider", load, 1, 10000, "N"}, limit{"rider's load", riderLoad, 0, 5000, "N"}); err != nil {
		return Settled{}, err
	}
	k, _ := WheelRate(s.Rate, s.MotionRatio)
	raw := load/k - s.Preload/s.MotionRatio
	rider := (load+riderLoad)/k - s.Preload/s.MotionRatio
	if rider > mostTravel {
		return Settled{}, Refusal{"spring rate", fmt.Sprintf("On this spring it would sink %.0f mm, and no motorcycle has more than %d mm of travel.", rider, mostTravel), "Check the spring rate, the legs, the motion ratio and the loads."}
	}
	return Settled{k, max(0, raw), raw, max(0, rider), raw < 0}, nil
}

// RateFromSags returns the wheel rate and the spring rate that the two sags
// show: K = Wr/(rider − free), k = K/MR². It holds only when free sag is
// above 0: a topped-out end looks stiffer than it is, so that is refused.
func RateFromSags(free, rider, riderLoad, motionRatio float64) (wheel, spring float64, err error) {
	if err := checkPair(free, rider); err != nil {
		return 0, 0, err
	}
	if err := within(limit{"rider's load", riderLoad, 1, 5000, "N"}, limit{"motion ratio", motionRatio, 0.05, 2, ""}); err != nil {
		return 0, 0, err
	}
	if free == 0 {
		return 0, 0, Refusal{"free sag", "With no free sag the end is topped out, and the pair no longer shows the rate.", "Take preload off until there is some free sag, and measure both again."}
	}
	wheel = riderLoad / (rider - free)
	spring = wheel / (motionRatio * motionRatio)
	if spring < 0.01 || spring > 2000 {
		return 0, 0, Refusal{"rider sag", fmt.Sprintf("These sags and that load belong to a spring of %s N/mm, and none is made.", short(spring)), "Measure both sags again, and check your load and the motion ratio."}
	}
	return wheel, spring, nil
}

// PreloadFor returns the preload in mm at the spring that gives the wanted
// sag in mm at the wheel under the load in N. Refuses when even no preload
// gives less sag, and when no spring takes that much preload.
func PreloadFor(rate, motionRatio, load, sag float64) (float64, error) {
	s := Spring{rate, 0, motionRatio}
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := within(limit{"load", load, 1, 15000, "N"}, limit{"sag", sag, 0.1, mostTravel, "mm"}); err != nil {
		return 0, err
	}
	k, _ := WheelRate(rate, motionRatio)
	p := motionRatio * (load/k - sag)
	if p < 0 {
		return 0, Refusal{"sag", fmt.Sprintf("This spring sags only %.1f mm with no preload at all.", load/k), "Want less sag, or fit a softer spring."}
	}
	if p > mostPreload {
		return 0, tooMuchPreload("sag", p)
	}
	return p, nil
}

func tooMuchPreload(field string, p float64) error {
	return Refusal{field, fmt.Sprintf("That would take %.0f mm of preload, and no spring is set with more than %d mm.", p, mostPreload), "Fit a stiffer spring, or check the sags, the motion ratio and the load."}
}

// SpringFor returns the spring that gives the wanted free and rider sag
// together. Refuses a pair that needs negative preload.
func SpringFor(free, rider, load, riderLoad, motionRatio float64) (Spring, error) {
	wheel, rate, err := RateFromSags(free, rider, riderLoad, motionRatio)
	if err != nil {
		return Spring{}, err
	}
	if err := within(limit{"load without rider", load, 1, 10000, "N"}); err != nil {
		return Spring{}, err
	}
	p := motionRatio * (load/wheel - free)
	if p < 0 {
		return Spring{}, Refusal{"free sag", "These two sags would need a spring with less than no preload.", "Want less free sag, or sags that lie closer together."}
	}
	if p > mostPreload {
		return Spring{}, tooMuchPreload("free sag", p)
	}
	return Spring{rate, p, motionRatio}, nil
}

// Steps returns the commonly sold rates at and on both sides of a rate, in
// steps of the given size. Springs are commonly sold in steps of 0.5 N/mm for
// forks and 5 N/mm for shocks (common practice, no source).
func Steps(rate, step float64) (below, above float64, err error) {
	if err := within(limit{"spring rate", rate, 0.01, 2000, "N/mm"}, limit{"step", step, 0.01, 100, "N/mm"}); err != nil {
		return 0, 0, err
	}
	n := float64(int(rate/step + 1e-9))
	return n * step, (n + 1) * step, nil
}

// Travel is what a cable tie on the stanchion or shaft shows.
type Travel struct {
	Used, Left, Share float64 // mm, mm, % used
}

// TravelUsed reads a cable tie: used is from full extension, total the whole
// travel on the same rod. Refuses more used than there is.
func TravelUsed(used, total float64) (Travel, error) {
	if err := within(limit{"whole travel", total, 5, mostTravel, "mm"}, limit{"travel used", used, 0, mostTravel, "mm"}); err != nil {
		return Travel{}, err
	}
	if used > total {
		return Travel{}, Refusal{"travel used", "More travel is used than there is.", "Measure the tie from full extension, and look up the whole travel."}
	}
	return Travel{used, total - used, 100 * used / total}, nil
}
