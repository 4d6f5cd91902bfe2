package chassis

import (
	"fmt"
	"math"
)

// Standard is the standard atmosphere's pressure at sea level in kPa.
const Standard = 101.325

const celsiusZero = 273.15 // K

// Air is what surrounds a tyre or a fork: ambient pressure in kPa and
// temperature in °C.
type Air struct {
	Ambient     float64
	Temperature float64
}

func (a Air) check() error {
	return within(
		limit{"ambient pressure", a.Ambient, 20, 120, "kPa"},
		limit{"temperature", a.Temperature, -60, 250, "°C"})
}

// PressureAt returns the gauge pressure in kPa that a closed volume shows at
// another temperature or under another ambient pressure.
//
//	(p2 + a2)/(p1 + a1) = T2/T1, pressures absolute, T in kelvin
//
// Gauge in [0, 1500] kPa. Constant volume, dry gas: a moist filling rises
// more. Scaling the gauge reading itself is the common error. Source: ideal
// gas law. A result under 0 is refused: the tyre would be flat.
func PressureAt(gauge float64, from, to Air) (float64, error) {
	if err := within(limit{"pressure", gauge, 0, 1500, "kPa"}); err != nil {
		return 0, err
	}
	if err := from.check(); err != nil {
		return 0, err
	}
	if err := to.check(); err != nil {
		return 0, err
	}
	p := (gauge+from.Ambient)*(to.Temperature+celsiusZero)/(from.Temperature+celsiusZero) - to.Ambient
	if p < 0 {
		return 0, Refusal{"pressure", "There the tyre would have no pressure left.", "Check the pressure and both temperatures."}
	}
	return p, nil
}

// Atmosphere is the standard air at a height.
type Atmosphere struct {
	Temperature float64 // °C
	Pressure    float64 // kPa
	Density     float64 // kg/m³
}

// StandardAtmosphere returns the air at a geopotential altitude in m, in the
// troposphere: −1000 to 11,000 m.
//
//	T = 288.15 − 0.0065·H;  p = 101.325·(T/288.15)^5.25588;  rho = p/(287.05287·T)
//
// Source: ISO 2533:1975, also ICAO Doc 7488 (from memory).
func StandardAtmosphere(altitude float64) (Atmosphere, error) {
	if err := within(limit{"altitude", altitude, -1000, 11000, "m"}); err != nil {
		return Atmosphere{}, err
	}
	const gas, lapse, gravity = 287.05287, 0.0065, 9.80665
	t := 288.15 - lapse*altitude
	p := Standard * math.Pow(t/288.15, gravity/(lapse*gas))
	return Atmosphere{t - celsiusZero, p, 1000 * p / (gas * t)}, nil
}

// Geopotential turns a geometric altitude in m, as maps and satellites give
// it, into the geopotential one of the standard atmosphere:
// H = r·h/(r + h), r = 6,356,766 m. Source: ISO 2533:1975 (from memory).
func Geopotential(geometric float64) (float64, error) {
	if err := within(limit{"altitude", geometric, -1000, 11000, "m"}); err != nil {
		return 0, err
	}
	const radius = 6356766
	return radius * geometric / (radius + geometric), nil
}

// HotPair is one tyre before and after a stint: gauge pressures in kPa and
// the temperature in °C at which the cold one was read.
type HotPair struct {
	Cold, Hot   float64
	Temperature float64
}

// ColdFor is the cold pressure that should give a wanted hot one.
type ColdFor struct {
	Cold      float64 // kPa gauge
	Half      float64 // kPa, half-width of the 95 % prediction interval; 0 for one pair
	HotAt     float64 // °C that the tyre reaches, mean of the pairs
	Growth    float64 // absolute hot over absolute cold at today's temperature
	PairCount int
}

// ColdPressure fits what one rider's pairs of one tyre at one track show: the
// temperature that the filling reaches, taken as the same each time. From it
// follows the cold pressure at today's temperature that gives a wanted hot
// pressure, with a 95 % prediction interval from the scatter of the pairs
// (Student's t, n−1 degrees of freedom). Constant volume, dry gas, ambient in
// kPa. Refuses pairs that are not hotter than cold.
func ColdPressure(pairs []HotPair, wanted, today, ambient float64) (ColdFor, error) {
	if len(pairs) < 1 || len(pairs) > 200 {
		return ColdFor{}, Refusal{"cold", "There are no pairs of cold and hot pressures to learn from.", "Give one or more pairs from this tyre at this track."}
	}
	if err := within(limit{"wanted", wanted, 50, 1000, "kPa"}); err != nil {
		return ColdFor{}, err
	}
	if err := (Air{ambient, today}).check(); err != nil {
		return ColdFor{}, err
	}
	var hot []float64
	for i, p := range pairs {
		if err := within(limit{"cold", p.Cold, 20, 1000, "kPa"}, limit{"hot", p.Hot, 20, 1000, "kPa"}, limit{"temperatures", p.Temperature, -60, 100, "°C"}); err != nil {
			return ColdFor{}, err
		}
		if p.Hot <= p.Cold {
			return ColdFor{}, Refusal{"hot", fmt.Sprintf("In pair %d the hot pressure is not above the cold one.", i+1), "Check which is which, or leave that pair out."}
		}
		hot = append(hot, (p.Temperature+celsiusZero)*(p.Hot+ambient)/(p.Cold+ambient))
	}
	mean, sd := meanAndDeviation(hot)
	n := float64(len(hot))
	cold := func(kelvin float64) float64 { return (wanted+ambient)*(today+celsiusZero)/kelvin - ambient }
	out := ColdFor{Cold: cold(mean), HotAt: mean - celsiusZero, Growth: mean / (today + celsiusZero), PairCount: len(pairs)}
	if out.Cold <= 0 || mean <= today+celsiusZero {
		return ColdFor{}, Refusal{"wanted", "No cold pressure gives that hot pressure by these pairs.", "Check the pairs, the wanted pressure and today's temperature."}
	}
	if len(hot) > 1 {
		half := studentT975(len(hot)-1) * sd * math.Sqrt(1+1/n)
		out.Half = half / mean * (wanted + ambient) * (today + celsiusZero) / mean
	}
	return out, sane("wanted", out.Cold, out.Half)
}

// meanAndDeviation returns mean and standard deviation (n−1; 0 for one).
func meanAndDeviation(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	if len(x) < 2 {
		return mean, 0
	}
	for _, v := range x {
		sd += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(sd / float64(len(x)-1))
}

// studentT975 is the 97.5 % point of Student's t for whole degrees of
// freedom. Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2
// (from memory); beyond 30 the first three terms of its expansion about the normal
// point, M. Abramowitz, I. Stegun, Handbook of Mathematical Functions, 26.7.5
// (from memory), right to 1e-4.
func studentT975(df int) float64 {
	table := []float64{12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145, 2.131,
		2.120, 2.110, 2.101, 2.093, 2.086, 2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042}
	if df <= len(table) {
		return table[max(df, 1)-1]
	}
	n := float64(df)
	return 1.959964 + 2.372271/n + 2.822487/(n*n)
}

// Tread is what three temperatures across a tread show, in kelvin of
// difference.
type Tread struct {
	Mean   float64 // °C
	Middle float64 // middle above the mean of both edges
	Inside float64 // inner edge above the outer one
	Spread float64 // hottest less coldest
}

// TreadFrom compares temperatures in °C at the inner edge, the middle and the
// outer edge of the used tread.
func TreadFrom(inner, middle, outer float64) (Tread, error) {
	if err := within(
		limit{"inner", inner, -20, 200, "°C"},
		limit{"middle", middle, -20, 200, "°C"},
		limit{"outer", outer, -20, 200, "°C"}); err != nil {
		return Tread{}, err
	}
	return Tread{(inner + middle + outer) / 3, middle - (inner+outer)/2, inner - outer, max(inner, middle, outer) - min(inner, middle, outer)}, nil
}

// HeatCycles counts how often a tyre went above hot and then below cool, in
// °C, over a row of temperatures. One that is still hot at the end counts.
func HeatCycles(temperatures []float64, hot, cool float64) (int, error) {
	if err := within(limit{"hot", hot, 20, 150, "°C"}, limit{"cool", cool, -20, 100, "°C"}); err != nil {
		return 0, err
	}
	if cool >= hot {
		return 0, Refusal{"cool", "Cool is not below hot.", "Give the temperature above which the tyre counts as hot, and a lower one below which it counts as cooled."}
	}
	count, up := 0, false
	for _, t := range temperatures {
		if err := within(limit{"temperatures", t, -50, 250, "°C"}); err != nil {
			return 0, err
		}
		switch {
		case !up && t >= hot:
			count, up = count+1, true
		case up && t <= cool:
			up = false
		}
	}
	return count, nil
}
