package chassis

import (
	"math"
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

// ParseTyreSize reads "120/70-17", "120/70R17", "120/70 ZR 17 M/C (58W)".
// Inch and letter sizes are refused: their height is not in the code.
func ParseTyreSize(code string) (TyreSize, error) {
	unread := Refusal{"tyre size", "That is not a metric tyre size.", "Type it as on the sidewall, for example 120/70R17. For an old inch size, measure the wheel's radius instead."}
	if len(code) > 40 {
		return TyreSize{}, unread
	}
	c := sizeCode{strings.ToUpper(code)}
	width, ok1 := c.number(2, 3)
	slash := c.skip("/")
	aspect, ok2 := c.number(2, 3)
	c.construction()
	rim, ok3 := c.number(1, 2)
	if half := c.skip(".5"); half {
		rim += 0.5
	}
	load, rest := c.service()
	if !ok1 || !slash || !ok2 || !ok3 || !rest {
		return TyreSize{}, unread
	}
	return TyreSize{width, aspect, rim, load}, within(
		limit{"tyre width", width, 40, 400, "mm"},
		limit{"tyre aspect", aspect, 25, 120, "%"},
		limit{"rim", rim, 6, 26, "in"})
}

// sizeCode is what is left to read of a size code.
type sizeCode struct{ left string }

func (c *sizeCode) skip(prefix string) bool {
	after, ok := strings.CutPrefix(strings.TrimSpace(c.left), prefix)
	if ok {
		c.left = after
	}
	return ok
}

// number reads so many digits; a longer row of them is none.
func (c *sizeCode) number(least, most int) (float64, bool) {
	c.left = strings.TrimSpace(c.left)
	rest := strings.TrimLeft(c.left, "0123456789")
	digits := c.left[:len(c.left)-len(rest)]
	if len(digits) < least || len(digits) > most {
		return 0, false
	}
	c.left = rest
	v, err := strconv.ParseFloat(digits, 64)
	return v, err == nil
}

// construction reads what stands between aspect and rim: a dash, or one or two
// letters for speed and build, perhaps in brackets.
func (c *sizeCode) construction() {
	for _, prefix := range []string{"-", "(", "ZR", "VR", "HR", "SR", "VB", "HB", "R", "B", "D", ")", "-"} {
		c.skip(prefix)
	}
}

// service reads what follows the rim: load index and speed letter, M/C, TL or
// TT. It is false when anything else stands there.
func (c *sizeCode) service() (load int, ok bool) {
	for {
		c.left = strings.TrimSpace(c.left)
		switch {
		case c.left == "":
			return load, true
		case c.skip("M/C"), c.skip("TL"), c.skip("TT"):
			continue
		case load != 0:
			return 0, false
		}
		bracket := c.skip("(")
		index, ok := c.number(2, 3)
		if !ok {
			return 0, false
		}
		load = int(index)
		if c.left = strings.TrimSpace(c.left); c.left != "" && c.left[0] >= 'A' && c.left[0] <= 'Z' && !strings.HasPrefix(c.left, "M/C") && !strings.HasPrefix(c.left, "TL") && !strings.HasPrefix(c.left, "TT") {
			c.left = c.left[1:]
		}
		if bracket && !c.skip(")") {
			return 0, false
		}
	}
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
