package screen

import (
	"errors"

	"plumbline/internal/book"
	"plumbline/internal/phrase"
)

// NewPhraseArgs brings the chance for a recovery phrase: 16 random bytes.
type NewPhraseArgs struct {
	Random []byte `json:"random"` // base64
}

// PhraseArgs is a phrase as it was typed.
type PhraseArgs struct {
	Text string `json:"text"`
}

// Phrase is a recovery phrase, and the key that it stands for.
type Phrase struct {
	Words string `json:"words,omitempty"`
	Key   string `json:"key"`
}

var (
	_ = view("phrase.new", newPhrase)
	_ = view("phrase.read", readPhrase)
)

func newPhrase(_ Ask, args NewPhraseArgs) (any, []book.Refusal) {
	if len(args.Random) != phrase.Size {
		return nil, []book.Refusal{{Field: "random", Says: "A phrase is made from 16 random bytes."}}
	}
	seed := [phrase.Size]byte(args.Random)
	return Phrase{phrase.Of(seed), phrase.Key(seed)}, nil
}

func readPhrase(_ Ask, args PhraseArgs) (any, []book.Refusal) {
	seed, err := phrase.Read(args.Text)
	switch {
	case errors.Is(err, phrase.ErrCount):
		return nil, []book.Refusal{{Field: "text", Says: "A recovery phrase has nine words.", Mend: "Type all of them, with spaces between."}}
	case errors.Is(err, phrase.ErrWord):
		return nil, []book.Refusal{{Field: "text", Says: "One of these words is not from a recovery phrase.", Mend: "Look at each letter again: every word has five."}}
	case err != nil:
		return nil, []book.Refusal{{Field: "text", Says: "These words do not belong together.", Mend: "Look at their order, and at each letter."}}
	}
	return Phrase{Key: phrase.Key(seed)}, nil
}
