package diagnosis

import "strings"

// Turned is a change of a setting as words tell it: which end (front, rear or
// both), which adjuster, and more or less in the physical sense.
type Turned struct {
	End       string `json:"end"`
	Adjuster  string `json:"adjuster"`
	Direction string `json:"direction"`
}

var adjusterWords = map[string]string{
	"rebound": "rebound", "reb": "rebound", "tension": "rebound", "compression": "compression", "comp": "compression", "clicks": "damping", "clickers": "damping", "damping": "damping",
	"preload": "preload", "collar": "preload", "height": "height", "yokes": "clamp", "yoke": "clamp", "clamps": "clamp", "clamp": "clamp", "triples": "clamp", "triple": "clamp",
	"pressure": "pressure", "pressures": "pressure", "psi": "pressure", "damper": "damper", "shim": "height", "spacer": "height", "eccentric": "height", "link": "height", "linkplates": "height",
	"forks": "clamp", "fork": "clamp", "rear": "height", "tail": "height", "front": "height", "shock": "height",
}

// The ways of turning. In and closed are more of a damper, and of a spring.
var (
	moreWords = set("in up more add added adding + closed close closing harder stiffer stiffen stiffened slower slowed slow wound raised raise raising higher increased screwed tightened lifted max maximum jacked upped longer thicker firmer fully taller wind pumped")
	lessWords = set("out down less - opened open opening softer soften softened faster removed reduced reduce lowered lower lowering dropped drop minus backed off slackened took shorter lowering thinner bled let")
)

// readTurned reads the change of a setting from words, and false if they tell
// of none. Where the words name no adjuster of their own but a height in the
// clamps, forks pushed up through them count as less height at the front.
func readTurned(words string) (Turned, bool) {
	var t Turned
	all := raws(words)
	named := ""
	more, less := 0, 0
	for i, w := range all {
		end := ""
		switch w {
		case "front", "fork", "forks", "yokes", "yoke":
			end = "front"
		case "rear", "shock", "tail":
			end = "rear"
		case "back":
			if i+1 >= len(all) || all[i+1] != "to" && all[i+1] != "in" && all[i+1] != "off" {
				end = "rear"
			}
		case "both", "all":
			end = "both"
		}
		switch {
		case end == "", t.End == end:
		case t.End == "":
			t.End = end
		case t.End != end && w != "all" && !(t.End == "front" && i+1 < len(all) && all[i+1] == "legs"):
			t.End = "both"
		}
		a := adjusterWords[w]
		if a != "" && rank(a, w) > rank(t.Adjuster, named) {
			t.Adjuster, named = a, w
		}
		if strings.HasPrefix(w, "+") {
			more++
		}
		if moreWords[w] {
			more++
		}
		if lessWords[w] {
			less++
		}
	}
	t = t.settled(words, more, less)
	return t, t.Adjuster != "" && t.Direction != "" && t.End != ""
}

// rank says which adjuster word names more: rebound over fork.
func rank(adjuster, word string) int {
	switch {
	case adjuster == "":
		return 0
	case word == "fork" || word == "forks" || word == "rear" || word == "tail" || word == "front" || word == "shock":
		return 1
	case adjuster == "damping":
		return 2
	}
	return 3
}

// settled works out the direction, and turns clamps into front height.
func (t Turned) settled(words string, more, less int) Turned {
	lower := strings.ToLower(words)
	if strings.Contains(lower, " -") && !strings.Contains(lower, "- ") {
		less++
	}
	switch {
	case more > less:
		t.Direction = "more"
	case less > more:
		t.Direction = "less"
	}
	through := strings.Contains(lower, "through") || strings.Contains(lower, "flush") || strings.Contains(lower, "in the") || strings.Contains(lower, "yoke") || strings.Contains(lower, "clamp") || strings.Contains(lower, "triple")
	if t.Adjuster == "clamp" {
		t.Adjuster, t.End = "height", "front"
		switch {
		case !through && t.Direction != "":
			// "forks raised" without a word on the clamps is the tubes.
			t.Direction = opposite(t.Direction)
		case strings.Contains(lower, "flush"), strings.Contains(lower, "lower") && strings.Contains(lower, "through"), strings.Contains(lower, "dropped in"), strings.Contains(lower, "dropped through"), strings.Contains(lower, "lower in"), strings.Contains(lower, "lowered in"), strings.Contains(lower, "slid down"):
			t.Direction = "more"
		case t.Direction != "" || strings.Contains(lower, "push") || strings.Contains(lower, "through"):
			t.Direction = "less" // tubes up through, or the yokes dropped down the tubes
		}
	}
	if t.Adjuster == "damper" {
		t.End = "steering"
	}
	return t
}

// marks are the facts that a change of a setting is.
func (t Turned) marks() []string {
	ends := []string{t.End}
	if t.End == "both" {
		ends = []string{"front", "rear"}
	}
	way := map[string]string{"more": "in", "less": "out"}[t.Direction]
	var out []string
	for _, end := range ends {
		switch t.Adjuster {
		case "rebound", "compression", "preload":
			out = append(out, end+"-"+t.Adjuster+"-"+way)
		case "damping":
			out = append(out, end+"-rebound-"+way, end+"-compression-"+way)
		case "height":
			out = append(out, map[string]string{"frontmore": "front-raised", "frontless": "forks-through", "rearmore": "rear-raised", "rearless": "rear-lowered"}[end+t.Direction])
		case "pressure":
			out = append(out, map[string]string{"more": "pressure-raised", "less": "pressure-lowered"}[t.Direction])
		}
	}
	if t.Adjuster == "damper" && t.Direction == "more" {
		out = append(out, "damper-up")
	}
	return out
}
