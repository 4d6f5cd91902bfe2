package screen

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/laps/trace"
	"plumbline/internal/unit"
)

// Tracks is the book's own list of tracks.
type Tracks struct {
	Tracks []TrackRow `json:"tracks"`
}

// TrackRow is one track in a line.
type TrackRow struct {
	ID   book.TrackID `json:"id"`
	Name string       `json:"name"`
	Says string       `json:"says"`
	Best string       `json:"best,omitempty"`
}

// TrackArgs asks for a track.
type TrackArgs struct {
	Track book.TrackID `json:"track"`
	Bike  book.BikeID  `json:"bike"`
}

// TrackPage is one track: what is known of it, its map, its days.
type TrackPage struct {
	ID      book.TrackID `json:"id"`
	Form    TrackForm    `json:"form"`
	Corners []Corner     `json:"corners"`
	Picture TrackPicture `json:"picture"`
	Days    []DayRow     `json:"days"`
}

// Corner is a corner with what was felt there.
type Corner struct {
	Number int         `json:"number"`
	Name   string      `json:"name"`
	Felt   int         `json:"felt"`         // symptoms noted there
	At     *[2]float64 `json:"at,omitempty"` // on the picture
	Says   string      `json:"says"`
}

// TrackPicture is the map as a picture in a square of 1000, y downwards. None
// says that there is no map yet.
type TrackPicture struct {
	None   bool            `json:"none,omitempty"`
	Way    [][2]float64    `json:"way"`
	Start  *[2][2]float64  `json:"start,omitempty"`
	Splits [][2][2]float64 `json:"splits"`          // where sectors end
	Earth  bool            `json:"earth,omitempty"` // it lies on the earth, so laps can be timed at its line
	Scale  string          `json:"scale,omitempty"` // the length of a quarter of the picture's width
	Says   string          `json:"says"`
}

// TrackForm is what the rider says of a track. Corners are names in order, an
// empty one is called by its number. Length is in metres.
type TrackForm struct {
	Track   book.TrackID `json:"track"`
	Name    string       `json:"name"`
	Bumpy   string       `json:"bumpy"`
	Way     string       `json:"way"`
	Length  *unit.Fixed  `json:"length"`
	Corners []CornerForm `json:"corners"`
	Note    string       `json:"note"`
}

// CornerForm is a corner's name and its place on the picture.
type CornerForm struct {
	Name string      `json:"name"`
	At   *[2]float64 `json:"at"`
}

var (
	_ = view("tracks", tracksPage)
	_ = view("track", trackPage)
	_ = action("track", trackNoted)
	_ = action("sketch", sketched)
	_ = action("lines", linesPlaced)
	_ = view("trackfile", trackFile)
)

func tracksPage(a Ask, _ struct{}) (any, []book.Refusal) {
	out := Tracks{Tracks: []TrackRow{}}
	k, none := bikeOf(a.Book, "")
	for _, c := range trackChoices(a.Book) {
		row := TrackRow{ID: book.TrackID(c.ID), Name: c.Name, Says: trackSays(a.Book.Tracks[book.TrackID(c.ID)])}
		if none == nil {
			days, best := riddenAt(a.Book, k, row.ID)
			row.Says = join(row.Says, many(days, "day"))
			if best > 0 {
				row.Best = seconds(best)
			}
		}
		out.Tracks = append(out.Tracks, row)
	}
	return out, nil
}

// riddenAt counts a bike's days at a track, and returns its best lap there in
// seconds, 0 when none counts.
func riddenAt(b *book.Book, k *book.Bike, track book.TrackID) (days int, best float64) {
	for _, d := range b.RidingDays(k) {
		if d.Track != track {
			continue
		}
		days++
		for _, s := range d.Sessions {
			if sum := sums(stint(k, s.Body.Session)); sum.Counted > 0 && (best == 0 || sum.Best < best) {
				best = sum.Best
			}
		}
	}
	return days, best
}

var bumpyWords = map[string]string{"smooth": "smooth", "some": "some bumps", "bumpy": "bumpy"}

func trackSays(t book.Track) string {
	out := join(t.Way, bumpyWords[t.Bumpy])
	if t.Length != nil {
		out = join(t.Length.String()+" m", out)
	}
	if n := len(t.Corners); n > 0 {
		out = join(out, many(n, "corner"))
	}
	return out
}

func trackPage(a Ask, args TrackArgs) (any, []book.Refusal) {
	t, ok := a.Book.Tracks[args.Track]
	if !ok {
		return nil, []book.Refusal{{Field: "track", Says: "This track is not in the book.", Mend: "Go back to the list of tracks."}}
	}
	frame := frameOf(t.Map)
	out := TrackPage{
		ID: args.Track, Picture: pictureOf(t, frame), Corners: []Corner{}, Days: []DayRow{},
		Form: TrackForm{Track: args.Track, Name: t.Name, Bumpy: t.Bumpy, Way: t.Way, Length: t.Length, Corners: []CornerForm{}, Note: t.Note},
	}
	felt := feltByCorner(a.Book, args.Track)
	for i, c := range t.Corners {
		name := cornerName(t, i)
		row := Corner{Number: i + 1, Name: name, Felt: len(felt[name]), Says: strings.Join(felt[name], "; ")}
		if c.At != nil {
			at := frame.place(*c.At)
			row.At = &at
		}
		out.Corners = append(out.Corners, row)
		out.Form.Corners = append(out.Form.Corners, CornerForm{c.Name, row.At})
	}
	if k, none := bikeOf(a.Book, args.Bike); none == nil {
		out.Days = dayRows(a, k, args.Track)
	}
	return out, nil
}

func feltByCorner(b *book.Book, id book.TrackID) map[string][]string {
	out := map[string][]string{}
	for _, bike := range b.BikeOrder {
		for _, n := range b.Bikes[bike].Symptoms {
			if n.Body.Track == id && n.Body.Corner != "" {
				says := cmp.Or(n.Body.Words, findingsSay(n.Body.Findings))
				out[n.Body.Corner] = append(out[n.Body.Corner], n.Wall.Format("2 Jan")+": "+says)
			}
		}
	}
	return out
}

// frame is how a map lies in the picture: per is units of the map for one of
// the picture's thousand.
type frame struct{ left, top, per float64 }

const pictureSide = 1000

func frameOf(m *book.Map) frame {
	if m == nil || len(m.Points) == 0 {
		return frame{0, pictureSide, 1}
	}
	left, right := math.Inf(1), math.Inf(-1)
	low, top := math.Inf(1), math.Inf(-1)
	for _, p := range m.Points {
		left, right = min(left, p[0].Float()), max(right, p[0].Float())
		low, top = min(low, p[1].Float()), max(top, p[1].Float())
	}
	const air = 0.08
	side := max(right-left, top-low, 1)
	per := side * (1 + 2*air) / pictureSide
	return frame{(left+right)/2 - pictureSide/2*per, (low+top)/2 + pictureSide/2*per, per}
}

func (f frame) place(s book.Spot) [2]float64 {
	return [2]float64{round1((s[0].Float() - f.left) / f.per), round1((f.top - s[1].Float()) / f.per)}
}

// spot is the inverse of place.
func (f frame) spot(at [2]float64) book.Spot {
	x, _ := unit.FixedOf(round1(f.left + at[0]*f.per))
	y, _ := unit.FixedOf(round1(f.top - at[1]*f.per))
	return book.Spot{x, y}
}

func pictureOf(t book.Track, f frame) TrackPicture {
	if t.Map == nil || len(t.Map.Points) == 0 {
		return TrackPicture{None: true, Way: [][2]float64{}, Splits: [][2][2]float64{}, Says: "There is no map of this track yet."}
	}
	out := TrackPicture{Way: [][2]float64{}, Splits: [][2][2]float64{}, Earth: t.Map.Origin != nil, Says: "A sketch of " + t.Name + ", not to scale."}
	for _, p := range t.Map.Points {
		out.Way = append(out.Way, f.place(p))
	}
	if s := t.Map.Start; s != nil {
		out.Start = &[2][2]float64{f.place(s[0]), f.place(s[1])}
	}
	for _, l := range t.Map.Splits {
		out.Splits = append(out.Splits, [2][2]float64{f.place(l[0]), f.place(l[1])})
	}
	if out.Earth {
		out.Scale = fmt.Sprintf("%.0f m", f.per*pictureSide/4)
		out.Says = "A map of " + t.Name + ", north up."
	}
	if t.Way != "" {
		out.Says += " Ridden " + t.Way + "."
	}
	return out
}

func trackNoted(a Ask, f TrackForm) ([]book.Draft, []book.Refusal) {
	body := book.TrackBody{Track: f.Track, Name: strings.TrimSpace(f.Name), Bumpy: f.Bumpy, Way: f.Way, Length: f.Length, Note: strings.TrimSpace(f.Note)}
	if body.Track == "" {
		for _, c := range trackChoices(a.Book) {
			if strings.EqualFold(c.Name, body.Name) {
				return nil, []book.Refusal{{Field: "name", Says: "This track is in the book already.", Mend: "Pick it from the list, or give this one another name."}}
			}
		}
		body.Track = book.TrackID(a.Mint())
	}
	frame := frameOf(a.Book.Tracks[body.Track].Map)
	body.Corners = []book.Corner{}
	for _, c := range f.Corners {
		one := book.Corner{Name: strings.TrimSpace(c.Name)}
		if c.At != nil {
			at := frame.spot(*c.At)
			one.At = &at
		}
		body.Corners = append(body.Corners, one)
	}
	return []book.Draft{{Kind: book.KindTrack, Body: body}}, nil
}

// SketchForm is a map drawn by finger, in the picture's square of 1000, y
// downwards; or one out of a file.
type SketchForm struct {
	Track  book.TrackID `json:"track"`
	Way    [][2]float64 `json:"way"`
	Map    *book.Map    `json:"map,omitempty"`
	Turns  string       `json:"turns,omitempty"`
	Length *unit.Fixed  `json:"length,omitempty"`
}

// shortestSketch is the least length of a drawn line, in thousandths of the
// picture's side.
const shortestSketch = 300

func sketched(a Ask, f SketchForm) ([]book.Draft, []book.Refusal) {
	if _, ok := a.Book.Tracks[f.Track]; !ok {
		return nil, []book.Refusal{{Field: "track", Says: "This track is not in the book.", Mend: "Write its name down first."}}
	}
	body := book.TrackBody{Track: f.Track, Map: f.Map, Way: f.Turns, Length: f.Length}
	if body.Map == nil {
		m, refused := sketchOf(f.Way)
		if refused != nil {
			return nil, refused
		}
		body.Map = m
	}
	return []book.Draft{{Kind: book.KindTrack, Body: body}}, nil
}

// sketchOf makes a map of a finger's line: fewer points, y upwards, with the
// start where the finger came down.
func sketchOf(way [][2]float64) (*book.Map, []book.Refusal) {
	long := 0.0
	for i := 1; i < len(way); i++ {
		long += math.Hypot(way[i][0]-way[i-1][0], way[i][1]-way[i-1][1])
	}
	if long < shortestSketch {
		return nil, []book.Refusal{{Field: "map", Says: "That line is too short for a track.", Mend: "Draw once round, from the start and finish line back to it."}}
	}
	f := frame{0, pictureSide, 1}
	m := &book.Map{}
	for _, p := range thin(way, 6) {
		m.Points = append(m.Points, f.spot([2]float64{max(0, min(pictureSide, p[0])), max(0, min(pictureSide, p[1]))}))
	}
	dx, dy := way[min(4, len(way)-1)][0]-way[0][0], way[min(4, len(way)-1)][1]-way[0][1]
	if d := math.Hypot(dx, dy); d > 0 {
		left, right := [2]float64{way[0][0] + dy/d*20, way[0][1] - dx/d*20}, [2]float64{way[0][0] - dy/d*20, way[0][1] + dx/d*20}
		m.Start = &[2]book.Spot{f.spot(left), f.spot(right)}
	}
	return m, nil
}

// thin keeps the points of a line that lie least apart from the one kept
// before, and as many as a map holds.
func thin(way [][2]float64, least float64) [][2]float64 {
	var out [][2]float64
	for _, p := range way {
		if n := len(out); n == 0 || math.Hypot(p[0]-out[n-1][0], p[1]-out[n-1][1]) >= least {
			out = append(out, p)
		}
	}
	if len(out) > outlineMost {
		return thin(way, 2*least)
	}
	return out
}

// LinesForm places a track's timing lines on its picture, by a tap each: the
// start and finish, nil to leave it, and where sectors end.
type LinesForm struct {
	Track  book.TrackID `json:"track"`
	Start  *[2]float64  `json:"start"`
	Splits [][2]float64 `json:"splits"`
}

// lineHalf is half of a placed line: 15 m, as of a found one; on a sketch 20
// of its thousand.
func lineHalf(m *book.Map) float64 {
	if m.Origin != nil {
		return 15
	}
	return 20
}

func linesPlaced(a Ask, f LinesForm) ([]book.Draft, []book.Refusal) {
	t, ok := a.Book.Tracks[f.Track]
	if !ok || t.Map == nil || len(t.Map.Points) < 3 {
		return nil, []book.Refusal{{Field: "map", Says: "This track has no map yet.", Mend: "Sketch it, or take it out of a file."}}
	}
	m := *t.Map
	frame := frameOf(&m)
	if f.Start != nil {
		l, _ := acrossMap(&m, frame.spot(*f.Start))
		m.Start = &l
	}
	type split struct {
		line [2]book.Spot
		at   float64
	}
	var splits []split
	begin := 0.0
	if m.Start != nil {
		_, begin = acrossMap(&m, book.Spot{(m.Start[0][0] + m.Start[1][0]) / 2, (m.Start[0][1] + m.Start[1][1]) / 2})
	}
	for _, at := range f.Splits {
		l, along := acrossMap(&m, frame.spot(at))
		splits = append(splits, split{l, math.Mod(along-begin+1, 1)})
	}
	slices.SortFunc(splits, func(x, y split) int { return cmp.Compare(x.at, y.at) })
	m.Splits = nil
	for _, s := range splits {
		m.Splits = append(m.Splits, s.line)
	}
	return []book.Draft{{Kind: book.KindTrack, Body: book.TrackBody{Track: f.Track, Map: &m}}}, nil
}

// acrossMap returns a line square to the map's way where that passes nearest
// to a place, its left end first, and how far along the way that is, as a
// share of it.
func acrossMap(m *book.Map, place book.Spot) (line [2]book.Spot, along float64) {
	px, py := place[0].Float(), place[1].Float()
	least, total, at := math.Inf(1), 0.0, 0.0
	var x, y, ux, uy float64
	for i, p := range m.Points {
		q := m.Points[(i+1)%len(m.Points)]
		ax, ay, dx, dy := p[0].Float(), p[1].Float(), (q[0] - p[0]).Float(), (q[1] - p[1]).Float()
		long := math.Hypot(dx, dy)
		if long == 0 {
			continue
		}
		share := max(0, min(1, ((px-ax)*dx+(py-ay)*dy)/(long*long)))
		if off := math.Hypot(px-ax-share*dx, py-ay-share*dy); off < least {
			least, at = off, total+share*long
			x, y, ux, uy = ax+share*dx, ay+share*dy, dx/long, dy/long
		}
		total += long
	}
	half := lineHalf(m)
	spot := func(x, y float64) book.Spot {
		e, _ := unit.FixedOf(round1(x))
		n, _ := unit.FixedOf(round1(y))
		return book.Spot{e, n}
	}
	return [2]book.Spot{spot(x-uy*half, y+ux*half), spot(x+uy*half, y-ux*half)}, at / max(total, 1)
}

// TrackFileArgs is a GPX or NMEA file for a track's map.
type TrackFileArgs struct {
	Track book.TrackID `json:"track"`
	Text  string       `json:"text"`
}

// TrackFile is the map that a file gives: to be looked at, then kept.
type TrackFile struct {
	Map     *book.Map    `json:"map"`
	Turns   string       `json:"turns"`
	Length  *unit.Fixed  `json:"length"`
	Picture TrackPicture `json:"picture"`
	Says    string       `json:"says"`
}

func trackFile(a Ask, args TrackFileArgs) (any, []book.Refusal) {
	if len(args.Text) > longestFile {
		return nil, []book.Refusal{{Field: "file", Says: "This file is too long for the phone.", Mend: "Export one lap or one session, and take that."}}
	}
	t := trace.ReadGPX(args.Text)
	if !strings.Contains(args.Text[:min(4096, len(args.Text))], "<") {
		t = trace.ReadNMEA(args.Text)
	}
	round, line := onceRound(t)
	if len(round) < 10 {
		return nil, []book.Refusal{{Field: "file", Says: "No way round was found in this file.", Mend: "Export one lap or more as GPX 1.1 with track points, or sketch the track by finger."}}
	}
	long, _ := unit.FixedOf(math.Round(trace.Long(append(slices.Clone(round), round[0]))))
	out := TrackFile{Map: mapOf(round, line), Turns: "anticlockwise", Length: &long}
	if trace.Clockwise(round) {
		out.Turns = "clockwise"
	}
	track := a.Book.Tracks[args.Track]
	track.Map, track.Way = out.Map, out.Turns
	out.Picture = pictureOf(track, frameOf(out.Map))
	out.Says = fmt.Sprintf("Once round is %s m, %s.", long, out.Turns)
	if n := len(t.Bad); n > 0 && len(t.Points) > 0 {
		out.Says += fmt.Sprintf(" %s of the file could not be read and %s left out.", many(n, "place"), wereWas(n))
	}
	return out, nil
}

func wereWas(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

// onceRound is the quickest lap of a trace, with the line that it was cut at;
// or all of it where it has no laps: then it is once round already.
func onceRound(t trace.Trace) ([]trace.Point, *trace.Line) {
	if l, ok := trace.Find(t.Points); ok {
		all, _ := trace.Laps(t.Points, l, nil)
		best := -1
		for i, lap := range all {
			if !lap.Gap && (best < 0 || lap.Seconds() < all[best].Seconds()) {
				best = i
			}
		}
		if best >= 0 {
			return trace.Between(t.Points, all[best].From, all[best].To), &l
		}
	}
	points := t.Points
	if len(points) < len(t.Untimed) {
		points = t.Untimed
	}
	if len(points) < 2 {
		return nil, nil
	}
	for i := range points { // a line where it begins
		if l, ok := trace.Across(points[i], points[min(i+1, len(points)-1)]); ok {
			return points, &l
		}
	}
	return points, nil
}
