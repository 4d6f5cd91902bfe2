// Package trace turns a recorded ride, GPX 1.1 or NMEA 0183, into laps and
// sectors by where it crosses lines on the ground. It does not judge the
// laps, and it does not correct the receiver.
//
// Positions are degrees, WGS 84, north and east positive; times are seconds
// since 1970-01-01 UTC. A receiver's fixes are a second or less apart and each
// some metres off: a crossing is good to about metres off / speed, and that
// is what a lap time from a trace can claim.
package trace
