package entry

import (
	"fmt"
	"strconv"
)

// Clock is a hybrid logical clock reading: 48 bits of Unix milliseconds and
// 16 bits that count events within one. It is total and causal: whatever a
// device has seen comes before whatever it writes next, also when its wall
// clock jumps back. After S. Kulkarni et al., "Logical Physical Clocks", 2014,
// section 3, with the counter folded into the low bits.
type Clock uint64

const clockCounterBits = 16

// MaxClockMillis is the latest moment a Clock can name, in the year 10889.
const MaxClockMillis = 1<<48 - 1

// LatestClockMillis is the latest time an entry may claim, the end of the
// year 2199. A phone whose clock is further out would push everybody's clock
// to where it can no longer count, so such an entry is refused.
const LatestClockMillis = 7_258_118_399_999

// Next returns the reading for an event that happens when the wall clock
// shows now (Unix milliseconds) on a device that has seen readings up to c.
// It is always after c. A now outside [0, LatestClockMillis] counts as 0,
// so that a broken wall clock falls back on what was seen.
func (c Clock) Next(now int64) Clock {
	if now < 0 || now > LatestClockMillis {
		now = 0
	}
	wall := Clock(now) << clockCounterBits
	if wall > c {
		return wall
	}
	return c + 1
}

// Millis returns the wall-clock part in Unix milliseconds.
func (c Clock) Millis() int64 { return int64(c >> clockCounterBits) }

// String prints 16 lower-case hex digits, which sort as the clock does.
func (c Clock) String() string { return fmt.Sprintf("%016x", uint64(c)) }

// ParseClock reads what String prints, and nothing else.
func ParseClock(s string) (Clock, error) {
	n, err := strconv.ParseUint(s, 16, 64)
	if err != nil || Clock(n).String() != s {
		return 0, fmt.Errorf("clock %q is not 16 lower-case hex digits", s)
	}
	return Clock(n), nil
}
