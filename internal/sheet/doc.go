// Package sheet is the setup sheet: the one page a tuner can work from, and
// the compact code that carries it from screen to screen without a network.
// It knows no book: who makes a sheet fills in words that are ready to read.
//
// # The code, version 1
//
// A sheet's code is text of capital letters, digits and five signs, so that
// barcode readers pack it tightly:
//
//  1. The sheet as JSON, as this package's types say.
//  2. That, deflated (RFC 1951, raw) with the preset dictionary dictionary1.txt.
//  3. The bytes, two at a time, most significant first, as a number below
//     65536 written with three digits in base 41, least significant first; a
//     last single byte as two digits. The digits are 0-9, A-Z and $*+-: in
//     this order. RFC 9285 writes base 45 in the same way; space and % are left
//     out because an address cannot carry them, . and / to part fields with.
//  4. The text, cut into parts of nearly one length. Each part is preceded by
//     "1.TAG.I.N." : the version, the sheet's tag, this part's number from 1,
//     and how many there are.
//
// The tag is the CRC-32 (IEEE 802.3) of the JSON of step 1, as eight digits
// in hexadecimal capitals. It ties the parts of one sheet together, and shows
// a reader that what it put together is what was sent. It keeps out accidents,
// not forgers: a sheet says nothing that its reader must trust.
//
// A field may be added to the JSON; readers ignore what they do not know. What
// else changes makes a new version.
package sheet
