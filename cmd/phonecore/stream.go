package main

import (
	"crypto/sha256"
	"encoding/binary"
)

// stream draws as many bytes as an action needs out of the randomness that
// came with it: SHA-256 over the seed and a counter. The core has no source
// of chance of its own, so that the same call gives the same entries.
type stream struct {
	seed []byte
	n    uint64
}

func newStream(seed []byte) *stream { return &stream{seed: seed} }

func (s *stream) next(n int) []byte {
	out := make([]byte, 0, n+sha256.Size)
	for len(out) < n {
		sum := sha256.Sum256(binary.BigEndian.AppendUint64(s.seed[:len(s.seed):len(s.seed)], s.n))
		out = append(out, sum[:]...)
		s.n++
	}
	return out[:n]
}
