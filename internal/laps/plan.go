package laps

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// plannedPower is what a plan promises: a real shift of the wanted size is
// seen this often, at the level of the 95 % interval.
const plannedPower = 0.80

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
	z := plannedZ()
	return int(math.Ceil(min(1+z*z*2*runVariance(lapSpread, runSpread, lapsPerRun)/(d*d), 1e6)))
}

// SeenIn is the other way round: the smallest shift in seconds that so many
// runs each way, two at least, show in four tries of five. 0 if they show none.
func SeenIn(runs int, lapSpread, runSpread float64, lapsPerRun int) float64 {
	if runs < 2 || !(lapSpread > 0 && runSpread >= 0) || lapsPerRun < 1 {
		return 0
	}
	return plannedZ() * math.Sqrt(2*runVariance(lapSpread, runSpread, lapsPerRun)/float64(runs-1))
}

// plannedZ is how many standard errors a shift must be to be seen as often as
// planned: z₀.₉₇₅ + z₀.₈.
func plannedZ() float64 {
	return mathext.NormalQuantile(0.975) + mathext.NormalQuantile(plannedPower)
}

// runVariance is the variance of one run's middle in s²: of the runs among
// themselves, and of the laps in it.
func runVariance(lapSpread, runSpread float64, lapsPerRun int) float64 {
	return lapSpread*lapSpread/float64(lapsPerRun) + runSpread*runSpread
}
