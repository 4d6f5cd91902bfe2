package laps

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// lapsPerTerm is how many laps a straight-line model wants for each thing it
// is asked to separate; common practice, no source.
const lapsPerTerm = 8

// Effect is one term of a fit: the change in seconds per unit of the term,
// its standard error and its 95 % interval.
type Effect struct{ PerUnit, SE, Low, High float64 }

// Effects fits times = constant + Σ effect · term by least squares and returns
// the constant first, then one Effect for each term: say, 0 or 1 for the
// change, track temperature in °C, laps on the tyre. Each term has a value for
// every lap. False when lengths differ, a value is not finite, there are fewer
// than eight laps for each term, or two terms move together so that no data
// can part them (a change made just when the track cooled). Solved by
// Householder reflections: G. Golub, C. Van Loan, Matrix Computations,
// section 5.3.
func Effects(times []float64, terms ...[]float64) ([]Effect, bool) {
	n, p := len(times), len(terms)+1
	if n < lapsPerTerm*max(1, len(terms)) || !finite(times) {
		return nil, false
	}
	columns := [][]float64{make([]float64, n)}
	for i := range columns[0] {
		columns[0][i] = 1
	}
	for _, t := range terms {
		if len(t) != n || !finite(t) {
			return nil, false
		}
		columns = append(columns, slices.Clone(t))
	}
	y := slices.Clone(times)
	if !reflect(columns, y) {
		return nil, false
	}
	rest := 0.0
	for _, v := range y[p:] {
		rest += v * v
	}
	df := float64(n - p)
	t := distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.975)
	b, inverse := solveBack(columns, y)
	out := make([]Effect, p)
	for i := range out {
		v := 0.0
		for _, r := range inverse[i] {
			v += r * r
		}
		se := math.Sqrt(v * rest / df)
		out[i] = Effect{b[i], se, b[i] - t*se, b[i] + t*se}
	}
	return out, true
}

// reflect turns the columns into an upper triangle, y with them; false when a
// column is, to nine digits, a mixture of those before it.
func reflect(columns [][]float64, y []float64) bool {
	for k, c := range columns {
		whole, below := norm(c), norm(c[k:])
		if !(below > 1e-9*whole) {
			return false
		}
		v := slices.Clone(c[k:])
		v[0] += math.Copysign(below, v[0])
		length := norm(v)
		for _, o := range append(columns[k:len(columns):len(columns)], y) {
			dot := 0.0
			for i, x := range v {
				dot += x * o[k+i]
			}
			for i, x := range v {
				o[k+i] -= 2 * dot / (length * length) * x
			}
		}
	}
	return true
}

// solveBack returns R⁻¹y and R⁻¹ for the triangle in the columns' heads.
func solveBack(columns [][]float64, y []float64) (b []float64, inverse [][]float64) {
	p := len(columns)
	b, inverse = make([]float64, p), make([][]float64, p)
	for i := p - 1; i >= 0; i-- {
		b[i] = y[i]
		inverse[i] = make([]float64, p)
		inverse[i][i] = 1
		for j := i + 1; j < p; j++ {
			b[i] -= columns[j][i] * b[j]
			for k := range p {
				inverse[i][k] -= columns[j][i] * inverse[j][k]
			}
		}
		b[i] /= columns[i][i]
		for k := range p {
			inverse[i][k] /= columns[i][i]
		}
	}
	return b, inverse
}

func norm(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s = math.Hypot(s, v)
	}
	return s
}
