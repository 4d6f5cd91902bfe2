package trace

import (
	"encoding/xml"
	"io"
	"slices"
	"strings"
	"testing"
)

// referenceGPX reads what encoding/xml reads, and says whether it is XML to
// the end.
func referenceGPX(text string) (Trace, bool) {
	var t Trace
	d := xml.NewDecoder(strings.NewReader(text))
	for n := 0; ; {
		tok, err := d.Token()
		if err != nil {
			t.tidy()
			return t, err == io.EOF
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
			return t, false
		}
		t.gpxPoint(n, in.Lat, in.Lon, in.Time)
	}
}

func FuzzGPXAgainstEncodingXML(f *testing.F) {
	const point = `<trkpt lat="47.1" lon="15.2"><ele>3</ele><time>2026-05-02T09:00:00Z</time></trkpt>`
	for _, s := range []string{
		`<gpx>` + point + `</gpx>`,
		`<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "b">]><g:gpx xmlns:g="u"><g:trkpt lat='1' lon = "2" ><g:time> 2026-05-02T09:00:00.5Z </g:time></g:trkpt></g:gpx>`,
		`<gpx><!-- <trkpt lat="9" lon="9"/> --><trkpt lon="1" lat="2"/>` + point + `</gpx>`,
		`<gpx><trkpt lat="1" lon="2"><time>2026-05-02<![CDATA[T09:00:00Z]]></time><extensions><time>x</time><a b=">"/></extensions></trkpt></gpx>`,
		`<gpx><trkpt lat="1" lon="2"><trkpt lat="3" lon="4"/><time>2026-05-02T09:<!-- c -->00:00Z</time></trkpt></gpx>`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		// Entities are not read: no position or time needs one.
		if strings.Contains(s, "&") || strings.Contains(s, "<!ATTLIST") {
			return
		}
		want, whole := referenceGPX(s)
		if !whole {
			ReadGPX(s)
			return
		}
		if got := ReadGPX(s); !slices.Equal(got.Points, want.Points) || !slices.Equal(got.Untimed, want.Untimed) {
			t.Fatalf("%q\ngives %+v %+v\nencoding/xml %+v %+v", s, got.Points, got.Untimed, want.Points, want.Untimed)
		}
	})
}

func TestGPXWithoutTimesIsEnoughForAMap(t *testing.T) {
	got := ReadGPX(`<gpx><trk><trkseg><trkpt lat="47.1" lon="15.2"/><trkpt lat="47.2" lon="15.3"><ele>310</ele></trkpt></trkseg></trk></gpx>`)
	if len(got.Points) != 0 || len(got.Untimed) != 2 || len(got.Bad) != 2 || got.Untimed[1].Lon != 15.3 {
		t.Errorf("%+v", got)
	}
}
