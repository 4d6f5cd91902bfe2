package chassis

import (
	"strings"
	"time"
)

// TyreDate is when a tyre was made.
type TyreDate struct {
	Week int
	Year int // 0 when the code does not tell the decade
	// LastDigit of the year is all that a three-digit code tells: it was made
	// before 2000.
	LastDigit int
}

// ParseTyreDate reads the date at the end of the code after DOT on a
// sidewall: four digits are week and year (2714: week 27 of 2014), three are
// from before 2000 and do not tell the decade. Source: US 49 CFR 574.5 (from
// memory); weeks run from 01 to 53.
func ParseTyreDate(code string) (TyreDate, error) {
	digits := trailingDigits(code)
	if len(code) > 60 || len(digits) < 3 {
		return TyreDate{}, Refusal{"code", "That is no date code.", "Type the last four digits after DOT on the sidewall, such as 2714 for week 27 of 2014. Look on the other side if they are missing."}
	}
	digits = digits[max(0, len(digits)-4):]
	week := int(digits[0]-'0')*10 + int(digits[1]-'0')
	if week < 1 || week > 53 {
		return TyreDate{}, Refusal{"code", "There is no week " + digits[:2] + ": weeks run from 01 to 53.", "Read the last four digits after DOT again: first the week, then the year."}
	}
	if len(digits) == 3 {
		return TyreDate{Week: week, LastDigit: int(digits[2] - '0')}, nil
	}
	year := int(digits[2]-'0')*10 + int(digits[3]-'0')
	return TyreDate{week, 2000 + year, year % 10}, nil
}

// trailingDigits are the digits at the end, without what is put between.
func trailingDigits(code string) string {
	kept := strings.Map(func(r rune) rune {
		switch {
		case r >= '0' && r <= '9', r >= 'A' && r <= 'Z', r >= 'a' && r <= 'z':
			return r
		}
		return -1
	}, code)
	end := len(kept)
	for end > 0 && kept[end-1] >= '0' && kept[end-1] <= '9' {
		end--
	}
	return kept[end:]
}

// Age returns the tyre's age in years on a day, counted from the Monday of
// its week. Refuses a code that does not tell the decade, and one that lies
// ahead of the day.
func (d TyreDate) Age(day time.Time) (float64, error) {
	if d.Year == 0 {
		return 0, Refusal{"code", "A three-digit code is from before 2000 and does not tell the decade.", "A tyre that old is not for riding: replace it."}
	}
	// The week with 4 January in it is week 1. Source: ISO 8601.
	first := time.Date(d.Year, time.January, 4, 0, 0, 0, 0, time.UTC)
	monday := first.AddDate(0, 0, -(int(first.Weekday())+6)%7+7*(d.Week-1))
	days := day.Sub(monday).Hours() / 24
	if days < 0 {
		return 0, Refusal{"code", "That week has not come yet.", "Read the code again, or check the date of today."}
	}
	return days / 365.25, nil
}
