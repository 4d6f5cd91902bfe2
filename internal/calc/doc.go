// Package calc is the desk at which the chassis arithmetic is done: a topic
// for each thing a rider can measure or ask, with its inputs, units, plausible
// ranges, formula and source, and one way to run them all. It turns typed
// words into numbers, and numbers into sentences; it knows no book, and no
// physics of its own: that is package chassis.
package calc
