package example

import (
	"crypto/sha256"
	"encoding/hex"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// felt notes how a trial felt, before anybody looked at its laps.
func (t *teller) felt(trial entry.ID, felt string) {
	t.tell(book.KindRating, book.RatingBody{Bike: Heron, Trial: trial, Felt: felt})
}

// blindly rides one run under seal: the draw, the run, what the rider said,
// and the draw opened. The chance is the example's own, so that it is the same
// on every phone.
func (t *teller) blindly(trial entry.ID, by entry.PersonID, want, said string, r ride) {
	side, salt := wanted(trial, want, r.id)
	draw := t.tell(book.KindDraw, book.DrawBody{Bike: Heron, Trial: trial, Seal: book.SealDraw(trial, side, salt), By: by})
	t.rode(r)
	t.tell(book.KindReveal, book.RevealBody{Bike: Heron, Draw: draw, Said: said, Side: side, Salt: hex.EncodeToString(salt)})
}

// wanted draws until the side comes up that the season tells of.
func wanted(trial entry.ID, want string, run book.SessionID) (side string, salt []byte) {
	seed := []byte(string(trial) + string(run))
	for {
		chance := sha256.Sum256(seed)
		side, salt, _ := book.DrawSide(chance[:])
		if side == want {
			return side, salt
		}
		seed = chance[:]
	}
}
