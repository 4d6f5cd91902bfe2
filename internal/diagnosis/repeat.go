package diagnosis

import "fmt"

// Card is what to do in the next session to make a thing that was felt happen
// again on purpose, or learn that it does not. The result sets its repeat:
// no pass of three is once, one or two some-laps, all three every-lap, and
// on-purpose if it comes and goes as the card says.
type Card struct {
	Finding string `json:"finding"`
	Title   string `json:"title"`
	Where   string `json:"where"`
	How     string `json:"how"`
	Effort  string `json:"effort"`
	Watch   string `json:"watch"`
	Passes  int    `json:"passes"`
	Stop    string `json:"stop"`
	After   string `json:"after"`
	// Dont says why this must not be asked for on purpose; the card then holds
	// what to do instead in How, and no passes.
	Dont string `json:"dont,omitempty"`
}

// passes is how many laps a card asks for. Three of three is the least that
// tells every lap from half the laps with some confidence: by luck alone it
// comes one time in eight.
const passes = 3

type manner struct{ where, how, watch string }

// manners are how to ask for a phase of the corner on purpose, at an effort
// that leaves room. Common practice, no source.
var manners = map[string]manner{
	"braking":      {"the straightest braking zone", "Brake upright at your usual marker, firm and even; ease off before you lean.", "what the front or rear does while the lever is steady, and at the very first touch"},
	"turn-in":      {"a corner with room outside", "Same marker, same gear, brakes off early; one steady push on the bar.", "how much push it takes and whether it drops, resists or springs back"},
	"mid-corner":   {"a long, constant corner with room outside", "Hold a steady throttle and one line from turn-in to apex.", "whether it drifts, moves or shakes with nothing else changing"},
	"drive-out":    {"an exit with room to run out", "Pick the bike up first, then open the throttle smoothly from the same spot.", "the line, the bars and the rear as the throttle passes half"},
	"straight":     {"a clear straight with nobody behind", "Hold one speed with light hands on the bars; never take them off.", "the speed at which it starts and stops, in two gears"},
	"side-to-side": {"a chicane that you know", "Change sides at one steady speed, no brake and no throttle change.", "whether one way differs, and what the bike does as it passes upright"},
	"over-bumps":   {"the same bumps, as upright as they allow", "Cross them at one speed, standing slightly on the pegs, on an even throttle.", "the first bump against the last, and which end is thrown"},
	"whole-lap":    {"the whole lap", "Ride three even laps at a pace you could hold all day.", "on which lap and in which corner it comes"},
}

// RepeatCard returns the card for a finding, and false for one that is not
// felt. Place is where on the track it came, in the rider's words, or empty.
func (n *Network) RepeatCard(finding, place string) (Card, bool) {
	i, ok := n.finding[finding]
	if !ok || n.findings[i].Kind != "felt" {
		return Card{}, false
	}
	f := n.findings[i]
	if f.Risk != "" {
		return Card{Finding: f.ID, Title: f.Words, Where: place, Dont: f.Risk, How: "Come in, note where it was, and make the checks first.", Stop: "Do not ride until the checks are done."}, true
	}
	m, ok := manners[f.Phase]
	if !ok {
		m = manners["whole-lap"]
	}
	if place == "" {
		place = m.where
	}
	return Card{
		Finding: f.ID, Title: f.Words, Where: place, How: m.how, Watch: "Watch " + m.watch + ".", Passes: passes,
		Effort: "Seven tenths of your usual pace. Nothing is won by going faster.",
		Stop:   "Stop at once if it grows from pass to pass, if it frightens you, or if anything knocks, leaks or scrapes. Come in and say so.",
		After:  fmt.Sprintf("Count on how many of %d passes it came.", passes),
	}, true
}

// RepeatOf is the repeat that passes of a card show; on purpose, if it also
// went away when the rider did the opposite.
func RepeatOf(came, of int, wentAway bool) string {
	switch {
	case came <= 0 || of <= 0:
		return "once"
	case came < of:
		return "some-laps"
	case wentAway:
		return "on-purpose"
	}
	return "every-lap"
}
