package web

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strconv"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/desk"
	"plumbline/internal/entry"
	"plumbline/internal/screen"
	"plumbline/internal/share"

	"github.com/labstack/echo/v4"
)

// Sharing is what the handlers of links and devices ask.
type Sharing interface {
	MakeLink(ctx context.Context, token string, l share.Link, secret string) error
	Links(ctx context.Context, token string, book entry.BookID) ([]share.Link, error)
	RevokeLink(ctx context.Context, token string, book entry.BookID, id string) error
	OpenLink(ctx context.Context, secret string, count bool) (share.Link, []entry.Entry, error)
	Propose(ctx context.Context, l share.Link, body []byte) error
	ProposedBy(ctx context.Context, l share.Link) ([]share.Proposed, error)
	Proposals(ctx context.Context, token string, book entry.BookID, after int64) ([]share.Proposed, error)
	Devices(ctx context.Context, token string, book entry.BookID) ([]share.Device, error)
	RevokeDevice(ctx context.Context, token string, book entry.BookID, device entry.DeviceID) error
	KeepRecovery(ctx context.Context, token string, book entry.BookID, key string) error
	BookOf(ctx context.Context, token string) (entry.BookID, error)
	Delete(ctx context.Context, token string, book entry.BookID) (entry.Vector, time.Time, error)
}

type linkRequest struct {
	ID      string    `json:"id" validate:"required,uuid"`
	Secret  string    `json:"secret" validate:"required,len=43,base64rawurl"`
	May     string    `json:"may" validate:"required,oneof=look propose"`
	Bike    string    `json:"bike" validate:"required,max=64"`
	Names   bool      `json:"names"`
	Notes   bool      `json:"notes"`
	Photos  bool      `json:"photos"`
	Expires time.Time `json:"expires" validate:"required"`
}

type linkAnswer struct {
	ID      string    `json:"id"`
	May     string    `json:"may"`
	Bike    string    `json:"bike"`
	Names   bool      `json:"names"`
	Notes   bool      `json:"notes"`
	Photos  bool      `json:"photos"`
	Made    time.Time `json:"made"`
	Expires time.Time `json:"expires"`
	Opened  int       `json:"opened"`
}

type linksAnswer struct {
	Links []linkAnswer `json:"links"`
}

type proposedAnswer struct {
	Number   int64           `json:"number"`
	Link     string          `json:"link"`
	Proposal json.RawMessage `json:"proposal"`
}

type proposalsAnswer struct {
	Proposals []proposedAnswer `json:"proposals"`
}

type deviceAnswer struct {
	Device entry.DeviceID `json:"device"`
	Since  time.Time      `json:"since"`
}

type devicesAnswer struct {
	Devices []deviceAnswer `json:"devices"`
}

type recoveryRequest struct {
	Key string `json:"key" validate:"required,len=43,base64rawurl"`
}

type bookAnswer struct {
	Book entry.BookID `json:"book"`
}

type receiptAnswer struct {
	Book    entry.BookID `json:"book"`
	Deleted time.Time    `json:"deleted"`
	Had     entry.Vector `json:"had"`
}

// share adds the calls about links, devices and the end of a book.
func (s *server) share(api *echo.Group) {
	api.POST("/books/:book/links", s.postLink)
	api.GET("/books/:book/links", s.getLinks)
	api.DELETE("/books/:book/links/:link", s.deleteLink)
	api.GET("/books/:book/proposals", s.getProposals)
	api.GET("/books/:book/devices", s.getDevices)
	api.DELETE("/books/:book/devices/:device", s.deleteDevice)
	api.PUT("/books/:book/recovery", s.putRecovery)
	api.DELETE("/books/:book", s.deleteBook)
	api.GET("/key", s.getKey)
}

func (s *server) postLink(c echo.Context) error {
	var in linkRequest
	if err := bind(c, &in); err != nil {
		return err
	}
	l := share.Link{ID: in.ID, Book: bookID(c), May: in.May, Bike: in.Bike, Names: in.Names, Notes: in.Notes, Photos: in.Photos, Expires: in.Expires}
	if err := s.desk.MakeLink(c.Request().Context(), bearer(c), l, in.Secret); err != nil {
		return err
	}
	return c.NoContent(http.StatusCreated)
}

func (s *server) getLinks(c echo.Context) error {
	links, err := s.desk.Links(c.Request().Context(), bearer(c), bookID(c))
	if err != nil {
		return err
	}
	out := linksAnswer{[]linkAnswer{}}
	for _, l := range links {
		out.Links = append(out.Links, linkAnswer{l.ID, l.May, l.Bike, l.Names, l.Notes, l.Photos, l.Made, l.Expires, l.Opened})
	}
	return c.JSON(http.StatusOK, out)
}

func (s *server) deleteLink(c echo.Context) error {
	if err := s.desk.RevokeLink(c.Request().Context(), bearer(c), bookID(c), c.Param("link")); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

func (s *server) getProposals(c echo.Context) error {
	after := int64(0)
	if text := c.QueryParam("after"); text != "" {
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil || n < 0 {
			return echo.NewHTTPError(http.StatusBadRequest, "'after' is the number of the last proposal that you have.")
		}
		after = n
	}
	proposed, err := s.desk.Proposals(c.Request().Context(), bearer(c), bookID(c), after)
	if err != nil {
		return err
	}
	out := proposalsAnswer{[]proposedAnswer{}}
	for _, p := range proposed {
		out.Proposals = append(out.Proposals, proposedAnswer{p.Number, p.Link, p.Body})
	}
	return c.JSON(http.StatusOK, out)
}

func (s *server) getDevices(c echo.Context) error {
	devices, err := s.desk.Devices(c.Request().Context(), bearer(c), bookID(c))
	if err != nil {
		return err
	}
	out := devicesAnswer{[]deviceAnswer{}}
	for _, d := range devices {
		out.Devices = append(out.Devices, deviceAnswer{d.ID, d.Since})
	}
	return c.JSON(http.StatusOK, out)
}

func (s *server) deleteDevice(c echo.Context) error {
	if err := s.desk.RevokeDevice(c.Request().Context(), bearer(c), bookID(c), entry.DeviceID(c.Param("device"))); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

func (s *server) putRecovery(c echo.Context) error {
	var in recoveryRequest
	if err := bind(c, &in); err != nil {
		return err
	}
	if err := s.desk.KeepRecovery(c.Request().Context(), bearer(c), bookID(c), in.Key); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

func (s *server) getKey(c echo.Context) error {
	book, err := s.desk.BookOf(c.Request().Context(), bearer(c))
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, bookAnswer{book})
}

func (s *server) deleteBook(c echo.Context) error {
	had, when, err := s.desk.Delete(c.Request().Context(), bearer(c), bookID(c))
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, receiptAnswer{bookID(c), when, had})
}

// proposalForm is the form on a link's page.
type proposalForm struct {
	Name     string `form:"name"`
	Adjuster string `form:"adjuster"`
	Way      string `form:"way"`
	Steps    string `form:"steps"`
	Why      string `form:"why"`
	Expect   string `form:"expect"`
}

func (s *server) getShared(c echo.Context) error {
	p, err := s.shared(c, true)
	if err != nil {
		return s.gone(c, err)
	}
	return p.render(c, http.StatusOK)
}

// postShared takes a proposal and shows the page anew: by a redirect, so that
// a reload does not propose twice, or with what was typed and what is wrong.
func (s *server) postShared(c echo.Context) error {
	p, err := s.shared(c, false)
	if err != nil {
		return s.gone(c, err)
	}
	if mediaType(c.Request().Header.Get(echo.HeaderContentType)) != echo.MIMEApplicationForm {
		return echo.NewHTTPError(http.StatusUnsupportedMediaType, "Send the page's form.")
	}
	var in proposalForm
	if err := c.Bind(&in); err != nil {
		return err
	}
	p.Typed = screen.ProposalForm{Name: in.Name, Adjuster: book.AdjusterID(in.Adjuster), Way: in.Way, Steps: in.Steps, Why: in.Why, Expect: in.Expect}
	proposal, refused := screen.Propose(p.ask, p.bike, p.Typed)
	if len(refused) > 0 {
		p.refuse(refused)
		return p.render(c, http.StatusUnprocessableEntity)
	}
	body, err := json.Marshal(proposal)
	if err != nil {
		return err
	}
	err = s.desk.Propose(c.Request().Context(), p.link, body)
	if errors.Is(err, desk.ErrEnough) {
		p.Wrong["form"] = "The rider has enough proposals from this link for now. Speak to the rider."
		return p.render(c, http.StatusTooManyRequests)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, c.Request().URL.Path+"#proposals")
}
