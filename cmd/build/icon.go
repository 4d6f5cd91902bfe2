package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"strings"
)

// ground is the colour behind the app and its icon.
const ground = "#f4f5f2"

// icons are the addresses of the app's icon.
type icons struct{ SVG, Touch, Small, Large string }

// shape is one filled, convex polygon of the icon, on a field of 512 by 512.
type shape struct {
	colour color.RGBA
	points [][2]float64
}

var (
	paper = color.RGBA{0xf4, 0xf5, 0xf2, 0xff}
	ink   = color.RGBA{0x17, 0x21, 0x2a, 0xff}
	brass = color.RGBA{0x8a, 0x64, 0x10, 0xff}
)

// drawing is a plumb line: peg, hairline, bob. All of it lies within 40 % of
// the width around the middle, so that it may be masked round (W3C Web
// Application Manifest, "Icon masks and safe zone").
var drawing = []shape{
	{paper, [][2]float64{{0, 0}, {512, 0}, {512, 512}, {0, 512}}},
	{ink, [][2]float64{{196, 66}, {316, 66}, {316, 82}, {196, 82}}},
	{ink, [][2]float64{{250, 74}, {262, 74}, {262, 300}, {250, 300}}},
	{brass, [][2]float64{{196, 292}, {316, 292}, {316, 346}, {256, 452}, {196, 346}}},
}

func (f files) addIcons() icons {
	return icons{
		SVG:   f.addHashed(named{"icon", ".svg"}, iconSVG()),
		Touch: f.addHashed(named{"icon-180", ".png"}, iconPNG(180)),
		Small: f.addHashed(named{"icon-192", ".png"}, iconPNG(192)),
		Large: f.addHashed(named{"icon-512", ".png"}, iconPNG(512)),
	}
}

func iconSVG() []byte {
	var out strings.Builder
	out.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 512 512">`)
	for _, s := range drawing {
		fmt.Fprintf(&out, `<path fill="#%02x%02x%02x" d="M`, s.colour.R, s.colour.G, s.colour.B)
		for _, p := range s.points {
			fmt.Fprintf(&out, "%g %g ", p[0], p[1])
		}
		out.WriteString(`Z"/>`)
	}
	out.WriteString("</svg>\n")
	return []byte(out.String())
}

// fine is how many samples a pixel has in each direction.
const fine = 4

func iconPNG(size int) []byte {
	img := image.NewRGBA(image.Rect(0, 0, size, size))
	for y := range size {
		for x := range size {
			img.SetRGBA(x, y, pixel(x, y, size))
		}
	}
	var out bytes.Buffer
	_ = png.Encode(&out, img) // a bytes.Buffer takes everything, and the image is not empty
	return out.Bytes()
}

// pixel is the mean colour of a pixel's samples.
func pixel(x, y, size int) color.RGBA {
	var r, g, b int
	for i := range fine * fine {
		px := (float64(x) + (float64(i%fine)+0.5)/fine) * 512 / float64(size)
		py := (float64(y) + (float64(i/fine)+0.5)/fine) * 512 / float64(size)
		c := colourAt(px, py)
		r, g, b = r+int(c.R), g+int(c.G), b+int(c.B)
	}
	n := fine * fine
	return color.RGBA{uint8(r / n), uint8(g / n), uint8(b / n), 0xff}
}

func colourAt(x, y float64) color.RGBA {
	c := paper
	for _, s := range drawing {
		if s.covers(x, y) {
			c = s.colour
		}
	}
	return c
}

// covers reports whether a point lies in the polygon, whose points go round
// clockwise on the screen.
func (s shape) covers(x, y float64) bool {
	for i, p := range s.points {
		q := s.points[(i+1)%len(s.points)]
		if (q[0]-p[0])*(y-p[1])-(q[1]-p[1])*(x-p[0]) < 0 {
			return false
		}
	}
	return true
}
