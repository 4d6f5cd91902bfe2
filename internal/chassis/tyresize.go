package chassis

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// TyreSize is a metric size code: 120/70-17 is width 120 mm, height 70 % of
// it, on a rim of 17 inches.
type TyreSize struct {
	Width  float64 // mm
	Aspect float64 // %
	Rim    float64 // inches
	Load   int     // load index, 0 when the code has none
}

// Speed letters, construction and load follow the numbers in many ways.
var sizeCode = regexp.MustCompile(`^(\d{2,3})/(\d{2,3})\s*-?\s*\(?(?:[A-Z]{0,2}\)?)\s*-?\s*(\d{1,2}(?:\.5)?)(?:\s*M/C)?(?:\s*\(?(\d{2,3})\s*[A-Z]?\)?)?(?:\s*(?:TL|TT|M/C))*$`)

// ParseTyreSize reads "120/70-17", "120/70R17", "120/70 ZR 17 M/C (58W)".
// Inch and letter sizes are refused: their height is not in the code.
func ParseTyreSize(code string) (TyreSize, error) {
	m := sizeCode.FindStringSubmatch(strings.ToUpper(strings.TrimSpace(code)))
	if m == nil || len(code) > 40 {
		return TyreSize{}, Refusal{"tyre size", "That is not a metric tyre size.", "Type it as on the sidewall, for example 120/70R17. For an old inch size, measure the wheel's radius instead."}
	}
	var n [3]float64
	for i := range n {
		n[i], _ = strconv.ParseFloat(m[i+1], 64) // digits, by the pattern
	}
	load, _ := strconv.Atoi(m[4]) // "" is no load index
	s := TyreSize{n[0], n[1], n[2], load}
	return s, within(
		limit{"tyre width", s.Width, 40, 400, "mm"},
		limit{"tyre aspect", s.Aspect, 25, 120, "%"},
		limit{"rim", s.Rim, 6, 26, "in"})
}

// Wheel is a tyre's size as it stands on the ground.
type Wheel struct {
	Diameter, Circumference float64 // mm, free
	Radius                  float64 // mm, free, to the crown
	LoadedRadius            float64 // mm
}

// Wheel returns the tyre's free diameter and circumference and its radii.
// Crown in mm is added to the radius for a tyre that measures larger than its
// code; sink is how far it flattens under load.
//
//	OD = 25.4·r + 2·W·A/100;  circumference = π·OD
//
// Source: ETRTO Standards Manual, motorcycle section (from memory); a real
// tyre differs by about 1 %.
func (s TyreSize) Wheel(crown, sink float64) (Wheel, error) {
	if err := within(
		limit{"tyre width", s.Width, 40, 400, "mm"},
		limit{"tyre aspect", s.Aspect, 25, 120, "%"},
		limit{"rim", s.Rim, 6, 26, "in"},
		limit{"crown correction", crown, -30, 30, "mm"},
		limit{"sink under load", sink, 0, 40, "mm"}); err != nil {
		return Wheel{}, err
	}
	d := 25.4*s.Rim + 2*s.Width*s.Aspect/100 + 2*crown
	return Wheel{d, math.Pi * d, d / 2, d/2 - sink}, nil
}

// loadIndexFrom40 is the load in kg for indices 40 to 89. Source: ISO 4000 and
// ETRTO load index table (from memory); 58, 73 and 75 checked against a tyre
// seller's table.
var loadIndexFrom40 = []float64{
	140, 145, 150, 155, 160, 165, 170, 175, 180, 185,
	190, 195, 200, 206, 212, 218, 224, 230, 236, 243,
	250, 257, 265, 272, 280, 290, 300, 307, 315, 325,
	335, 345, 355, 365, 375, 387, 400, 412, 425, 437,
	450, 462, 475, 487, 500, 515, 530, 545, 560, 580,
}

// LoadOfIndex returns the load in kg that a load index stands for.
func LoadOfIndex(index int) (float64, error) {
	if index < 40 || index > 89 {
		return 0, Refusal{"load index", "Motorcycle tyres have a load index from 40 to 89.", "Read the number before the speed letter on the sidewall."}
	}
	return loadIndexFrom40[index-40], nil
}
