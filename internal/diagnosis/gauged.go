package diagnosis

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// gauge is one measurement of a vignette, its name cut into words.
type gauge struct {
	words map[string]bool
	value float64
	list  []float64
}

// gauges reads the measurements whatever their exact names: which end, what
// was measured, in which unit.
func (v Vignette) gauges() []gauge {
	var out []gauge
	for _, key := range slices.Sorted(maps.Keys(v.Measurements)) {
		raw := v.Measurements[key]
		g := gauge{words: set(strings.ReplaceAll(strings.ToLower(key), "_", " "))}
		switch x := raw.(type) {
		case float64:
			g.value = x
		case []any:
			for _, y := range x {
				if f, ok := y.(float64); ok {
					g.list = append(g.list, f)
				}
			}
		default:
			continue
		}
		if len(g.list) == 0 && raw != nil {
			g.list = []float64{g.value}
		}
		out = append(out, g)
	}
	return out
}

func (g gauge) has(words ...string) bool {
	for _, w := range words {
		if g.words[w] {
			return true
		}
	}
	return false
}

func (g gauge) end() string {
	switch {
	case g.has("front", "fork", "forks"):
		return "front"
	case g.has("rear", "shock", "back"):
		return "rear"
	}
	return ""
}

// inKPa is a pressure's value in kPa, by the unit in its name.
func (g gauge) inKPa() float64 {
	switch {
	case g.has("kpa"):
		return g.value
	case g.has("bar"):
		return 100 * g.value
	}
	return kPaPerPsi * g.value
}

func (v Vignette) facts() Facts {
	f := Facts{RiderMass: v.Bike.RiderKg, Air: v.Track.Air}
	pressed, lifted := map[string]*float64{}, map[string]*float64{}
	legs := map[string]*float64{}
	for _, g := range v.gauges() {
		x := g.value
		switch {
		case g.has("logbook", "target", "book"):
		case g.has("sag") && g.has("pressed"):
			pressed[g.end()] = &x
		case g.has("sag") && g.has("lifted"):
			lifted[g.end()] = &x
		case g.has("sag") && len(g.list) > 1:
			d := spread(g.list)
			f.setSpread(g.end(), &d)
		case g.has("sag"):
			f.setSag(g.end(), g.has("free", "static", "unladen", "bike"), x)
		case g.has("pressure", "psi", "bar", "kpa"):
			f.setPressure(g.end(), g.has("hot"), g.inKPa())
		case g.has("travel") && g.has("used") && g.end() == "front":
			f.ForkTravelUsed = &x
		case g.has("travel") && g.end() == "front":
			f.ForkTravel = &x
		case g.has("slack") && g.has("max", "loosest", "most"):
			f.ChainSlackMost = &x
		case g.has("slack") && (f.ChainSlackLeast == nil || x < *f.ChainSlackLeast):
			f.ChainSlackLeast = &x
		case g.has("clicks") && g.has("left"):
			legs["left"] = &x
		case g.has("clicks") && g.has("right"):
			legs["right"] = &x
		}
	}
	for _, end := range []string{"front", "rear"} {
		f.setSpread(end, apart(pressed[end], lifted[end]))
	}
	f.LegClicksApart = apart(legs["left"], legs["right"])
	f.Marks = v.clicksAtEnd()
	return f
}

func (f *Facts) setSpread(end string, d *float64) {
	switch {
	case d == nil:
	case end == "front":
		f.SagSpreadFront = d
	case end == "rear":
		f.SagSpreadRear = d
	}
}

func apart(a, b *float64) *float64 {
	if a == nil || b == nil {
		return nil
	}
	d := math.Abs(*a - *b)
	return &d
}

func spread(all []float64) float64 {
	least, most := math.Inf(1), math.Inf(-1)
	for _, x := range all {
		least, most = math.Min(least, x), math.Max(most, x)
	}
	return most - least
}

// clicksAtEnd are the facts that clicks counted out tell: two or fewer are
// nearly closed, twenty or more wide open. Common practice, no source.
func (v Vignette) clicksAtEnd() []string {
	var out []string
	for _, g := range v.gauges() {
		for _, what := range []string{"rebound", "compression"} {
			if !g.has("clicks") || !g.has(what) || !g.has("out") || g.end() == "" || g.has("left", "right") {
				continue
			}
			switch {
			case g.value <= 2:
				out = append(out, g.end()+"-"+what+"-in")
			case g.value >= 20:
				out = append(out, g.end()+"-"+what+"-out")
			}
		}
	}
	return out
}

// gauged are the checks that a measurement settles. Limits: disc 0.3 mm and
// rim 2 mm are the usual ones in makers' manuals; axle, legs and bars: common
// practice, no source.
func (v Vignette) gauged() []Observed {
	var out []Observed
	sides := map[string][]float64{}
	for _, g := range v.gauges() {
		over := func(finding string, limit float64) {
			out = append(out, Observed{Finding: finding, Absent: math.Abs(g.value) <= limit})
		}
		switch {
		case g.has("runout") && g.has("disc", "rotor"):
			over("found-disc-runout", 0.3)
		case g.has("runout") && g.has("rim", "wheel"):
			over("found-rim-dented", 2)
		case g.has("axle") && g.has("moved"):
			over("found-gearing-wheelbase-chain-angle", 3)
		case g.has("string", "track", "offset", "alignment"):
			over("found-wheel-misaligned", 2)
		case g.has("height", "leg", "tube") && g.has("difference", "apart"):
			over("found-forks-height-unequal", 1)
		case g.has("height", "leg", "above") && g.has("left", "right") && g.end() == "front":
			sides["found-forks-height-unequal"] = append(sides["found-forks-height-unequal"], g.value)
		case g.has("bar", "lever", "clip") && g.has("left", "right"):
			sides["found-bars-or-controls-bent"] = append(sides["found-bars-or-controls-bent"], g.value)
		case g.has("cycles") && g.value >= 8, g.has("tyre") && g.has("years") && g.value >= 5:
			out = append(out, Observed{Finding: "found-tyre-heat-cycled-out"})
		}
	}
	for _, finding := range slices.Sorted(maps.Keys(sides)) {
		if two := sides[finding]; len(two) == 2 {
			out = append(out, Observed{Finding: finding, Absent: spread(two) <= 2})
		}
	}
	return out
}

// springs says whether the springs were made for another weight: a number in
// the words of the springs, 30 to 150, is the weight in kg. Twelve kilos apart
// are one spring rate and more; common practice, no source.
func (v Vignette) springs() []string {
	if v.Bike.RiderKg == nil {
		return nil
	}
	all := raws(v.Bike.Springs)
	for _, w := range all {
		x, err := strconv.ParseFloat(strings.TrimSuffix(w, "kg"), 64)
		switch {
		case err != nil || x < 40 || x > 150:
		case *v.Bike.RiderKg-x > 12:
			return []string{"heavy-rider"}
		case x-*v.Bike.RiderKg > 12:
			return []string{"light-rider"}
		}
	}
	return nil
}
