package chassis

import "math"

// Bars is how far the handlebar stands out of square with the wheel straight
// ahead.
type Bars struct {
	Angle   float64 // degrees; positive: turned to the right, seen from the saddle
	AtGrip  float64 // mm that each end stands ahead (left) and behind (right)
	Neutral bool    // within the tolerance
}

// BarsFromDistances compares the distances in mm of both bar ends or lever
// tips from one point on the machine's centre line, wheel straight ahead. Half
// is from the steering axis to the end; ahead is how far the point lies ahead
// of the steering axis (minus: behind, as the tail does).
//
//	sin θ = (right² − left²)/(4·ahead·half)
//
// holds exactly for a bar turned by θ about a vertical axis, whatever its
// sweep; heights make no difference, because only squares are compared.
// Source: elementary geometry, derived. Refuses a point within 50 mm of the
// axis, where turning the bar changes nothing.
func BarsFromDistances(left, right, half, ahead, tolerance float64) (Bars, error) {
	if err := within(
		limit{"left", left, 50, 3000, "mm"},
		limit{"right", right, 50, 3000, "mm"},
		limit{"half", half, 100, 700, "mm"},
		limit{"point", ahead, -2500, 2500, "mm"},
		limit{"tolerance", tolerance, 0, 50, "mm"}); err != nil {
		return Bars{}, err
	}
	if math.Abs(ahead) < 50 {
		return Bars{}, Refusal{"point", "That point is too close to the steering axis: turning the bar hardly changes the distances.", "Take a point on the centre line at least 50 mm away, such as the middle of the tail."}
	}
	// A bar turned to the right brings its right end back: nearer to a point
	// behind, further from one ahead.
	sin := (right*right - left*left) / (4 * ahead * half)
	if math.Abs(sin) > 0.5 {
		return Bars{}, Refusal{"left", "The two sides differ more than a bar can be turned in its clamps.", "Hold the tape on the same points on both sides, wheel straight ahead, and measure again."}
	}
	return barsAt(math.Asin(sin)/degree, half, tolerance), nil
}

// BarsFromTwist returns what a twist in degrees (positive: to the right) makes
// at the grip of a bar of that length in mm from the steering axis.
func BarsFromTwist(angle, half, tolerance float64) (Bars, error) {
	if err := within(
		limit{"angle", angle, -30, 30, "deg"},
		limit{"half", half, 100, 700, "mm"},
		limit{"tolerance", tolerance, 0, 50, "mm"}); err != nil {
		return Bars{}, err
	}
	return barsAt(angle, half, tolerance), nil
}

func barsAt(angle, half, tolerance float64) Bars {
	at := half * math.Sin(angle*degree)
	return Bars{angle, at, math.Abs(at) <= tolerance}
}
