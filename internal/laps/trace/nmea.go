package trace

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// ReadNMEA reads the RMC sentences of an NMEA 0183 log from any talker; a log
// without them is read by its GGA, whose clock has no date: such times count
// from the first midnight and go on over the next. Sentences of other kinds
// are passed over; wrong checksums, void fixes and broken lines are in Bad.
// Source: NMEA 0183, sentences RMC and GGA, checksum as the exclusive or of
// the bytes between $ and *.
func ReadNMEA(text string) Trace {
	var t, gga Trace
	days, last := 0.0, -1.0
	line := 0
	for text := range strings.Lines(text) {
		line++
		text = strings.TrimSpace(text)
		if text == "" {
			continue
		}
		f, says := sentence(text)
		switch {
		case says != "":
			t.bad(line, says)
		case strings.HasSuffix(f[0], "RMC"):
			t.rmc(line, f)
		case strings.HasSuffix(f[0], "GGA"):
			p, says := ggaPoint(f)
			if says != "" {
				gga.bad(line, says)
				continue
			}
			if last >= 0 && p.At < last-12*3600 {
				days += 86400
			}
			last = p.At
			p.At += days
			gga.add(line, p)
		}
	}
	if len(t.Points) == 0 && len(gga.Points) > 0 {
		gga.Bad = append(t.Bad, gga.Bad...)
		t = gga
	}
	if len(t.Points) == 0 && len(t.Bad) == 0 {
		t.bad(1, "There are no positions in this file. It should hold lines that begin with $GPRMC or $GNRMC.")
	}
	t.tidy()
	return t
}

// longestSentence is far above the 82 bytes that NMEA 0183 allows: some
// receivers put a clock or a tag in front.
const longestSentence = 1024

// sentence checks the frame and returns the fields, the first the address.
func sentence(text string) (fields []string, says string) {
	if len(text) > longestSentence {
		return nil, "This line is too long to be from a receiver."
	}
	body, found := strings.CutPrefix(text, "$")
	if !found {
		return nil, "This line does not begin with $."
	}
	body, sum, has := strings.Cut(body, "*")
	if has {
		want, err := strconv.ParseUint(strings.TrimSpace(sum), 16, 8)
		if err != nil || byte(want) != checksum(body) {
			return nil, "This line was damaged: its checksum is wrong."
		}
	}
	return strings.Split(body, ","), ""
}

func checksum(body string) byte {
	var c byte
	for i := range len(body) {
		c ^= body[i]
	}
	return c
}

func (t *Trace) rmc(line int, f []string) {
	if len(f) < 10 {
		t.bad(line, "This line breaks off.")
		return
	}
	if f[2] != "A" {
		t.bad(line, "The receiver had no position here.")
		return
	}
	clock, ok1 := clockSeconds(f[1])
	day, err := time.Parse("020106", f[9])
	lat, ok2 := angle(f[3], f[4], "N", "S")
	lon, ok3 := angle(f[5], f[6], "E", "W")
	if !ok1 || !ok2 || !ok3 || err != nil {
		t.bad(line, "This line has no readable time or position.")
		return
	}
	t.add(line, Point{lat, lon, float64(day.Unix()) + clock})
}

func ggaPoint(f []string) (Point, string) {
	if len(f) < 7 {
		return Point{}, "This line breaks off."
	}
	if f[6] == "0" || f[6] == "" {
		return Point{}, "The receiver had no position here."
	}
	clock, ok1 := clockSeconds(f[1])
	lat, ok2 := angle(f[2], f[3], "N", "S")
	lon, ok3 := angle(f[4], f[5], "E", "W")
	if !ok1 || !ok2 || !ok3 {
		return Point{}, "This line has no readable time or position."
	}
	return Point{lat, lon, clock}, ""
}

// clockSeconds reads hhmmss.sss.
func clockSeconds(s string) (float64, bool) {
	if len(s) < 6 {
		return 0, false
	}
	h, err1 := strconv.ParseUint(s[:2], 10, 8)
	m, err2 := strconv.ParseUint(s[2:4], 10, 8)
	sec, err3 := strconv.ParseFloat(s[4:], 64)
	if err1 != nil || err2 != nil || err3 != nil || h > 23 || m > 59 || !(sec >= 0 && sec < 61) {
		return 0, false
	}
	return float64(h*3600+m*60) + sec, true
}

// angle reads (d)ddmm.mmmm and the letter of its side.
func angle(s, side, plus, minus string) (float64, bool) {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || !(v >= 0 && v <= 18000) || side != plus && side != minus {
		return 0, false
	}
	deg := math.Floor(v / 100)
	min := v - 100*deg
	if min >= 60 {
		return 0, false
	}
	deg += min / 60
	if side == minus {
		deg = -deg
	}
	return deg, true
}
