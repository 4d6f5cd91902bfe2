package screen

import (
	"slices"

	"plumbline/internal/book"
)

// CheckAsk is one inspection as the rider is led through it: how to look, what
// good is, what to be careful of, and what was found last time. Drawing names
// the picture.
type CheckAsk struct {
	Check   string   `json:"check"`
	Title   string   `json:"title"`
	Why     string   `json:"why"`
	How     []string `json:"how"`
	Good    string   `json:"good"`
	Caution string   `json:"caution"`
	Stop    string   `json:"stop"` // what a fault means: do not ride until…
	Result  string   `json:"result,omitempty"`
	Says    string   `json:"says,omitempty"` // "Good, 12 Apr"
	Note    string   `json:"note,omitempty"`
}

// manualToo ends every caution about work on the bike.
const manualToo = "Follow the machine's service manual and local rules."

// roundChecks are the straightness and safety round, in the order in which it
// is walked. Common practice, no source; torques and limits are the manual's.
var roundChecks = []CheckAsk{
	{
		Check: book.CheckStraight, Title: "Is the front end straight?",
		Why: "After any fall, however slow, the forks can turn in the clamps. Then the bars stand uneven and the bike steers easier one way than the other.",
		How: []string{
			"Stand in front of the bike, front wheel straight ahead.",
			"Look along the tyre: is the gap to both fork legs the same?",
			"Are both bar ends as far forward and as high as each other?",
			"Lift the front off the ground and turn it from stop to stop: the same effort both ways?",
		},
		Good:    "Bars even, wheel centred, the same effort both ways.",
		Caution: "Use a stand that holds the bike safely with its front wheel off the ground. " + manualToo,
		Stop:    "Do not ride until the front end was loosened, centred and tightened to the service manual's torque.",
	},
	{
		Check: "head-bearings", Title: "Head bearings",
		Why:     "Loose bearings shake under braking. Tight or notched ones make the bike wander and weave.",
		How:     []string{"Lift the front wheel off the ground.", "Push and pull the fork legs at the axle: any knock?", "Let the bars fall to each side: smooth, with no notch in the middle?"},
		Good:    "No knock, no notch, falls freely to both sides.",
		Caution: "Have somebody hold the bike while you pull. " + manualToo,
		Stop:    "Do not ride until the head bearings were adjusted or replaced.",
	},
	{
		Check: "chain", Title: "Chain",
		Why:     "A chain that is too tight stops the rear suspension from moving, and can break.",
		How:     []string{"Turn the wheel by hand and find the tightest spot.", "Measure there how far the chain moves, up and down together.", "Look for stiff links, rust and hooked teeth."},
		Good:    "Slack in the manual's range at the tight spot, no stiff link, no hooked tooth.",
		Caution: "Engine off, key out. Keep your fingers away from sprocket and chain while the wheel turns. " + manualToo,
		Stop:    "Do not ride until the chain has the manual's slack at its tight spot and runs freely.",
	},
	{
		Check: "leaks", Title: "Leaks",
		Why:     "Oil on a fork leg means a worn seal. Oil on a tyre or a brake means a fall.",
		How:     []string{"Wipe both fork legs, press the front down a few times, look for a ring of oil.", "Look at the shock's shaft, the brake hoses, below the engine.", "Look at the discs and tyres: dry?"},
		Good:    "Dry everywhere.",
		Caution: "Let hot parts cool down first. " + manualToo,
		Stop:    "Do not ride until the leak is mended and tyres, discs and pads are clean.",
	},
	{
		Check: "alignment", Title: "Wheels in line",
		Why:     "A rear wheel that stands askew makes the bike steer to one side and wears chain and tyre.",
		How:     []string{"Stretch a string along both sides of the rear tyre to the front, half as high as the axle.", "Turn the front wheel until it stands between the strings.", "Is the gap the same on both sides, front and rear? Marks on the swingarm alone can be wrong."},
		Good:    "Equal gaps on both sides.",
		Caution: "Tighten the axle to the manual's torque and check the chain again after moving the wheel. " + manualToo,
		Stop:    "Do not ride until the wheels are in line and the axle is tightened to the service manual's torque.",
	},
	{
		Check: "tyres", Title: "Tyres",
		Why:     "They carry everything else. Age, cuts and a wrong direction are found in a minute.",
		How:     []string{"Look for cuts, cords, bulges and nails, all the way round.", "Read the age: four digits on the side, week and year.", "Does the arrow point the way the wheel turns? Is the valve cap on?"},
		Good:    "No damage, tread left, not too old, arrow right.",
		Caution: "Do not put your hand between tyre and swingarm while the wheel turns. " + manualToo,
		Stop:    "Do not ride until the damaged or worn tyre is replaced.",
	},
	{
		Check: "wheel-bearings", Title: "Wheel and swingarm bearings",
		Why:     "Play here feels like a bad setting and cannot be tuned away.",
		How:     []string{"Hold each wheel at top and bottom and rock it: any play?", "Spin it: quiet and smooth?", "Push the swingarm from side to side: any play?"},
		Good:    "No play, no noise.",
		Caution: "Bike on a stand, engine off, gear out. " + manualToo,
		Stop:    "Do not ride until the bearing was replaced.",
	},
	{
		Check: "brakes", Title: "Brakes",
		Why:     "Before the bike goes faster it must stop.",
		How:     []string{"Squeeze the lever and hold it: firm, and does it stay where it is?", "Look at every pad: enough left?", "Spin the wheels: do they turn freely after braking?", "Push the bike and brake: front and rear both hold?"},
		Good:    "Firm lever, enough pad, wheels free.",
		Caution: "Fluid takes off paint and hurts eyes. " + manualToo,
		Stop:    "Do not ride until the brakes are firm and hold.",
	},
}

// checkTitle is what an inspection is called in lists.
func checkTitle(id string) string {
	for _, c := range roundChecks {
		if c.Check == id && id != book.CheckStraight {
			return c.Title
		}
	}
	if id == book.CheckStraight {
		return "Front end straight"
	}
	return capital(spaced(id))
}

// resultWords say a check's result.
var resultWords = map[string]string{"good": "Good", "fault": "Fault", "unsure": "Not sure"}

// checkAsk is an inspection with what was found last time; ok is whether there
// is such an inspection.
func checkAsk(a Ask, k *book.Bike, id string) (CheckAsk, bool) {
	i := slices.IndexFunc(roundChecks, func(c CheckAsk) bool { return c.Check == id })
	if i < 0 {
		return CheckAsk{}, false
	}
	out := roundChecks[i]
	if last, ok := k.Checks[id]; ok {
		out.Result, out.Note = last.Body.Result, last.Body.Note
		out.Says = resultWords[last.Body.Result] + ", " + shower{a.Book}.moment(last.Wall, a.Now)
	}
	return out, true
}

// CheckForm is the result of an inspection. Result is "good", "fault" or
// "unsure".
type CheckForm struct {
	Bike   book.BikeID `json:"bike"`
	Check  string      `json:"check"`
	Result string      `json:"result"`
	Note   string      `json:"note"`
}

var _ = action("check", checkIt)

func checkIt(a Ask, f CheckForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	if f.Check == "" {
		return nil, []book.Refusal{{Field: "check", Says: "What did you look at?", Mend: "Pick one of the checks."}}
	}
	if resultWords[f.Result] == "" {
		return nil, []book.Refusal{{Field: "result", Says: "What did you find?", Mend: "Choose good, fault or not sure."}}
	}
	return []book.Draft{{Kind: book.KindCheck, Body: book.CheckBody{Bike: k.ID, Check: f.Check, Result: f.Result, Note: f.Note}}}, nil
}
