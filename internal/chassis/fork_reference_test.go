package chassis

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestForkAirReference(t *testing.T) {
	for _, r := range []struct {
		id                    string
		volume, area          float64
		start, travel, power  float64
		pressure, force, rate float64
	}{
		{"C8.1", 300, 1452.2, 0, 50, 1.0, 0.13368, 46.98596, 1.23979},
		{"C8.1", 300, 1452.2, 0, 50, 1.2, 0.1412982, 58.04901, 1.572531},
		{"C8.1", 300, 1452.2, 0, 50, 1.4, 0.1493504, 69.74252, 1.939171},
		{"C8.1", 300, 1452.2, 0, 100, 1.0, 0.1963917, 138.0558, 2.675846},
		{"C8.1", 300, 1452.2, 0, 100, 1.2, 0.2241838, 178.4156, 3.665419},
		{"C8.1", 300, 1452.2, 0, 100, 1.4, 0.255909, 224.4869, 4.881482},
		{"C8.2", 285, 1452.2, 0, 100, 1.2, 0.23823, 198.8134, 4.31306},
		{"C8.3", 260, 1256.6, 200, 0, 1.0, 0.301325, 251.32, 1.83002},
		{"C8.3", 260, 1256.6, 200, 0, 1.4, 0.301325, 251.32, 2.562029},
		{"C8.3", 260, 1256.6, 200, 60, 1.0, 0.4243922, 405.9663, 3.630115},
		{"C8.3", 260, 1256.6, 200, 60, 1.4, 0.4866988, 484.2608, 5.828293},
	} {
		f, err := ForkAir{r.volume, r.area, r.start, 101.325, r.power}.At(r.travel)
		const source = "polytropic law, derived"
		check(t, []row{
			{r.id + " pressure", plain(f.Pressure/1000, err), r.pressure, rel(r.pressure, 1e-5), source},
			{r.id + " force", plain(f.Force, err), r.force, rel(r.force, 1e-5), source},
			{r.id + " rate", plain(f.Rate, err), r.rate, rel(r.rate, 1e-5), source},
		})
	}
	check(t, []row{
		{"area of 43 mm", plain(CircleArea(43)), 1452.2, 0.05, "C8.1, a 43 mm leg"},
		{"air over the oil", plain(AirVolume(120, 39, 1452.2, 120)), (1194.590607*120 + 1452.2*120) / 1000, 1e-5, "section of 39 mm is 1194.59 mm², by hand"},
	})
}

// Force and rate grow with travel, oil and exponent, and the rate is the
// slope of the force.
func TestForkAirGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := ForkAir{rapid.Float64Range(250, 400).Draw(t, "volume"), rapid.Float64Range(1000, 1500).Draw(t, "area"), rapid.Float64Range(0, 300).Draw(t, "start"), 101.325, rapid.Float64Range(1, 1.4).Draw(t, "n")}
		x := rapid.Float64Range(1, 110).Draw(t, "x")
		here, err := f.At(x)
		if err != nil {
			t.Fatal(err)
		}
		below, err1 := f.At(x - 0.01)
		above, err2 := f.At(x + 0.01)
		if slope := (above.Force - below.Force) / 0.02; firstOf(err1, err2) != nil || math.Abs(slope-here.Rate) > 1e-4*here.Rate+1e-4 || above.Rate <= here.Rate {
			t.Fatalf("slope %v, rate %v and then %v", slope, here.Rate, above.Rate)
		}
		fuller, steeper := f, f
		fuller.Volume -= 10
		steeper.Exponent += 0.1
		for name, g := range map[string]ForkAir{"oil": fuller, "exponent": steeper} {
			if more, err := g.At(x); err != nil || more.Force <= here.Force {
				t.Fatalf("more %s: %v N, before %v N, %v", name, more.Force, here.Force, err)
			}
		}
	})
}

func TestForkAirRefuses(t *testing.T) {
	_, err := ForkAir{100, 1452, 0, 101.325, 1.2}.At(120)
	refused(t, "no air left", err)
	_, err = ForkAir{300, 1452, -50, 101.325, 1.2}.At(50)
	refused(t, "negative pressure", err)
	_, err = ForkAir{300, 1452, 0, 101.325, 0.5}.At(50)
	refused(t, "exponent under 1", err)
	_, err = ForkAir{300, math.NaN(), 0, 101.325, 1.2}.At(50)
	refused(t, "NaN", err)
	_, err = AirVolume(0, 39, 1452, 120)
	refused(t, "oil at the brim", err)
	_, err = CircleArea(-3)
	refused(t, "negative diameter", err)
}
