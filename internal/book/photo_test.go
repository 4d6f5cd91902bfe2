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
	if names := b.PhotoNames(); !slices.Equal(names, []string{tread}) {
		t.Errorf("names %q", names)
	}
	if last := b.Told[3]; last.Kind == KindPhoto && last.Bike != heron {
		t.Errorf("history files it under %q", last.Bike)
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
		{PhotoBody{Bike: heron, Photo: tread, What: "tyre-rear"}, "photo"},
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
