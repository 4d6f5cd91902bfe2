package web

import (
	_ "embed"
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"
)

// description is the whole HTTP interface in the words of OpenAPI 3.1, written
// by hand. Its tests call the running server and hold each answer to it.
//
//go:embed openapi.json
var description []byte

func getDescription(c echo.Context) error {
	return c.Blob(http.StatusOK, echo.MIMEApplicationJSON, description)
}

// notThere answers a call that no route takes: 405 where the same path takes
// other methods, which Allow then lists, and 404 elsewhere.
func notThere(c echo.Context) error {
	var allowed []string
	for _, r := range c.Echo().Routes() {
		if takes(c, r.Method) && !slices.Contains(allowed, r.Method) {
			allowed = append(allowed, r.Method)
		}
	}
	if len(allowed) == 0 {
		return echo.ErrNotFound
	}
	slices.Sort(allowed)
	c.Response().Header().Set(echo.HeaderAllow, strings.Join(allowed, ", "))
	return echo.ErrMethodNotAllowed
}

// takes reports whether a route of its own, no catch-all, takes a call's path
// with another method.
func takes(c echo.Context, method string) bool {
	if method == echo.RouteNotFound {
		return false
	}
	probe := c.Echo().NewContext(nil, nil)
	c.Echo().Router().Find(method, echo.GetPath(c.Request()), probe)
	return probe.Path() != "" && !strings.Contains(probe.Path(), "*")
}
