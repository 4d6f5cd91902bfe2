// Package laps reads lap times, marks the laps that do not count, and says
// what the rest show about a change: keep it, put it back, or ride more. It
// keeps no sessions, draws nothing, and never decides over the rider's word.
//
// Times are seconds, lower is faster; a shift is after minus before, so a
// negative shift is a gain. Laps in one stint are not independent (tyres,
// fuel, learning): see WithoutDrift and Judge for what is done about it.
package laps
