package book

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

var (
	tread = strings.Repeat("0a", 32)
	chain = strings.Repeat("1b", 32)
)

func TestPhotosBelongToTheirBike(t *testing.T) {
	s := newStory(t)
	fall := s.write(phoneA, KindFall, FallBody{Bike: heron})
	s.write(phoneA, KindPhoto, PhotoBody{Bike: heron, Photo: tread, What: "tyre-rear", Note: "after 3 sessions"})
	struck := s.write(phoneA, KindPhoto, PhotoBody{Bike: heron, Photo: chain, What: "part"})
	s.write(phoneB, KindPhoto, PhotoBody{Bike: heron, Photo: tread, What: "bike", About: fall})
	s.write(phoneA, KindPhoto, PhotoBody{Bike: "none", Photo: chain, What: "bike"})
	s.write(phoneA, KindStrike, StrikeBody{Entry: struck, Why: "not my chain"})
	b := Fold(s.log)
	var got []string
	for _, p := range b.Bikes[heron].Photos {
		got = append(got, p.Body.What+" "+p.Body.Note)
	}
	if want := []string{"tyre-rear after 3 sessions", "bike "}; !slices.Equal(got, want) {
		t.Errorf("photos %q; want %q", got, want)
	}
	if named, gone := b.PhotoNames(), b.StruckPhotos(); !slices.Equal(named, []string{tread}) || !slices.Equal(gone, []string{chain}) {
		t.Errorf("named %q, struck %q", named, gone)
	}
	if last := b.Told[3]; last.Kind == KindPhoto && last.Bike != heron {
		t.Errorf("history files it under %q", last.Bike)
	}
}

// TestAStruckPhotoIsToGo: unless another line still tells of it, or the strike
// is taken back; what was never struck is nobody's to delete.
func TestAStruckPhotoIsToGo(t *testing.T) {
	s := newStory(t)
	struck := func() string { t.Helper(); return strings.Join(Fold(s.log).StruckPhotos(), " ") }
	first := s.write(phoneA, KindPhoto, PhotoBody{Bike: heron, Photo: tread, What: "tyre-rear"})
	second := s.write(phoneB, KindPhoto, PhotoBody{Bike: heron, Photo: tread, What: "bike"})
	s.write(phoneB, KindPhoto, PhotoBody{Bike: "none", Photo: chain, What: "bike"})
	s.write(phoneA, KindStrike, StrikeBody{Entry: first, Why: "twice"})
	if got := struck(); got != "" {
		t.Errorf("another line tells of it, and it is to go: %s", got)
	}
	strike := s.write(phoneA, KindStrike, StrikeBody{Entry: second, Why: "private"})
	if got := struck(); got != tread {
		t.Errorf("struck out twice, to go is %q", got)
	}
	s.write(phoneB, KindStrike, StrikeBody{Entry: strike, Why: "it was right"})
	if got := struck(); got != "" {
		t.Errorf("taken back, to go is %q", got)
	}
	other := strings.Repeat("2c", 32)
	s.write(phoneB, KindCorrect, CorrectBody{Entry: second, Body: rawBody(`{"bike":"heron","photo":"` + other + `","what":"bike"}`)})
	if got := struck(); got != tread {
		t.Errorf("corrected to another photo, to go is %q", got)
	}
}

func TestPhotosAreChecked(t *testing.T) {
	s := newStory(t)
	fall := s.write(phoneA, KindFall, FallBody{Bike: heron})
	s.write(phoneA, KindPhoto, PhotoBody{Bike: heron, Photo: tread, What: "tyre-rear"})
	b := Fold(s.log)
	for _, r := range []struct {
		body  PhotoBody
		field string
	}{
		{PhotoBody{Bike: heron, Photo: chain, What: "part"}, ""},
		{PhotoBody{Bike: heron, Photo: tread, What: "tyre-rear", About: fall}, ""},
		{PhotoBody{Bike: "none", Photo: chain, What: "part"}, "bike"},
		{PhotoBody{Bike: heron, What: "part"}, "photo"},
		{PhotoBody{Bike: heron, Photo: chain[:63], What: "part"}, "photo"},
		{PhotoBody{Bike: heron, Photo: strings.ToUpper(chain), What: "part"}, "photo"},
		{PhotoBody{Bike: heron, Photo: "../" + chain[:61], What: "part"}, "photo"},
		{PhotoBody{Bike: heron, Photo: chain, What: "holiday"}, "what"},
		{PhotoBody{Bike: heron, Photo: chain, What: "part", About: "nothing"}, "about"},
		{PhotoBody{Bike: heron, Photo: chain, What: "part", Note: strings.Repeat("x", maxWords+1)}, "note"},
	} {
		got := b.Check(r.body)
		if r.field == "" && got != nil || r.field != "" && (len(got) != 1 || got[0].Field != r.field) {
			t.Errorf("%+v: %v; want a refusal of %q", r.body, got, r.field)
		}
	}
}

func TestABookHoldsSoManyPhotos(t *testing.T) {
	s := newStory(t)
	for i := range MostPhotos {
		s.write(phoneA, KindPhoto, PhotoBody{Bike: heron, Photo: fmt.Sprintf("%064x", i), What: "bike"})
	}
	b := Fold(s.log)
	if got := b.Check(PhotoBody{Bike: heron, Photo: tread, What: "bike"}); len(got) != 1 {
		t.Errorf("one more: %v", got)
	}
	if got := b.Check(PhotoBody{Bike: heron, Photo: fmt.Sprintf("%064x", 7), What: "part"}); got != nil {
		t.Errorf("one that it has, for something else: %v", got)
	}
}
