package web

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"html/template"
	"net/http"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/desk"
	"plumbline/internal/screen"
	"plumbline/internal/share"
	"plumbline/internal/sheet"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
)

// The page behind a link works without script, because it must open on any
// phone in any paddock.
var (
	//go:embed share.html
	shareHTML string
	//go:embed share.css
	shareCSS []byte

	sharePage = template.Must(template.New("share").Parse(shareHTML))
)

// sharedPage is what a link shows.
type sharedPage struct {
	Sheet     sheet.Sheet
	Expires   string
	Propose   bool
	Choices   []screen.ProposalChoice
	Typed     screen.ProposalForm
	Wrong     map[string]string // field to what is wrong and how to mend it
	Proposals []cameOf
	Photos    []screen.PhotoLine
	Path      string // of the page itself
	Gone      string // instead of everything: why there is nothing

	ask  screen.Ask
	link share.Link
	bike book.BikeID
}

// cameOf is a proposal and what came of it.
type cameOf struct{ Name, Title, Why, Expect, Came string }

// shared opens the link that a call's secret names.
func (s *server) shared(c echo.Context, count bool) (*sharedPage, error) {
	ctx := c.Request().Context()
	l, entries, err := s.desk.OpenLink(ctx, c.Param("secret"), count)
	if err != nil {
		return nil, err
	}
	p := &sharedPage{
		link: l, bike: book.BikeID(l.Bike), Expires: l.Expires.Format("2 Jan 2006"), Propose: l.May == share.Propose, Wrong: map[string]string{}, Path: c.Request().URL.Path,
		ask: screen.Ask{Book: book.Fold(entries), Now: time.Now(), Mint: uuid.NewString},
	}
	var refused []book.Refusal
	p.Sheet, refused = screen.SheetOf(p.ask, screen.SheetArgs{Bike: p.bike, Names: l.Names, Notes: l.Notes})
	if len(refused) > 0 {
		return nil, desk.ErrNoLink
	}
	if p.Photos, err = s.photosBy(ctx, l, p.ask); err != nil {
		return nil, err
	}
	if !p.Propose {
		return p, nil
	}
	p.Choices = screen.ProposalChoices(p.ask, p.bike)
	proposed, err := s.desk.ProposedBy(ctx, l)
	if err != nil {
		return nil, err
	}
	for _, one := range proposed {
		var said screen.Proposal
		if json.Unmarshal(one.Body, &said) != nil {
			continue
		}
		title, came := screen.ProposalCame(p.ask, said)
		p.Proposals = append(p.Proposals, cameOf{said.Name, title, said.Why, said.Expect, came})
	}
	return p, nil
}

func (p *sharedPage) refuse(refused []book.Refusal) {
	for _, r := range refused {
		p.Wrong[r.Field] = r.Says + " " + r.Mend
	}
}

func (p *sharedPage) render(c echo.Context, status int) error {
	var out bytes.Buffer
	if err := sharePage.Execute(&out, p); err != nil {
		return err
	}
	return c.HTMLBlob(status, out.Bytes())
}

// gone answers a link that opens nothing with a page that people can read.
func (s *server) gone(c echo.Context, err error) error {
	if !errors.Is(err, desk.ErrNoLink) {
		return err
	}
	p := sharedPage{Gone: "This link does not open anything. It has expired, or its rider has taken it back. Ask the rider for a new one."}
	return p.render(c, http.StatusNotFound)
}

func shareStyle(c echo.Context) error {
	return c.Blob(http.StatusOK, "text/css; charset=utf-8", shareCSS)
}
