package web_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"mime"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"testing"

	"plumbline/internal/desk"
	"plumbline/internal/entry"
	"plumbline/internal/example"
	"plumbline/internal/web"

	"github.com/labstack/echo/v4"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// contract is openapi.json, and which of its answers were seen.
type contract struct {
	t       *testing.T
	doc     map[string]any
	schemas *jsonschema.Compiler
	seen    map[string]bool // "GET /healthz 200"
}

func readContract(t *testing.T) *contract {
	t.Helper()
	raw, err := os.ReadFile("openapi.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("openapi.json", doc); err != nil {
		t.Fatal(err)
	}
	return &contract{t, doc.(map[string]any), c, map[string]bool{}}
}

// at follows member names, and references on the way. It returns what it finds
// and where, as a JSON pointer.
func (c *contract) at(path ...string) (found map[string]any, pointer string) {
	found, pointer = c.doc, "#"
	for _, name := range path {
		next, ok := found[name].(map[string]any)
		if !ok {
			return nil, ""
		}
		found = next
		pointer += "/" + strings.NewReplacer("~", "~0", "/", "~1").Replace(name)
		if ref, ok := found["$ref"].(string); ok {
			found, pointer = c.at(strings.Split(strings.TrimPrefix(ref, "#/"), "/")...)
		}
	}
	return found, pointer
}

// operations are all that is described: "POST /api/join" to its statuses.
func (c *contract) operations() map[string][]string {
	out := map[string][]string{}
	paths, _ := c.at("paths")
	for path, raw := range paths {
		for method, op := range raw.(map[string]any) {
			if method == "parameters" {
				continue
			}
			name := strings.ToUpper(method) + " " + path
			for status := range op.(map[string]any)["responses"].(map[string]any) {
				out[name] = append(out[name], status)
			}
		}
	}
	return out
}

// template is the described path that an address belongs to.
func (c *contract) template(address string) string {
	address, _, _ = strings.Cut(address, "?")
	paths, _ := c.at("paths")
	best := ""
	for path := range paths {
		if path == address {
			return path
		}
		want, got := strings.Split(path, "/"), strings.Split(address, "/")
		fits := slices.EqualFunc(want, got, func(w, g string) bool { return w == g || strings.HasPrefix(w, "{") })
		if fits {
			best = path
		}
	}
	return best
}

// holds checks a call and its answer against the description.
func (c *contract) holds(req *http.Request, sent string, res *http.Response) {
	c.t.Helper()
	path, method, status := c.template(req.URL.Path), strings.ToLower(req.Method), fmt.Sprint(res.StatusCode)
	name := req.Method + " " + path + " " + status
	c.seen[name] = true
	got, err := io.ReadAll(res.Body)
	if err != nil {
		c.t.Fatal(err)
	}
	described, _ := c.at("paths", path, method, "responses", status)
	if described == nil {
		c.t.Errorf("%s is not described; it says %s", name, got)
		return
	}
	if res.StatusCode < 300 && sent != "" && req.Header.Get("Content-Type") == "application/json" {
		_, schema := c.at("paths", path, method, "requestBody", "content", "application/json", "schema")
		c.valid(name+", request", schema, []byte(sent))
	}
	headers, _ := described["headers"].(map[string]any)
	for header := range headers {
		if res.Header.Get(header) == "" {
			c.t.Errorf("%s has no %s", name, header)
		}
	}
	c.body(name, []string{"paths", path, method, "responses", status, "content"}, res.Header.Get("Content-Type"), got)
}

func (c *contract) body(name string, content []string, contentType string, got []byte) {
	c.t.Helper()
	if described, _ := c.at(content...); described == nil {
		if len(got) > 0 {
			c.t.Errorf("%s should be empty; it says %s", name, got)
		}
		return
	}
	kind, _, _ := mime.ParseMediaType(contentType)
	described, schema := c.at(append(content, kind, "schema")...)
	switch {
	case described == nil:
		c.t.Errorf("%s is %s, which is not described", name, contentType)
	case strings.HasSuffix(kind, "json") && kind != "application/x-ndjson":
		c.valid(name, schema, got)
	case len(got) == 0:
		c.t.Errorf("%s is empty", name)
	case kind == "application/x-ndjson":
		for line := range bytes.Lines(got) {
			c.valid(name, "#/components/schemas/Entry", line)
		}
	}
}

func (c *contract) valid(name, schema string, got []byte) {
	c.t.Helper()
	s, err := c.schemas.Compile("openapi.json" + schema)
	if err != nil {
		c.t.Fatal(err)
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(got))
	if err != nil {
		c.t.Errorf("%s: %v in %s", name, err, got)
		return
	}
	if err := s.Validate(value); err != nil {
		c.t.Errorf("%s: %v in %s", name, err, got)
	}
}

// Every route is described, and what is described has a route. The app's own
// files, which the last route serves, are no interface.
func TestEveryRouteIsDescribed(t *testing.T) {
	described := readContract(t).operations()
	routes := map[string]bool{}
	for _, r := range web.New(fullDesk{}, app, slog.New(slog.DiscardHandler), web.DefaultLimits).(*echo.Echo).Routes() {
		if r.Method == echo.RouteNotFound || r.Path == "/*" {
			continue
		}
		parts := strings.Split(r.Path, "/")
		for i, part := range parts {
			if name, ok := strings.CutPrefix(part, ":"); ok {
				parts[i] = "{" + name + "}"
			}
		}
		name := r.Method + " " + strings.Join(parts, "/")
		routes[name] = true
		if described[name] == nil {
			t.Errorf("%s is served and not described", name)
		}
	}
	for name := range described {
		if !routes[name] {
			t.Errorf("%s is described and not served", name)
		}
	}
}

type said struct {
	method, path, token, body string
	status                    int
}

// Every described answer is got from the running server and is as described.
func TestTheServerDoesAsDescribed(t *testing.T) {
	c, s := readContract(t), open(t)
	const second = "01890000-0000-7000-8000-0000000000d2"
	tread := picture(t, 40, 30)
	here, other, wrong := "/api/books/"+string(example.BookID), "/api/books/"+otherBook, keyFor("guess")
	token, otherToken := keyFor("first"), keyFor("other")
	lines := strings.Join(example.Lines(), "\n")
	look, propose := "/s/"+keyFor("look"), "/s/"+keyFor("propose")
	form := proposal()
	halfForm := proposal()
	halfForm.Del("why")
	const lookID, photosID = "01890000-0000-7000-8000-00000000002b", "01890000-0000-7000-8000-00000000002c"

	c.walk(s, []said{
		{"GET", "/healthz", "", "", 200},
		{"GET", "/api/openapi.json", "", "", 200},
		{"POST", "/api/books", "", newBook(example.BookID, string(example.DeviceID), token), 204},
		{"POST", "/api/books", "", newBook(otherBook, second, otherToken), 204},
		{"POST", "/api/books", "", newBook(example.BookID, second, wrong), 409},
		{"POST", here + "/entries", token, lines, 200},
		{"POST", here + "/entries", wrong, lines, 403},
		{"POST", here + "/entries", token, strings.Repeat("x", entry.MaxLine+10), 413},
		{"POST", here + "/entries", token, "hello", 422},
		{"POST", here + "/entries", token, inGzip(t, lines), 200},
		{"POST", here + "/entries", token, inGzip(t, lines)[:100], 400},
		{"POST", here + "/entries", token, brotliMark + lines, 415},
		{"GET", here + "/entries", token, "", 200},
		{"GET", here + "/entries?have=x", token, "", 400},
		{"GET", here + "/entries", otherToken, "", 403},
		{"GET", here + "/vector", token, "", 200},
		{"GET", here + "/vector", wrong, "", 403},
		{"POST", here + "/invitations", wrong, "", 403},
		{"PUT", here + "/recovery", token, `{"key":"` + keyFor("phrase") + `"}`, 204},
		{"PUT", here + "/recovery", wrong, `{"key":"` + keyFor("phrase") + `"}`, 403},
		{"PUT", here + "/recovery", token, `{"key":"` + token + `"}`, 409},
		{"GET", "/api/key", keyFor("phrase"), "", 200},
		{"GET", "/api/key", wrong, "", 403},
		{"POST", here + "/links", token, s.link(linkID, "propose", "propose", 7), 201},
		{"POST", here + "/links", token, s.link(lookID, "look", "look", 7), 201},
		{"POST", here + "/links", token, s.link(lookID, "again", "look", 7), 409},
		{"POST", here + "/links", wrong, s.link(lookID, "look", "look", 7), 403},
		{"GET", look, "", "", 200},
		{"GET", "/s/" + wrong, "", "", 404},
		{"GET", "/s/style.css", "", "", 200},
		{"POST", propose, "", form.Encode(), 303},
		{"POST", look, "", form.Encode(), 403},
		{"POST", "/s/" + wrong, "", form.Encode(), 404},
		{"POST", propose, "", `{"name":"Tess"}`, 415},
		{"POST", propose, "", halfForm.Encode(), 422},
		{"GET", here + "/links", token, "", 200},
		{"GET", here + "/links", wrong, "", 403},
		{"GET", here + "/proposals", token, "", 200},
		{"GET", here + "/proposals?after=x", token, "", 400},
		{"GET", here + "/proposals", wrong, "", 403},
		{"DELETE", here + "/links/" + lookID, wrong, "", 403},
		{"DELETE", here + "/links/" + lookID, token, "", 204},
		{"DELETE", here + "/links/" + lookID, token, "", 404},
		{"PUT", here + "/photos/" + tread.name(), token, string(tread), 204},
		{"PUT", here + "/photos/" + tread.name(), wrong, string(tread), 403},
		{"PUT", here + "/photos/" + tread.name(), token, strings.Repeat("x", 2<<20), 413},
		{"PUT", here + "/photos/" + tread.name(), token, "{}", 415},
		{"PUT", here + "/photos/" + tread.name(), token, "hello", 422},
		{"GET", here + "/photos/" + tread.name(), token, "", 200},
		{"GET", here + "/photos/" + tread.name(), otherToken, "", 403},
		{"GET", other + "/photos/" + tread.name(), otherToken, "", 404},
		{"POST", here + "/entries", token, s.lineWithPhoto(tread), 200},
		{"POST", here + "/links", token, strings.Replace(s.link(photosID, "photos", "look", 7), "{", `{"photos":true,`, 1), 201},
		{"GET", "/s/" + keyFor("photos") + "/photos/" + tread.name(), "", "", 200},
		{"GET", propose + "/photos/" + tread.name(), "", "", 404},
		{"DELETE", here + "/photos/" + tread.name(), wrong, "", 403},
		{"DELETE", here + "/photos/" + tread.name(), token, "", 204},
		{"DELETE", here + "/photos/tread", token, "", 404},
		{"GET", here + "/photos/" + tread.name(), token, "", 404},
		{"GET", here + "/photos", token, "", 200},
		{"GET", here + "/photos", wrong, "", 403},
	})
	for _, op := range []struct{ method, path string }{{"POST", "/api/books"}, {"POST", "/api/join"}, {"POST", here + "/links"}, {"PUT", here + "/recovery"}} {
		c.walk(s, []said{
			{op.method, op.path, token, `{"key":`, 400},
			{op.method, op.path, token, "key=" + token, 415},
			{op.method, op.path, token, `{"key":"short"}`, 422},
		})
	}
	var invited struct{ Code string }
	c.check(s, said{"POST", here + "/invitations", token, "", 201}, &invited)
	join := fmt.Sprintf(`{"code":%q,"device":%q,"key":%q}`, invited.Code, second, keyFor("second"))
	stranger := fmt.Sprintf(`{"code":%q,"device":%q,"key":%q}`, invited.Code, second, wrong)
	c.walk(s, []said{
		{"POST", "/api/join", "", join, 200},
		{"POST", "/api/join", "", stranger, 404},
		{"POST", "/api/join", "", stranger, 404},
		{"POST", "/api/join", "", stranger, 429}, // the seventh try in this test
		{"GET", here + "/devices", token, "", 200},
		{"GET", here + "/devices", wrong, "", 403},
		{"DELETE", here + "/devices/" + second, wrong, "", 403},
		{"DELETE", here + "/devices/" + second, token, "", 204},
		{"DELETE", here + "/devices/" + second, token, "", 404},
	})
	for range desk.MostProposals - 1 {
		s.post("propose", form, 303)
	}
	c.walk(s, []said{
		{"POST", propose, "", form.Encode(), 429},
		{"DELETE", here, otherToken, "", 403},
		{"DELETE", here, token, "", 200},
		{"GET", other + "/vector", otherToken, "", 200},
	})
	broken := httptest.NewServer(web.New(brokenDesk{}, app, slog.New(slog.DiscardHandler), web.DefaultLimits))
	defer broken.Close()
	s.url = broken.URL
	c.walk(s, []said{{"GET", "/healthz", "", "", 503}, {"POST", here + "/entries", token, lines, 507}})

	for op, statuses := range c.operations() {
		for _, status := range statuses {
			if status != "default" && !c.seen[op+" "+status] {
				t.Errorf("%s %s is described; no call of this test gets it", op, status)
			}
		}
	}
}

func (c *contract) walk(s *station, rows []said) {
	c.t.Helper()
	for _, r := range rows {
		c.check(s, r, nil)
	}
}

func (c *contract) check(s *station, r said, into any) {
	c.t.Helper()
	req, err := http.NewRequest(r.method, s.url+r.path, strings.NewReader(r.body))
	if err != nil {
		c.t.Fatal(err)
	}
	req.Header.Set("Content-Type", contentTypeOf(r))
	switch {
	case strings.HasPrefix(r.body, "\x1f\x8b"):
		req.Header.Set("Content-Encoding", "gzip")
	case strings.HasPrefix(r.body, brotliMark):
		req.Header.Set("Content-Encoding", "br")
	}
	if r.token != "" {
		req.Header.Set("Authorization", "Bearer "+r.token)
	}
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		c.t.Fatal(err)
	}
	defer res.Body.Close()
	var got bytes.Buffer
	res.Body = io.NopCloser(io.TeeReader(res.Body, &got))
	c.holds(req, r.body, res)
	if res.StatusCode != r.status {
		c.t.Fatalf("%s %s answered %d: %s; want %d", r.method, r.path, res.StatusCode, got.Bytes(), r.status)
	}
	if into != nil {
		if err := json.Unmarshal(got.Bytes(), into); err != nil {
			c.t.Fatal(err)
		}
	}
}

// brotliMark begins a body that is sent as if it were brotli.
const brotliMark = "br:"

func contentTypeOf(r said) string {
	switch {
	case strings.HasSuffix(r.path, "/entries"):
		return "application/x-ndjson"
	case strings.HasPrefix(r.body, "{"):
		return "application/json"
	case strings.Contains(r.path, "/photos/"):
		return "image/jpeg"
	}
	return "application/x-www-form-urlencoded"
}

// brokenDesk has a full disk and a database that does not answer.
type brokenDesk struct{ fullDesk }

func (brokenDesk) Ready(context.Context) error { return errors.New("database is closed") }
