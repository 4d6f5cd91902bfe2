package unit

import (
	"math"
	"slices"
	"strings"
)

// Kind is what a quantity measures. Every kind has one canonical unit, in
// which the whole core calculates.
type Kind string

// The kinds, each with its canonical unit.
const (
	Number      Kind = "number"      // no unit
	Share       Kind = "share"       // %
	Length      Kind = "length"      // mm
	Angle       Kind = "angle"       // deg
	Mass        Kind = "mass"        // kg
	Force       Kind = "force"       // N
	Rate        Kind = "rate"        // N/mm
	Pressure    Kind = "pressure"    // kPa
	Stress      Kind = "stress"      // MPa
	Temperature Kind = "temperature" // °C
	Time        Kind = "time"        // s
	Speed       Kind = "speed"       // km/h
	Turning     Kind = "turning"     // 1/min
	Frequency   Kind = "frequency"   // Hz
	Area        Kind = "area"        // mm²
	Volume      Kind = "volume"      // cm³
	Altitude    Kind = "altitude"    // m
	Torque      Kind = "torque"      // N·m
	Power       Kind = "power"       // kW
)

// Measure is one spelling of a unit: canonical = value·Factor + Offset.
type Measure struct {
	Name   string
	Factor float64
	Offset float64
}

// The defined factors. Source: A. Thompson, B. N. Taylor, NIST Special
// Publication 811 (2008), appendix B.8; inch, pound, standard gravity and the
// Celsius zero are exact by definition, the rest follow from them.
const (
	MillimetresPerInch = 25.4
	KilogramsPerPound  = 0.45359237
	StandardGravity    = 9.80665 // m/s², also N per kgf
	NewtonsPerPound    = KilogramsPerPound * StandardGravity
	CelsiusZero        = 273.15                                                               // K
	KilopascalsPerPSI  = NewtonsPerPound / (MillimetresPerInch * MillimetresPerInch) * 1000.0 // N/mm² is 1000 kPa
	KilopascalsPerMMHg = 13.5951e-3 * StandardGravity                                         // conventional mercury, 13 595.1 kg/m³
)

// measures lists the units per kind; the first of each is canonical. Spellings
// are matched without case, except where case is all that tells two apart.
var measures = map[Kind][]Measure{
	Number: {{"", 1, 0}, {"x", 1, 0}, {"teeth", 1, 0}, {"t", 1, 0}, {"links", 1, 0}, {"pitches", 1, 0}, {"turns", 1, 0}, {"coils", 1, 0}},
	Share:  {{"%", 1, 0}, {"percent", 1, 0}},
	Length: {
		{"mm", 1, 0}, {"cm", 10, 0}, {"m", 1000, 0}, {"um", 0.001, 0}, {"in", MillimetresPerInch, 0},
		{"inch", MillimetresPerInch, 0}, {"inches", MillimetresPerInch, 0}, {`"`, MillimetresPerInch, 0},
		{"ft", 12 * MillimetresPerInch, 0},
	},
	Angle: {{"deg", 1, 0}, {"°", 1, 0}, {"degree", 1, 0}, {"degrees", 1, 0}, {"rad", 180 / math.Pi, 0}},
	Mass: {
		{"kg", 1, 0}, {"g", 0.001, 0}, {"oz", KilogramsPerPound / 16, 0}, {"lb", KilogramsPerPound, 0}, {"lbs", KilogramsPerPound, 0},
		{"st", 14 * KilogramsPerPound, 0}, {"stone", 14 * KilogramsPerPound, 0},
	},
	Force: {
		{"N", 1, 0}, {"kN", 1000, 0}, {"kgf", StandardGravity, 0}, {"kp", StandardGravity, 0},
		{"kg", StandardGravity, 0}, {"lbf", NewtonsPerPound, 0}, {"lb", NewtonsPerPound, 0}, {"lbs", NewtonsPerPound, 0},
	},
	Rate: {
		{"N/mm", 1, 0}, {"kN/m", 1, 0}, {"N/m", 0.001, 0}, {"N/cm", 0.1, 0},
		{"kgf/mm", StandardGravity, 0}, {"kp/mm", StandardGravity, 0}, {"kg/mm", StandardGravity, 0}, {"kg/cm", StandardGravity / 10, 0}, {"kgf/cm", StandardGravity / 10, 0},
		{"lbf/in", NewtonsPerPound / MillimetresPerInch, 0}, {"lb/in", NewtonsPerPound / MillimetresPerInch, 0},
		{"lbs/in", NewtonsPerPound / MillimetresPerInch, 0}, {"lbs/inch", NewtonsPerPound / MillimetresPerInch, 0},
	},
	Pressure: {
		{"kPa", 1, 0}, {"Pa", 0.001, 0}, {"hPa", 0.1, 0}, {"mbar", 0.1, 0}, {"MPa", 1000, 0}, {"bar", 100, 0},
		{"psi", KilopascalsPerPSI, 0}, {"lb/in²", KilopascalsPerPSI, 0}, {"atm", 101.325, 0},
		{"mmHg", KilopascalsPerMMHg, 0}, {"inHg", KilopascalsPerMMHg * MillimetresPerInch, 0}, {"kgf/cm²", StandardGravity * 10, 0}, {"kg/cm²", StandardGravity * 10, 0}, {"at", StandardGravity * 10, 0},
	},
	Stress: {
		{"MPa", 1, 0}, {"N/mm²", 1, 0}, {"GPa", 1000, 0}, {"kPa", 0.001, 0}, {"Pa", 1e-6, 0}, {"bar", 0.1, 0},
		{"psi", KilopascalsPerPSI / 1000, 0}, {"ksi", KilopascalsPerPSI, 0}, {"Mpsi", KilopascalsPerPSI * 1000, 0},
	},
	Temperature: {
		{"°C", 1, 0}, {"C", 1, 0}, {"degC", 1, 0}, {"celsius", 1, 0}, {"K", 1, -CelsiusZero},
		{"°F", 5.0 / 9, -160.0 / 9}, {"F", 5.0 / 9, -160.0 / 9}, {"degF", 5.0 / 9, -160.0 / 9}, {"fahrenheit", 5.0 / 9, -160.0 / 9},
	},
	Time: {
		{"s", 1, 0}, {"sec", 1, 0}, {"ms", 0.001, 0}, {"min", 60, 0}, {"h", 3600, 0},
	},
	Speed:     {{"km/h", 1, 0}, {"kph", 1, 0}, {"kmh", 1, 0}, {"mph", MillimetresPerInch * 12 * 5280 / 1e6, 0}, {"m/s", 3.6, 0}},
	Turning:   {{"1/min", 1, 0}, {"rpm", 1, 0}, {"rev/min", 1, 0}, {"/min", 1, 0}},
	Frequency: {{"Hz", 1, 0}, {"1/s", 1, 0}, {"rad/s", 1 / (2 * math.Pi), 0}, {"cpm", 1.0 / 60, 0}},
	Area:      {{"mm²", 1, 0}, {"cm²", 100, 0}, {"in²", MillimetresPerInch * MillimetresPerInch, 0}},
	Volume: {
		{"cm³", 1, 0}, {"cc", 1, 0}, {"ml", 1, 0}, {"mm³", 0.001, 0}, {"l", 1000, 0}, {"dl", 100, 0}, {"fl oz", 29.5735295625, 0},
		{"in³", MillimetresPerInch * MillimetresPerInch * MillimetresPerInch / 1000, 0},
	},
	Altitude: {{"m", 1, 0}, {"km", 1000, 0}, {"ft", 0.3048, 0}},
	Torque: {
		{"N·m", 1, 0}, {"kgf·m", StandardGravity, 0}, {"kg·m", StandardGravity, 0}, {"kgf·cm", StandardGravity / 100, 0},
		{"lbf·ft", NewtonsPerPound * 0.3048, 0}, {"lb·ft", NewtonsPerPound * 0.3048, 0}, {"ft·lb", NewtonsPerPound * 0.3048, 0}, {"ft·lbf", NewtonsPerPound * 0.3048, 0},
		{"lbf·in", NewtonsPerPound * 0.0254, 0}, {"in·lb", NewtonsPerPound * 0.0254, 0},
	},
	Power: {{"kW", 1, 0}, {"W", 0.001, 0}, {"PS", 75 * StandardGravity / 1000, 0}, {"hp", 550 * NewtonsPerPound * 0.3048 / 1000, 0}, {"bhp", 550 * NewtonsPerPound * 0.3048 / 1000, 0}},
}

// Canonical returns the name of the unit the core calculates in; "" for a
// plain number and for a kind that does not exist.
func (k Kind) Canonical() string {
	if len(measures[k]) == 0 {
		return ""
	}
	return measures[k][0].Name
}

// Units returns the spellings that Parse takes for the kind, canonical first.
func (k Kind) Units() []string {
	names := make([]string, 0, len(measures[k]))
	for _, m := range measures[k] {
		if m.Name != "" {
			names = append(names, m.Name)
		}
	}
	return names
}

// Distinct returns one spelling for each unit of the kind, canonical first.
func (k Kind) Distinct() []string {
	var names []string
	for i, m := range measures[k] {
		same := func(other Measure) bool { return other.Factor == m.Factor && other.Offset == m.Offset }
		if m.Name != "" && !slices.ContainsFunc(measures[k][:i], same) {
			names = append(names, m.Name)
		}
	}
	return names
}

// measure finds a unit by its spelling: exactly first, then as tidyUnit spells
// it, then without case.
func (k Kind) measure(name string) (Measure, bool) {
	tidy := tidyUnit(name)
	for _, same := range []func(own string) bool{
		func(own string) bool { return own == name },
		func(own string) bool { return tidyUnit(own) == tidy },
		func(own string) bool { return strings.EqualFold(tidyUnit(own), tidy) },
	} {
		for _, m := range measures[k] {
			if same(m.Name) {
				return m, true
			}
		}
	}
	return Measure{}, false
}

// ToCanonical converts v from the named unit to the kind's canonical one;
// false when the kind has no such unit.
func (k Kind) ToCanonical(v float64, name string) (float64, bool) {
	m, ok := k.measure(name)
	if !ok {
		return 0, false
	}
	return v*m.Factor + m.Offset, true
}

// FromCanonical converts v from the canonical unit to the named one; false
// when the kind has no such unit.
func (k Kind) FromCanonical(v float64, name string) (float64, bool) {
	m, ok := k.measure(name)
	if !ok {
		return 0, false
	}
	return (v - m.Offset) / m.Factor, true
}
