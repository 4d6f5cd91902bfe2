package trace

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// The known ride: an oval of 500 × 250 m half axes, each lap at an even rate
// and of a known length in seconds, fixes ten times a second.
var (
	middle = Point{Lat: 47.2, Lon: 15.1}
	known  = []float64{62.35, 61.82, 61.97, 62.11}
)

const startAt = 1750000000.37

func at(share float64) Point {
	a := 2 * math.Pi * share
	return raise(middle, flat{500 * math.Cos(a), 250 * math.Sin(a)})
}

func ride() []Point {
	var out []Point
	total := 0.0
	for _, l := range known {
		total += l
	}
	for t := -5.0; t < total+5; t += 0.1 {
		left, share := t, 0.0
		for i, l := range known {
			if left < l || i == len(known)-1 {
				share = left / l
				break
			}
			left -= l
		}
		p := at(share)
		p.At = startAt + t
		out = append(out, p)
	}
	return out
}

// The start line lies at share 0, where the ride goes north.
func startLine() Line {
	return Line{raise(middle, flat{485, 0}), raise(middle, flat{515, 0})}
}

func gpx(points []Point) string {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>`)
	for _, p := range points {
		when := time.UnixMilli(int64(math.Round(p.At * 1000))).UTC().Format("2006-01-02T15:04:05.000Z")
		fmt.Fprintf(&b, `<trkpt lat="%.8f" lon="%.8f"><ele>310</ele><time>%s</time></trkpt>`, p.Lat, p.Lon, when)
	}
	return b.String() + `</trkseg></trk></gpx>`
}

func nmea(points []Point) string {
	var b strings.Builder
	for _, p := range points {
		when := time.UnixMilli(int64(math.Round(p.At * 1000))).UTC()
		deg := func(v float64, wide int) string {
			return fmt.Sprintf("%0*d%09.6f", wide, int(v), 60*(v-math.Floor(v)))
		}
		body := fmt.Sprintf("GNRMC,%s,A,%s,N,%s,E,60.0,0.0,%s,,,A", when.Format("150405.000"), deg(p.Lat, 2), deg(p.Lon, 3), when.Format("020106"))
		fmt.Fprintf(&b, "$%s*%02X\r\n", body, checksum(body))
	}
	return b.String()
}

func wantKnown(t *testing.T, points []Point, l Line, within float64) []Lap {
	t.Helper()
	laps, backward := Laps(points, l, []Line{{raise(middle, flat{-485, 0}), raise(middle, flat{-515, 0})}})
	if len(laps) != len(known) || backward != 0 {
		t.Fatalf("%d laps, %d backward; want %d and 0", len(laps), backward, len(known))
	}
	for i, l := range laps {
		if math.Abs(l.Seconds()-known[i]) > within || l.Gap {
			t.Errorf("lap %d took %.4f s (gap %v), want %.2f ± %g", i+1, l.Seconds(), l.Gap, known[i], within)
		}
		if len(l.Sectors) == 2 && math.Abs(l.Sectors[0]-known[i]/2) > within {
			t.Errorf("lap %d splits at %.4f s, want the half", i+1, l.Sectors[0])
		}
	}
	return laps
}

// A chord of a tenth of a second is 5 m on a bend of 125 m: the sagitta is
// 2.5 cm, or half a millisecond; the files round to a millisecond.
const sampling = 0.003

func TestKnownLapsComeBack(t *testing.T) {
	for name, got := range map[string]Trace{
		"GPX 1.1":   ReadGPX(gpx(ride())),
		"NMEA 0183": ReadNMEA(nmea(ride())),
	} {
		if len(got.Bad) != 0 {
			t.Fatalf("%s: %v", name, got.Bad)
		}
		for i, l := range wantKnown(t, got.Points, startLine(), sampling) {
			if len(l.Sectors) != 2 {
				t.Errorf("%s: lap %d has sectors %v", name, i+1, l.Sectors)
			}
		}
	}
}

func TestWrongWayRoundIsTold(t *testing.T) {
	l := startLine()
	laps, backward := Laps(ride(), Line{l.Right, l.Left}, nil)
	if len(laps) != 0 || backward != len(known)+1 {
		t.Errorf("%d laps, %d backward; want none and %d", len(laps), backward, len(known)+1)
	}
}

func TestGapAndJump(t *testing.T) {
	points := ride()
	points[300].Lat += 0.5
	jumped := ReadGPX(gpx(points))
	if len(jumped.Bad) != 1 {
		t.Errorf("one jump, reported %v", jumped.Bad)
	}
	wantKnown(t, jumped.Points, startLine(), sampling)

	points = ride()
	silent := append(points[:640:640], points[700:]...) // across the first line
	laps, _ := Laps(silent, startLine(), nil)
	if len(laps) != len(known)-1 || !laps[0].Gap || laps[1].Gap {
		t.Errorf("a gap over the line gave %+v", laps)
	}
}

func TestAJumpOverTheLineIsNoCrossing(t *testing.T) {
	from, to := raise(middle, flat{500, -400}), raise(middle, flat{500, 400})
	to.At = 1
	if got := Crossings([]Point{from, to}, startLine()); len(got) != 0 {
		t.Errorf("800 m in a second crossed the line: %+v", got)
	}
	slow := []Point{raise(middle, flat{500, -50}), raise(middle, flat{500, 50})}
	slow[1].At = 2
	if got := Crossings(slow, startLine()); len(got) != 1 || math.Abs(got[0].At-1) > 1e-6 {
		t.Errorf("50 m/s straight over the line gave %+v, want one at 1 s", got)
	}
}

func TestFindTheLine(t *testing.T) {
	l, ok := Find(ride())
	if !ok {
		t.Fatal("no line found")
	}
	laps, _ := Laps(ride(), l, nil)
	if len(laps) < len(known)-1 {
		t.Errorf("the found line gives %d laps", len(laps))
	}
	if _, ok := Find(ride()[:100]); ok {
		t.Error("a line was found on a way never ridden twice")
	}
}

func TestBrokenFilesKeepWhatCanBeRead(t *testing.T) {
	whole := gpx(ride())
	if got := ReadGPX(whole[:len(whole)/2]); len(got.Points) < 1000 || len(got.Bad) != 1 {
		t.Errorf("half a GPX gave %d points and %v", len(got.Points), got.Bad)
	}
	text := strings.Replace(nmea(ride()), "A,4712", "A,4713", 1)
	if got := ReadNMEA(text); len(got.Points) < 1000 || len(got.Bad) != 1 {
		t.Errorf("a damaged line gave %d points and %v", len(got.Points), got.Bad)
	}
	for _, s := range []string{"", "nonsense", "<gpx/>", "$GPRMC,1,A", "$GPRMC,,V,,,,,,,,"} {
		for _, got := range []Trace{ReadGPX(s), ReadNMEA(s)} {
			if len(got.Points) != 0 || len(got.Bad) == 0 || got.Bad[0].Says == "" {
				t.Errorf("%q gave %+v, want a sentence", s, got)
			}
		}
	}
}

func TestAgainstPublished(t *testing.T) {
	got := ReadNMEA("$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\n")
	if len(got.Points) != 1 {
		t.Fatalf("%+v", got)
	}
	p := got.Points[0]
	const sample = "the sample RMC sentence widely printed with NMEA 0183 descriptions, with its checksum; from memory"
	const iugg = "IUGG mean radius: a degree of a great circle is π·6371008.8/180 m; derived"
	for _, r := range []struct {
		what, source      string
		got, want, within float64
	}{
		{"latitude", sample, p.Lat, 48.1173, 1e-9},
		{"longitude", sample, p.Lon, 11 + 31.0/60, 1e-9},
		{"time", sample, p.At, float64(time.Date(1994, 3, 23, 12, 35, 19, 0, time.UTC).Unix()), 1e-9},
		{"a degree", iugg, Distance(Point{}, Point{Lon: 1}), 111195.08, 0.01},
	} {
		if !(math.Abs(r.got-r.want) <= r.within) || r.source == "" {
			t.Errorf("%s = %.9g, want %.9g (%s)", r.what, r.got, r.want, r.source)
		}
	}
}

func fuzz(f *testing.F, read func(string) Trace) {
	f.Fuzz(func(t *testing.T, s string) {
		got := read(s)
		if len(got.Points)+len(got.Bad) == 0 {
			t.Fatal("neither points nor a sentence")
		}
		for i, p := range got.Points {
			if !(math.Abs(p.Lat) <= 90 && math.Abs(p.Lon) <= 180) || i > 0 && p.At <= got.Points[i-1].At {
				t.Fatalf("point %d is %+v", i, p)
			}
		}
		Find(got.Points)
	})
}

func FuzzReadGPX(f *testing.F) {
	f.Add(gpx(ride()[:5]))
	f.Add(`<gpx><trkpt lat="1" lon="NaN"><time>x</time>`)
	fuzz(f, ReadGPX)
}

func FuzzReadNMEA(f *testing.F) {
	f.Add(nmea(ride()[:5]))
	f.Add("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\n")
	fuzz(f, ReadNMEA)
}
