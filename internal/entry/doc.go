// Package entry is the log that a book is made of: dated, chained, signed-off
// lines that are only ever added. It knows envelopes, clocks, chains and the
// union of logs; it never looks into a body, so that the relay and the store
// can carry kinds that a newer app wrote.
//
// # The line
//
// An entry is written once, by the device that made it, as one line of JSON
// with the members in this order and no white space between them:
//
//	{"v":1,"id":…,"book":…,"device":…,"seq":…,"prev":…,"at":…,"wall":…,"by":…,"kind":…,"body":{…}}
//
//	v       1, the form described here
//	id      UUIDv7 (RFC 9562), lower case
//	book    UUID of the book
//	device  UUID of the device
//	seq     1, 2, 3 … on that device in that book, no gaps
//	prev    SHA-256 of the device's previous line, lower-case hex; "" for seq 1
//	at      hybrid logical clock, see Clock
//	wall    what the phone's clock said, RFC 3339 with its offset, for display
//	by      person id of who held the phone, "" when not said
//	kind    what the body is, a word of a-z and '-'
//	body    a JSON object
//
// Strings are escaped as encoding/json does without HTML escaping. Hashes
// cover the bytes of the line without its line feed. Lines travel and are
// stored as those bytes; nobody but the writing device encodes an entry.
package entry
