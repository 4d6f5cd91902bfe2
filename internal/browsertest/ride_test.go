package browsertest

import (
	"fmt"
	"math"
	"strings"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/example"
)

// ridden is three laps of Fenwick Moor at an even 112 s each, a fix a second:
// latitude, longitude, seconds.
func ridden() [][3]float64 {
	r := book.Open(example.BookID, "")
	r.Take(example.Lines())
	m := r.Book().Tracks["fenwick-moor"].Map
	var along []float64
	total := 0.0
	for i, a := range m.Points {
		b := m.Points[(i+1)%len(m.Points)]
		along = append(along, total)
		total += math.Hypot(b[0].Float()-a[0].Float(), b[1].Float()-a[1].Float())
	}
	lat0, lon0 := float64(m.Origin.Lat)/1e7, float64(m.Origin.Lon)/1e7
	start := time.Date(2026, 7, 11, 10, 20, 0, 0, time.UTC).Unix()
	var out [][3]float64
	for s := -5.0; s < 3*112+5; s++ {
		d := math.Mod(s/112+1, 1) * total
		i := len(along) - 1
		for along[i] > d {
			i--
		}
		end := total
		if i+1 < len(along) {
			end = along[i+1]
		}
		a, b, f := m.Points[i], m.Points[(i+1)%len(m.Points)], (d-along[i])/(end-along[i])
		east, north := a[0].Float()+f*(b[0].Float()-a[0].Float()), a[1].Float()+f*(b[1].Float()-a[1].Float())
		const metres = math.Pi / 180 * 6371008.8 // of a degree
		out = append(out, [3]float64{lat0 + north/metres, lon0 + east/metres/math.Cos(lat0*math.Pi/180), float64(start) + s})
	}
	return out
}

// ride is ridden as arguments of a script: latitude, longitude, milliseconds.
func ride() []string {
	var out []string
	for _, f := range ridden() {
		out = append(out, fmt.Sprintf("%.8f, %.8f, %.0f", f[0], f[1], 1000*f[2]))
	}
	return out
}

func gpxRide() string {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0"?><gpx version="1.1"><trk><trkseg>`)
	for _, f := range ridden() {
		fmt.Fprintf(&b, `<trkpt lat="%.8f" lon="%.8f"><time>%s</time></trkpt>`, f[0], f[1], time.Unix(int64(f[2]), 0).UTC().Format(time.RFC3339))
	}
	return b.String() + `</trkseg></trk></gpx>`
}
