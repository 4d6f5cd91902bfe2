// Package book folds the entries of a log into what one rider keeps of their
// bikes: settings and their standing, who changed what and why, baselines and
// drift, falls, checks, advice and trials. It does not store, does not sync
// and computes no physics.
//
// # Kinds
//
// Each kind of entry has a body type here; its doc comment says what a field
// holds. A kind may gain optional fields; a field never changes its meaning.
// An entry of an unknown kind, or whose body cannot be read, is kept in the
// log and listed in Book.Oddities.
package book
