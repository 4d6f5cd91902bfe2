package chassis

import (
	"fmt"
	"math"
)

// ForkAir is the air trapped in one fork leg.
type ForkAir struct {
	Volume   float64 // cm³ at full extension
	Area     float64 // mm² that the moving tube displaces
	Start    float64 // kPa gauge at full extension; 0 when vented there
	Ambient  float64 // kPa
	Exponent float64 // 1.0 slow (isothermal) to 1.4 fast (adiabatic)
}

func (f ForkAir) check() error {
	return within(
		limit{"air volume", f.Volume, 5, 3000, "cm³"},
		limit{"displaced area", f.Area, 50, 10000, "mm²"},
		limit{"start pressure", f.Start, 0, 2000, "kPa"},
		limit{"ambient pressure", f.Ambient, 20, 120, "kPa"},
		limit{"exponent", f.Exponent, 1, 1.7, ""})
}

// ForkForce is what the air of one leg does at a travel.
type ForkForce struct {
	Pressure float64 // kPa absolute
	Force    float64 // N
	Rate     float64 // N/mm
}

// At returns pressure, force and rate at a travel in mm from full extension.
//
//	V = V0 − A·x;  p·V^n = p0·V0^n, absolute;  F = (p − pa)·A;  dF/dx = n·p·A²/V
//
// Refuses a travel that leaves no air. Oil compresses and air dissolves in it;
// both are neglected. Source: polytropic law, any text on thermodynamics.
func (f ForkAir) At(travel float64) (ForkForce, error) {
	if err := f.check(); err != nil {
		return ForkForce{}, err
	}
	if err := within(limit{"travel", travel, 0, 500, "mm"}); err != nil {
		return ForkForce{}, err
	}
	const perMPa = 1000.0 // kPa
	v0 := f.Volume * 1000 // mm³
	v := v0 - f.Area*travel
	if v < 0.01*v0 {
		return ForkForce{}, Refusal{"travel", fmt.Sprintf("At %.0f mm no air is left: the oil would stop the fork at about %.0f mm.", travel, 0.99*v0/f.Area), "Check oil level, bore and travel; too much oil bursts seals."}
	}
	p := (f.Start + f.Ambient) * math.Pow(v0/v, f.Exponent) // kPa
	out := ForkForce{p, (p - f.Ambient) / perMPa * f.Area, f.Exponent * p / perMPa * f.Area * f.Area / v}
	return out, sane("travel", out.Pressure, out.Force, out.Rate)
}

// CircleArea returns the area in mm² of a diameter in mm.
func CircleArea(diameter float64) (float64, error) {
	return math.Pi / 4 * diameter * diameter, within(limit{"diameter", diameter, 1, 200, "mm"})
}

// AirVolume returns the air in cm³ at full extension of a leg whose oil stands
// gap mm below the top, fork fully compressed and spring out, in a bore in
// mm: the air then left, and what the tube displaces over the travel.
func AirVolume(gap, bore, area, travel float64) (float64, error) {
	if err := within(
		limit{"oil level", gap, 10, 600, "mm"},
		limit{"bore", bore, 10, 100, "mm"},
		limit{"displaced area", area, 50, 10000, "mm²"},
		limit{"whole travel", travel, 5, 500, "mm"}); err != nil {
		return 0, err
	}
	section, err := CircleArea(bore)
	return (section*gap + area*travel) / 1000, err
}
