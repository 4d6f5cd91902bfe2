package web

import (
	"compress/gzip"
	"io"
	"net/http"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
)

// Entries are words and repeat themselves: packed, they are a fifth, which
// matters at the edge of a network. Photos are packed already.

// mostUnpacked is the most that a batch may be when it is unpacked: as much as
// an unpacked body may be.
const mostUnpacked = 4 << 20

// packed sends a route's answers in gzip to whoever takes it, when they have
// some length. A packer takes most of a megabyte, so this is for the routes
// with long answers only.
func packed() echo.MiddlewareFunc {
	return middleware.GzipWithConfig(middleware.GzipConfig{MinLength: 1 << 10})
}

// unpacked returns a call's body, out of gzip if it came so.
func unpacked(c echo.Context) (io.Reader, error) {
	body := c.Request().Body
	switch c.Request().Header.Get(echo.HeaderContentEncoding) {
	case "":
		return body, nil
	case "gzip":
		plain, err := gzip.NewReader(body)
		if err != nil {
			return nil, unread(err)
		}
		return http.MaxBytesReader(nil, plain, mostUnpacked), nil
	}
	c.Response().Header().Set(echo.HeaderAcceptEncoding, "gzip")
	return nil, echo.NewHTTPError(http.StatusUnsupportedMediaType, "Send entries as they are, or in gzip.")
}
