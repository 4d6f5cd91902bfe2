// Package example writes the example book: one season of an invented rider on
// an invented bike at invented circuits. It is what the first screen offers to
// look around in, what screenshots show and what tests read; it is nobody's
// real history.
package example
