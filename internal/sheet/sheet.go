package sheet

import "plumbline/internal/unit"

// Sheet is one bike on one page. All words are ready to read, in the units and
// with the names that the rider chose to show.
type Sheet struct {
	Made     string    `json:"made"` // "12 Sep 2026 14:05"
	Bike     Bike      `json:"bike"`
	Rider    string    `json:"rider,omitempty"` // "N. H., 82 kg in kit"
	Stop     string    `json:"stop,omitempty"`  // do not ride until…
	Line     string    `json:"line,omitempty"`  // the line that drift is told from
	Settings []Setting `json:"settings"`
	Measures []Row     `json:"measures,omitempty"`
	History  []Row     `json:"history,omitempty"` // services, parts and falls, newest first
	Changes  []Change  `json:"changes,omitempty"` // newest first
	Symptoms []Row     `json:"symptoms,omitempty"`
	Causes   []Row     `json:"causes,omitempty"` // likely ones, likeliest first
	Checks   []Row     `json:"checks,omitempty"` // open ones
}

// Bike is what the machine is.
type Bike struct {
	Name  string `json:"name"`
	Year  int    `json:"year,omitempty"`
	Class string `json:"class,omitempty"`
	Tyres string `json:"tyres,omitempty"`
}

// Setting is one adjuster. At and Drift are words; N is the position in the
// adjuster's canonical unit, so that two sheets compare whatever units their
// riders read.
type Setting struct {
	ID       string      `json:"id"`
	Name     string      `json:"name"`
	At       string      `json:"at"`
	Standing string      `json:"standing"`
	Drift    string      `json:"drift,omitempty"`
	N        *unit.Fixed `json:"n,omitempty"`
}

// Row is something with a name, words about it and a day, each of which but
// the name may be empty.
type Row struct {
	Title string `json:"title"`
	Says  string `json:"says,omitempty"`
	When  string `json:"when,omitempty"`
}

// Change is one thing that was turned: who turned it, whose idea, why, and
// what came of it.
type Change struct {
	Title   string `json:"title"`
	When    string `json:"when"`
	Who     string `json:"who,omitempty"`
	Idea    string `json:"idea,omitempty"`
	Why     string `json:"why,omitempty"`
	Verdict string `json:"verdict,omitempty"`
}
