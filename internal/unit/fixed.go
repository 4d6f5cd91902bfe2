package unit

import (
	"fmt"
	"strconv"
	"strings"
)

// Fixed is a number kept in whole thousandths: 9.5 is Fixed(9500). Positions
// and readings in the book are Fixed, because a computed float could fold to
// other bytes on another machine. The unit is the owner's: clicks, turns,
// teeth, mm, kPa, kg, °C. Range ±9.2e15 thousandths; arithmetic does not
// check for overflow, ParseFixed does.
type Fixed int64

// fixedScale is how many Fixed make one whole unit.
const fixedScale = 1000

// maxFixedDigits bounds what ParseFixed takes: nine digits before the point
// are more than any bike needs and keep every sum inside int64.
const maxFixedDigits = 9

// FixedOf returns the Fixed nearest to v, halves away from zero. It is for
// readings that come from a conversion; what was typed goes through
// ParseFixed. NaN and numbers beyond ±999,999,999 give 0 and false.
func FixedOf(v float64) (Fixed, bool) {
	const limit = 999_999_999
	if !(v >= -limit && v <= limit) {
		return 0, false
	}
	half := 0.5
	if v < 0 {
		half = -0.5
	}
	return Fixed(v*fixedScale + half), true
}

// Whole returns n whole units as a Fixed.
func Whole(n int) Fixed { return Fixed(n) * fixedScale }

// Float returns the number as a float64, for physics and drawing only.
func (f Fixed) Float() float64 { return float64(f) / fixedScale }

// String prints the shortest decimal: "9.5", "-0.25", "12".
func (f Fixed) String() string {
	sign, n := "", uint64(f)
	if f < 0 {
		sign, n = "-", uint64(-f)
	}
	whole, part := n/fixedScale, n%fixedScale
	if part == 0 {
		return sign + strconv.FormatUint(whole, 10)
	}
	return sign + strconv.FormatUint(whole, 10) + "." + strings.TrimRight(fmt.Sprintf("%03d", part), "0")
}

// ParseFixed reads a plain decimal with at most three digits after the point
// and nine before it: no exponent, no spaces, a point and not a comma. It is
// the strict reader of the log; the tolerant one for riders is Parse.
func ParseFixed(s string) (Fixed, error) {
	digits := strings.TrimPrefix(s, "-")
	whole, part, dotted := strings.Cut(digits, ".")
	if !allDigits(whole) || len(whole) > maxFixedDigits || dotted && (!allDigits(part) || len(part) > 3) {
		return 0, fmt.Errorf("%q is not a decimal with at most three digits after the point", s)
	}
	var n Fixed
	for _, r := range whole {
		n = n*10 + Fixed(r-'0')*fixedScale
	}
	worth := Fixed(fixedScale)
	for _, r := range part {
		worth /= 10
		n += Fixed(r-'0') * worth
	}
	if digits != s {
		n = -n
	}
	return n, nil
}

func allDigits(s string) bool {
	for _, r := range s {
		if r < '0' || r > '9' {
			return false
		}
	}
	return s != ""
}

// MarshalJSON writes the shortest decimal as a JSON number.
func (f Fixed) MarshalJSON() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalJSON reads what MarshalJSON writes, and a decimal in quotes, which
// is how forms send numbers.
func (f *Fixed) UnmarshalJSON(b []byte) error {
	n, err := ParseFixed(strings.Trim(string(b), `"`))
	if err != nil {
		return err
	}
	*f = n
	return nil
}
