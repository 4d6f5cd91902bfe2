package book

import "testing"

// BenchmarkFold10000 folds a book of 10,000 entries from decoded lines.
func BenchmarkFold10000(b *testing.B) {
	s := newStory(b)
	for i := 0; len(s.log) < 10_000; i++ {
		s.write(phoneA, KindChange, change("rear.rebound", i%20, (i+1)%20, "because it wallows on the drive out"))
	}
	b.ReportAllocs()
	for b.Loop() {
		Fold(s.log)
	}
}
