package phrase_test

import (
	"encoding/base64"
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"plumbline/internal/phrase"
)

// The words of IPv4 addresses, two each, as the paper prints them.
// Source: Wilkerson, A Proposal for Proquints, arXiv:0901.4016, its list of
// examples, from memory.
func TestWordsAsPublished(t *testing.T) {
	for _, row := range []struct {
		bytes [4]byte
		want  string
	}{
		{[4]byte{127, 0, 0, 1}, "lusab babad"},
		{[4]byte{63, 84, 220, 193}, "gutih tugad"},
		{[4]byte{63, 118, 7, 35}, "gutuk bisog"},
		{[4]byte{140, 98, 193, 141}, "mudof sakat"},
		{[4]byte{64, 255, 6, 200}, "haguz biram"},
		{[4]byte{128, 30, 52, 45}, "mabiv gibot"},
		{[4]byte{147, 67, 119, 2}, "natag lisaf"},
		{[4]byte{212, 58, 253, 68}, "tibup zujah"},
		{[4]byte{216, 35, 68, 215}, "tobog higil"},
		{[4]byte{216, 68, 232, 21}, "todah vobij"},
		{[4]byte{198, 81, 129, 136}, "sinid makam"},
		{[4]byte{12, 110, 110, 204}, "budov kuras"},
	} {
		var seed [phrase.Size]byte
		copy(seed[:], row.bytes[:])
		if got := phrase.Of(seed); !strings.HasPrefix(got, row.want+" ") {
			t.Errorf("%v begins %q, want %q", row.bytes, got, row.want)
		}
	}
}

func TestAPhraseIsReadAgainHoweverItIsTyped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var seed [phrase.Size]byte
		copy(seed[:], rapid.SliceOfN(rapid.Byte(), phrase.Size, phrase.Size).Draw(t, "seed"))
		text := phrase.Of(seed)
		for _, typed := range []string{text, strings.ToUpper(text), strings.ReplaceAll(text, " ", "-"), " " + strings.ReplaceAll(text, " ", ",\n ") + "."} {
			if got, err := phrase.Read(typed); err != nil || got != seed {
				t.Fatalf("%q reads %x, %v; want %x", typed, got, err, seed)
			}
		}
		if raw, err := base64.RawURLEncoding.DecodeString(phrase.Key(seed)); err != nil || len(raw) != 32 {
			t.Fatalf("key %q: %v", phrase.Key(seed), err)
		}
	})
}

func TestSlipsAreFound(t *testing.T) {
	good := phrase.Of([phrase.Size]byte{1, 2, 3, 4, 5, 6, 7, 8})
	words := strings.Fields(good)
	for why, row := range map[string]struct {
		text string
		want error
	}{
		"nothing":       {"", phrase.ErrCount},
		"a word less":   {strings.Join(words[1:], " "), phrase.ErrCount},
		"no such word":  {strings.Replace(good, words[3], "wheel", 1), phrase.ErrWord},
		"a short word":  {strings.Replace(good, words[3], "bab", 1), phrase.ErrWord},
		"another word":  {strings.Replace(good, words[3], "zuzuz", 1), phrase.ErrCheck},
		"swapped words": {strings.Join(append([]string{words[1], words[0]}, words[2:]...), " "), phrase.ErrCheck},
	} {
		if _, err := phrase.Read(row.text); !errors.Is(err, row.want) {
			t.Errorf("%s: %v, want %v", why, err, row.want)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(phrase.Of([phrase.Size]byte{9}))
	f.Fuzz(func(t *testing.T, text string) {
		seed, err := phrase.Read(text)
		if err != nil {
			return
		}
		if again, err := phrase.Read(phrase.Of(seed)); err != nil || again != seed {
			t.Fatalf("%q reads %x, and that %x, %v", text, seed, again, err)
		}
	})
}
