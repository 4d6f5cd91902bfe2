package chassis

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Bounce is a decay that was found in a trace.
type Bounce struct {
	Decay
	Oscillator
	Period     float64 // s, damped
	From, To   float64 // s, where it was fitted
	Explained  float64 // share of the movement that the fit explains, 0 to 1
	Least      float64 // damping ratio, least and most over three windows
	Most       float64
	Trace, Fit [][2]float64 // s and m/s²: the smoothed trace, and the fit on it
}

// The bounds of what is taken for a bounce. The frequencies are those that
// motorcycles have, with room; the share explained was set by trying: noise of
// several colours stays well under it (see the tests).
const (
	lowestHz, highestHz = 0.8, 5.0
	leastExplained      = 0.92
	stillest            = 0.08 // m/s², below which nothing moved
	leastForetold       = 0.9
	leastAfter          = 0.3 // s
	fewestPeriods       = 1.4
	mostZeta            = 0.65 // beyond it the overshoot drowns
)

// FindBounce looks for the cleanest decay in a trace: after each strong swing
// it fits a damped oscillation,
//
//	a(t) = e^(−σt)·(A·cos wd·t + B·sin wd·t) + C,  zeta = σ/√(σ² + wd²),
//
// by least squares (A, B and C solved for each pair on a grid of frequency and
// damping, which is then refined), and takes the window that it explains best.
// Acceleration decays as displacement does. It refuses a trace without a clean
// decay: noise, a swing that goes on, a knock.
func FindBounce(samples []Sample) (Bounce, error) {
	if len(samples) < fewestSamples {
		return Bounce{}, badTrace("The recording has only %d readings.", len(samples))
	}
	y := motion(samples)
	strongest := 0.0
	for _, v := range y {
		strongest = max(strongest, math.Abs(v))
	}
	if strongest < stillest {
		return Bounce{}, noBounce("The phone hardly moved.")
	}
	best := swing{}
	for _, start := range starts(y, strongest) {
		for _, seconds := range []float64{1.2, 1.8, 2.6} {
			end := start + int(seconds/traceStep)
			if end > len(y) {
				continue
			}
			s := fitSwing(y[start:end])
			s.start, s.end = start, end
			if s.explained > best.explained && s.like() && s.goesOn(y) {
				best = s
			}
		}
	}
	if best.explained < leastExplained {
		return Bounce{}, noBounce(fmt.Sprintf("There is no clean decay in this recording: the best fit explains %.0f %% of it.", 100*best.explained))
	}
	return best.bounce(y)
}

func noBounce(says string) error {
	return Refusal{"trace", says, "Engine off, phone lying firmly on seat or tank: push down hard once, let go, and keep hands off for three seconds."}
}

// starts are the strongest turning points, strongest first, sixteen at most.
func starts(y []float64, strongest float64) []int {
	var at []int
	for i := 1; i+1 < len(y); i++ {
		if v := math.Abs(y[i]); v >= 0.3*strongest && v >= math.Abs(y[i-1]) && v > math.Abs(y[i+1]) {
			at = append(at, i)
		}
	}
	slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(math.Abs(y[b]), math.Abs(y[a])) })
	return at[:min(16, len(at))]
}

// swing is a damped oscillation fitted to a window.
type swing struct {
	hz, zeta   float64 // damped frequency, damping ratio
	a, b, c    float64
	explained  float64
	start, end int
}

// like is whether it can be a bounce: it dies away within the window about
// where the phone lies still, has periods enough in it, and lies inside the
// bounds.
func (s swing) like() bool {
	seconds := float64(s.end-s.start) * traceStep
	faded := s.sigma() * seconds
	strength := math.Hypot(s.a, s.b)
	return s.hz > lowestHz*1.02 && s.hz < highestHz*math.Sqrt(1-s.zeta*s.zeta) && s.zeta > 0.015 && s.zeta < mostZeta &&
		seconds*s.hz >= fewestPeriods && faded > 0.5 && strength > stillest && math.Abs(s.c) < 0.25*strength
}

// goesOn is whether the fit also foretells what came after its window: half
// as long again, or what is left of the trace. Noise can look like a decay for
// a while, but it does not keep to it.
func (s swing) goesOn(y []float64) bool {
	end := min(len(y), s.end+(s.end-s.start)/2)
	if float64(end-s.end)*traceStep < leastAfter {
		return false
	}
	mean, left, total := 0.0, 0.0, 0.0
	for _, v := range y[s.start:end] {
		mean += v / float64(end-s.start)
	}
	for i, v := range y[s.start:end] {
		off := v - s.at(float64(i)*traceStep)
		left, total = left+off*off, total+(v-mean)*(v-mean)
	}
	return left < (1-leastForetold)*total
}

func (s swing) sigma() float64 {
	return 2 * math.Pi * s.hz * s.zeta / math.Sqrt(1-s.zeta*s.zeta)
}

func (s swing) at(t float64) float64 {
	sin, cos := math.Sincos(2 * math.Pi * s.hz * t)
	return math.Exp(-s.sigma()*t)*(s.a*cos+s.b*sin) + s.c
}

// hopeless is the share explained on the grid below which refining cannot lift
// a fit to leastExplained.
const hopeless = 0.7

// fitSwing finds the best swing on a grid, on every second value, and refines
// it on all.
func fitSwing(y []float64) swing {
	best := swing{explained: -1}
	const steps, dampings = 32, 14
	for i := range steps {
		hz := lowestHz * math.Pow(highestHz/lowestHz, float64(i)/(steps-1))
		for j := range dampings {
			zeta := 0.02 * math.Pow(0.85/0.02, float64(j)/(dampings-1))
			if s := solveSwing(y, 2, hz, zeta); s.explained > best.explained {
				best = s
			}
		}
	}
	if best.explained < hopeless {
		return best
	}
	best = solveSwing(y, 1, best.hz, best.zeta)
	dh, dz := 0.06, 0.3 // relative steps, halved until fine
	for dh > 1e-5 {
		better := best
		for _, m := range [][2]float64{{1 + dh, 1}, {1 - dh, 1}, {1, 1 + dz}, {1, 1 - dz}, {1 + dh, 1 + dz}, {1 - dh, 1 - dz}, {1 + dh, 1 - dz}, {1 - dh, 1 + dz}} {
			hz, zeta := best.hz*m[0], min(0.9, best.zeta*m[1])
			if hz < lowestHz || hz > highestHz || zeta < 0.005 {
				continue
			}
			if s := solveSwing(y, 1, hz, zeta); s.explained > better.explained {
				better = s
			}
		}
		if better.explained <= best.explained {
			dh, dz = dh/2, dz/2
		}
		best = better
	}
	return best
}

// solveSwing finds a, b and c of one frequency and damping by least squares
// over every so-manieth value, and how much of the movement about its mean
// they explain.
func solveSwing(y []float64, every int, hz, zeta float64) swing {
	s := swing{hz: hz, zeta: zeta}
	step := traceStep * float64(every)
	decay := math.Exp(-s.sigma() * step)
	sin, cos := math.Sincos(2 * math.Pi * hz * step)
	re, im := 1.0, 0.0 // e^(−σt)·cos, e^(−σt)·sin
	var m [3][4]float64
	sum, squares, n := 0.0, 0.0, 0.0
	for at := 0; at < len(y); at += every {
		v := y[at]
		row := [3]float64{re, im, 1}
		for i := range 3 {
			for j := range 3 {
				m[i][j] += row[i] * row[j]
			}
			m[i][3] += row[i] * v
		}
		sum, squares, n = sum+v, squares+v*v, n+1
		re, im = decay*(re*cos-im*sin), decay*(re*sin+im*cos)
	}
	right := [3]float64{m[0][3], m[1][3], m[2][3]}
	x, ok := solve3(m)
	total := squares - sum*sum/n
	if !ok || total <= 0 {
		s.explained = -1
		return s
	}
	s.a, s.b, s.c = x[0], x[1], x[2]
	left := squares - x[0]*right[0] - x[1]*right[1] - x[2]*right[2]
	s.explained = 1 - max(0, left)/total
	return s
}

// solve3 solves three linear equations by elimination with pivots.
func solve3(m [3][4]float64) ([3]float64, bool) {
	for i := range 3 {
		p := i
		for r := i + 1; r < 3; r++ {
			if math.Abs(m[r][i]) > math.Abs(m[p][i]) {
				p = r
			}
		}
		if math.Abs(m[p][i]) < 1e-12 {
			return [3]float64{}, false
		}
		m[i], m[p] = m[p], m[i]
		for r := i + 1; r < 3; r++ {
			f := m[r][i] / m[i][i]
			for c := i; c < 4; c++ {
				m[r][c] -= f * m[i][c]
			}
		}
	}
	var x [3]float64
	for i := 2; i >= 0; i-- {
		x[i] = m[i][3]
		for c := i + 1; c < 3; c++ {
			x[i] -= m[i][c] * x[c]
		}
		x[i] /= m[i][i]
	}
	return x, true
}

// bounce puts a fit into numbers. The band of the damping ratio is what the
// fit gives from a window that begins a quarter period later, and from one
// that ends earlier by a fifth.
func (s swing) bounce(y []float64) (Bounce, error) {
	o, err := OscillatorOf(1/s.hz, s.zeta, 0)
	if err != nil {
		return Bounce{}, err
	}
	out := Bounce{
		Decay: Decay{2 * math.Pi * s.zeta / math.Sqrt(1-s.zeta*s.zeta), s.zeta}, Oscillator: o, Period: 1 / s.hz,
		From: float64(s.start) * traceStep, To: float64(s.end-1) * traceStep, Explained: s.explained, Least: s.zeta, Most: s.zeta,
	}
	quarter := int(0.25 / s.hz / traceStep)
	for _, w := range [][2]int{{s.start + quarter, s.end}, {s.start, s.end - (s.end-s.start)/5}} {
		if z := fitSwing(y[w[0]:w[1]]).zeta; z > 0 {
			out.Least, out.Most = min(out.Least, z), max(out.Most, z)
		}
	}
	for i, v := range y {
		out.Trace = append(out.Trace, [2]float64{float64(i) * traceStep, v})
	}
	for i := s.start; i < s.end; i++ {
		t := float64(i) * traceStep
		out.Fit = append(out.Fit, [2]float64{t, s.at(t - out.From)})
	}
	return out, sane("trace", out.Zeta, out.NaturalHz, out.Explained, out.Least, out.Most)
}
