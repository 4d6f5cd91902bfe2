package chassis

import (
	"cmp"
	"math"
	"slices"
)

// FinalRatio returns rear over front teeth. A printed ratio may be cut off
// rather than rounded: one manual prints 2.687 for 43/16 = 2.6875.
func FinalRatio(front, rear float64) (float64, error) {
	if err := (Drive{front, rear, 12.7}).check(); err != nil {
		return 0, err
	}
	return rear / front, nil
}

// RatioChange returns by how many % a change of sprockets shortens (positive)
// or lengthens the gearing.
func RatioChange(front, rear, newFront, newRear float64) (float64, error) {
	before, err := FinalRatio(front, rear)
	if err != nil {
		return 0, err
	}
	after, err := FinalRatio(newFront, newRear)
	if err != nil {
		return 0, err
	}
	return 100 * (after/before - 1), nil
}

// RoadSpeed returns km/h at an engine speed in 1/min.
//
//	v = n·Ct/(ip·ig·if)
//
// Circumference is the tyre's in mm; primary, gear and final are ratios. No
// slip and no growth: a rolling tyre is a little smaller. Source: elementary.
func RoadSpeed(engine, primary, gear, final, circumference float64) (float64, error) {
	if err := within(
		limit{"engine speed", engine, 0, 30000, "1/min"},
		limit{"primary ratio", primary, 0.5, 10, ""},
		limit{"gear ratio", gear, 0.2, 10, ""},
		limit{"final ratio", final, 0.3, 15, ""},
		limit{"tyre circumference", circumference, 500, 4000, "mm"}); err != nil {
		return 0, err
	}
	return engine * circumference / (primary * gear * final) * 60 / 1e6, nil
}

// Pair is two sprockets.
type Pair struct {
	Front, Rear int
	Ratio       float64
	Off         float64 // % from the wanted ratio
}

// Alternatives lists sprocket pairs within so many % of a ratio, nearest
// first, for front sprockets of 11 to 18 teeth and rear of 28 to 60.
func Alternatives(ratio, percent float64) ([]Pair, error) {
	if err := within(limit{"final ratio", ratio, 1, 6, ""}, limit{"tolerance", percent, 0, 10, "%"}); err != nil {
		return nil, err
	}
	var found []Pair
	for f := 11; f <= 18; f++ {
		for r := 28; r <= 60; r++ {
			v := float64(r) / float64(f)
			if off := 100 * (v/ratio - 1); math.Abs(off) <= percent+1e-9 {
				found = append(found, Pair{f, r, v, off})
			}
		}
	}
	slices.SortFunc(found, func(a, b Pair) int {
		return cmp.Or(cmp.Compare(math.Abs(a.Off), math.Abs(b.Off)), cmp.Compare(b.Front, a.Front))
	})
	return found, nil
}
