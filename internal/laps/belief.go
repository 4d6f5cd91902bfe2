package laps

import (
	"fmt"
	"math"
)

// Belief is what to think of a shift after seeing the laps: the chance that
// it is faster, the most likely shift and the middle 80 %, in seconds, minus
// for faster.
type Belief struct{ Faster, Likely, Low, High float64 }

// priorShare is how large shifts are taken to be beforehand: normal around no
// change with this share of the lap time as standard deviation. One click
// rarely finds half a percent; common practice, no source.
const priorShare = 0.005

// Believe weighs a measured shift with standard error se and df degrees of
// freedom (Student's t) against a normal prior around zero with standard
// deviation prior, all in seconds, on a fine grid. False if se, df or prior
// is not positive. Source: A. Gelman and others, Bayesian Data Analysis, 3rd
// edition, sections 2.5 and 10.1 (grid).
func Believe(shift, se, df, prior float64) (Belief, bool) {
	if !(se > 0 && df > 0 && prior > 0) || !finite([]float64{shift, se, df, prior}) {
		return Belief{}, false
	}
	const steps = 4001
	reach := min(40*se, 8*prior+math.Abs(shift))
	from, step := shift-reach, 2*reach/(steps-1)
	logs, top := make([]float64, steps), math.Inf(-1)
	b := Belief{}
	for i := range logs {
		v := from + float64(i)*step
		logs[i] = student(df).logDensity((v-shift)/se) - v*v/(2*prior*prior)
		if logs[i] > top {
			top, b.Likely = logs[i], v
		}
	}
	all := 0.0
	for i, l := range logs {
		logs[i] = math.Exp(l - top)
		all += logs[i]
	}
	sum, low, high := 0.0, false, false
	for i, w := range logs {
		v := from + float64(i)*step
		if v < 0 {
			// A step that straddles zero counts by its part below.
			b.Faster += w / all * min(1, (step/2-v)/step)
		} else if v < step/2 {
			b.Faster += w / all * (step/2 - v) / step
		}
		sum += w / all
		if !low && sum >= 0.1 {
			b.Low, low = v, true
		}
		if !high && sum >= 0.9 {
			b.High, high = v, true
		}
	}
	b.Faster = min(b.Faster, 1)
	return b, true
}

// Sentence says the belief plainly: "About 9 in 10 that it is faster; most
// likely 0.3 s, between 0.1 and 0.6 s."
func (b Belief) Sentence() string {
	word, chance, sign := "faster", b.Faster, -1.0
	if b.Faster < 0.5 {
		word, chance, sign = "slower", 1-b.Faster, 1
	}
	if chance < 0.6 {
		return "Faster or slower: about as likely as not."
	}
	likely, near, far := sign*b.Likely, sign*b.Low, sign*b.High
	if near > far {
		near, far = far, near
	}
	span := fmt.Sprintf("between %.1f and %.1f s", near, far)
	if near < 0 {
		span = fmt.Sprintf("at most %.1f s", far)
	}
	return fmt.Sprintf("%s that it is %s; most likely %.1f s, %s.", odds(chance), word, likely, span)
}

func odds(p float64) string {
	switch {
	case p >= 0.99:
		return "More than 99 in 100"
	case p >= 0.95:
		return fmt.Sprintf("About %d in 100", int(p*100))
	}
	return fmt.Sprintf("About %d in 10", int(math.Round(p*10-0.05)))
}
