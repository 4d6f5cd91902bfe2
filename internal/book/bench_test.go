package book

import (
	"testing"

	"plumbline/internal/unit"
)

// manyEntries writes a book of n entries as track days go: a session, what was
// felt, a change, a count, a check.
func manyEntries(t testing.TB, n int) *story {
	s := newStory(t)
	psi := unit.Fixed(228_500)
	for i := 0; len(s.log) < n; i++ {
		s.write(phoneA, KindSession, SessionBody{Bike: heron, Session: "0189a1b2-0000-7000-8000-00000000c0de", Track: "saltmarsh-ring", Front: &psi, Rear: &psi, Felt: "better", Note: "clean run, no traffic"})
		s.write(phoneA, KindSymptom, SymptomBody{Bike: heron, Track: "saltmarsh-ring", Corner: "4", Findings: map[string]string{"rear-wallow-drive": "yes", "front-dive": "no"}, Repeat: "every", Words: "wallows on the drive out of the long left"})
		s.write(phoneA, KindChange, change("rear.rebound", i%20, (i+1)%20, "because it wallows on the drive out"))
		s.write(phoneA, KindCount, counted("front.rebound", i%20))
		s.write(phoneA, KindCheck, CheckBody{Bike: heron, Check: "chain", Result: "good", Note: "32 mm at the tight spot"})
	}
	return s
}

// BenchmarkFold10000 folds a book of 10,000 entries from decoded lines.
func BenchmarkFold10000(b *testing.B) {
	s := manyEntries(b, 10_000)
	b.ReportAllocs()
	for b.Loop() {
		Fold(s.log)
	}
}

// BenchmarkOpen10000 reads, checks and folds a book of 10,000 lines.
func BenchmarkOpen10000(b *testing.B) {
	var lines []string
	for _, e := range manyEntries(b, 10_000).log {
		lines = append(lines, string(e.Line()))
	}
	b.ReportAllocs()
	for b.Loop() {
		r := Open(testBook, phoneA)
		r.Take(lines)
		r.Book()
	}
}
