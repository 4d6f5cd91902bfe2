// Package web is the server's HTTP face: the relay's few calls and the app's
// files. A handler binds, asks the desk once, and answers; it decides nothing.
package web

import (
	"context"
	"io/fs"
	"log/slog"
	"net/http"
	"net/netip"
	"time"

	"plumbline/internal/entry"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
	"golang.org/x/time/rate"
)

// Desk is what the handlers ask.
type Desk interface {
	Create(ctx context.Context, book entry.BookID, device entry.DeviceID, key string) error
	Push(ctx context.Context, token string, book entry.BookID, lines [][]byte) (entry.Vector, error)
	Pull(ctx context.Context, token string, book entry.BookID, have entry.Vector, do func(line []byte) error) error
	Vector(ctx context.Context, token string, book entry.BookID) (entry.Vector, error)
	Invite(ctx context.Context, token string, book entry.BookID) (code string, expires time.Time, err error)
	Join(ctx context.Context, code string, device entry.DeviceID, key string) (entry.BookID, error)
	Ready(ctx context.Context) error
	Sharing
	Photos
}

// Limits are what one client may ask of the server.
type Limits struct {
	Body    string     // greatest body, as echo writes sizes: "4M"
	PerSec  rate.Limit // calls a second and client
	Burst   int        // calls at once
	JoinSec rate.Limit // tries a second and client to join a book
	BookSec rate.Limit // new books a second and client

	SharedSec rate.Limit // pages a second and client by shared links
	Proxy     bool       // calls come through a proxy on this machine or network, which says for whom
}

// DefaultLimits suit one machine for a club: a phone pushes a season in a few
// calls, a guesser of codes gets six a minute, and a paddock behind one address
// can begin sixty books at once.
var DefaultLimits = Limits{Body: "4M", PerSec: 20, Burst: 60, JoinSec: 0.1, BookSec: 0.1, SharedSec: 1}

// New returns the server's handler. App holds the built front end, with
// index.html at its root.
func New(d Desk, app fs.FS, log *slog.Logger, limits Limits) http.Handler {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.IPExtractor = echo.ExtractIPDirect()
	if limits.Proxy {
		e.IPExtractor = echo.ExtractIPFromXFFHeader() // believes only proxies at private addresses
	}
	e.Validator = newValidator()
	e.HTTPErrorHandler = problems(log)
	e.Use(requestLog(log), middleware.Recover(), securityHeaders)

	s := &server{d}
	e.GET("/healthz", s.healthz)
	api := e.Group("/api", noStore, middleware.BodyLimit(limits.Body), limiter(limits.PerSec, limits.Burst))
	api.POST("/books", s.postBook, limiter(limits.BookSec, 60))
	api.POST("/books/:book/entries", s.postEntries)
	api.GET("/books/:book/entries", s.getEntries, packed())
	api.GET("/books/:book/vector", s.getVector)
	api.POST("/books/:book/invitations", s.postInvitation)
	api.POST("/join", s.postJoin, limiter(limits.JoinSec, 6))
	s.share(api)
	s.photos(api)
	api.GET("/openapi.json", getDescription, packed())
	api.RouteNotFound("/*", notThere)

	open := e.Group("/s", noStore, middleware.BodyLimit("64K"), limiter(limits.SharedSec, 30))
	open.GET("/style.css", shareStyle)
	open.GET("/:secret", s.getShared)
	open.POST("/:secret", s.postShared)
	open.GET("/:secret/photos/:photo", s.getSharedPhoto)
	open.RouteNotFound("/*", notThere)

	files := newFiles(app)
	e.GET("/*", files.serve)
	e.HEAD("/*", files.serve)
	return e
}

func limiter(perSec rate.Limit, burst int) echo.MiddlewareFunc {
	return middleware.RateLimiterWithConfig(middleware.RateLimiterConfig{
		Store: middleware.NewRateLimiterMemoryStoreWithConfig(middleware.RateLimiterMemoryStoreConfig{
			Rate: perSec, Burst: burst, ExpiresIn: 10 * time.Minute,
		}),
		IdentifierExtractor: func(c echo.Context) (string, error) { return client(c.RealIP()), nil },
		DenyHandler:         func(echo.Context, string, error) error { return echo.ErrTooManyRequests },
	})
}

// client is whom an address is counted as. Of IPv6, a household has a whole /64
// (RFC 6177), and could else guess from another address each time.
func client(address string) string {
	ip, err := netip.ParseAddr(address)
	if err != nil || ip.Unmap().Is4() {
		return address
	}
	home, _ := ip.WithZone("").Prefix(64) // an IPv6 address has so many bits
	return home.String()
}

// policy lets the page load what this server gave it, run WebAssembly, and
// nothing else; no inline script or style, no frame around it.
const policy = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; " +
	"worker-src 'self'; connect-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

func securityHeaders(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "geolocation=(self), camera=(self), accelerometer=(self), microphone=()")
		if c.Request().TLS != nil {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		return next(c)
	}
}

// noStore keeps answers that belong to one rider out of every cache.
func noStore(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		c.Response().Header().Set("Cache-Control", "no-store")
		return next(c)
	}
}

// requestLog writes a line per call: never a query, a header or a body, which
// may hold secrets.
func requestLog(log *slog.Logger) echo.MiddlewareFunc {
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			began := time.Now()
			err := next(c)
			if err != nil {
				c.Error(err)
			}
			log.Info("request", "method", c.Request().Method, "route", c.Path(), "status", c.Response().Status, "took", time.Since(began))
			return nil
		}
	}
}
