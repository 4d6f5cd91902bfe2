// Package screen turns a book into what screens show and what riders fill in
// into entries: one file per screen, each with its view models and its
// actions. It draws nothing, stores nothing and knows no clock.
package screen
