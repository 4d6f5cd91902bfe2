package laps

import (
	"math"
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
	var out []group
	mark, tens := rune(0), false
	add := func(digits string) {
		out, mark, tens = append(out, group{digits, mark}), ' ', false
	}
	r := []rune(strings.ToLower(strings.TrimSpace(s)))
	for i := 0; i < len(r); {
		j := i
		switch c := r[i]; {
		case c >= '0' && c <= '9':
			for j < len(r) && r[j] >= '0' && r[j] <= '9' {
				j++
			}
			add(string(r[i:j]))
		case unicode.IsLetter(c):
			for j < len(r) && unicode.IsLetter(r[j]) {
				j++
			}
			w := string(r[i:j])
			if n, known := spoken[w]; known {
				joins := tens && n < 10 && n > 0 && mark == ' '
				if joins {
					last := &out[len(out)-1]
					last.digits = last.digits[:len(last.digits)-1] + strconv.Itoa(n)
					tens = false
				} else {
					add(strconv.Itoa(n))
					tens = n >= 20 && n%10 == 0
				}
			} else if m, known := spokenMarks[w]; known {
				mark, tens = stronger(mark, m, len(out)), false
			} else {
				return nil, false
			}
		default:
			m, known := typedMarks[c]
			if !known {
				return nil, false
			}
			mark = stronger(mark, m, len(out))
			j = i + 1
		}
		i = max(j, i+1)
	}
	return out, true
}

// stronger keeps the more telling of two marks: ':' and '.' over a pause.
// Before the first number there is none.
func stronger(was, is rune, numbers int) rune {
	if numbers == 0 {
		return 0
	}
	if is == ' ' {
		return was
	}
	return is
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
