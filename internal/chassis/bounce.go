package chassis

import (
	"fmt"
	"math"
)

// Decay is how a bounce dies away.
type Decay struct {
	LogDecrement float64 // per whole cycle
	Zeta         float64 // damping ratio; 1 is critical
}

// Decrement returns the decay from two peaks on the same side, so many whole
// cycles apart, measured from the rest position in any one unit.
//
//	D = (1/m)·ln(x1/x(m+1));  zeta = D/√(4π² + D²)
//
// Half a cycle (m = 0.5) takes peaks on opposite sides. Source: S. S. Rao,
// Mechanical Vibrations, free vibration with viscous damping.
func Decrement(first, later, cycles float64) (Decay, error) {
	if err := within(
		limit{"first peak", first, 1e-6, 1e6, ""},
		limit{"later peak", later, 1e-9, 1e6, ""},
		limit{"cycles", cycles, 0.5, 100, ""}); err != nil {
		return Decay{}, err
	}
	if later >= first {
		return Decay{}, Refusal{"peaks", "The later peak is not smaller: this bounce does not die away.", "Measure peaks from the rest position, on the same side, in the order in which they came."}
	}
	d := math.Log(first/later) / cycles
	return Decay{d, d / math.Hypot(2*math.Pi, d)}, nil
}

// Peaks is what a row of peaks shows.
type Peaks struct {
	Decay
	Cycles       float64
	Least, Most  float64 // damping ratios from neighbouring peaks
	Alternating  bool    // peaks on both sides: half a cycle apart
	ShortcutZeta float64 // D/2π, good only for little damping
}

// PeaksFrom reads successive peaks from the rest position. Peaks of one sign
// are a whole cycle apart; signs that take turns mean both sides were read,
// half a cycle apart. The decay is over all of them; Least and Most are from
// neighbours, and how far they lie apart tells how far friction distorts it.
func PeaksFrom(peaks []float64) (Peaks, error) {
	if len(peaks) < 2 || len(peaks) > 100 {
		return Peaks{}, Refusal{"peaks", "A decay needs at least two peaks.", "Give them in order, such as 0.85,0.45,0.25."}
	}
	turns := 0
	for i := 1; i < len(peaks); i++ {
		if peaks[i]*peaks[i-1] < 0 {
			turns++
		}
	}
	if turns != 0 && turns != len(peaks)-1 {
		return Peaks{}, Refusal{"peaks", "Some peaks change sides and some do not.", "Give peaks on one side only, or all of both sides with their signs."}
	}
	step := 1.0
	if turns > 0 {
		step = 0.5
	}
	out := Peaks{Alternating: turns > 0, Cycles: step * float64(len(peaks)-1), Least: 1}
	for i := 1; i < len(peaks); i++ {
		d, err := Decrement(math.Abs(peaks[i-1]), math.Abs(peaks[i]), step)
		if err != nil {
			return Peaks{}, atPeak(err, i+1)
		}
		out.Least, out.Most = min(out.Least, d.Zeta), max(out.Most, d.Zeta)
	}
	d, err := Decrement(math.Abs(peaks[0]), math.Abs(peaks[len(peaks)-1]), out.Cycles)
	out.Decay, out.ShortcutZeta = d, d.LogDecrement/(2*math.Pi)
	return out, err
}

func atPeak(err error, n int) error {
	r, ok := err.(Refusal)
	if !ok {
		return err
	}
	r.Field, r.Says = "peaks", fmt.Sprintf("Peak %d: %s", n, r.Says)
	return r
}

// Oscillator is one end of a machine as a mass on a spring and a damper.
type Oscillator struct {
	Damped, Natural     float64 // rad/s
	NaturalHz           float64
	Stiffness           float64 // N/m; 0 without a mass
	Damping, CriticalAt float64 // N·s/m; 0 without a mass
}

// OscillatorOf returns what a damped period in s and a damping ratio say, and
// with a mass in kg (0: not known) stiffness and damping.
//
//	wd = 2π/Td;  wn = wd/√(1 − zeta²);  k = m·wn²;  c = 2·zeta·wn·m;  cc = 2·√(k·m)
func OscillatorOf(period, zeta, mass float64) (Oscillator, error) {
	if err := within(
		limit{"period", period, 0.02, 100, "s"},
		limit{"damping ratio", zeta, 0, 0.99, ""},
		limit{"mass", mass, 0, 1000, "kg"}); err != nil {
		return Oscillator{}, err
	}
	wd := 2 * math.Pi / period
	wn := wd / math.Sqrt(1-zeta*zeta)
	return Oscillator{wd, wn, wn / (2 * math.Pi), mass * wn * wn, 2 * zeta * wn * mass, 2 * mass * wn}, nil
}

// RideFrequency returns the undamped frequency in Hz of a sprung mass in kg on
// a wheel rate in N/mm: √(K/m)/2π. The tyre's own spring is neglected.
func RideFrequency(wheelRate, mass float64) (float64, error) {
	if err := within(limit{"wheel rate", wheelRate, 0.1, 500, "N/mm"}, limit{"sprung mass", mass, 5, 1000, "kg"}); err != nil {
		return 0, err
	}
	return math.Sqrt(1000*wheelRate/mass) / (2 * math.Pi), nil
}
