// Package phrase turns a recovery key into words that can be read aloud,
// printed and typed again, and back. It draws no chance and keeps nothing.
//
// Each word stands for 16 bits: consonant, vowel, consonant, vowel, consonant
// (D. S. Wilkerson, A Proposal for Proquints: Identifiers that are Readable,
// Spellable, and Pronounceable, arXiv:0901.4016, 2009). Eight words are the
// key's seed of 128 bits; the ninth checks them.
package phrase

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"strings"
)

// Size is the length of a seed in bytes.
const Size = 16

// Words is how many words a phrase has.
const Words = Size/2 + 1

const (
	consonants = "bdfghjklmnprstvz"
	vowels     = "aiou"
)

// What is wrong with a typed phrase.
var (
	ErrCount = errors.New("a phrase has nine words")
	ErrWord  = errors.New("a word is not one of a phrase's")
	ErrCheck = errors.New("the words do not belong together")
)

// Of returns the phrase of a seed, its words parted by spaces.
func Of(seed [Size]byte) string {
	var words []string
	for i := 0; i < Size; i += 2 {
		words = append(words, word(binary.BigEndian.Uint16(seed[i:])))
	}
	return strings.Join(append(words, word(check(seed))), " ")
}

// Read returns the seed of a phrase. Capitals, hyphens, commas and any white
// space between the words do not matter. It fails with ErrCount, ErrWord or
// ErrCheck.
func Read(text string) ([Size]byte, error) {
	var seed [Size]byte
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !('a' <= r && r <= 'z') })
	if len(words) != Words {
		return seed, ErrCount
	}
	var last uint16
	for i, w := range words {
		n, ok := number(w)
		if !ok {
			return seed, ErrWord
		}
		if i < Words-1 {
			binary.BigEndian.PutUint16(seed[2*i:], n)
		}
		last = n
	}
	if last != check(seed) {
		return seed, ErrCheck
	}
	return seed, nil
}

// Key returns the key that a seed stands for: 32 bytes in unpadded base64url,
// as the desk wants keys. It is a hash, so the key tells nothing of the phrase.
func Key(seed [Size]byte) string {
	sum := sha256.Sum256(append([]byte("plumbline recovery key 1 "), seed[:]...))
	return base64.RawURLEncoding.EncodeToString(sum[:])
}

func check(seed [Size]byte) uint16 {
	sum := sha256.Sum256(append([]byte("plumbline recovery check 1 "), seed[:]...))
	return binary.BigEndian.Uint16(sum[:])
}

func word(n uint16) string {
	return string([]byte{consonants[n>>12], vowels[n>>10&3], consonants[n>>6&15], vowels[n>>4&3], consonants[n&15]})
}

func number(word string) (uint16, bool) {
	if len(word) != 5 {
		return 0, false
	}
	n := 0
	for i, c := range []byte(word) {
		letters, bits := consonants, 4
		if i%2 == 1 {
			letters, bits = vowels, 2
		}
		at := strings.IndexByte(letters, c)
		if at < 0 {
			return 0, false
		}
		n = n<<bits | at
	}
	return uint16(n), true
}
