package web

import (
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"mime"
	"net/http"
	"reflect"
	"strings"

	"plumbline/internal/desk"

	"github.com/go-playground/validator/v10"
	"github.com/labstack/echo/v4"
)

// problem is an error as RFC 9457 wants it told. Errors lists what is wrong
// with fields of the request.
type problem struct {
	Type   string       `json:"type"`
	Title  string       `json:"title"`
	Status int          `json:"status"`
	Detail string       `json:"detail,omitempty"`
	Errors []fieldError `json:"errors,omitempty"`
}

type fieldError struct {
	Field string `json:"field"`
	Says  string `json:"says"`
}

// codes says which status an error of the desk has.
var codes = []struct {
	err    error
	status int
}{
	{desk.ErrDenied, http.StatusForbidden},
	{desk.ErrBookTaken, http.StatusConflict},
	{desk.ErrNoInvitation, http.StatusNotFound},
	{desk.ErrWeakKey, http.StatusUnprocessableEntity},
	{desk.ErrNoLink, http.StatusNotFound},
	{desk.ErrLinkTaken, http.StatusConflict},
	{desk.ErrLinkLimits, http.StatusUnprocessableEntity},
	{desk.ErrOnlyLook, http.StatusForbidden},
	{desk.ErrEnough, http.StatusTooManyRequests},
	{desk.ErrNoDevice, http.StatusNotFound},
	{desk.ErrGone, http.StatusGone},
	{desk.ErrNoPhoto, http.StatusNotFound},
	{desk.ErrBadPhoto, http.StatusUnprocessableEntity},
	{desk.ErrPhotoLimit, http.StatusUnprocessableEntity},
	{desk.ErrBookFull, http.StatusUnprocessableEntity},
}

// problems answers every error of a handler in one form. What went wrong
// inside is logged and not told.
func problems(log *slog.Logger) echo.HTTPErrorHandler {
	return func(err error, c echo.Context) {
		if c.Response().Committed {
			log.Error("answer broken off", "route", c.Path(), "error", err)
			return
		}
		p := problemOf(err)
		if p.Status >= http.StatusInternalServerError {
			log.Error("request failed", "route", c.Path(), "error", err)
		}
		c.Response().Header().Set(echo.HeaderContentType, "application/problem+json")
		c.Response().WriteHeader(p.Status)
		if c.Request().Method == http.MethodHead {
			return
		}
		if err := c.Echo().JSONSerializer.Serialize(c, p, ""); err != nil {
			log.Error("answer broken off", "route", c.Path(), "error", err)
		}
	}
}

func problemOf(err error) problem {
	for _, row := range codes {
		if errors.Is(err, row.err) {
			return newProblem(row.status, row.err.Error())
		}
	}
	var full interface{ StorageFull() bool }
	if errors.As(err, &full) && full.StorageFull() {
		return newProblem(http.StatusInsufficientStorage, "The server's disk is full. Nothing of this was stored there; your phone keeps it and will try again.")
	}
	var refused *desk.RefusedError
	if errors.As(err, &refused) {
		return newProblem(http.StatusUnprocessableEntity, refused.Error())
	}
	var invalid validator.ValidationErrors
	if errors.As(err, &invalid) {
		p := newProblem(http.StatusUnprocessableEntity, "The request is not complete.")
		for _, f := range invalid {
			p.Errors = append(p.Errors, fieldError{f.Field(), "must be " + f.Tag() + " " + f.Param()})
		}
		return p
	}
	var he *echo.HTTPError
	if errors.As(err, &he) {
		detail, _ := he.Message.(string)
		return newProblem(he.Code, detail)
	}
	return newProblem(http.StatusInternalServerError, "")
}

func newProblem(status int, detail string) problem {
	return problem{Type: "about:blank", Title: http.StatusText(status), Status: status, Detail: detail}
}

type structValidator struct{ v *validator.Validate }

// newValidator checks shapes by tags and names fields as JSON does.
func newValidator() *structValidator {
	v := validator.New(validator.WithRequiredStructEnabled())
	v.RegisterTagNameFunc(func(f reflect.StructField) string {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		return name
	})
	return &structValidator{v}
}

func (s *structValidator) Validate(in any) error { return s.v.Struct(in) }

// bind reads a request of JSON into its form and checks the shape. Fields that
// it does not know are passed over: a newer client may send them.
func bind(c echo.Context, in any) error {
	if contentType := c.Request().Header.Get(echo.HeaderContentType); mediaType(contentType) != echo.MIMEApplicationJSON {
		return echo.NewHTTPError(http.StatusUnsupportedMediaType, "Send JSON, as application/json.")
	}
	body, err := readAll(c)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(body, in); err != nil {
		return echo.NewHTTPError(http.StatusBadRequest, "The body is not one JSON object with the described fields.").SetInternal(err)
	}
	return c.Validate(in)
}

// readAll reads a body to its end.
func readAll(c echo.Context) ([]byte, error) {
	body, err := io.ReadAll(c.Request().Body)
	return body, unread(err)
}

// unread is what is wrong when a body could not be read: it was longer than
// its limit, or else did not arrive whole, which is no fault of this program.
func unread(err error) error {
	var tooLarge *http.MaxBytesError
	var answered *echo.HTTPError
	switch {
	case err == nil || errors.As(err, &answered):
		return err
	case errors.As(err, &tooLarge):
		return echo.ErrStatusRequestEntityTooLarge
	}
	return echo.NewHTTPError(http.StatusBadRequest, "The body did not arrive whole.").SetInternal(err)
}

// mediaType is a content type without its parameters, "" when it is none.
func mediaType(header string) string {
	kind, _, err := mime.ParseMediaType(header)
	if err != nil {
		return ""
	}
	return kind
}
