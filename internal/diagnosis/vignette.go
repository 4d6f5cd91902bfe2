package diagnosis

import (
	"encoding/json"
	"errors"
	"fmt"
	"sort"
	"strings"
)

// VignetteFormat is the case files' format that Vignettes reads.
const VignetteFormat = "symptom-cases/1"

// Vignette is one worked case in plain words.
type Vignette struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Kind  string `json:"kind"`
	Bike  struct {
		RiderKg       *float64 `json:"rider_kg"`
		Springs       string   `json:"springs"`
		Tyre          string   `json:"tyre"`
		Service       string   `json:"service"`
		Falls         string   `json:"falls"`
		RecentChanges []string `json:"recent_changes"`
	} `json:"bike"`
	Measurements map[string]any `json:"measurements"`
	Observations []struct {
		Phase string `json:"phase"`
		End   string `json:"end"`
		Side  string `json:"side"`
		Says  string `json:"says"`
	} `json:"observations"`
	TyreLook    []string `json:"tyre_look"`
	ChecksFound []string `json:"checks_found"`
	Track       struct {
		Name    string   `json:"name"`
		Surface string   `json:"surface"`
		Weather string   `json:"weather"`
		Air     *float64 `json:"air_c"`
	} `json:"track"`
	Accepted []struct {
		Rank int    `json:"rank"`
		Key  string `json:"key"`
	} `json:"accepted_causes"`
	WrongActions []string `json:"wrong_actions"`
}

// Vignettes reads a case file of one case or more. Fields that it does not know
// are passed over.
func Vignettes(raw []byte) ([]Vignette, error) {
	var file struct {
		Format string     `json:"format"`
		Cases  []Vignette `json:"cases"`
	}
	if err := json.Unmarshal(raw, &file); err != nil {
		return nil, NotCases(err)
	}
	if file.Format != VignetteFormat {
		return nil, fmt.Errorf("format is %q, want %q", file.Format, VignetteFormat)
	}
	if len(file.Cases) == 0 {
		return nil, errors.New("there are no cases in it")
	}
	return file.Cases, nil
}

// NotCases tells what is wrong with the JSON of a case file in the file's own
// names.
func NotCases(err error) error {
	var wrong *json.UnmarshalTypeError
	if !errors.As(err, &wrong) {
		return fmt.Errorf("not a case file: %w", err)
	}
	if wrong.Field == "" {
		return fmt.Errorf("not a case file: it holds no {…} but an %s", wrong.Value)
	}
	return fmt.Errorf("not a case file: %s cannot be a %s", wrong.Field, wrong.Value)
}

// Known refuses cases that accept a cause which the network does not have:
// misspelt, it would count as a miss.
func (n *Network) Known(cases []Vignette) error {
	for _, v := range cases {
		for _, a := range v.Accepted {
			if _, ok := n.cause[a.Key]; !ok {
				return fmt.Errorf("case %s accepts %q, and there is no such cause", v.ID, a.Key)
			}
		}
	}
	return nil
}

// Score is how the engine did on a set of cases. Brier is the mean over cases
// and their five likeliest causes of (posterior − accepted)², in [0, 1].
type Score struct {
	Cases       int     `json:"cases"`
	Top1        float64 `json:"top1"`
	Top3        float64 `json:"top3"`
	FirstSafe   float64 `json:"firstSafe"`
	Brier       float64 `json:"brier"`
	Reliability []Bin   `json:"reliability"`
	Misses      []Miss  `json:"misses"`
}

// Bin is one row of the reliability table: of Count claims between Low and
// High, the mean posterior said and the share that was accepted.
type Bin struct {
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	Count int     `json:"count"`
	Said  float64 `json:"said"`
	Came  float64 `json:"came"`
}

// Miss is a case that was not ranked as accepted, or whose action is wrong.
type Miss struct {
	Case   string   `json:"case"`
	Want   string   `json:"want"`
	Ranked []string `json:"ranked"`
	Place  int      `json:"place"`
	Wrong  string   `json:"wrong,omitempty"`
	Heard  []string `json:"heard"` // findings, a denied one with "not", and facts
}

// Evaluate scores the network on cases. Top-1 and top-3 ask for the case's
// first accepted cause. Source of the score: Brier, Verification of forecasts
// expressed in terms of probability, Monthly Weather Review 1950.
func (n *Network) Evaluate(cases []Vignette) Score {
	s := Score{Cases: len(cases)}
	for k := range 5 {
		s.Reliability = append(s.Reliability, Bin{Low: float64(k) / 5, High: float64(k+1) / 5})
	}
	if len(cases) == 0 {
		return s
	}
	claims := 0
	for _, v := range cases {
		c := n.Case(v)
		a := n.Diagnose(c)
		claims += s.tally(v, a)
		place, wrong := placeOf(v, a), v.wrong(a)
		if place == 1 {
			s.Top1++
		}
		if place >= 1 && place <= 3 {
			s.Top3++
		}
		if wrong == "" {
			s.FirstSafe++
		}
		if place != 1 || wrong != "" {
			s.Misses = append(s.Misses, miss(v, c, a, place, wrong))
		}
	}
	total := float64(len(cases))
	s.Top1, s.Top3, s.FirstSafe, s.Brier = s.Top1/total, s.Top3/total, s.FirstSafe/total, s.Brier/float64(claims)
	for k := range s.Reliability {
		if b := &s.Reliability[k]; b.Count > 0 {
			b.Said, b.Came = b.Said/float64(b.Count), b.Came/float64(b.Count)
		}
	}
	return s
}

func (s *Score) tally(v Vignette, a Answer) int {
	top := a.Causes[:min(5, len(a.Causes))]
	for _, r := range top {
		came := 0.0
		for _, k := range v.Accepted {
			if k.Key == r.ID {
				came = 1
			}
		}
		s.Brier += (r.Posterior - came) * (r.Posterior - came)
		b := &s.Reliability[min(4, int(r.Posterior*5))]
		b.Count, b.Said, b.Came = b.Count+1, b.Said+r.Posterior, b.Came+came
	}
	return len(top)
}

// first is the cause that a case accepts first.
func (v Vignette) first() string {
	all := append(v.Accepted[:0:0], v.Accepted...)
	sort.SliceStable(all, func(i, j int) bool { return all[i].Rank < all[j].Rank })
	if len(all) == 0 {
		return ""
	}
	return all[0].Key
}

func placeOf(v Vignette, a Answer) int {
	for i, r := range a.Causes {
		if r.ID == v.first() {
			return i + 1
		}
	}
	return 0
}

func miss(v Vignette, c Case, a Answer, place int, wrong string) Miss {
	m := Miss{Case: v.ID + " " + v.Title, Want: v.first(), Place: place, Wrong: wrong}
	for _, o := range append(append([]Observed(nil), c.Findings...), c.Facts.observed()...) {
		heard := o.Finding
		switch {
		case o.Absent:
			heard = "not " + heard
		case o.Sure > 0:
			heard += fmt.Sprintf(" %.2f", o.Sure)
		}
		m.Heard = append(m.Heard, heard)
	}
	m.Heard = append(m.Heard, c.Facts.Marks...)
	for _, r := range a.Causes[:min(3, len(a.Causes))] {
		m.Ranked = append(m.Ranked, fmt.Sprintf("%s %.2f", r.ID, r.Posterior))
	}
	return m
}

// wrong returns the wrong action that the answer's change would be.
func (v Vignette) wrong(a Answer) string {
	if a.Change == nil || a.Change.Adjuster == "" {
		return ""
	}
	for _, w := range v.WrongActions {
		if isAction(strings.ToLower(w), a.Change.Adjuster, a.Change.Direction) {
			return w
		}
	}
	return ""
}

// isAction reads whether words ask for this adjuster to go this way. Words
// that name no way or no end mean either.
func isAction(words, adjuster, direction string) bool {
	end, what, _ := strings.Cut(adjuster, ".")
	any := func(list ...string) bool {
		for _, w := range list {
			if strings.Contains(words, w) {
				return true
			}
		}
		return false
	}
	if end == "steering" {
		what, end = "damper", ""
	}
	if end == "front" && any("rear", "shock") && !any("front", "fork") || end == "rear" && any("front", "fork") && !any("rear", "shock") {
		return false
	}
	if any("in one step", "in one go", "at once") && !any(adjuster) {
		return false // several changes together are not this one change
	}
	what, fast := strings.CutSuffix(what, "-high")
	if any("same " + what) {
		return false // it is to stay
	}
	if !any(what) || any("high-speed") && !fast || any("low-speed") && fast {
		return false
	}
	up := any("more", "up", "add", "close", "stiffen", "slow", "rais", "tighten", "higher")
	down := any("less", "open", "lower", "down", "drop", "soften", "softer")
	return !up && !down || up && direction == "more" || down && direction == "less"
}
