package screen

import (
	"fmt"
	"math"
	"strings"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/calc"
	"plumbline/internal/chassis"
	"plumbline/internal/unit"
)

// Side is the bike seen from its right, drawn from what was measured. Scene is
// nil while dimensions are missing; Missing then says which.
type Side struct {
	Says    string    `json:"says"`
	Against string    `json:"against,omitempty"` // now against the line, in one sentence
	Scene   *Scene    `json:"scene,omitempty"`
	Rows    []SideRow `json:"rows"`
	Missing []string  `json:"missing"` // what is not known, in words
	Link    string    `json:"link"`    // where it is measured
	Note    string    `json:"note,omitempty"`
}

// SideRow is one dimension now and in the line; Line and More are "" without
// a line.
type SideRow struct {
	Name string `json:"name"`
	Now  string `json:"now"`
	Line string `json:"line,omitempty"`
	More string `json:"more,omitempty"`
}

// dimensions are what is known of a bike's geometry, and when it was measured:
// settings moved since then move it.
type dimensions struct {
	stance  chassis.Stance
	then    time.Time
	missing []string // needed for any drawing
	lift    float64  // mm that the rear axle goes down per mm of ride height; 0: not known
	links   float64  // of the chain; 0: not known
	pitch   float64  // mm; 0: not known
}

// dimensionsOf reads the topics "geometry" and "gearing".
func dimensionsOf(k *book.Bike) dimensions {
	m := k.Measures["geometry"]
	d := dimensionsFrom(k, m.Body)
	d.then = m.Wall
	return d
}

// dimensionsFrom reads a measurement of the geometry, saved or not yet.
func dimensionsFrom(k *book.Bike, m book.MeasureBody) dimensions {
	v := func(symbol string) float64 { return m.Values[symbol].Float() }
	d := dimensions{lift: liftOf(k), links: k.Measures["gearing"].Body.Values["links"].Float()}
	d.pitch, _ = chassis.PitchOf(k.Measures["gearing"].Body.Words["chain"]) // 0 when not known
	d.stance = chassis.Stance{
		Wheelbase: v("wheelbase"), Rake: v("rake"), Offset: v("offset"),
		FrontRadius: radiusOf(m, "front_radius", "front_tyre"), RearRadius: radiusOf(m, "rear_radius", "rear_tyre"),
		Swingarm: v("swingarm"),
	}
	s := &d.stance
	if _, known := m.Values["offset"]; !known {
		if trail, told := m.Values["trail"]; told && s.Rake > 0 && s.FrontRadius > 0 {
			s.Offset, _ = chassis.OffsetFor(s.Rake, s.FrontRadius, trail.Float())
		} else {
			d.missing = append(d.missing, "offset or trail")
		}
	}
	if pivot := v("pivot_height"); s.Swingarm > 0 && pivot > 0 && math.Abs(pivot-s.RearRadius) < 0.9*s.Swingarm {
		s.SwingarmDecline = math.Asin((pivot-s.RearRadius)/s.Swingarm) * 180 / math.Pi
	} else {
		s.Swingarm = 0
	}
	for _, need := range []struct {
		name string
		v    float64
	}{{"wheelbase", s.Wheelbase}, {"rake", s.Rake}, {"front tyre", s.FrontRadius}, {"rear tyre", s.RearRadius}} {
		if need.v <= 0 {
			d.missing = append(d.missing, need.name)
		}
	}
	return d
}

// liftOf is how far the rear axle goes per mm at the shock: one over its
// motion ratio; 0 when that is not known.
func liftOf(k *book.Bike) float64 {
	for _, topic := range []string{"geometry", "spring-rear"} {
		if ratio := k.Measures[topic].Body.Values["motion_ratio"].Float(); ratio > 0 {
			return 1 / ratio
		}
	}
	return 0
}

// radiusOf is a wheel's radius in mm: measured, or by the tyre's size; 0 when
// neither is known.
func radiusOf(m book.MeasureBody, measured, size string) float64 {
	if r, ok := m.Values[measured]; ok {
		return r.Float()
	}
	t, err := chassis.ParseTyreSize(m.Words[size])
	if err != nil {
		return 0
	}
	w, err := t.Wheel(0, 0)
	if err != nil {
		return 0
	}
	return w.Radius
}

// posture is where adjusters stand; nil is not known.
type posture func(*book.Setting) *unit.Fixed

func asNow(set *book.Setting) *unit.Fixed { return set.At }

// asThen is how settings stood at a moment.
func asThen(then time.Time) posture {
	return func(set *book.Setting) *unit.Fixed {
		at, _ := stoodAt(set, then.Add(time.Nanosecond))
		return at
	}
}

func asIn(line book.Baseline) posture {
	return func(set *book.Setting) *unit.Fixed {
		at, ok := line.At[set.ID]
		if !ok {
			return nil
		}
		return &at
	}
}

// with is a posture but for one adjuster.
func (p posture) with(id book.AdjusterID, at *unit.Fixed) posture {
	return func(set *book.Setting) *unit.Fixed {
		if set.ID == id {
			return at
		}
		return p(set)
	}
}

// gap is how far an adjuster moves from one posture to another, in its own
// unit; ok is false when either is not known.
func gap(k *book.Bike, id book.AdjusterID, from, to posture) (by float64, ok bool) {
	set, fitted := k.Settings[id]
	if !fitted || set.Retired {
		return 0, true
	}
	a, b := from(set), to(set)
	if a == nil || b == nil {
		return 0, a == nil && b == nil
	}
	return (*b - *a).Float(), true
}

// move is what settings do to the geometry on the way from one posture to
// another. Left lists what moved, or may have, and could not be reckoned.
func (d dimensions) move(k *book.Bike, from, to posture) (m chassis.Move, left []string) {
	fork, ok := gap(k, "front.height", from, to)
	if m.ForkRaised = fork; !ok {
		left = append(left, "fork height in the clamps")
	}
	switch rear, ok := gap(k, "rear.height", from, to); {
	case !ok:
		left = append(left, "rear ride height")
	case rear != 0 && d.lift == 0:
		left = append(left, "rear ride height, because its effect at the axle is not known")
	default:
		m.RearRaised = rear * d.lift
	}
	axle, ok := d.axleBack(k, from, to)
	if m.AxleBack = axle; !ok {
		left = append(left, "gearing, because chain size and links are not known")
	}
	return m, left
}

// axleBack is how far other sprockets move the axle back with the same chain,
// in mm.
func (d dimensions) axleBack(k *book.Bike, from, to posture) (float64, bool) {
	front, okF := gap(k, "sprocket.front", from, to)
	rear, okR := gap(k, "sprocket.rear", from, to)
	if front == 0 && rear == 0 {
		return 0, okF && okR
	}
	if d.links == 0 || d.pitch == 0 {
		return 0, false
	}
	teeth := func(id book.AdjusterID, p posture) float64 { return p(k.Settings[id]).Float() }
	before, err1 := chassis.Drive{Front: teeth("sprocket.front", from), Rear: teeth("sprocket.rear", from), Pitch: d.pitch}.Centre(d.links)
	after, err2 := chassis.Drive{Front: teeth("sprocket.front", to), Rear: teeth("sprocket.rear", to), Pitch: d.pitch}.Centre(d.links)
	return after - before, err1 == nil && err2 == nil
}

// standing solves the bike in a posture; from is how it was measured.
func (d dimensions) standing(k *book.Bike, from, at posture) (chassis.Standing, []string, error) {
	m, left := d.move(k, from, at)
	s, err := d.stance.After(m)
	return s, left, err
}

// geometryEffect says what moving one adjuster does to the geometry: "fork 5
// mm up in the clamps: rake −0.2°, trail −1.1 mm". It is "" for an adjuster
// that moves none, and while the dimensions that it takes are not known.
func geometryEffect(k *book.Bike, id book.AdjusterID, from, to *unit.Fixed) string {
	set, ok := k.Settings[id]
	d := dimensionsOf(k)
	if !ok || from == nil || to == nil || *from == *to || len(d.missing) > 0 || !movesGeometry(d, id) {
		return ""
	}
	then, now := asThen(d.then), settled(d, asNow)
	if then(set) == nil { // not known when it was measured: taken as where it starts
		then = then.with(id, from)
	}
	a, _, err1 := d.standing(k, then, now.with(id, from))
	b, _, err2 := d.standing(k, then, now.with(id, to))
	if err1 != nil || err2 != nil {
		return ""
	}
	return movedWords(set, *to-*from) + ": " + apart(a, b)
}

// usualMoves shows what the moves that riders make do to a bike's geometry.
func usualMoves(d dimensions) (calc.Table, error) {
	t := calc.Table{Title: "What the usual moves do", Head: []string{"Move", "Rake", "Trail", "Wheelbase"}}
	moves := []struct {
		name string
		m    chassis.Move
	}{
		{"Fork 5 mm up", chassis.Move{ForkRaised: 5}}, {"Fork 5 mm down", chassis.Move{ForkRaised: -5}},
		{"Rear axle 5 mm down", chassis.Move{RearRaised: 5}}, {"Axle 5 mm back", chassis.Move{AxleBack: 5}},
	}
	for _, mv := range moves {
		s, err := d.stance.After(mv.m)
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, []string{mv.name, plus(s.DRake, 2) + "°", plus(s.DTrail, 1) + " mm", plus(s.DWheelbase, 0) + " mm"})
	}
	return t, nil
}

// settled is a posture in which what is not known counts as not moved since
// the dimensions were measured.
func settled(d dimensions, p posture) posture {
	then := asThen(d.then)
	return func(set *book.Setting) *unit.Fixed {
		if at := p(set); at != nil && then(set) != nil {
			return at
		}
		return then(set)
	}
}

func movesGeometry(d dimensions, id book.AdjusterID) bool {
	switch id {
	case "front.height":
		return true
	case "rear.height":
		return d.lift > 0
	case "sprocket.front", "sprocket.rear":
		return d.links > 0 && d.pitch > 0
	}
	return false
}

// movedWords say a movement as one stands before the bike.
func movedWords(set *book.Setting, by unit.Fixed) string {
	size, up := max(by, -by), by > 0
	pick := func(more, less string) string {
		if up {
			return more
		}
		return less
	}
	switch set.ID {
	case "front.height":
		return "fork " + size.String() + " mm " + pick("up", "down") + " in the clamps"
	case "rear.height":
		return "rear ride height " + size.String() + " mm " + pick("up", "down")
	}
	return strings.ToLower(set.Name) + " " + size.String() + " " + book.Plural(set.Unit, size) + " " + pick("more", "fewer")
}

// apart says how one standing differs from another: "rake −0.2°, trail −1.1
// mm, wheelbase −2 mm". Tape errors cancel in such differences.
func apart(a, b chassis.Standing) string {
	out := []string{
		"rake " + plus(b.Rake-a.Rake, 1) + "°",
		"trail " + plus(b.Trail.Ground-a.Trail.Ground, 1) + " mm",
	}
	if base := b.Wheelbase - a.Wheelbase; math.Abs(base) >= 0.5 {
		out = append(out, "wheelbase "+plus(base, 0)+" mm")
	}
	return strings.Join(out, ", ")
}

// plus prints a difference with its sign and a proper minus; "±0" when it
// rounds away.
func plus(v float64, decimals int) string {
	s := fmt.Sprintf("%.*f", decimals, math.Abs(v))
	if strings.Trim(s, "0.") == "" {
		return "±0"
	}
	if v < 0 {
		return "−" + s
	}
	return "+" + s
}

// sideOf draws a bike now against a line.
func sideOf(k *book.Bike, line book.Baseline, drawn bool) Side {
	d := dimensionsOf(k)
	out := Side{Rows: []SideRow{}, Missing: d.missing, Link: "/measure/geometry"}
	if len(d.missing) > 0 {
		out.Says = "The side view is drawn from your own measurements. Not known yet: " + strings.Join(d.missing, ", ") + "."
		return out
	}
	out.Missing = []string{}
	now, left, err := d.standing(k, asThen(d.then), settled(d, asNow))
	if err != nil {
		out.Says = "These dimensions do not fit together. " + err.Error()
		return out
	}
	out.Says = fmt.Sprintf("Rake %.1f°, trail %.0f mm, wheelbase %.0f mm.", now.Rake, now.Trail.Ground, now.Wheelbase)
	var ghost *chassis.Standing
	if drawn {
		ghost, left = out.compare(k, d, line, now, left)
	}
	if ghost == nil {
		out.Rows = sideRows(now, nil)
	}
	if _, drift := d.move(k, asThen(d.then), asNow); len(drift) > 0 {
		left = drift
	}
	if len(left) > 0 {
		out.Note = "Left out, not known: " + strings.Join(also(nil, left...), "; ") + "."
	}
	scene := sideScene(now, ghost)
	out.Scene = &scene
	return out
}

// compare fills in how the bike stands against a line; nil when that cannot
// be solved.
func (s *Side) compare(k *book.Bike, d dimensions, line book.Baseline, now chassis.Standing, left []string) (*chassis.Standing, []string) {
	was, more, err := d.standing(k, asThen(d.then), settled(d, asIn(line)))
	if err != nil {
		return nil, left
	}
	s.Rows = sideRows(now, &was)
	var what []string
	for _, id := range []book.AdjusterID{"front.height", "rear.height", "sprocket.front", "sprocket.rear"} {
		if by, ok := gap(k, id, asIn(line), asNow); ok && by != 0 && movesGeometry(d, id) {
			f, _ := unit.FixedOf(by)
			what = append(what, movedWords(k.Settings[id], f))
		}
	}
	if len(what) == 0 {
		s.Against = "Against the line '" + line.Name + "': the geometry is the same."
	} else {
		s.Against = "Against the line '" + line.Name + "': " + strings.Join(what, ", ") + ": " + apart(was, now) + "."
	}
	return &was, append(left, more...)
}

func sideRows(now chassis.Standing, line *chassis.Standing) []SideRow {
	row := func(name string, decimals int, v func(chassis.Standing) float64) SideRow {
		r := SideRow{Name: name, Now: fmt.Sprintf("%.*f", decimals, v(now))}
		if line != nil {
			r.Line = fmt.Sprintf("%.*f", decimals, v(*line))
			r.More = plus(v(now)-v(*line), decimals)
		}
		return r
	}
	return []SideRow{
		row("Rake, °", 1, func(s chassis.Standing) float64 { return s.Rake }),
		row("Trail, mm", 1, func(s chassis.Standing) float64 { return s.Trail.Ground }),
		row("Wheelbase, mm", 0, func(s chassis.Standing) float64 { return s.Wheelbase }),
	}
}

// larger is how much larger than life differences are drawn: a millimetre is
// less than the width of a line.
const larger = 10

// sideScene draws the bike to scale from the rear contact patch. The body is
// only hinted at; wheels, steering axis, fork and swingarm are as measured.
func sideScene(now chassis.Standing, line *chassis.Standing) Scene {
	p := &pencil{}
	st := now.Stance
	if line != nil && (math.Abs(line.Rake-now.Rake) > 0.005 || math.Abs(line.Wheelbase-now.Wheelbase) > 0.05) {
		ghostFront(p, now, *line)
	}
	at := p.bike(st)
	front, head := at.front, at.head
	axis := now.Trail.Ground + front.x
	p.line("axis", head, spot{axis, 0})
	p.line("soft", spot{axis, 0}, spot{axis, -60})
	p.line("soft", front, spot{front.x, -60})
	p.put("dim", "part", 0, fmt.Sprintf("trail %.0f mm", now.Trail.Ground), spot{front.x, -60}, spot{axis, -60})
	p.put("dim", "part", 0, fmt.Sprintf("wheelbase %.0f mm", now.Wheelbase), spot{0, -250}, spot{front.x, -250})
	p.line("axis", head, head.add(0, -330))
	p.words("part", fmt.Sprintf("%.1f°", now.Rake), head.add(-95, -260))
	says := fmt.Sprintf("The bike from its right side, to scale: rake %.1f degrees, trail %.0f mm, wheelbase %.0f mm.", now.Rake, now.Trail.Ground, now.Wheelbase)
	if line != nil {
		says += fmt.Sprintf(" The dashed front end is the line; its difference is drawn %d times as large.", larger)
	}
	return p.scene(says, 30)
}

// steering draws fork and head, and returns the top of the steering axis.
func steering(p *pencil, role string, st chassis.Stance, front spot) spot {
	up := 90 + st.Rake
	foot := front.polar(st.Offset, st.Rake-180) // on the axis, square to the axle
	reach := (2*st.FrontRadius + 260 - foot.z) / math.Cos(st.Rake*math.Pi/180)
	head, low := foot.polar(reach, up), foot.polar(reach-160, up)
	tube := front.polar(reach+15, up)
	p.line(role, front, tube)
	p.line(role, head, head.polar(st.Offset, st.Rake))
	p.line(role, low, low.polar(st.Offset, st.Rake))
	return head
}

// ghostFront draws the line's front end dashed, its difference enlarged.
func ghostFront(p *pencil, now, line chassis.Standing) {
	by := larger * 1.0
	if d := math.Abs(line.Rake - now.Rake); d*by > 8 {
		by = 8 / d
	}
	g := now.Stance
	g.Rake += by * (line.Rake - now.Rake)
	g.Wheelbase += by * (line.Wheelbase - now.Wheelbase)
	front := spot{g.Wheelbase, g.FrontRadius}
	p.circle("ghost", front, front.z)
	steering(p, "ghost", g, front)
}

// body hints at frame, tank and seat, so that the eye finds the bike.
func (p *pencil) body(st chassis.Stance, head spot) {
	w, low := st.Wheelbase, head.add(0, -150)
	p.line("soft", low, spot{0.60 * w, 250}, spot{0.42 * w, 230}, spot{0.38 * w, 480}, head.add(-60, -60))
	p.line("soft", head.add(-70, -20), spot{0.60 * w, head.z + 70}, spot{0.46 * w, head.z - 60}, spot{0.2 * w, head.z - 50}, spot{-0.06 * w, head.z + 40}, spot{0.1 * w, head.z - 130}, spot{0.4 * w, head.z - 190})
}

// geometryWanted says what must be measured before an adjuster's effect on the
// geometry can be told, and where; both are "" when nothing is missing, or it
// has none.
func geometryWanted(k *book.Bike, id book.AdjusterID) (says, link string) {
	d := dimensionsOf(k)
	need, link := d.missing, "/measure/geometry"
	switch id {
	case "front.height":
	case "rear.height":
		if d.lift == 0 {
			need = append(need, "the motion ratio at the rear")
		}
	case "sprocket.front", "sprocket.rear":
		if len(need) == 0 && (d.links == 0 || d.pitch == 0) {
			need, link = []string{"the chain's size and links"}, "/measure/gearing"
		}
	default:
		return "", ""
	}
	if len(need) == 0 {
		return "", ""
	}
	return "What this does to rake and trail is not known yet. Measure " + strings.Join(need, ", ") + ".", link
}

// geometryOfStep says what a usual move of an adjuster does to the geometry,
// from where it stands: 5 mm, or one tooth. "" for one that moves none.
func geometryOfStep(k *book.Bike, set *book.Setting) string {
	if set.At == nil {
		return ""
	}
	by := unit.Whole(5)
	if set.Unit == "tooth" {
		by = unit.Whole(1)
	}
	to := *set.At + by
	if says := geometryEffect(k, set.ID, set.At, &to); says != "" {
		return "From here, " + says + "."
	}
	return ""
}
