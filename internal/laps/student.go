package laps

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// student is Student's t distribution with that many degrees of freedom, more
// than 0, around 0 and of width 1. Written out from the incomplete beta
// function, because gonum's own brings its matrices to the phone with it.
// Source: M. Abramowitz, I. Stegun, Handbook of Mathematical Functions, 26.7.1.
type student float64

// below returns the chance of a value up to t.
func (df student) below(t float64) float64 {
	tail := mathext.RegIncBeta(float64(df)/2, 0.5, float64(df)/(float64(df)+t*t)) / 2
	if t > 0 {
		return 1 - tail
	}
	return tail
}

// quantile returns the value below which a share p of all lie, p in (0, 1).
func (df student) quantile(p float64) float64 {
	x := mathext.InvRegIncBeta(float64(df)/2, 0.5, 2*min(p, 1-p))
	return math.Copysign(math.Sqrt(float64(df)*(1-x)/x), p-0.5)
}

// logDensity returns the logarithm of the density at t, less what is the same
// everywhere.
func (df student) logDensity(t float64) float64 {
	return -(float64(df) + 1) / 2 * math.Log1p(t*t/float64(df))
}

// normalAbove returns the chance that a standard normal value lies above z.
func normalAbove(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }
