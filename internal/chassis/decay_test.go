package chassis

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// recording makes a trace at 60 readings a second: a push, a release, and a
// decay of known frequency and damping, with noise and gravity on the third
// axis.
func recording(chance *rand.Rand, hz, zeta, amplitude, noise float64) []Sample {
	wn := 2 * math.Pi * hz
	wd := wn * math.Sqrt(1-zeta*zeta)
	samples := make([]Sample, 360)
	for i := range samples {
		t := float64(i)/60 + 0.002*chance.NormFloat64()
		t = max(t, float64(i)/60-0.005)
		a := 0.0
		switch {
		case t > 1.2 && t < 1.5: // the push
			a = -amplitude * (t - 1.2) / 0.3
		case t >= 1.5:
			a = -amplitude * math.Exp(-zeta*wn*(t-1.5)) * math.Cos(wd*(t-1.5))
		}
		samples[i] = Sample{t, noise * chance.NormFloat64(), noise * chance.NormFloat64(), 9.81 + a + noise*chance.NormFloat64()}
	}
	samples[0].At = 0
	return samples
}

// A decay made from known numbers is found again, over the range that
// motorcycles have. The tolerance is that of the method with 0.3 m/s² of noise
// on a swing of 4 m/s²; it is wide at much damping, where little more than one
// overshoot is left to fit.
func TestFindBounceFindsWhatWasPutIn(t *testing.T) {
	chance := rand.New(rand.NewPCG(3, 9))
	for _, hz := range []float64{1.3, 2, 3} {
		for _, zeta := range []float64{0.05, 0.1, 0.2, 0.3, 0.45} {
			b, err := FindBounce(recording(chance, hz, zeta, 4, 0.3))
			if err != nil {
				t.Errorf("%v Hz, zeta %v: %v", hz, zeta, err)
				continue
			}
			if math.Abs(b.Zeta-zeta) > 0.01+0.4*zeta*zeta || math.Abs(b.NaturalHz-hz) > (0.02+0.6*zeta*zeta)*hz {
				t.Errorf("%v Hz, zeta %v: found %.3f Hz and %.3f (%.3f to %.3f), explained %.3f", hz, zeta, b.NaturalHz, b.Zeta, b.Least, b.Most, b.Explained)
			}
			if b.From < 1.3 || b.Least > b.Zeta || b.Most < b.Zeta || len(b.Fit) == 0 || len(b.Trace) < len(b.Fit) {
				t.Errorf("%v Hz, zeta %v: fitted from %v to %v, band %v to %v", hz, zeta, b.From, b.To, b.Least, b.Most)
			}
		}
	}
}

// Noise of several colours, a knock, a swing that goes on and a still phone
// have no decay in them.
func TestFindBounceRefusesNoise(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 2))
	walk, slow := 0.0, 0.0
	kinds := map[string]func(t float64) float64{
		"white": func(float64) float64 { return 2 * chance.NormFloat64() },
		"brown": func(float64) float64 { walk += 0.2 * chance.NormFloat64(); return walk },
		"slow":  func(float64) float64 { slow += 0.08*(-slow) + 0.5*chance.NormFloat64(); return slow },
		"buzz":  func(t float64) float64 { return 3*math.Sin(2*math.Pi*27*t) + 0.5*chance.NormFloat64() },
		"swing": func(t float64) float64 { return 3*math.Sin(2*math.Pi*1.8*t) + 0.1*chance.NormFloat64() },
		"still": func(float64) float64 { return 0.01 * chance.NormFloat64() },
		"dead":  func(float64) float64 { return 0 },
		"knock": func(t float64) float64 {
			if math.Abs(t-3) < 0.03 {
				return 20
			}
			return 0.05 * chance.NormFloat64()
		},
	}
	for name, a := range kinds {
		taken := 0
		const tries = 15
		for range tries {
			walk, slow = 0, 0
			samples := make([]Sample, 480)
			for i := range samples {
				t := float64(i) / 60
				samples[i] = Sample{At: t, Z: 9.81 + a(t)}
			}
			b, err := FindBounce(samples)
			if err == nil {
				taken++
				t.Logf("%s: zeta %.3f, %.2f Hz, explained %.3f", name, b.Zeta, b.NaturalHz, b.Explained)
				continue
			}
			refused(t, name, err)
		}
		if taken > 0 {
			t.Errorf("%s: %d of %d taken for a bounce", name, taken, tries)
		}
	}
}

func TestReadTrace(t *testing.T) {
	lines := func(format string, n int, step float64) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format+"\n", 5+float64(i)*step, math.Sin(float64(i)/9))
		}
		return b.String()
	}
	for name, text := range map[string]string{
		"seconds, one axis": lines("%.3f,%.3f", 150, 0.016),
		"named columns":     "t0,acceleration1\n" + lines("%.3f,%.3f", 150, 0.016),
		"milliseconds":      lines("%.3f\t%.3f", 150, 16),
		"microseconds":      lines("%.0f %.3f", 150, 16000),
		"nanoseconds":       lines("%.0f %.3f", 150, 16e6),
		"decimal commas":    strings.ReplaceAll(lines("%.3f;%.3f", 150, 0.016), ".", ","),
		"three axes":        lines("%.3f,%.3f,0,9.8", 150, 0.016),
	} {
		s, err := ReadTrace(text)
		if err != nil || len(s) != 150 || math.Abs(s[149].At-149*0.016) > 1e-6 {
			t.Errorf("%s: %d readings, %v", name, len(s), err)
		}
	}
	good := lines("%.3f,%.3f", 150, 0.016)
	for name, bad := range map[string]string{
		"nothing": "", "words": "hello\nworld\n", "short": lines("%.3f,%.3f", 20, 0.016), "slow": lines("%.3f,%.3f", 60, 0.2),
		"one column": "1\n2\n3\n", "time runs back": good + "0.1,3\n", "gap": good + "9.9,1\n", "torn line": good + "7.5,\n", "NaN": "NaN,1\n" + good,
		"brief": lines("%.4f,%.3f", 100, 0.004), "huge": good + "7.42,1e9\n", "three columns": "0,1,2\n0.1,1,2\n",
	} {
		_, err := ReadTrace(bad)
		refused(t, name, err)
	}
	_, err := FindBounce(nil)
	refused(t, "no samples", err)
}

func FuzzReadTrace(f *testing.F) {
	f.Add("t,a\n0,1\n0.1,2\n")
	f.Add("0;1,5\n0,02;2\n")
	f.Add("1e300 1 2 3\n")
	var b strings.Builder
	for i := range 120 {
		fmt.Fprintf(&b, "%d,%d,%d,9.8\n", i*16, i%7, i%3)
	}
	f.Add(b.String())
	f.Fuzz(func(t *testing.T, text string) {
		samples, err := ReadTrace(text)
		if err != nil || len(samples) > 3000 {
			return
		}
		if found, err := FindBounce(samples); err == nil && (math.IsNaN(found.Zeta) || found.Zeta <= 0 || found.Zeta >= 1) {
			t.Errorf("found %+v", found.Decay)
		}
	})
}
