package diagnosis

import (
	"slices"
)

// Turned is a change of a setting as words tell it: which end (front, rear,
// both or steering), which adjuster, and more or less in the physical sense.
type Turned struct {
	End       string `json:"end"`
	Adjuster  string `json:"adjuster"`
	Direction string `json:"direction"`
}

// adjusterWords name adjusters outright.
var adjusterWords = map[string]string{
	"rebound": "rebound", "reb": "rebound", "compression": "compression", "comp": "compression", "damping": "damping", "clickers": "damping",
	"preload": "preload", "collar": "preload", "caps": "preload", "pressure": "pressure", "pressures": "pressure", "psi": "pressure", "damper": "damper",
	"height": "height", "eccentric": "height", "links": "height", "dogbones": "height", "softened": "damping", "stiffened": "damping", "tyre": "pressure", "tire": "pressure",
}

// hints name an adjuster if nothing else does, and only with a word for the
// height: the forks or the rear went up or down.
var (
	clampWords  = set("fork forks tube tubes yoke yokes clamp clamps triple triples")
	heightWords = set("raised raise raising lowered lower lowering dropped drop higher taller longer shorter jacked pushed through flush slid spacer shim up down")
	springWords = set("wound wind turns turned")
)

// The ways of turning, the plain ones first. In and closed are more of a
// damper and of a spring; up and on are only hints.
var (
	moreWords = set("in more add added adding closed close closing harder stiffer stiffen stiffened slower slowed raised raise raising higher increased screwed tightened lifted max maximum jacked longer taller thicker firmer extra")
	lessWords = set("out less opened open opening softer soften softened faster removed reduced reduce lowered lower lowering dropped drop minus backed off undone unscrewed slackened thinner shorter bled let took")
	moreHints = set("up on plus turns wound")
	lessHints = set("down minimum")
)

// readTurned reads the change of a setting from words, and false if they tell
// of none. End is where it was if the words name no end.
func readTurned(words, end string) (Turned, bool) {
	all := raws(words)
	t := Turned{End: end}
	if named := endNamed(all); named != "" {
		t.End = named
	}
	lean := leaning(all, words)
	for _, w := range all {
		if a := adjusterWords[w]; a != "" && (t.Adjuster == "" || t.Adjuster == "damping" || w != "tyre" && w != "tire" && t.Adjuster == "pressure") {
			t.Adjuster = a
		}
	}
	has := func(list map[string]bool) bool {
		return slices.ContainsFunc(all, func(w string) bool { return list[w] })
	}
	switch {
	case t.Adjuster == "" && slices.Contains(all, "spring") && has(springWords):
		t.Adjuster = "preload"
	case t.Adjuster == "" && t.End != "" && has(heightWords) && has(set("front rear back tail shock fork forks tubes yokes yoke clamps clamp triple triples")):
		t.Adjuster = "height"
	}
	if t.Adjuster == "compression" && has(set("high hi fast")) && has(set("speed")) {
		t.Adjuster = "compression-high"
	}
	if t.Adjuster == "height" && t.End != "rear" && has(clampWords) {
		t.End, lean = "front", clamped(all, lean)
	}
	switch {
	case lean > 0:
		t.Direction = "more"
	case lean < 0:
		t.Direction = "less"
	}
	if t.Adjuster == "damper" {
		t.End = "steering"
	}
	plainTyre := t.Adjuster == "pressure" && !has(set("pressure pressures psi bar"))
	return t, t.Adjuster != "" && t.Direction != "" && t.End != "" && !plainTyre && !has(set("wheel axle"))
}

// endNamed is the end that words name: front, rear, both or none.
func endNamed(all []string) string {
	front, rear := false, false
	for i, w := range all {
		next := ""
		if i+1 < len(all) {
			next = all[i+1]
		}
		switch w {
		case "front", "fork", "forks", "caps", "yokes", "yoke", "clamps":
			front = true
		case "rear", "shock", "tail":
			rear = true
		case "back":
			rear = rear || next != "to" && next != "in" && next != "off" && next != "out"
		case "both":
			if next != "legs" && next != "forks" && next != "sides" {
				front, rear = true, true
			}
		}
	}
	switch {
	case front && rear:
		return "both"
	case front:
		return "front"
	case rear:
		return "rear"
	}
	return ""
}

// leaning says which way words turn something: above zero is more. A plain
// word counts twice a hint.
func leaning(all []string, words string) int {
	lean := 0
	for i, w := range all {
		switch {
		case (w == "in" || w == "on") && i+1 < len(all) && set("the my this")[all[i+1]]:
			// "in the clamps" is a place
		case moreWords[w]:
			lean += 2
		case lessWords[w]:
			lean -= 2
		case moreHints[w]:
			lean++
		case lessHints[w]:
			lean--
		}
		if len(w) > 1 && w[0] == '+' {
			lean += 2
		}
	}
	for i := range len(words) - 1 {
		if words[i] == '-' && words[i+1] >= '0' && words[i+1] <= '9' && (i == 0 || words[i-1] == ' ') {
			lean -= 2
		}
	}
	return lean
}

// clamped turns a move in the clamps into front height: the tubes going up, or
// the clamps going down them, set the front lower.
func clamped(all []string, lean int) int {
	for _, w := range all {
		switch w {
		case "front":
			return lean
		case "yoke", "yokes", "clamp", "clamps", "triple", "triples":
			return -1
		case "fork", "forks", "tube", "tubes":
			if slices.Contains(all, "flush") || slices.Contains(all, "level") {
				return 1
			}
			if slices.Contains(all, "through") && lean >= 0 || slices.Contains(all, "pushed") {
				return -1
			}
			return -lean
		}
	}
	return lean
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
		case "rebound", "compression", "compression-high", "preload":
			out = append(out, end+"-"+t.Adjuster+"-"+way)
		case "damping":
			out = append(out, end+"-rebound-"+way, end+"-compression-"+way)
		case "height":
			out = append(out, map[string]string{"frontmore": "front-raised", "frontless": "forks-through", "rearmore": "rear-raised", "rearless": "rear-lowered"}[end+t.Direction])
		case "pressure":
			out = append(out, map[string]string{"more": "pressure-raised", "less": "pressure-lowered"}[t.Direction])
		}
	}
	if t.Adjuster == "compression" && t.End == "both" && t.Direction == "less" {
		out = append(out, "all-compression-out")
	}
	if t.Adjuster == "damper" && t.Direction == "more" {
		out = append(out, "damper-up")
	}
	return out
}
