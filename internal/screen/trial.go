package screen

import (
	"cmp"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"slices"

	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// OnTrial is a running trial on Today: how far it is, and what comes next.
type OnTrial struct {
	Entry    entry.ID `json:"entry"`
	Title    string   `json:"title"`
	Plan     string   `json:"plan"` // "There and back"
	Since    string   `json:"since"`
	Idea     string   `json:"idea,omitempty"`
	Why      string   `json:"why,omitempty"`
	Expect   string   `json:"expect,omitempty"`
	Spoiled  string   `json:"spoiled,omitempty"`
	Progress string   `json:"progress"`
	Next     string   `json:"next"`
	Undo     string   `json:"undo"`
	Sure     string   `json:"sure"`
	More     bool     `json:"more,omitempty"` // the rider said: ride more
}

// TrialArgs asks for one trial. Chance is the secret of its sealed draw, which
// only the phone that drew it has; Peek shows the friend what it says.
type TrialArgs struct {
	Trial  entry.ID `json:"trial"`
	Chance string   `json:"chance"`
	Peek   bool     `json:"peek"`
}

// TrialPage is one trial: its plan and how far it is, what the laps say, and
// which run belongs to which side.
type TrialPage struct {
	OnTrial
	Bike     book.BikeID     `json:"bike"`
	Adjuster book.AdjusterID `json:"adjuster"`
	Kind     string          `json:"kind"` // the plan's id
	PlanSays string          `json:"planSays"`
	A        string          `json:"a"` // the old setting, in words
	B        string          `json:"b"`
	Steps    []TrialStep     `json:"steps"`
	Do       TrialDo         `json:"do"`
	Felt     string          `json:"felt"`
	Ready    bool            `json:"ready"` // there is something to judge
	Laps     LapsSay         `json:"laps"`
	Dots     *TrialDots      `json:"dots,omitempty"`
	Sweep    *SweepPicture   `json:"sweep,omitempty"`
	Blind    *Blind          `json:"blind,omitempty"`
	Runs     []TrialRunLine  `json:"runs"`
	Sides    []Choice        `json:"sides"` // where a run can be placed by hand
	People   []Choice        `json:"people"`
	Verdict  string          `json:"verdict"` // "", "keep", "back", "more"
	Judged   string          `json:"judged,omitempty"`
	Chosen   string          `json:"chosen,omitempty"`
	Plans    []Choice        `json:"plans"` // that a change on trial can still be given
}

// TrialStep is one step of the plan.
type TrialStep struct {
	Says string `json:"says"`
	Done bool   `json:"done"`
}

// TrialDo is the next thing to do: "set" the adjuster to To, "ride", "draw",
// "say", "judge" or "" when the trial is over.
type TrialDo struct {
	Act  string      `json:"act"`
	Says string      `json:"says"`
	Sure string      `json:"sure,omitempty"`
	To   *unit.Fixed `json:"to,omitempty"`
}

// TrialRunLine is a session in a trial.
type TrialRunLine struct {
	Session   book.SessionID `json:"session"`
	Title     string         `json:"title"` // "Run 2, 11:20"
	Side      string         `json:"side"`
	Where     string         `json:"where"` // "new setting, 10 clicks out"
	Laps      string         `json:"laps"`
	Felt      string         `json:"felt,omitempty"`
	Out       string         `json:"out,omitempty"` // why it is left out
	Mixed     string         `json:"mixed,omitempty"`
	Overruled bool           `json:"overruled,omitempty"`
	Counts    bool           `json:"counts"`
	Movable   bool           `json:"movable"`
}

// Blind is a blind trial: what was drawn so far, and for the friend what is
// under the seal.
type Blind struct {
	Sealed  entry.ID     `json:"sealed,omitempty"` // the draw that is not opened yet
	Ridden  bool         `json:"ridden"`           // a run was ridden under it
	Secret  bool         `json:"secret"`           // this phone can open it
	Friend  *FriendSays  `json:"friend,omitempty"` // for the friend's eyes
	Draws   []OpenedDraw `json:"draws"`            // opened, oldest first
	Record  string       `json:"record"`
	Options []Choice     `json:"options"` // the two settings, to say which
}

// FriendSays is what the friend is to do.
type FriendSays struct {
	To   string `json:"to"`
	Says string `json:"says"`
}

// OpenedDraw is one opened draw.
type OpenedDraw struct {
	Right bool   `json:"right"`
	Says  string `json:"says"`
}

var (
	_ = view("trial", trialPage)
	_ = action("plan", giveAPlan)
	_ = action("side", placeRun)
	_ = action("draw", drawBlind)
	_ = action("reveal", revealDraw)
	_ = action("rate", rate)
)

func trialPage(a Ask, args TrialArgs) (any, []book.Refusal) {
	k, t, refused := trialOf(a.Book, args.Trial)
	if refused != nil {
		return nil, refused
	}
	w := weigh(a.Book, k, t)
	s := shower{a.Book}
	out := TrialPage{
		OnTrial: onTrial(a, w), Bike: k.ID, Adjuster: t.Body.Adjuster, Kind: t.Plan, PlanSays: planSays[t.Plan], Felt: t.Felt,
		A: sideAt(s, w.set, t.Body.From), B: sideAt(s, w.set, t.Body.To), Steps: w.steps(s), Do: w.do(s),
		Runs: w.lines(a), Sides: w.places(s), People: peopleFor(a), Verdict: t.Verdict, Plans: []Choice{}, Laps: sayLaps(w.says),
	}
	out.Ready = w.ready()
	if t.Judged != nil {
		out.Judged = verdictWords[t.Verdict] + ", " + s.day(*t.Judged, a.Now)
	}
	if t.Chosen != nil {
		out.Chosen = s.position(w.set, *t.Chosen)
	}
	switch t.Plan {
	case book.PlanSweep:
		out.Sweep = sweepPicture(s, w)
	case book.PlanBlind:
		out.Blind = blind(s, w, args)
		out.Dots = lapDots(w)
	default:
		out.Dots = lapDots(w)
	}
	if t.Plan == "" && t.Runs() && t.Body.From != nil && t.Body.To != nil {
		out.Plans = []Choice{{book.PlanBack, "Make it there and back"}}
	}
	return out, nil
}

// planSays tells what a plan is for.
var planSays = map[string]string{
	"":             "One change, one question. Ride the same pace as before; nothing else is changed until the verdict.",
	book.PlanBack:  "The old setting, the new one, then the old one again. What the day does by itself, such as a track that dries, shows in the two runs on the old setting and is taken out.",
	book.PlanSweep: "One adjuster through its range, a lap or two at each position. Feel where it is good, where it gets worse at either end, then choose. It teaches what the adjuster does.",
	book.PlanBlind: "A friend sets one of two by a secret draw. You ride and say which it was. If you cannot tell them apart, it does not matter which you keep.",
}

func sideAt(s shower, set *book.Setting, at *unit.Fixed) string {
	if at == nil {
		return "not known"
	}
	return s.position(set, *at)
}

func onTrial(a Ask, w weighing) OnTrial {
	s, t := shower{a.Book}, w.t
	out := OnTrial{
		Entry: t.Entry, Title: trialTitle(s, w.k, t), Plan: capital(planWords[t.Plan]), Since: s.moment(t.Wall, a.Now), Idea: nameOf(a.Book, t.Body.Idea),
		Why: t.Body.Why, Expect: t.Body.Expect, More: t.Verdict == "more", Progress: w.progress(s), Next: w.do(s).Says,
	}
	if n := len(t.Spoiled); n > 0 {
		out.Spoiled = "Since then " + many(n, "other change") + " came on top, so it is harder to say what helped."
	}
	undo := undoing(a, w.k, t)
	out.Undo, out.Sure = w.set.Name+": "+s.move(w.set, undo.From, undo.To, undo.Delta), capital(s.sure(w.set))+"."
	return out
}

// trialsOnToday are the running trials of a bike.
func trialsOnToday(a Ask, k *book.Bike) []OnTrial {
	out := []OnTrial{}
	for _, t := range k.Running() {
		if k.Settings[t.Body.Adjuster] != nil {
			out = append(out, onTrial(a, weigh(a.Book, k, t)))
		}
	}
	return out
}

// counted counts the runs and the laps that count on one side.
func (w weighing) counted(side string) (runs, lapsThere int) {
	for _, r := range w.runs {
		if n := len(laps.Counted(w.laps[r.Session.Body.Session])); r.Counts() && r.Side == side {
			runs, lapsThere = runs+1, lapsThere+n
		}
	}
	return runs, lapsThere
}

// ready reports whether there is something to judge: a run on each side, or a
// ridden stop.
func (w weighing) ready() bool {
	if w.t.Plan == book.PlanSweep {
		return len(w.stopsRidden()) > 0
	}
	before, _ := w.counted(book.SideA)
	after, _ := w.counted(book.SideB)
	return before > 0 && after > 0 || after > 0 && w.t.Plan == ""
}

func (w weighing) stopsRidden() map[unit.Fixed]bool {
	out := map[unit.Fixed]bool{}
	for _, r := range w.runs {
		if r.Counts() && r.At != nil && slices.Contains(w.t.Stops, *r.At) {
			out[*r.At] = true
		}
	}
	return out
}

func (w weighing) progress(s shower) string {
	switch w.t.Plan {
	case book.PlanSweep:
		return fmt.Sprintf("%d of %s ridden.", len(w.stopsRidden()), many(len(w.t.Stops), "position"))
	case book.PlanBlind:
		tally := drawTally(w.t)
		if tally.Of == 0 && len(w.t.Draws) > 0 {
			return "The first draw is sealed."
		}
		if tally.Of == 0 {
			return "Nothing drawn yet."
		}
		return fmt.Sprintf("You named %d of %s right.", tally.Yes, many(tally.Of, "draw"))
	}
	before, b := w.counted(book.SideA)
	after, n := w.counted(book.SideB)
	return "Old setting: " + ran(before, b) + ". New setting: " + ran(after, n) + "."
}

func ran(runs, n int) string {
	if runs == 0 {
		return "not ridden yet"
	}
	return many(runs, "run") + ", " + many(n, "clean lap")
}

// drawTally counts the opened draws, and those that the rider named right.
func drawTally(t book.Trial) laps.Tally {
	var out laps.Tally
	for _, d := range t.Draws {
		if d.Side == "" {
			continue
		}
		out.Of++
		if d.Right() {
			out.Yes++
		}
	}
	return out
}

// ridden is the order of sides that count, each change of side once.
func (w weighing) ridden() []string {
	var out []string
	for _, r := range w.runs {
		if r.Counts() && (len(out) == 0 || out[len(out)-1] != r.Side) {
			out = append(out, r.Side)
		}
	}
	return out
}

func (w weighing) steps(s shower) []TrialStep {
	switch w.t.Plan {
	case book.PlanSweep:
		return w.sweepSteps(s)
	case book.PlanBlind:
		return []TrialStep{}
	}
	order := []string{book.SideA, book.SideB}
	if w.t.Plan == book.PlanBack {
		order = append(order, book.SideA)
	}
	ridden := w.ridden()
	out := []TrialStep{}
	for _, side := range order {
		step := TrialStep{Says: "Ride on " + sideWords[side] + ", " + sideAt(s, w.set, w.sideFixed(side))}
		if len(out) == 2 {
			step.Says = "Ride on the old setting again"
		}
		if i := slices.Index(ridden, side); i >= 0 {
			step.Done, ridden = true, ridden[i+1:]
		}
		out = append(out, step)
	}
	return out
}

func (w weighing) sideFixed(side string) *unit.Fixed {
	if side == book.SideA {
		return w.t.Body.From
	}
	return w.t.Body.To
}

func (w weighing) sweepSteps(s shower) []TrialStep {
	ridden := w.stopsRidden()
	out := []TrialStep{}
	for _, at := range w.t.Stops {
		out = append(out, TrialStep{capital(s.position(w.set, at)), ridden[at]})
	}
	return out
}

// do finds the next thing to do.
func (w weighing) do(s shower) TrialDo {
	switch {
	case !w.t.Runs():
		return TrialDo{}
	case w.t.Plan == book.PlanSweep:
		ridden := w.stopsRidden()
		for _, at := range w.t.Stops {
			if !ridden[at] {
				return w.setThenRide(s, &at, "Ride a lap or two there, then tap Came in.")
			}
		}
		return TrialDo{Act: "judge", Says: "All positions are ridden. Choose one."}
	case w.t.Plan == book.PlanBlind:
		return w.doBlind()
	}
	for _, side := range w.sidesLeft() {
		return w.setThenRide(s, w.sideFixed(side), "Ride on "+sideWords[side]+", the same pace as before, then tap Came in.")
	}
	if w.says.Call == laps.RideMore && w.says.MoreRuns > 0 && w.says.MoreRuns <= 4 && w.t.Plan == book.PlanBack {
		return TrialDo{Act: "judge", Says: "The laps cannot tell yet: ride on, or go by feel."}
	}
	return TrialDo{Act: "judge", Says: "All runs are ridden. See what they say."}
}

// sidesLeft are the sides that the plan still wants, the next first. A change
// that is just tried cannot be ridden before any more.
func (w weighing) sidesLeft() []string {
	steps := w.steps(shower{w.b})
	order := []string{book.SideA, book.SideB, book.SideA}
	var out []string
	for i, st := range steps {
		if !st.Done && !(w.t.Plan == "" && order[i] == book.SideA) {
			out = append(out, order[i])
		}
	}
	return out
}

func (w weighing) setThenRide(s shower, to *unit.Fixed, ride string) TrialDo {
	if to == nil || w.set.At != nil && *w.set.At == *to {
		return TrialDo{Act: "ride", Says: ride}
	}
	move := s.move(w.set, w.set.At, to, nil)
	if w.set.At == nil {
		move = "set it to " + s.position(w.set, *to)
	}
	return TrialDo{Act: "set", Says: w.set.Name + ": " + move + ".", Sure: capital(s.sure(w.set)) + ".", To: to}
}

func (w weighing) doBlind() TrialDo {
	d, sealed := w.t.Open()
	switch {
	case !sealed && w.set.At == nil && len(w.t.Draws) == 0:
		return TrialDo{Act: "draw", Says: "Ask a friend to set it by a secret draw."}
	case !sealed:
		return TrialDo{Act: "draw", Says: "Hand the phone to your friend for the next draw."}
	case w.riddenUnder(d):
		return TrialDo{Act: "say", Says: "Which one was it?"}
	}
	return TrialDo{Act: "ride", Says: "Ride, then tap Came in. Do not count the clicks."}
}

// riddenUnder reports whether a run was ridden under a sealed draw.
func (w weighing) riddenUnder(d book.Draw) bool {
	return slices.ContainsFunc(w.runs, func(r book.TrialRun) bool { return r.Out == "sealed" })
}

// outWords say why a run is left out.
var outWords = map[string]string{
	"wet": "the track was in another state", "day": "another day", "other": "other settings were changed after it",
	"unknown": "the adjuster stood elsewhere, or nobody knows where", "sealed": "its draw is still sealed", "rider": "you left it out",
}

func (w weighing) lines(a Ask) []TrialRunLine {
	s := shower{a.Book}
	out := []TrialRunLine{}
	for i, r := range w.runs {
		id := r.Session.Body.Session
		l := TrialRunLine{
			Session: id, Side: r.Side, Out: outWords[r.Out], Overruled: r.Overruled, Counts: r.Counts(), Movable: r.Out != "sealed",
			Title: fmt.Sprintf("Run %d, %s", i+1, s.moment(book.Ridden(r.Session), a.Now)), Felt: r.Session.Body.Felt, Laps: lapsThere(w.laps[id]),
		}
		if r.Out == "sealed" {
			l.Where = "under seal"
		} else {
			l.Where = join(map[string]string{book.SideA: "old setting", book.SideB: "new setting"}[r.Side], placed(s, w.set, r.At))
		}
		for _, other := range r.Mixed {
			l.Mixed = join(l.Mixed, w.k.Settings[other].Name)
		}
		out = append(out, l)
	}
	return out
}

func placed(s shower, set *book.Setting, at *unit.Fixed) string {
	if at == nil {
		return ""
	}
	return s.position(set, *at)
}

func lapsThere(all []laps.Lap) string {
	n := sums(all)
	if n.All == 0 {
		return "no laps timed"
	}
	if n.Counted == 0 {
		return fmt.Sprintf("%s, none counts", many(n.All, "lap"))
	}
	return fmt.Sprintf("%d of %s count, middle %s", n.Counted, many(n.All, "lap"), seconds(n.Middle))
}

// places are where a run can be put by hand.
func (w weighing) places(s shower) []Choice {
	if w.t.Plan == book.PlanSweep {
		out := []Choice{}
		for _, at := range w.t.Stops {
			out = append(out, Choice{"at:" + at.String(), s.position(w.set, at)})
		}
		return append(out, Choice{book.SideOut, "Leave it out"})
	}
	return []Choice{{book.SideA, "Old setting"}, {book.SideB, "New setting"}, {book.SideOut, "Leave it out"}}
}

// PlanForm gives the trial of a change a plan.
type PlanForm struct {
	Trial  entry.ID    `json:"trial"`
	Plan   string      `json:"plan"`
	Wanted *unit.Fixed `json:"wanted"`
}

func giveAPlan(a Ask, f PlanForm) ([]book.Draft, []book.Refusal) {
	k, t, refused := trialOf(a.Book, f.Trial)
	if refused != nil {
		return nil, refused
	}
	n := book.TrialBody{Bike: k.ID, Adjuster: t.Body.Adjuster, Plan: f.Plan, Change: t.Entry, Wanted: f.Wanted}
	return []book.Draft{{Kind: book.KindTrial, Body: n}}, nil
}

// SideForm places a run by hand: a side, "at:" with a stop, or "" to take it
// back.
type SideForm struct {
	Trial   entry.ID       `json:"trial"`
	Session book.SessionID `json:"session"`
	Side    string         `json:"side"`
}

func placeRun(a Ask, f SideForm) ([]book.Draft, []book.Refusal) {
	k, t, refused := trialOf(a.Book, f.Trial)
	if refused != nil {
		return nil, refused
	}
	n := book.RunBody{Bike: k.ID, Trial: t.Entry, Session: f.Session, Side: f.Side}
	if len(f.Side) > 3 && f.Side[:3] == "at:" {
		at, err := unit.ParseFixed(f.Side[3:])
		if err != nil {
			return nil, []book.Refusal{{Field: "side", Says: "That is not a position of the sweep.", Mend: "Choose one from the list."}}
		}
		n.Side, n.At = "", &at
	}
	return []book.Draft{{Kind: book.KindRun, Body: n}}, nil
}

// DrawForm asks for a blind draw. Chance is randomness of the phone in base64,
// at least 17 bytes; the phone keeps it to open the draw.
type DrawForm struct {
	Trial  entry.ID `json:"trial"`
	Chance string   `json:"chance"`
	By     Who      `json:"by"`
}

func drawBlind(a Ask, f DrawForm) ([]book.Draft, []book.Refusal) {
	k, t, refused := trialOf(a.Book, f.Trial)
	if refused != nil {
		return nil, refused
	}
	side, salt, ok := drawn(f.Chance)
	if !ok {
		return nil, []book.Refusal{{Field: "chance", Says: "The phone drew nothing.", Mend: "Try again."}}
	}
	by, people := person(a, f.By)
	return append(people, book.Draft{Kind: book.KindDraw, Body: book.DrawBody{Bike: k.ID, Trial: t.Entry, Seal: book.SealDraw(t.Entry, side, salt), By: by}}), nil
}

func drawn(chance string) (side string, salt []byte, ok bool) {
	raw, err := base64.StdEncoding.DecodeString(chance)
	if err != nil {
		return "", nil, false
	}
	return book.DrawSide(raw)
}

// RevealForm says which side the rider thinks it was, and opens the draw.
type RevealForm struct {
	Draw   entry.ID `json:"draw"`
	Trial  entry.ID `json:"trial"`
	Said   string   `json:"said"`
	Chance string   `json:"chance"`
}

func revealDraw(a Ask, f RevealForm) ([]book.Draft, []book.Refusal) {
	k, t, refused := trialOf(a.Book, f.Trial)
	if refused != nil {
		return nil, refused
	}
	d, sealed := t.Open()
	if !sealed || d.Entry != f.Draw {
		return nil, []book.Refusal{{Field: "draw", Says: "This draw is open already.", Mend: "Draw the next one."}}
	}
	side, salt, ok := drawn(f.Chance)
	if !ok || book.SealDraw(t.Entry, side, salt) != d.Seal {
		return nil, []book.Refusal{{Field: "draw", Says: "This phone cannot open the draw: another one made it.", Mend: "Open it there, or give the draw up and count the adjuster."}}
	}
	return []book.Draft{{Kind: book.KindReveal, Body: book.RevealBody{Bike: k.ID, Draw: d.Entry, Said: f.Said, Side: side, Salt: hex.EncodeToString(salt)}}}, nil
}

// RateForm is how a trial felt.
type RateForm struct {
	Trial entry.ID `json:"trial"`
	Felt  string   `json:"felt"`
}

func rate(a Ask, f RateForm) ([]book.Draft, []book.Refusal) {
	k, t, refused := trialOf(a.Book, f.Trial)
	if refused != nil {
		return nil, refused
	}
	return []book.Draft{{Kind: book.KindRating, Body: book.RatingBody{Bike: k.ID, Trial: t.Entry, Felt: f.Felt}}}, nil
}

// blind is the state of a blind trial. What is under the seal is only told to
// the friend, by the phone that drew it.
func blind(s shower, w weighing, args TrialArgs) *Blind {
	out := &Blind{
		Draws: []OpenedDraw{}, Record: drawTally(w.t).FeelRecord(),
		Options: []Choice{{book.SideA, "The old one, " + sideAt(s, w.set, w.t.Body.From)}, {book.SideB, "The new one, " + sideAt(s, w.set, w.t.Body.To)}},
	}
	for _, d := range w.t.Draws {
		if d.Side != "" {
			word := "Right"
			if !d.Right() {
				word = "Wrong"
			}
			out.Draws = append(out.Draws, OpenedDraw{d.Right(), fmt.Sprintf("%s: you said %s, it was %s", word, sideWords[d.Said], sideWords[d.Side])})
		}
	}
	d, sealed := w.t.Open()
	if !sealed {
		return out
	}
	out.Sealed, out.Ridden = d.Entry, w.riddenUnder(d)
	side, salt, ok := drawn(args.Chance)
	if out.Secret = ok && book.SealDraw(w.t.Entry, side, salt) == d.Seal; out.Secret && args.Peek {
		out.Friend = friendSays(s, w, side)
	}
	return out
}

func friendSays(s shower, w weighing, side string) *FriendSays {
	to := w.sideFixed(side)
	return &FriendSays{
		To:   w.set.Name + ": set it to " + s.position(w.set, *to),
		Says: "Turn it well away first and then there, every time, so that neither sound nor look gives it away. " + capital(cmp.Or(setFrom(s, w.set), s.sure(w.set))) + ". Say nothing, and hand the phone back.",
	}
}
