package laps

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// What a plan promises: a real shift of the wanted size is seen this often,
// at the level of the 95 % interval. rankCost is what comparing by rank costs
// against normal laps, 3/π (Hollander and Wolfe, section 4.6).
const (
	plannedPower = 0.80
	rankCost     = 3 / math.Pi
)

// LapsEachWay returns how many counted laps on each side show a shift of the
// wanted size (seconds, either sign) at this spread (standard deviation,
// seconds) with the given power, for Student's t. 0 if a size is not
// positive or power is outside (0.5, 1). Formula 2(z₀.₉₇₅+z)²/d² + z₀.₉₇₅²/4:
// W. C. Guenther, The American Statistician 35 (1981), from memory; checked
// against J. Cohen's table.
func LapsEachWay(wanted, spread, power float64) int {
	d := math.Abs(wanted) / spread
	if !(d > 0) || math.IsInf(d, 0) || !(power > 0.5 && power < 1) {
		return 0
	}
	z := distuv.UnitNormal.Quantile(0.975)
	n := 2*math.Pow(z+distuv.UnitNormal.Quantile(power), 2)/(d*d) + z*z/4
	return int(math.Ceil(min(n, 1e6)))
}

// MoreLaps returns how many more counted laps before and after would show a
// shift of the wanted size at this spread in four tries of five, comparing by
// rank; never fewer than six a side in all.
func MoreLaps(wanted, spread float64, before, after int) (moreBefore, moreAfter int) {
	n := LapsEachWay(wanted, spread/math.Sqrt(rankCost), plannedPower)
	n = max(n+1, 6)
	return max(0, n-before), max(0, n-after)
}

// RunsEachWay returns how many runs on each side show a shift of the wanted
// size (seconds, either sign) in four tries of five, when laps vary by lapSpread
// within a run and runs by runSpread among themselves (standard deviations,
// seconds), with so many counted laps in a run. 0 if wanted, lapSpread or the
// laps are not positive. Formula 1 + (z₀.₉₇₅+z₀.₈)²·2(σ²/m+τ²)/d²: R. Hayes,
// S. Bennett, International Journal of Epidemiology 28 (1999), simple sample
// size calculation for cluster-randomized trials, for means; from memory.
func RunsEachWay(wanted, lapSpread, runSpread float64, lapsPerRun int) int {
	d := math.Abs(wanted)
	if !(d > 0 && lapSpread > 0 && runSpread >= 0) || lapsPerRun < 1 || math.IsInf(d, 0) {
		return 0
	}
	z := distuv.UnitNormal.Quantile(0.975) + distuv.UnitNormal.Quantile(plannedPower)
	one := lapSpread*lapSpread/float64(lapsPerRun) + runSpread*runSpread
	return int(math.Ceil(min(1+z*z*2*one/(d*d), 1e6)))
}

// SeenIn is the other way round: the smallest shift in seconds that so many
// runs each way, two at least, show in four tries of five. 0 if they show none.
func SeenIn(runs int, lapSpread, runSpread float64, lapsPerRun int) float64 {
	if runs < 2 || !(lapSpread > 0 && runSpread >= 0) || lapsPerRun < 1 {
		return 0
	}
	z := distuv.UnitNormal.Quantile(0.975) + distuv.UnitNormal.Quantile(plannedPower)
	one := lapSpread*lapSpread/float64(lapsPerRun) + runSpread*runSpread
	return z * math.Sqrt(2*one/float64(runs-1))
}
