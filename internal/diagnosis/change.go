package diagnosis

import (
	"fmt"
	"strconv"
	"strings"
)

// Change is the one change worth trying. Adjuster, Direction and Steps are
// those of this bike, cut to what its range leaves; Words says it in full.
// With no Adjuster it is a job.
type Change struct {
	Cause string `json:"cause"`
	Title string `json:"title"`
	Remedy
	PutBack bool   `json:"putBack,omitempty"` // undoes what was changed last
	From    *int   `json:"from,omitempty"`    // position now, in the adjuster's steps
	To      *int   `json:"to,omitempty"`      // position to try
	Where   string `json:"where"`             // where on the lap to notice it
}

// Refusal says that an adjuster has no way left in the wanted direction, and
// what to do instead.
type Refusal struct {
	Adjuster string `json:"adjuster"`
	Words    string `json:"words"`
	Instead  string `json:"instead"`
}

// Setting is an adjuster's position and range in its own steps.
type Setting struct {
	Adjuster string `json:"adjuster"`
	At       int    `json:"at"`
	Least    int    `json:"least"`
	Most     int    `json:"most"`
	// MoreIsLess is set where counting runs against the physical direction,
	// as with clicks counted out from fully closed.
	MoreIsLess bool `json:"moreIsLess,omitempty"`
}

// Recent is a change made lately and whether the complaint grew with it.
type Recent struct {
	Adjuster  string `json:"adjuster"`
	Direction string `json:"direction"`
	Steps     int    `json:"steps"`
	Worse     bool   `json:"worse"`
}

// change fills in the answer's Change, or why there is none: First, Refused
// and Note.
func (n *Network) change(c Case, a *Answer) {
	if a.Stop != nil {
		a.First = ownCheck(a.Plan, a.Stop.Cause)
	} else {
		if a.First = n.dangerous(a.Plan); a.First == nil && n.putBack(c, a) {
			return
		}
	}
	top := a.Causes[0]
	cause := n.causes[n.cause[top.ID]]
	switch {
	case a.Stop != nil && a.Stop.Cause != top.ID:
		a.Note = a.Stop.Words
		return
	case top.Posterior < 0.3 && a.First == nil:
		a.Note = "Nothing stands out yet. Do the check first."
		return
	}
	if a.First == nil {
		a.First = n.standsBefore(a.Plan, top)
	}
	if a.First == nil && cause.Remedy.Adjuster != "" && top.Posterior < sureEnough {
		a.First = ownCheck(a.Plan, top.ID)
	}
	if a.First != nil && top.Stage != "rider" {
		a.Note = "Check this first: " + a.First.How
		return
	}
	if cause.Remedy.Adjuster == "" {
		a.Change = &Change{Cause: top.ID, Title: cause.Title, Remedy: cause.Remedy, Where: where(n, top)}
		return
	}
	n.turn(c, a, top, cause)
}

// turn fills in a change of a setting: at which end, how far this bike's range
// leaves, or that it leaves nothing.
func (n *Network) turn(c Case, a *Answer, top Ranked, cause Cause) {
	r := cause.Remedy
	r.Adjuster = n.atItsEnd(r.Adjuster, c, top)
	for _, back := range c.Recent {
		if back.Adjuster == r.Adjuster && back.Direction == opposite(r.Direction) && back.Steps > 0 {
			r.Steps = back.Steps // the way back to where it was is known ground
		}
	}
	s, known := settingOf(c.Settings, r.Adjuster)
	if known {
		r.Steps = min(r.Steps, s.left(r.Direction))
	}
	if r.Steps <= 0 {
		a.Refused = &Refusal{r.Adjuster, spoken(r.Adjuster) + " has no way left to go.", instead(r.Adjuster, r.Direction)}
		a.Note = a.Refused.Words + " " + a.Refused.Instead
		return
	}
	a.Change = n.built(top, cause, r, s, known)
}

// sureEnough is the posterior from which a setting is turned without the check
// that would settle it. Common practice, no source.
const sureEnough = 0.6

// ownCheck is the check of a cause itself, if it is still to make.
func ownCheck(plan []Step, cause string) *Step {
	for i, s := range plan {
		if s.Cause == cause {
			return &plan[i]
		}
	}
	return nil
}

// built puts the change into words, with the way there and back.
func (n *Network) built(top Ranked, cause Cause, r Remedy, s Setting, known bool) *Change {
	out := &Change{Cause: top.ID, Title: cause.Title, Where: where(n, top)}
	r.Words = changeWords(r.Adjuster, r.Direction, r.Steps)
	if known {
		from, to := s.At, s.moved(r.Direction, r.Steps)
		out.From, out.To = &from, &to
		r.Words += fmt.Sprintf(" From %d to %d.", from, to)
		r.Undo = fmt.Sprintf("Go back to %d and note it.", from)
	}
	out.Remedy = r
	return out
}

// putBack suggests undoing what was just changed and made it worse.
func (n *Network) putBack(c Case, a *Answer) bool {
	for _, r := range c.Recent {
		if !r.Worse {
			continue
		}
		back := Remedy{
			Adjuster: r.Adjuster, Direction: opposite(r.Direction), Steps: r.Steps,
			Words:  "Put back what was just changed: it made it worse. " + changeWords(r.Adjuster, opposite(r.Direction), r.Steps),
			Expect: "It is as it was before the change.", Wrong: "It stays as bad at the same pace.",
			Undo: "Make the change again.", Side: "None expected.",
		}
		s, known := settingOf(c.Settings, r.Adjuster)
		out := &Change{Remedy: back, Title: "The last change", PutBack: true, Where: where(n, a.Causes[0])}
		if known {
			from, to := s.At, s.moved(back.Direction, back.Steps)
			out.From, out.To = &from, &to
		}
		a.Change = out
		return true
	}
	return false
}

// atItsEnd moves a pressure remedy to the end that the evidence speaks of: the
// end whose gauge is out, else the end that most of the weight was told of.
func (n *Network) atItsEnd(adjuster string, c Case, top Ranked) string {
	if !strings.HasSuffix(adjuster, ".pressure") {
		return adjuster
	}
	front, rear := c.Facts.pressureOut("front"), c.Facts.pressureOut("rear")
	if front != rear {
		return map[bool]string{true: "front.pressure", false: "rear.pressure"}[front]
	}
	var lean float64
	for _, w := range top.For {
		f, known := n.finding[w.Finding]
		if !known {
			continue
		}
		switch end := n.endOf(f, c); end {
		case "front":
			lean += w.Weight
		case "rear":
			lean -= w.Weight
		}
	}
	if lean > 0 {
		return "front.pressure"
	}
	return "rear.pressure"
}

// endOf is where a finding was observed: what the report says, else where the
// finding belongs.
func (n *Network) endOf(f int, c Case) string {
	for _, o := range c.Findings {
		if o.Finding == n.findings[f].ID && o.End != "" && o.End != "whole" {
			return o.End
		}
	}
	return n.findings[f].End
}

// places say where on the lap a phase is.
var places = map[string]string{
	"braking": "on the brakes", "turn-in": "where you turn in", "mid-corner": "in the middle of the corner", "drive-out": "on the way out",
	"straight": "on the straight", "side-to-side": "where you change sides", "over-bumps": "over the same bumps", "whole-lap": "over the whole lap",
}

// where says where a change for a cause will be noticed: the place of the
// weightiest thing felt.
func where(n *Network, top Ranked) string {
	for _, w := range top.For {
		if f, ok := n.finding[w.Finding]; ok && places[n.findings[f].Phase] != "" {
			return places[n.findings[f].Phase]
		}
	}
	return places["whole-lap"]
}

// spoken says an adjuster's name as a rider would.
func spoken(adjuster string) string {
	end, what, _ := strings.Cut(adjuster, ".")
	if name := map[string]string{
		"steering.damper": "The steering damper", "chain.slack": "Chain slack", "bar.position": "The bar position",
		"sprocket.front": "The front sprocket", "sprocket.rear": "The rear sprocket",
	}[adjuster]; name != "" {
		return name
	}
	name := map[string]string{"compression-high": "high-speed compression", "height": "ride height", "pressure": "tyre pressure"}[what]
	if name == "" {
		name = what
	}
	return strings.ToUpper(end[:1]) + end[1:] + " " + name
}

// changeWords says one change: which adjuster, how far, which way.
func changeWords(adjuster, direction string, steps int) string {
	count := strconv.Itoa(steps) + " steps"
	if steps == 1 {
		count = "1 step"
	}
	_, what, _ := strings.Cut(adjuster, ".")
	switch {
	case strings.Contains(what, "rebound") || strings.Contains(what, "compression"):
		count = strings.Replace(count, "step", "click", 1)
	case what == "pressure":
		count = strings.Replace(count, "step", "psi step", 1)
	}
	words := fmt.Sprintf("%s: %s %s.", spoken(adjuster), count, map[string]string{"more": "more", "less": "less"}[direction])
	if what == "rebound" || what == "compression" || what == "preload" {
		if strings.HasPrefix(adjuster, "front") {
			words += " Both legs alike, unless your fork damps in one."
		}
	}
	return words
}

// instead is what is left when an adjuster has no way left to go.
func instead(adjuster, direction string) string {
	_, what, _ := strings.Cut(adjuster, ".")
	switch {
	case what == "preload" && direction == "more":
		return "The spring is too soft for you: a stiffer spring is next."
	case what == "preload":
		return "The spring is too stiff for you: a softer spring is next."
	case strings.Contains(what, "compression"), what == "rebound":
		return "The damper is worn, or its oil is wrong: a service is next, not a click."
	case what == "height":
		return "Use the other end: move it the other way by half as much."
	case what == "pressure":
		return "Ask the tyre maker's fitter: another tyre or compound is next."
	case what == "damper":
		return "Find what shakes the front: bearings, tyres, alignment."
	}
	return "Ask a qualified technician: the next step is a part, not a setting."
}

func settingOf(all []Setting, adjuster string) (Setting, bool) {
	for _, s := range all {
		if s.Adjuster == adjuster {
			return s, true
		}
	}
	return Setting{}, false
}

// moved is the position after steps in a physical direction.
func (s Setting) moved(direction string, steps int) int {
	if (direction == "less") != s.MoreIsLess {
		steps = -steps
	}
	return s.At + steps
}

// left is how many steps the range leaves in a physical direction.
func (s Setting) left(direction string) int {
	if s.moved(direction, 1) > s.At {
		return max(0, s.Most-s.At)
	}
	return max(0, s.At-s.Least)
}

func opposite(direction string) string {
	if direction == "more" {
		return "less"
	}
	return "more"
}
