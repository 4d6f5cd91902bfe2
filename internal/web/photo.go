package web

import (
	"context"
	"net/http"
	"slices"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/desk"
	"plumbline/internal/entry"
	"plumbline/internal/screen"
	"plumbline/internal/share"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
)

// Photos is what the handlers of photos ask.
type Photos interface {
	PutPhoto(ctx context.Context, token string, book entry.BookID, name string, photo []byte) error
	Photo(ctx context.Context, token string, book entry.BookID, name string) ([]byte, error)
	DropPhoto(ctx context.Context, token string, book entry.BookID, name string) error
	PhotosBy(ctx context.Context, l share.Link) ([]string, error)
	PhotoBy(ctx context.Context, l share.Link, name string) ([]byte, error)
	Photos(ctx context.Context, token string, book entry.BookID) ([]string, error)
}

type photosAnswer struct {
	Photos []string `json:"photos"`
}

const jpegType = "image/jpeg"

func (s *server) photos(api *echo.Group) {
	api.GET("/books/:book/photos", s.getPhotos)
	api.GET("/books/:book/photos/:photo", s.getPhoto)
	api.PUT("/books/:book/photos/:photo", s.putPhoto, middleware.BodyLimit("1M"))
	api.DELETE("/books/:book/photos/:photo", s.deletePhoto)
}

func (s *server) getPhotos(c echo.Context) error {
	names, err := s.desk.Photos(c.Request().Context(), bearer(c), bookID(c))
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, photosAnswer{names})
}

func (s *server) getPhoto(c echo.Context) error {
	photo, err := s.desk.Photo(c.Request().Context(), bearer(c), bookID(c), c.Param("photo"))
	if err != nil {
		return err
	}
	return c.Blob(http.StatusOK, jpegType, photo)
}

func (s *server) putPhoto(c echo.Context) error {
	if mediaType(c.Request().Header.Get(echo.HeaderContentType)) != jpegType {
		return echo.NewHTTPError(http.StatusUnsupportedMediaType, "Send a photo, as image/jpeg.")
	}
	photo, err := readAll(c)
	if err != nil {
		return err
	}
	if err := s.desk.PutPhoto(c.Request().Context(), bearer(c), bookID(c), c.Param("photo"), photo); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

func (s *server) deletePhoto(c echo.Context) error {
	if err := s.desk.DropPhoto(c.Request().Context(), bearer(c), bookID(c), c.Param("photo")); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

// mostShown is how many photos a shared page shows, the newest: with the page
// itself they stay within what one phone may ask for at once.
const mostShown = 12

// photosBy are the photos that a link shows: those of its bike that the server
// has, where the rider ticked them. What the rider wrote beside them is a note.
func (s *server) photosBy(ctx context.Context, l share.Link, a screen.Ask) ([]screen.PhotoLine, error) {
	have, err := s.desk.PhotosBy(ctx, l)
	if err != nil || len(have) == 0 {
		return nil, err
	}
	var out []screen.PhotoLine
	for _, p := range screen.PhotosOf(a, book.BikeID(l.Bike)) {
		if !slices.Contains(have, p.Photo) || len(out) == mostShown {
			continue
		}
		if !l.Notes {
			p.Note, p.Alt = "", "Photo: "+p.Says
		}
		out = append(out, p)
	}
	return out, nil
}

// getSharedPhoto shows a photo of a shared page, and no other.
func (s *server) getSharedPhoto(c echo.Context) error {
	ctx := c.Request().Context()
	l, entries, err := s.desk.OpenLink(ctx, c.Param("secret"), false)
	if err != nil {
		return err
	}
	shown, err := s.photosBy(ctx, l, screen.Ask{Book: book.Fold(entries), Now: time.Now()})
	if err != nil {
		return err
	}
	name := c.Param("photo")
	if !slices.ContainsFunc(shown, func(p screen.PhotoLine) bool { return p.Photo == name }) {
		return desk.ErrNoPhoto
	}
	photo, err := s.desk.PhotoBy(ctx, l, name)
	if err != nil {
		return err
	}
	return c.Blob(http.StatusOK, jpegType, photo)
}
