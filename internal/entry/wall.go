package entry

import (
	"fmt"
	"sync"
	"time"
)

// wallForm is RFC 3339 with milliseconds and a numeric offset, never "Z", so
// that the same moment has one spelling.
const wallForm = "2006-01-02T15:04:05.000-07:00"

// parseWall reads what time.Time's Format(wallForm) writes, and nothing else.
// A book has thousands of them, so it does not study the form but knows it.
func parseWall(s string) (time.Time, error) {
	if len(s) != len(wallForm) || s[4] != '-' || s[7] != '-' || s[10] != 'T' || s[13] != ':' || s[16] != ':' || s[19] != '.' || s[26] != ':' {
		return time.Time{}, errWall(s)
	}
	var wrong bool
	number := func(from, to, most int) int {
		n := 0
		for _, c := range []byte(s[from:to]) {
			wrong = wrong || c < '0' || c > '9'
			n = 10*n + int(c-'0')
		}
		wrong = wrong || n > most
		return n
	}
	year, month, day := number(0, 4, 9999), number(5, 7, 12), number(8, 10, 31)
	hour, minute, second, milli := number(11, 13, 23), number(14, 16, 59), number(17, 19, 59), number(20, 23, 999)
	east := number(24, 26, 23)*60 + number(27, 29, 59)
	if s[23] == '-' {
		east = -east
	}
	if wrong || s[23] != '+' && east >= 0 { // "-00:00" is not written, nor any other sign
		return time.Time{}, errWall(s)
	}
	t := time.Date(year, time.Month(month), day, hour, minute, second, milli*int(time.Millisecond), zone(east))
	if t.Day() != day || int(t.Month()) != month { // the 31st of June
		return time.Time{}, errWall(s)
	}
	return t, nil
}

func errWall(s string) error {
	return fmt.Errorf("wall time %q is not RFC 3339 with milliseconds and offset", s)
}

var zones sync.Map // minutes east → *time.Location

// zone returns the zone of so many minutes east of UTC; entries share them.
func zone(east int) *time.Location {
	if z, ok := zones.Load(east); ok {
		return z.(*time.Location)
	}
	z, _ := zones.LoadOrStore(east, time.FixedZone("", east*60))
	return z.(*time.Location)
}
