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

// scene frames what was drawn, with a margin in mm on every side.
func (p *pencil) scene(says string, margin float64) Scene {
	left, top, right, bottom := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, s := range p.shapes {
		for _, a := range s.At {
			left, right = min(left, a[0]-s.R), max(right, a[0]+s.R)
			top, bottom = min(top, a[1]-s.R), max(bottom, a[1]+s.R)
		}
	}
	if left > right {
		left, right, top, bottom = 0, 1, 0, 1
	}
	return Scene{Says: says, Shapes: p.shapes, Box: [4]float64{tenth(left - margin), tenth(top - margin), tenth(right - left + 2*margin), tenth(bottom - top + 2*margin)}}
}
