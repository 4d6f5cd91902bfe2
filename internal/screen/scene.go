package screen

import "math"

// Scene is a drawing to scale: shapes in millimetres, x to the right and y
// down, within Box (left, top, width, height). Says names it for those who
// cannot see it. Screens draw it; they do not know what it shows.
type Scene struct {
	Says   string     `json:"says"`
	Box    [4]float64 `json:"box"`
	Shapes []Shape    `json:"shapes"`
}

// Shape is one part of a scene. Kind is "line" (through all At), "area" (the
// same, closed and filled), "circle" (around At[0] with R), "dim" (a tape held
// from At[0] to At[1]) or "words" (at At[0]). Role says what it is in the
// drawing: "part", "soft", "ground", "axis", "ghost" or "hand"; a dim that is
// asked for now is "hand".
type Shape struct {
	Kind  string       `json:"kind"`
	Role  string       `json:"role"`
	At    [][2]float64 `json:"at"`
	R     float64      `json:"r,omitempty"`
	Words string       `json:"words,omitempty"`
}

// spot is a place in a drawing: mm, x forward (to the right), z up.
type spot struct{ x, z float64 }

func (a spot) add(dx, dz float64) spot { return spot{a.x + dx, a.z + dz} }

// to is the place a share of the way to another.
func (a spot) to(b spot, share float64) spot {
	return spot{a.x + (b.x-a.x)*share, a.z + (b.z-a.z)*share}
}

// polar is the place at a distance and an angle in degrees, from the
// horizontal, upwards.
func (a spot) polar(distance, angle float64) spot {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	return a.add(distance*cos, distance*sin)
}

// pencil draws a scene, shape by shape; z up, as one thinks. Asked is the
// symbol whose tape the rider holds now.
type pencil struct {
	shapes []Shape
	asked  string
}

func (p *pencil) put(kind, role string, r float64, words string, at ...spot) {
	s := Shape{Kind: kind, Role: role, R: tenth(r), Words: words, At: make([][2]float64, len(at))}
	for i, a := range at {
		s.At[i] = [2]float64{tenth(a.x), tenth(-a.z)}
	}
	p.shapes = append(p.shapes, s)
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

func (p *pencil) line(role string, at ...spot) { p.put("line", role, 0, "", at...) }
func (p *pencil) area(role string, at ...spot) { p.put("area", role, 0, "", at...) }
func (p *pencil) words(role, words string, at spot) {
	p.put("words", role, 0, words, at)
}
func (p *pencil) circle(role string, at spot, r float64) { p.put("circle", role, r, "", at) }

// box is an upright rectangle.
func (p *pencil) box(role string, left, bottom, right, top float64) {
	p.area(role, spot{left, bottom}, spot{right, bottom}, spot{right, top}, spot{left, top})
}

// tape is a length to measure, between two places; it stands out when its
// symbol is asked for.
func (p *pencil) tape(symbol, words string, a, b spot) {
	role := "soft"
	if symbol == p.asked {
		role = "hand"
	}
	p.put("dim", role, 0, words, a, b)
}

// extent is the box around shapes, as left, top, right, bottom.
type extent [4]float64

func (f *extent) reach(x, y, r float64) {
	f[0], f[1], f[2], f[3] = min(f[0], x-r), min(f[1], y-r), max(f[2], x+r), max(f[3], y+r)
}

// scene frames what was drawn, with a margin in mm on every side and room for
// the words, whose size on the page is fixed: some 7 px a letter where the
// drawing is 300 by 132 px.
func (p *pencil) scene(says string, margin float64) Scene {
	f := extent{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, s := range p.shapes {
		for _, a := range s.At {
			f.reach(a[0], a[1], s.R+margin)
		}
	}
	if f[0] > f[2] {
		f = extent{0, 0, 1, 1}
	}
	px := max((f[2]-f[0])/300, (f[3]-f[1])/132)
	for _, s := range p.shapes {
		wide := 7 * px * float64(len([]rune(s.Words)))
		switch {
		case s.Words == "":
		case s.Kind == "words":
			f.reach(s.At[0][0]-wide/2, s.At[0][1]-10*px, 0)
			f.reach(s.At[0][0]+wide/2, s.At[0][1], 0)
		case math.Abs(s.At[1][1]-s.At[0][1]) > math.Abs(s.At[1][0]-s.At[0][0]): // an upright tape has them on its right
			f.reach((s.At[0][0]+s.At[1][0])/2+7*px+wide, s.At[0][1], 0)
		default:
			f.reach((s.At[0][0]+s.At[1][0])/2-wide/2, (s.At[0][1]+s.At[1][1])/2-16*px, 0)
			f.reach((s.At[0][0]+s.At[1][0])/2+wide/2, s.At[0][1], 0)
		}
	}
	return Scene{Says: says, Shapes: p.shapes, Box: [4]float64{tenth(f[0]), tenth(f[1]), tenth(f[2] - f[0]), tenth(f[3] - f[1])}}
}
