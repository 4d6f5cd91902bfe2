package desk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"

	"plumbline/internal/entry"
	"plumbline/internal/share"
)

// Photos is what the desk needs of a database for photos. Hashes are bytes.
type Photos interface {
	PutPhoto(ctx context.Context, book entry.BookID, hash, photo []byte, most int) (bool, error)
	Photo(ctx context.Context, book entry.BookID, hash []byte) ([]byte, error)
	DropPhoto(ctx context.Context, book entry.BookID, hash []byte) error
	Photos(ctx context.Context, book entry.BookID) ([][]byte, error)
}

// MostPhotos is how many photos a book can have.
const MostPhotos = 500

var (
	// ErrNoPhoto says that a book has no such photo.
	ErrNoPhoto = errors.New("this book has no such photo here")
	// ErrBadPhoto says that bytes are not a photo that the desk takes.
	ErrBadPhoto = errors.New("this is not a whole JPEG photo of at most 1 MiB and 2048 pixels a side, with nothing beside the picture (no Exif, no comment), under its own SHA-256")
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

// DropPhoto deletes a photo, as a device asks whose rider struck it out. One
// that is not there is deleted already.
func (d *Desk) DropPhoto(ctx context.Context, token string, book entry.BookID, name string) error {
	if err := d.admit(ctx, token, book); err != nil {
		return err
	}
	hash, err := hex.DecodeString(name)
	if err != nil {
		return ErrNoPhoto
	}
	return d.store.DropPhoto(ctx, book, hash)
}

// Photo returns a photo of a book.
func (d *Desk) Photo(ctx context.Context, token string, book entry.BookID, name string) ([]byte, error) {
	if err := d.admit(ctx, token, book); err != nil {
		return nil, err
	}
	return d.photo(ctx, book, name)
}

func (d *Desk) photo(ctx context.Context, book entry.BookID, name string) ([]byte, error) {
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

// PhotoBy returns a photo to whoever has a link with photos. Which photos the
// link shows, the page decides.
func (d *Desk) PhotoBy(ctx context.Context, l share.Link, name string) ([]byte, error) {
	if !l.Photos {
		return nil, ErrNoPhoto
	}
	return d.photo(ctx, l.Book, name)
}

// PhotosBy returns the names of a book's photos where a link shows photos, and
// none where it does not.
func (d *Desk) PhotosBy(ctx context.Context, l share.Link) ([]string, error) {
	if !l.Photos {
		return nil, nil
	}
	return d.photos(ctx, l.Book)
}

// Photos returns the names of the photos that the desk has of a book, sorted.
func (d *Desk) Photos(ctx context.Context, token string, book entry.BookID) ([]string, error) {
	if err := d.admit(ctx, token, book); err != nil {
		return nil, err
	}
	return d.photos(ctx, book)
}

func (d *Desk) photos(ctx context.Context, book entry.BookID) ([]string, error) {
	hashes, err := d.store.Photos(ctx, book)
	names := make([]string, 0, len(hashes))
	for _, h := range hashes {
		names = append(names, hex.EncodeToString(h))
	}
	return names, err
}
