package diagnosis

import (
	"strings"
	"testing"
)

// endNames are how riders name an end, and phaseNames how they name a phase.
var (
	endNames = map[string][]string{
		"front": {"the front", "my front end", "the fork", "the nose", "front wheel"},
		"rear":  {"the rear", "my back end", "the tail", "the shock", "back wheel"},
		"whole": {"the bike", "it", "the whole bike", "the machine", "this thing"},
	}
	phaseNames = map[string][]string{
		"braking":      {"on the brakes", "under braking", "when I brake", "slowing for the hairpin", "as I pull the lever"},
		"turn-in":      {"at turn in", "tipping it in", "on corner entry", "when I lean it in", "going into corners"},
		"mid-corner":   {"mid corner", "at the apex", "in long bends", "on a steady throttle", "halfway round"},
		"drive-out":    {"on the gas", "driving out", "on the exit", "when I pick up the throttle", "as the power comes in"},
		"straight":     {"on the straight", "in a straight line", "flat out", "at speed", "down the back straight"},
		"side-to-side": {"in the chicane", "changing direction", "side to side", "through the esses", "flicking left to right"},
		"over-bumps":   {"over bumps", "on ripples", "on the rough bit", "when the road is lumpy", "across potholes"},
		"standstill":   {"at walking pace", "in the paddock", "at a standstill", "when parked", "in the car park"},
		"whole-lap":    {"everywhere"},
	}
)

// deeds are findings and how riders say what the end does, so that it stands
// after the end: "the rear ...".
var deeds = []struct {
	finding, phase, end string
	does                []string
}{
	{"front-dives", "braking", "front", []string{"dives", "drops like a stone", "goes down too fast", "plunges", "falls on its nose", "nosedives"}},
	{"brake-hammer", "braking", "front", []string{"bottoms out", "hits the stops", "slams into the end of its travel", "runs out of travel with a bang"}},
	{"brake-shudder", "braking", "front", []string{"judders", "shudders through the bars", "shakes as I first squeeze", "trembles"}},
	{"brake-clunk", "braking", "front", []string{"clunks", "gives one knock", "clonks", "has a click each time"}},
	{"front-skips-brakes", "braking", "front", []string{"hops", "skips", "patters", "bounces across the ripples"}},
	{"rear-light-brakes", "braking", "rear", []string{"goes light", "swings about", "weaves", "wags", "steps around", "is loose"}},
	{"rear-judder-brakes", "braking", "rear", []string{"judders", "hops", "chatters", "skips"}},
	{"rear-hop-downshift", "braking", "rear", []string{"hops when I change down", "locks on the downshift", "bounces as I go down the box", "skips when the clutch comes out"}},
	{"turn-heavy", "turn-in", "whole", []string{"is heavy", "needs a big shove", "is slow to turn", "takes muscle", "fights me", "is like a barge", "does not want to turn"}},
	{"turn-fast", "turn-in", "whole", []string{"falls in", "drops in too quickly", "darts in", "turns too fast", "flops over", "is too eager"}},
	{"front-tucks-brake", "turn-in", "front", []string{"tucks", "folds with the brake still on", "wants to close up", "knifes"}},
	{"drifts-apex", "mid-corner", "front", []string{"runs wide", "pushes", "understeers", "washes out", "will not hold the line", "drifts off line"}},
	{"front-vague", "mid-corner", "front", []string{"is vague", "gives no feedback", "feels numb", "tells me nothing", "has no feel", "is wooly"}},
	{"skates", "mid-corner", "front", []string{"slides without warning", "skates", "lets go all at once"}},
	{"chatter-lean", "mid-corner", "front", []string{"chatters", "buzzes at full lean", "chatters right over on its side"}},
	{"rear-wallow", "mid-corner", "rear", []string{"wallows", "bounces", "floats", "pumps up and down", "bobs about", "is like a boat"}},
	{"rear-slides", "mid-corner", "rear", []string{"slides", "has no grip", "steps out", "will not grip", "breaks away"}},
	{"hunts-line", "mid-corner", "whole", []string{"hunts", "needs constant corrections", "wanders", "will not settle on a line"}},
	{"rear-squats", "drive-out", "rear", []string{"squats", "sits down", "sinks", "sags", "collapses"}},
	{"front-light-drive", "drive-out", "front", []string{"goes light", "lifts", "wheelies", "paws the air"}},
	{"runs-wide-drive", "drive-out", "whole", []string{"runs wide", "pushes wide", "drifts out to the kerb", "uses all the road", "understeers"}},
	{"rear-breaks-away", "drive-out", "rear", []string{"spins up", "steps out", "lets go", "snaps sideways", "slides suddenly"}},
	{"headshake", "drive-out", "front", []string{"shakes its head", "wobbles", "goes into a headshake", "wags over the crest"}},
	{"drive-surge", "drive-out", "whole", []string{"surges", "jerks", "is snatchy", "lurches", "pulls in jerks"}},
	{"nervous-straight", "straight", "whole", []string{"is nervous", "is twitchy", "is flighty", "is unstable"}},
	{"weave-speed", "straight", "whole", []string{"weaves", "snakes", "sways slowly", "fishtails"}},
	{"pulls-one-side", "straight", "whole", []string{"pulls to the left", "drifts to one side", "veers right", "steers itself to the right"}},
	{"bar-buzz-speed", "straight", "front", []string{"buzzes between 120 and 140", "vibrates in every gear at one speed", "has a tingle at 90 mph in any gear"}},
	{"steady-straight", "straight", "whole", []string{"is rock steady", "is stable", "is planted", "runs on rails"}},
	{"flick-slow", "side-to-side", "whole", []string{"is slow", "is hard work", "is tiring to flick", "is heavy"}},
	{"pitching", "side-to-side", "whole", []string{"pitches", "rocks with the throttle and the brake", "seesaws on and off the gas"}},
	{"front-harsh-bump", "over-bumps", "front", []string{"is harsh", "hurts my wrists", "jars", "is rock hard on each hit", "beats my hands up"}},
	{"front-packs", "over-bumps", "front", []string{"packs down", "gets lower with each one", "gets harder bump by bump", "sinks and stays down in a row"}},
	{"knock-ridges", "over-bumps", "front", []string{"knocks", "clunks", "rattles"}},
	{"rear-harsh-bump", "over-bumps", "rear", []string{"is harsh", "throws me off the seat", "is too hard", "hits me in the spine"}},
	{"rear-kicks", "over-bumps", "rear", []string{"kicks", "bucks", "kicks back after", "springs up after it"}},
	{"rear-packs", "over-bumps", "rear", []string{"packs down", "gets lower with each one", "gets harder bump by bump", "stays down in a row of them"}},
	{"rear-skips", "over-bumps", "rear", []string{"skips", "hops", "patters", "skitters"}},
	{"rear-bottoms", "over-bumps", "rear", []string{"bottoms", "hits the bump stop", "uses all its travel"}},
	{"rear-dead", "over-bumps", "rear", []string{"is dead", "feels like wood", "has no movement", "is lifeless"}},
	{"bumps-fine", "over-bumps", "whole", []string{"is fine", "is plush", "soaks it all up", "absorbs everything well"}},
	{"heavy-standstill", "standstill", "front", []string{"is heavy to turn", "is stiff to steer", "steers heavily"}},
	{"slow-wander", "standstill", "whole", []string{"wanders", "weaves", "will not go straight"}},
}

// orders are the ways of putting end, deed and time into one sentence.
var orders = []string{
	"@end @does @time",
	"@time @end @does",
	"@time, @end just @does a bit",
	"really annoying: @end @does @time, every lap",
}

// sentence is the k-th way to say that an end does something.
func sentence(phase, end, does string, k int) string {
	names, when := endNames[end], phaseNames[phase]
	said := strings.NewReplacer("@end", names[k%len(names)], "@does", does, "@time", when[(k+k/5)%len(when)]).Replace(orders[k%len(orders)])
	if k%4 == 0 {
		return strings.ToUpper(said)
	}
	return said
}

// slipped makes a sentence as a hurried thumb types it: two letters of its
// longest word change endNames, or one is dropped or doubled.
func slipped(words string, way int) string {
	longest := ""
	for _, w := range strings.Fields(words) {
		if len(w) > len(longest) {
			longest = w
		}
	}
	k := len(longest) / 2
	if len(longest) < 6 {
		return words
	}
	wrong := [...]string{
		longest[:k] + longest[k+1:k+2] + longest[k:k+1] + longest[k+2:],
		longest[:k] + longest[k+1:],
		longest[:k] + longest[k:k+1] + longest[k:],
	}[way%3]
	return strings.Replace(words, longest, wrong, 1)
}

// Sentences put together from what riders call an end and a phase, and what
// they say it does, are heard whatever their order, apostrophes and slips.
// The words were written beside the lexicon, so the share holds what is heard;
// it does not say how well strangers are. Before the lexicon was widened for it,
// 0.843 were heard first and 0.914 among three.
func TestSentencesAreHeard(t *testing.T) {
	n := Load()
	first, three, all := 0, 0, 0
	for _, f := range deeds {
		missed := map[string]int{}
		for d, does := range f.does {
			for k := range 10 {
				plain := sentence(f.phase, f.end, does, d+k)
				for _, said := range []string{plain, slipped(plain, k)} {
					all++
					at := place3(n.MatchAt(said, f.phase, f.end), f.finding)
					if at == 1 {
						first++
					}
					if at > 0 {
						three++
					} else {
						missed[does]++
					}
				}
			}
		}
		if len(missed) > 0 {
			t.Logf("%s is missed in %v", f.finding, missed)
		}
	}
	one, some := float64(first)/float64(all), float64(three)/float64(all)
	t.Logf("%d sentences: first %.3f, in three %.3f", all, one, some)
	if one < 0.9 || some < 0.97 {
		t.Errorf("of %d sentences %.3f are heard first, %.3f among three", all, one, some)
	}
}

// place3 is the place of a finding among the first three offers that are not
// denied, or 0.
func place3(offers []Offer, finding string) int {
	for k, o := range offers[:min(3, len(offers))] {
		if o.Finding == finding && !o.Negated {
			return k + 1
		}
	}
	return 0
}

// What is denied is never heard as a complaint.
func TestDenialsAreHeard(t *testing.T) {
	n := Load()
	wrong, all := 0, 0
	for _, f := range []struct {
		finding, phase, end string
		deed, noun          string
	}{
		{"front-dives", "braking", "front", "dive", "dive"},
		{"brake-shudder", "braking", "front", "judder", "judder"},
		{"rear-judder-brakes", "braking", "rear", "hop", "hop"},
		{"rear-wallow", "mid-corner", "rear", "wallow", "wallow"},
		{"chatter-lean", "mid-corner", "front", "chatter", "chatter"},
		{"rear-squats", "drive-out", "rear", "squat", "squat"},
		{"headshake", "drive-out", "front", "shake", "headshake"},
		{"weave-speed", "straight", "whole", "weave", "weave"},
		{"rear-kicks", "over-bumps", "rear", "kick", "kick"},
		{"knock-ridges", "over-bumps", "front", "knock", "knock"},
	} {
		for _, place := range endNames[f.end] {
			for _, when := range phaseNames[f.phase] {
				for _, how := range []string{"@end does not @deed @time", "@end doesn't @deed @time", "@end never @deeds @time", "no @noun from @end @time", "without any @noun @time", "@time there isn't a @noun", "@end didnt @deed @time"} {
					said := strings.NewReplacer("@end", place, "@deed", f.deed, "@noun", f.noun, "@time", when).Replace(how)
					all++
					if place3(n.MatchAt(said, f.phase, f.end), f.finding) == 1 {
						wrong++
						t.Logf("%q is heard as %s", said, f.finding)
					}
				}
			}
		}
	}
	if wrong > 0 {
		t.Errorf("of %d denials %d are heard as complaints", all, wrong)
	}
}

// A bike that pumps wallows; arms that are pumped ache.
func TestPumpingIsNoAche(t *testing.T) {
	n := Load()
	for words, want := range map[string]string{
		"rear wallows and pumps off the corner":   "rear-wallow",
		"my forearms are pumped by the last laps": "late-in-session",
	} {
		if got := n.Match(words); len(got) == 0 || got[0].Finding != want {
			t.Errorf("%q: %+v, want %s first", words, got, want)
		}
	}
}

// "No hop when …" denies the hop alone; "not when …" denies what follows.
func TestNotWhenDeniesWhatFollows(t *testing.T) {
	l := Load().matcher.lexicon
	for words, want := range map[string]bool{"not when I brake": true, "no hop when I brake": false} {
		if _, s := saidAs(l.read(words), "brake"); s.not != want {
			t.Errorf("%q: brake denied %v, want %v", words, s.not, want)
		}
	}
}
