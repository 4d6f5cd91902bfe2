package desk_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"testing"

	"plumbline/internal/desk"
)

// spot is a small photo, another one for each number, and its name.
func spot(t *testing.T, n int) (name string, photo []byte) {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 16, 8))
	img.SetGray(n%16, n/16%8, color.Gray{255})
	img.SetGray(n%16, (n/16+1+n/128)%8, color.Gray{128})
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 100}); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(out.Bytes())
	return hex.EncodeToString(sum[:]), out.Bytes()
}

func TestABookHasSoManyPhotos(t *testing.T) {
	p := open(t, t.TempDir())
	ourKey, theirKey := p.mustCreate(ours), p.mustCreate(theirs)
	last := ""
	for i := range desk.MostPhotos {
		name, photo := spot(t, i)
		if err := p.PutPhoto(t.Context(), ourKey, ours, name, photo); err != nil {
			t.Fatalf("photo %d: %v", i, err)
		}
		last = name
	}
	if names, err := p.Photos(t.Context(), ourKey, ours); err != nil || len(names) != desk.MostPhotos {
		t.Fatalf("%d names, %v", len(names), err)
	}
	_, again := spot(t, desk.MostPhotos-1)
	if err := p.PutPhoto(t.Context(), ourKey, ours, last, again); err != nil {
		t.Errorf("one that is there: %v", err)
	}
	name, photo := spot(t, desk.MostPhotos)
	if err := p.PutPhoto(t.Context(), ourKey, ours, name, photo); !errors.Is(err, desk.ErrPhotoLimit) {
		t.Errorf("one more: %v", err)
	}
	if err := p.PutPhoto(t.Context(), theirKey, theirs, name, photo); err != nil {
		t.Errorf("in another book: %v", err)
	}
	if _, err := p.Photo(t.Context(), ourKey, ours, name); !errors.Is(err, desk.ErrNoPhoto) {
		t.Errorf("the other book's photo: %v", err)
	}
	if _, err := p.Photo(t.Context(), theirKey, ours, last); !errors.Is(err, desk.ErrDenied) {
		t.Errorf("with the other book's key: %v", err)
	}
	if got, err := p.Photo(t.Context(), ourKey, ours, last); err != nil || !bytes.Equal(got, again) {
		t.Errorf("%d bytes, %v", len(got), err)
	}
}
