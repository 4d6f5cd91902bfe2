package web

import (
	"context"
	"net/http"

	"plumbline/internal/entry"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
)

// Photos is what the handlers of photos ask.
type Photos interface {
	PutPhoto(ctx context.Context, token string, book entry.BookID, name string, photo []byte) error
	Photo(ctx context.Context, token string, book entry.BookID, name string) ([]byte, error)
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
