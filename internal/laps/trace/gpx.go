package trace

import (
	"encoding/xml"
	"io"
	"strconv"
	"strings"
	"time"
)

// ReadGPX reads the track points of a GPX 1.1 file. A point without time or
// with a broken one is listed in Bad; when the file breaks off or is no XML,
// what came before is kept and the last Bad says so. Source: GPX 1.1 schema,
// topografix (elements trk, trkseg, trkpt, time).
func ReadGPX(r io.Reader) Trace {
	var t Trace
	d := xml.NewDecoder(r)
	for n := 0; ; {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.bad(n+1, "The file breaks off or is damaged here. What came before is kept.")
			break
		}
		start, ok := tok.(xml.StartElement)
		if !ok || start.Name.Local != "trkpt" {
			continue
		}
		n++
		var in struct {
			Lat  string `xml:"lat,attr"`
			Lon  string `xml:"lon,attr"`
			Time string `xml:"time"`
		}
		if err := d.DecodeElement(&in, &start); err != nil {
			t.bad(n, "The file breaks off or is damaged here. What came before is kept.")
			break
		}
		t.gpxPoint(n, in.Lat, in.Lon, in.Time)
	}
	if len(t.Points) == 0 && len(t.Bad) == 0 {
		t.bad(1, "There is no track in this file. Export it as GPX with track points and times.")
	}
	t.tidy()
	return t
}

func (t *Trace) gpxPoint(n int, lat, lon, at string) {
	la, err1 := strconv.ParseFloat(strings.TrimSpace(lat), 64)
	lo, err2 := strconv.ParseFloat(strings.TrimSpace(lon), 64)
	if err1 != nil || err2 != nil {
		t.bad(n, "This point has no readable position.")
		return
	}
	when, err := time.Parse(time.RFC3339Nano, strings.TrimSpace(at))
	if err != nil {
		t.bad(n, "This point has no readable time, so it cannot make a lap.")
		return
	}
	t.add(n, Point{la, lo, float64(when.Unix()) + float64(when.Nanosecond())/1e9})
}
