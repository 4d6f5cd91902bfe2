package web

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"net/http"
	"strconv"
	"strings"
	"time"

	"plumbline/internal/entry"

	"github.com/labstack/echo/v4"
)

type server struct{ desk Desk }

type bookRequest struct {
	Book   string `json:"book" validate:"required,uuid"`
	Device string `json:"device" validate:"required,uuid"`
	Key    string `json:"key" validate:"required,len=43,base64rawurl"`
}

type haveAnswer struct {
	Have entry.Vector `json:"have"`
}

type invitationAnswer struct {
	Code    string    `json:"code"`
	Expires time.Time `json:"expires"`
}

type joinRequest struct {
	Code   string `json:"code" validate:"required,min=10,max=20"`
	Device string `json:"device" validate:"required,uuid"`
	Key    string `json:"key" validate:"required,len=43,base64rawurl"`
}

type joinAnswer struct {
	Book entry.BookID `json:"book"`
}

func (s *server) healthz(c echo.Context) error {
	if err := s.desk.Ready(c.Request().Context()); err != nil {
		return echo.NewHTTPError(http.StatusServiceUnavailable, "The database does not answer.").SetInternal(err)
	}
	return c.String(http.StatusOK, "ok\n")
}

func (s *server) postBook(c echo.Context) error {
	var in bookRequest
	if err := bind(c, &in); err != nil {
		return err
	}
	if err := s.desk.Create(c.Request().Context(), entry.BookID(in.Book), entry.DeviceID(in.Device), in.Key); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

func (s *server) postEntries(c echo.Context) error {
	body, err := unpacked(c)
	if err != nil {
		return err
	}
	lines, err := readLines(body)
	if err != nil {
		return err
	}
	have, err := s.desk.Push(c.Request().Context(), bearer(c), bookID(c), lines)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, haveAnswer{have})
}

// readLines splits a body at its line feeds. Empty lines are passed over.
func readLines(body io.Reader) ([][]byte, error) {
	var lines [][]byte
	in := bufio.NewScanner(body)
	in.Buffer(make([]byte, 0, 64<<10), entry.MaxLine+2)
	for in.Scan() {
		if len(in.Bytes()) > 0 {
			lines = append(lines, bytes.Clone(in.Bytes()))
		}
	}
	if errors.Is(in.Err(), bufio.ErrTooLong) {
		return nil, echo.NewHTTPError(http.StatusRequestEntityTooLarge, "A line is longer than an entry can be.")
	}
	return lines, unread(in.Err())
}

func (s *server) getEntries(c echo.Context) error {
	have, err := parseVector(c.QueryParam("have"))
	if err != nil {
		return err
	}
	out := c.Response()
	out.Header().Set(echo.HeaderContentType, "application/x-ndjson")
	err = s.desk.Pull(c.Request().Context(), bearer(c), bookID(c), have, func(line []byte) error {
		if _, err := out.Write(line); err != nil {
			return err
		}
		_, err := out.Write([]byte{'\n'})
		return err
	})
	if err != nil {
		return err
	}
	if !out.Committed {
		out.WriteHeader(http.StatusOK)
	}
	return nil
}

// parseVector reads "device:seq,device:seq".
func parseVector(s string) (entry.Vector, error) {
	v := entry.Vector{}
	for _, part := range strings.Split(s, ",") {
		if part == "" {
			continue
		}
		device, seq, ok := strings.Cut(part, ":")
		n, err := strconv.ParseInt(seq, 10, 64)
		if !ok || err != nil || n < 0 || len(device) > 64 {
			return nil, echo.NewHTTPError(http.StatusBadRequest, "'have' is written device:number,device:number.")
		}
		v[entry.DeviceID(device)] = n
	}
	return v, nil
}

func (s *server) getVector(c echo.Context) error {
	have, err := s.desk.Vector(c.Request().Context(), bearer(c), bookID(c))
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, haveAnswer{have})
}

func (s *server) postInvitation(c echo.Context) error {
	code, expires, err := s.desk.Invite(c.Request().Context(), bearer(c), bookID(c))
	if err != nil {
		return err
	}
	return c.JSON(http.StatusCreated, invitationAnswer{code, expires.UTC()})
}

func (s *server) postJoin(c echo.Context) error {
	var in joinRequest
	if err := bind(c, &in); err != nil {
		return err
	}
	book, err := s.desk.Join(c.Request().Context(), in.Code, entry.DeviceID(in.Device), in.Key)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, joinAnswer{book})
}

func bookID(c echo.Context) entry.BookID { return entry.BookID(c.Param("book")) }

// bearer returns the call's token, "" when it has none.
func bearer(c echo.Context) string {
	token, ok := strings.CutPrefix(c.Request().Header.Get(echo.HeaderAuthorization), "Bearer ")
	if !ok {
		return ""
	}
	return token
}
