package diagnosis

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
	above(f.RiderMass, 88, "heavy-rider")
	below(f.RiderMass, 65, "light-rider")
	return out
}

// observed turns numbers into findings. Sag: about 25 to 42 mm under the
// rider (spring maker's guide, sag table, S10). Pressure gain: 3-4 psi is too
// little, above 10 too much (a trackside tuner's chart, S18). Others: common
// practice, no source.
func (f Facts) observed() []Observed {
	var out []Observed
	// band says high or low outright, and denies both in between.
	band := func(v *float64, low, high float64, small, large string) {
		if v == nil {
			return
		}
		if large != "" {
			out = append(out, Observed{Finding: large, Absent: *v <= high})
		}
		if small != "" {
			out = append(out, Observed{Finding: small, Absent: *v >= low})
		}
	}
	band(f.RiderSagFront, 25, 42, "m-front-sag-small", "m-front-sag-large")
	band(f.RiderSagRear, 22, 40, "m-rear-sag-small", "m-rear-sag-large")
	band(f.FreeSagRear, 3, 17, "m-rear-free-none", "m-rear-free-large")
	band(f.SagSpreadFront, 0, 10, "", "m-front-friction")
	band(f.SagSpreadRear, 0, 10, "", "m-rear-friction")
	band(f.LegClicksApart, 0, 1.5, "", "m-legs-differ")
	band(f.ChainSlackLeast, 15, 0, "m-chain-tight", "")
	if f.ForkTravelUsed != nil && f.ForkTravel != nil && *f.ForkTravel > 0 {
		used := *f.ForkTravelUsed / *f.ForkTravel
		band(&used, 0.72, 0.97, "m-fork-unused", "m-fork-all-travel")
	}
	if f.ChainSlackLeast != nil && f.ChainSlackMost != nil {
		apart := *f.ChainSlackMost - *f.ChainSlackLeast
		band(&apart, 0, 12, "", "m-chain-uneven")
	}
	return append(out, f.pressures()...)
}

// limits of pressures in psi: cold and hot, low and high; common practice, no
// source.
const coldLow, coldHigh, hotLow, hotHigh = 25.5, 35.5, 26.5, 39

const kPaPerPsi = 6.894757

// pressureOut says whether an end's gauge reads outside the limits, or its
// gain from cold to hot does.
func (f Facts) pressureOut(end string) bool {
	cold, hot := f.PressureColdRear, f.PressureHotRear
	if end == "front" {
		cold, hot = f.PressureColdFront, f.PressureHotFront
	}
	out := func(p *float64, low, high float64) bool {
		return p != nil && (*p < low*kPaPerPsi || *p > high*kPaPerPsi)
	}
	if out(cold, coldLow, coldHigh) || out(hot, hotLow, hotHigh) {
		return true
	}
	if cold == nil || hot == nil {
		return false
	}
	gain := (*hot - *cold) / kPaPerPsi
	return gain < 4.5 || gain > 9.5
}

func (f Facts) pressures() []Observed {
	var small, large, low, high, known, gained bool
	for _, p := range [][2]*float64{{f.PressureColdFront, f.PressureHotFront}, {f.PressureColdRear, f.PressureHotRear}} {
		cold, hot := p[0], p[1]
		if cold != nil && hot != nil {
			gained = true
			small = small || *hot-*cold < 4.5*kPaPerPsi
			large = large || *hot-*cold > 9.5*kPaPerPsi
		}
		if cold != nil {
			known = true
			low = low || *cold < coldLow*kPaPerPsi
			high = high || *cold > coldHigh*kPaPerPsi
		}
		if hot != nil {
			known = true
			low = low || *hot < hotLow*kPaPerPsi
			high = high || *hot > hotHigh*kPaPerPsi
		}
	}
	var out []Observed
	if gained {
		out = append(out, Observed{Finding: "m-gain-small", Absent: !small}, Observed{Finding: "m-gain-large", Absent: !large})
	}
	if known {
		out = append(out, Observed{Finding: "m-pressure-low", Absent: !low}, Observed{Finding: "m-pressure-high", Absent: !high})
	}
	return out
}
