package diagnosis

import "slices"

// Facts is what a book knows of the bike, rider and day. Nil is not known.
// Sag, travel and slack are in mm, pressures in kPa, air in °C.
type Facts struct {
	Marks             []string `json:"marks,omitempty"` // ids of facts that hold
	RiderSagFront     *float64 `json:"riderSagFront,omitempty"`
	RiderSagRear      *float64 `json:"riderSagRear,omitempty"`
	FreeSagRear       *float64 `json:"freeSagRear,omitempty"`
	SagSpreadFront    *float64 `json:"sagSpreadFront,omitempty"` // pressed less lifted
	SagSpreadRear     *float64 `json:"sagSpreadRear,omitempty"`
	ForkTravelUsed    *float64 `json:"forkTravelUsed,omitempty"`
	ForkTravel        *float64 `json:"forkTravel,omitempty"`
	PressureColdFront *float64 `json:"pressureColdFront,omitempty"`
	PressureColdRear  *float64 `json:"pressureColdRear,omitempty"`
	PressureHotFront  *float64 `json:"pressureHotFront,omitempty"`
	PressureHotRear   *float64 `json:"pressureHotRear,omitempty"`
	ChainSlackLeast   *float64 `json:"chainSlackLeast,omitempty"`
	ChainSlackMost    *float64 `json:"chainSlackMost,omitempty"`
	LegClicksApart    *float64 `json:"legClicksApart,omitempty"`
	RiderMass         *float64 `json:"riderMass,omitempty"` // kg, without kit
	Air               *float64 `json:"air,omitempty"`
}

// marks returns the facts that hold, those that numbers imply included.
// The limits are common practice, no source.
func (f Facts) marks() map[string]bool {
	out := map[string]bool{}
	for _, m := range f.Marks {
		out[m] = true
	}
	above := func(v *float64, limit float64, mark string) {
		if v != nil && *v > limit {
			out[mark] = true
		}
	}
	below := func(v *float64, limit float64, mark string) {
		if v != nil && *v < limit {
			out[mark] = true
		}
	}
	above(f.Air, 27, "hot")
	below(f.Air, 9, "cold")
	below(f.Air, 13, "cool")
	above(f.Air, 15, "mild")
	above(f.RiderMass, 88, "heavy-rider")
	below(f.RiderMass, 65, "light-rider")
	return out
}

// limit is where a number starts to speak: below few or above many it shows a
// finding, between least and most it denies both, and in the grey between it
// says nothing.
type limit struct{ few, least, most, many float64 }

// Limits of the numbers. Sag: about 25 to 40 mm under the rider (spring maker's
// guide, sag table, S10). Others: common practice, no source.
var (
	frontSag = limit{25, 27, 39, 43}
	rearSag  = limit{22, 25, 37, 41}
	freeSag  = limit{3, 5, 14, 17}
	readings = limit{-1, -1, 8, 10}
	legs     = limit{-1, -1, 1, 1.5}
	slack    = limit{15, 18, 99, 999}
	uneven   = limit{-1, -1, 9, 12}
	travel   = limit{0.74, 0.8, 0.94, 0.97}
)

// observed turns numbers into findings.
func (f Facts) observed() []Observed {
	var out []Observed
	band := func(v *float64, l limit, small, large string) {
		if v == nil {
			return
		}
		say := func(finding string, present, absent bool) {
			if finding != "" && (present || absent) {
				out = append(out, Observed{Finding: finding, Absent: absent})
			}
		}
		say(small, *v < l.few, *v >= l.least)
		say(large, *v > l.many, *v <= l.most)
	}
	band(f.RiderSagFront, frontSag, "m-front-sag-small", "m-front-sag-large")
	band(f.RiderSagRear, rearSag, "m-rear-sag-small", "m-rear-sag-large")
	band(f.FreeSagRear, freeSag, "m-rear-free-none", "m-rear-free-large")
	band(f.SagSpreadFront, readings, "", "m-front-friction")
	band(f.SagSpreadRear, readings, "", "m-rear-friction")
	band(f.LegClicksApart, legs, "", "m-legs-differ")
	band(f.ChainSlackLeast, slack, "m-chain-tight", "")
	if f.ForkTravelUsed != nil && f.ForkTravel != nil && *f.ForkTravel > 0 {
		used := *f.ForkTravelUsed / *f.ForkTravel
		band(&used, travel, "m-fork-unused", "m-fork-all-travel")
	}
	if f.ChainSlackLeast != nil && f.ChainSlackMost != nil {
		apart := *f.ChainSlackMost - *f.ChainSlackLeast
		band(&apart, uneven, "", "m-chain-uneven")
	}
	return append(out, f.pressures()...)
}

// gauge limits in psi. Track pressures differ by tyre and maker, so only what
// is far out speaks; gain: 3-4 psi is too little, above 10 too much (a
// trackside tuner's chart, S18). Others: common practice, no source.
var (
	coldFront = limit{27, 28.5, 34, 35.5}
	coldRear  = limit{22.5, 24.5, 29, 35.5}
	hotFront  = limit{28, 30, 36.5, 38.5}
	hotRear   = limit{25, 27, 36.5, 39}
	gain      = limit{4.5, 4.9, 8.5, 9.5}
)

const kPaPerPsi = 6.894757

// On the road makers ask for more: about 36 psi front and 42 rear are usual, and
// what is low there is higher too. Common practice, no source.
var (
	roadFront = limit{28, 31, 38, 41}
	roadRear  = limit{30, 34, 43, 46}
)

// gauged are an end's readings in psi with their limits, the gain last.
func (f Facts) gauged(end string) (psi []float64, limits []limit) {
	cold, hot, lc, lh := f.PressureColdRear, f.PressureHotRear, coldRear, hotRear
	if end == "front" {
		cold, hot, lc, lh = f.PressureColdFront, f.PressureHotFront, coldFront, hotFront
	}
	if slices.Contains(f.Marks, "on-road") {
		lc = map[string]limit{"front": roadFront, "rear": roadRear}[end]
	}
	if cold != nil {
		psi, limits = append(psi, *cold/kPaPerPsi), append(limits, lc)
	}
	if hot != nil {
		psi, limits = append(psi, *hot/kPaPerPsi), append(limits, lh)
	}
	if cold != nil && hot != nil {
		psi, limits = append(psi, (*hot-*cold)/kPaPerPsi), append(limits, gain)
	}
	return psi, limits
}

// pressureOut says whether an end's gauge reads outside the limits, or its
// gain from cold to hot does.
func (f Facts) pressureOut(end string) bool {
	psi, limits := f.gauged(end)
	for i, p := range psi {
		if p < limits[i].few || p > limits[i].many {
			return true
		}
	}
	return false
}

// pressures says of both ends together what the gauge finds: one end out is a
// find, and all within is a denial.
func (f Facts) pressures() []Observed {
	type verdict struct{ seen, inside, found bool }
	said := map[string]*verdict{"m-pressure-low": {inside: true}, "m-pressure-high": {inside: true}, "m-gain-small": {inside: true}, "m-gain-large": {inside: true}}
	for _, end := range []string{"front", "rear"} {
		psi, limits := f.gauged(end)
		for i, p := range psi {
			low, high := "m-pressure-low", "m-pressure-high"
			if i == 2 {
				low, high = "m-gain-small", "m-gain-large"
			}
			l := limits[i]
			a, b := said[low], said[high]
			a.seen, a.found, a.inside = true, a.found || p < l.few, a.inside && p >= l.least
			b.seen, b.found, b.inside = true, b.found || p > l.many, b.inside && p <= l.most
		}
	}
	var out []Observed
	for _, id := range []string{"m-gain-small", "m-gain-large", "m-pressure-low", "m-pressure-high"} {
		if v := said[id]; v.seen && (v.found || v.inside) {
			out = append(out, Observed{Finding: id, Absent: !v.found})
		}
	}
	return out
}
