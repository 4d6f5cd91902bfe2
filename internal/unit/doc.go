// Package unit holds the quantities of the book: fixed-point numbers that
// fold to the same bytes everywhere, conversions to and from what riders
// type and read. It knows no adjuster and no bike.
package unit
