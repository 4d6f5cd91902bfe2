package laps

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// The lap times that are taken, in seconds. Shorter is a slip of the thumb,
// longer a lunch break; common practice, no source.
const (
	ShortestLap = 10
	LongestLap  = 3600
)

// longestTyped is the most bytes of one typed time that are looked at.
const longestTyped = 80

// Unclear says in a sentence to the rider why something typed or read could
// not be taken, and how to mend it.
type Unclear string

func (u Unclear) Error() string { return string(u) }

const (
	notATime  = Unclear("That is not a lap time. Write it like 1:52.4 or 52.4.")
	sixtySecs = Unclear("The seconds go up to 59. Write the minutes in front, like 1:52.4.")
	outOfLaps = Unclear("A lap takes from 10 seconds to an hour. Check the minutes, like 1:52.4.")
)

// ParseTime reads one lap time as riders type or say it and returns seconds
// in [ShortestLap, LongestLap]: 1:52.4, 52.4, 112.4, 1'52"4, 1m52.4s,
// 1:52,4, 1.52.4, "1 52 4", "one fifty-two point four", 0:01:52.4. Two
// numbers with a space between are minutes and seconds when the second has
// two digits ("1 52") and seconds and tenths when it has one ("52 4"). The
// error is an Unclear sentence.
func ParseTime(s string) (float64, error) {
	if len(s) > longestTyped {
		return 0, notATime
	}
	groups, ok := numberGroups(s)
	if !ok || len(groups) == 0 || len(groups) > 4 {
		return 0, notATime
	}
	t, err := seconds(groups)
	if err != nil {
		return 0, err
	}
	if t < ShortestLap || t > LongestLap {
		return 0, outOfLaps
	}
	return t, nil
}

// ParseKeyed reads a lap time as it is tapped on a keypad, where the marks may
// be left out: 1524 is 1:52.4, 15243 is 1:52.43, 152431 is 1:52.431 and 524 is
// 52.4. Anything with a mark, and one or two digits, is read by ParseTime.
func ParseKeyed(s string) (float64, error) {
	s = strings.TrimSpace(s)
	if len(s) < 3 || len(s) > 6 || strings.Trim(s, "0123456789") != "" {
		return ParseTime(s)
	}
	if len(s) == 3 {
		return ParseTime(s[:2] + "." + s[2:])
	}
	return ParseTime(s[:1] + ":" + s[1:3] + "." + s[3:])
}

// group is a run of digits and the mark that stood before it: ':' for
// anything that parts minutes and seconds, '.' for a decimal mark, ' ' for a
// pause, 0 for the first.
type group struct {
	digits string
	before rune
}

func seconds(g []group) (float64, error) {
	fraction := ""
	if last := g[len(g)-1]; len(g) > 1 && isFraction(g) {
		fraction, g = last.digits, g[:len(g)-1]
	}
	if len(g) > 3 {
		return 0, notATime
	}
	total := 0.0
	for i, part := range g {
		if i > 0 && part.before == '.' && len(g) != 2 {
			return 0, notATime
		}
		if len(part.digits) > 4 || i > 0 && len(part.digits) > 2 {
			return 0, notATime
		}
		v, err := strconv.Atoi(part.digits)
		if err != nil {
			return 0, notATime
		}
		if i > 0 && v > 59 {
			return 0, sixtySecs
		}
		total = total*60 + float64(v)
	}
	if fraction == "" {
		return total, nil
	}
	f, err := strconv.ParseFloat("0."+fraction, 64)
	return math.Round((total+f)*1e6) / 1e6, err
}

// isFraction tells whether the last group is the part after the decimal mark.
func isFraction(g []group) bool {
	last := g[len(g)-1]
	if last.before == '.' {
		return true
	}
	if last.before != ' ' {
		return false
	}
	if len(g) == 2 { // "52 4", not "1 52"
		return len(last.digits) == 1
	}
	return true // "1 52 4"
}

// numberGroups splits what was typed into its numbers; false if it holds
// anything that is neither number, mark nor known word.
func numberGroups(s string) ([]group, bool) {
	var t timeReader
	rest := []rune(strings.ToLower(strings.TrimSpace(s)))
	for len(rest) > 0 {
		n, known := 1, false
		switch c := rest[0]; {
		case isDigit(c):
			n = span(rest, isDigit)
			t.number(string(rest[:n]))
			known = true
		case unicode.IsLetter(c):
			n = span(rest, unicode.IsLetter)
			known = t.word(string(rest[:n]))
		default:
			var m rune
			m, known = typedMarks[c]
			t.marked(m)
		}
		if !known {
			return nil, false
		}
		rest = rest[n:]
	}
	return t.groups, true
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// span is how many of the first runes are of a kind.
func span(r []rune, kind func(rune) bool) int {
	if n := slices.IndexFunc(r, func(c rune) bool { return !kind(c) }); n >= 0 {
		return n
	}
	return len(r)
}

// timeReader gathers the numbers of a time from left to right.
type timeReader struct {
	groups []group
	mark   rune // what stands before the next number
	tens   bool // the last number was said as "fifty", so that "two" joins it
}

func (t *timeReader) number(digits string) {
	t.groups, t.mark, t.tens = append(t.groups, group{digits, t.mark}), ' ', false
}

// word takes a number or a mark that was said; false for any other word.
func (t *timeReader) word(w string) bool {
	n, isNumber := spoken[w]
	m, isMark := spokenMarks[w]
	switch {
	case isNumber && t.tens && n > 0 && n < 10 && t.mark == ' ':
		last := &t.groups[len(t.groups)-1]
		last.digits = last.digits[:len(last.digits)-1] + strconv.Itoa(n)
		t.tens = false
	case isNumber:
		t.number(strconv.Itoa(n))
		t.tens = n >= 20 && n%10 == 0
	case isMark:
		t.marked(m)
		t.tens = false
	}
	return isNumber || isMark
}

// marked notes a mark: ':' and '.' tell more than a pause, and before the
// first number there is none.
func (t *timeReader) marked(m rune) {
	if len(t.groups) > 0 && m != ' ' {
		t.mark = m
	}
}

var typedMarks = map[rune]rune{
	' ': ' ', '\t': ' ', '-': ' ', '\u00a0': ' ', '\u2009': ' ',
	':': ':', '\'': ':', '’': ':', '′': ':',
	'.': '.', ',': '.', '"': '.', '”': '.', '″': '.',
}

var spokenMarks = map[string]rune{
	"m": ':', "min": ':', "mins": ':', "minute": ':', "minutes": ':',
	"s": '.', "sec": '.', "secs": '.', "second": '.', "seconds": '.',
	"point": '.', "dot": '.', "comma": '.', "and": ' ', "a": ' ',
}

var spoken = map[string]int{
	"zero": 0, "oh": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5,
	"six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11,
	"twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15,
	"sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
	"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50,
}
