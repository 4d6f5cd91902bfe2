package chassis

import "math"

// WheelRate returns the rate at the wheel: k·MR², MR = spring travel over
// wheel travel. Source: Foale 2002 (from memory).
func WheelRate(spring, motionRatio float64) (float64, error) {
	if err := (Spring{spring, 0, motionRatio}).check(); err != nil {
		return 0, err
	}
	return spring * motionRatio * motionRatio, nil
}

// Parallel returns the rate of springs side by side: their sum. Two fork legs
// are side by side, whether alike or not.
func Parallel(rates ...float64) (float64, error) {
	sum := 0.0
	for _, k := range rates {
		if err := within(limit{"spring rate", k, 0.01, 2000, "N/mm"}); err != nil {
			return 0, err
		}
		sum += k
	}
	return sum, atLeastOne(rates)
}

// Series returns the rate of springs on top of each other: 1/k = Σ 1/kᵢ.
func Series(rates ...float64) (float64, error) {
	inverse := 0.0
	for _, k := range rates {
		if err := within(limit{"spring rate", k, 0.01, 2000, "N/mm"}); err != nil {
			return 0, err
		}
		inverse += 1 / k
	}
	if err := atLeastOne(rates); err != nil {
		return 0, err
	}
	return 1 / inverse, nil
}

func atLeastOne(rates []float64) error {
	if len(rates) == 0 {
		return Refusal{"spring rate", "There is no spring.", "Give at least one rate."}
	}
	return nil
}

// Ends is how the ends of a coil spring are made: it tells how many coils do
// not work.
type Ends string

// The ends a spring can have. Plain ends lose no coil, squared ones two.
const (
	PlainEnds   Ends = "plain"
	SquaredEnds Ends = "squared"
)

// ActiveCoils returns the working coils out of all. Source: Budynas,
// Nisbett, Shigley's Mechanical Engineering Design, table 10-1 (from memory).
func ActiveCoils(total float64, ends Ends) (float64, error) {
	if err := within(limit{"total coils", total, 1.5, 200, ""}); err != nil {
		return 0, err
	}
	active := total
	switch ends {
	case PlainEnds:
	case SquaredEnds, "ground", "squared-ground":
		active = total - 2
	default:
		return 0, Refusal{"ends", "That is no kind of spring end.", "Say ends=plain or ends=squared."}
	}
	return active, within(limit{"active coils", active, 0.5, 200, ""})
}

// CoilRate returns the rate of a round-wire coil spring in N/mm.
//
//	k = G·d⁴ / (8·D³·Na)
//
// G is the shear modulus in MPa (about 79,300 for spring steel), d the wire,
// D the mean coil diameter (outside minus wire), Na the active coils. Source:
// Shigley's Mechanical Engineering Design, ch. 10. Refuses a mean diameter
// not above twice the wire.
func CoilRate(modulus, wire, mean, active float64) (float64, error) {
	if err := within(
		limit{"shear modulus", modulus, 1000, 300000, "MPa"},
		limit{"wire diameter", wire, 0.1, 40, "mm"},
		limit{"mean coil diameter", mean, 0.5, 400, "mm"},
		limit{"active coils", active, 0.5, 200, ""}); err != nil {
		return 0, err
	}
	if mean < 2*wire {
		return 0, Refusal{"mean coil diameter", "The coil is too narrow for its wire.", "Measure the outside with a calliper and take one wire off it."}
	}
	return modulus * math.Pow(wire, 4) / (8 * math.Pow(mean, 3) * active), nil
}

// Recoiled returns the rate after coils were cut off or blocked: k ∝ 1/Na.
func Recoiled(rate, activeOld, activeNew float64) (float64, error) {
	if err := within(
		limit{"spring rate", rate, 0.01, 2000, "N/mm"},
		limit{"active coils before", activeOld, 0.5, 200, ""},
		limit{"active coils after", activeNew, 0.5, 200, ""}); err != nil {
		return 0, err
	}
	return rate * activeOld / activeNew, nil
}
