package entry

import (
	"fmt"
	"strconv"
	"strings"
)

// Clock is a hybrid logical clock reading: 48 bits of Unix milliseconds and
// 16 bits that count events within one. It is total and causal: whatever a
// device has seen comes before whatever it writes next, also when its wall
// clock jumps back. After S. Kulkarni et al., "Logical Physical Clocks", 2014,
// section 3, with the counter folded into the low bits.
//
// # How far ahead a foreign clock is believed
//
// A phone's clock may be years ahead. Its entries are kept and everybody
// follows them, so that order stays causal; counting up from the year 2080
// harms nobody, because riders are shown the wall time. But a clock at the end
// of its range would leave no later reading for others, and every pen would
// stop. So the range has two parts:
//
//   - Up to the end of the year 2199 (LatestClockMillis), a reading may be
//     claimed: taken from a wall clock, right or wrong.
//   - Behind it, readings are only counted to, one by one. The n-th reading
//     after 2199 has n readings before it and so n entries; in a log that
//     holds fewer, it waits as an entry with a gap before it does. An entry
//     of an honest device never waits long, because whoever passes it on
//     holds what it was counted from; a forged one waits for ever.
//
// Counting does not come to the end: there is room for 2^32 entries.
type Clock uint64

const clockCounterBits = 16

// MaxClockMillis is the latest moment a Clock can name, in the year 10889.
const MaxClockMillis = 1<<48 - 1

// LatestClockMillis is the latest time that a wall clock may claim, the end of
// the year 2199.
const LatestClockMillis = 7_258_118_399_999

const (
	lastClaim Clock = LatestClockMillis<<clockCounterBits | (1<<clockCounterBits - 1)
	// lastCount is the latest reading that a line may have at all.
	lastCount = lastClaim + 1<<32
)

// countedAmong reports whether n entries can have led to a reading.
func (c Clock) countedAmong(n int) bool { return c <= lastClaim || c-lastClaim <= Clock(n) }

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
	if err != nil || len(s) != 16 || strings.ContainsFunc(s, func(r rune) bool { return r > 'f' || !isHex(byte(r)) }) {
		return 0, fmt.Errorf("clock %q is not 16 lower-case hex digits", s)
	}
	return Clock(n), nil
}
