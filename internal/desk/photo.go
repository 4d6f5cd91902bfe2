package desk

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"image/jpeg"

	"plumbline/internal/entry"
)

// Photos is what the desk needs of a database for photos. Hashes are bytes.
type Photos interface {
	PutPhoto(ctx context.Context, book entry.BookID, hash, photo []byte, most int) (bool, error)
	Photo(ctx context.Context, book entry.BookID, hash []byte) ([]byte, error)
	Photos(ctx context.Context, book entry.BookID) ([][]byte, error)
}

// What photos are limited to. The app makes them smaller: 1600 pixels and
// about 400 KB.
const (
	// LargestPhoto is the most bytes of a photo.
	LargestPhoto = 1 << 20
	// WidestPhoto is the most pixels of a photo's side. A picture that says it
	// is larger is not decoded: it could take all memory.
	WidestPhoto = 2048
	// MostPhotos is how many photos a book can have.
	MostPhotos = 500
)

var (
	// ErrNoPhoto says that a book has no such photo.
	ErrNoPhoto = errors.New("this book has no such photo here")
	// ErrBadPhoto says that bytes are not a photo that the desk takes.
	ErrBadPhoto = errors.New("this is not a whole JPEG photo of at most 1 MiB and 2048 pixels a side, without camera data (Exif), under its own SHA-256")
	// ErrPhotoLimit says that a book has as many photos as it may.
	ErrPhotoLimit = errors.New("this book has 500 photos here, and no room for more")
)

// PutPhoto keeps a photo under its name, the SHA-256 of its bytes in hex. It
// is decoded to the end first, so nothing but a photo is ever served.
func (d *Desk) PutPhoto(ctx context.Context, token string, book entry.BookID, name string, photo []byte) error {
	if err := d.admit(ctx, token, book); err != nil {
		return err
	}
	sum := sha256.Sum256(photo)
	if name != hex.EncodeToString(sum[:]) || !d.isPhoto(photo) {
		return ErrBadPhoto
	}
	there, err := d.store.PutPhoto(ctx, book, sum[:], photo, MostPhotos)
	if err == nil && !there {
		return ErrPhotoLimit
	}
	return err
}

func (d *Desk) isPhoto(photo []byte) bool {
	if len(photo) > LargestPhoto || hasCameraData(photo) {
		return false
	}
	size, err := jpeg.DecodeConfig(bytes.NewReader(photo))
	if err != nil || size.Width > WidestPhoto || size.Height > WidestPhoto {
		return false
	}
	d.decoding.Lock()
	defer d.decoding.Unlock()
	_, err = jpeg.Decode(bytes.NewReader(photo))
	return err == nil
}

// hasCameraData says whether a JPEG has an APP1 segment before its picture:
// there Exif and XMP keep the place where it was taken (ITU-T T.81, B.1.1.4:
// markers; Exif 2.3, 4.5.4: APP1). What is no JPEG has none.
func hasCameraData(photo []byte) bool {
	const app1, startOfScan = 0xE1, 0xDA
	for at := 2; at+4 <= len(photo) && photo[at] == 0xFF; {
		switch photo[at+1] {
		case app1:
			return true
		case startOfScan:
			return false
		case 0xFF: // fill byte
			at++
			continue
		}
		at += 2 + int(photo[at+2])<<8 + int(photo[at+3])
	}
	return false
}

// Photo returns a photo of a book.
func (d *Desk) Photo(ctx context.Context, token string, book entry.BookID, name string) ([]byte, error) {
	if err := d.admit(ctx, token, book); err != nil {
		return nil, err
	}
	hash, err := hex.DecodeString(name)
	if err != nil {
		return nil, ErrNoPhoto
	}
	photo, err := d.store.Photo(ctx, book, hash)
	if err == nil && photo == nil {
		return nil, ErrNoPhoto
	}
	return photo, err
}

// Photos returns the names of the photos that the desk has of a book, sorted.
func (d *Desk) Photos(ctx context.Context, token string, book entry.BookID) ([]string, error) {
	if err := d.admit(ctx, token, book); err != nil {
		return nil, err
	}
	hashes, err := d.store.Photos(ctx, book)
	names := make([]string, 0, len(hashes))
	for _, h := range hashes {
		names = append(names, hex.EncodeToString(h))
	}
	return names, err
}
