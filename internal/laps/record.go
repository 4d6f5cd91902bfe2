package laps

import (
	"fmt"
	"math"
)

// recordTries is the fewest tries from which a share says anything.
const recordTries = 5

// AdviceRecord says what became of somebody's advice: Yes of the changes
// kept, Of of those tried.
func (t Tally) AdviceRecord() string {
	if t.Of < 1 || t.Yes < 0 || t.Yes > t.Of {
		return "Nothing of theirs has been tried yet."
	}
	says := fmt.Sprintf("%d of %d kept.", t.Yes, t.Of)
	if t.Of < recordTries {
		return says + " Too few to tell how good the advice is."
	}
	low, high := t.Interval()
	return says + fmt.Sprintf(" In the long run that could be anything from %d to %d in 10.", tenths(low), tenths(high))
}

// FeelRecord says how far the rider's feel can be trusted: Yes of the right
// answers, Of of the blind draws or of the verdicts the laps settled.
func (t Tally) FeelRecord() string {
	if t.Of < 1 || t.Yes < 0 || t.Yes > t.Of {
		return "Your feel has not been tested yet. Try a blind draw."
	}
	says := fmt.Sprintf("You were right in %d of %d.", t.Yes, t.Of)
	switch luck := t.Luck(0.5); {
	case t.Of < recordTries:
		return says + " Too few to tell."
	case luck > 0.05:
		return says + " Guessing could do that too; a few more draws will tell."
	case 2*t.Yes > t.Of:
		return says + " That is no guessing: trust your feel here."
	}
	return says + " You feel a difference but name it the wrong way round."
}

func tenths(p float64) int { return int(math.Round(10 * p)) }
