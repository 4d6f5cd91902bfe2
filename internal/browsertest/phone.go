package browsertest

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// The phone that the screens are drawn for first.
const (
	Width  = 360
	Height = 740
)

// Themes are all looks of the app.
var Themes = []string{"light", "dark", "sun"}

// patience is how long anything may take to appear. Generous: the whole suite
// may share two slow cores, under the race detector.
const patience = 60 * time.Second

// Phone is a browser with one page open, as a rider would hold it. Everything
// on it fails the test when it does not work.
type Phone struct {
	Server *Server
	t      testing.TB
	ctx    context.Context
	errs   *console
}

// Open starts a server and a phone, and opens the app.
func Open(t testing.TB) *Phone {
	t.Helper()
	p := NewPhone(t, NewServer(t))
	p.Load("/")
	return p
}

// WithExample is Open with the example season opened, on Today.
func WithExample(t testing.TB) *Phone {
	t.Helper()
	p := Open(t)
	p.OpenExample()
	return p
}

// WithExampleOffline is WithExample with no signal any more.
func WithExampleOffline(t testing.TB) *Phone {
	t.Helper()
	p := WithExample(t)
	p.RadioOff()
	return p
}

// NewPhone starts one more phone, with nothing stored, for a server. More are
// further options of the browser.
func NewPhone(t testing.TB, s *Server, more ...chromedp.ExecAllocatorOption) *Phone {
	t.Helper()
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(program(t)), chromedp.UserDataDir(t.TempDir()), chromedp.NoSandbox,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("hide-scrollbars", true))
	opts = append(opts, more...)
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(func() {
		_ = chromedp.Cancel(ctx) // closes the browser and waits for it
		cancel()
		stop()
	})
	if err := chromedp.Do(ctx); err != nil { // the first use starts the browser and must not have an end of its own
		t.Fatal(err)
	}
	p := &Phone{Server: s, t: t, ctx: ctx}
	p.do(chromedp.EmulateViewport(Width, Height, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait))
	p.errs = listen(ctx)
	return p
}

// Tab opens one more tab of the same browser, on a page that is not the app.
func (p *Phone) Tab() *Phone {
	p.t.Helper()
	ctx, cancel := chromedp.NewContext(p.ctx)
	p.t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		p.t.Fatal(err)
	}
	tab := &Phone{Server: p.Server, t: p.t, ctx: ctx}
	tab.do(chromedp.EmulateViewport(Width, Height, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait))
	tab.errs = listen(ctx)
	tab.raw()
	return tab
}

// raw opens a page of the same origin that is not the app.
func (p *Phone) raw() {
	p.t.Helper()
	p.do(chromedp.Navigate(p.Server.URL + "/licences.txt"))
}

// program finds a Chromium: $CHROMIUM, or one of the usual names.
func program(t testing.TB) string {
	t.Helper()
	if own := os.Getenv("CHROMIUM"); own != "" {
		return own
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Fatal("there is no Chromium; make test installs it, or name one in $CHROMIUM")
	return ""
}

func (p *Phone) do(steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.t.Fatalf("%v\non the page: %s\nconsole: %s", err, p.words(), p.errs)
	}
}

// Load opens an address anew, as a reload or a link from outside does.
func (p *Phone) Load(path string) {
	p.t.Helper()
	p.do(chromedp.Navigate(p.Server.URL + path))
	p.wait(`document.querySelector("h1") !== null`, "the app's heading at "+path)
}

// Go moves to an address within the app, as tapping a link does.
func (p *Phone) Go(path string) {
	p.t.Helper()
	raw, _ := json.Marshal(path) // strings always marshal
	p.Run(`history.pushState(null, "", ` + string(raw) + `); dispatchEvent(new PopStateEvent("popstate"))`)
}

// Run runs a script in the page and waits for its promise.
func (p *Phone) Run(script string) {
	p.t.Helper()
	p.do(chromedp.Evaluate[chromedp.Void](script, chromedp.EvalAwaitPromise))
}

// Ask evaluates an expression in the page; promises are waited for.
func Ask[T any](p *Phone, expression string) T {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// wait waits until an expression is true.
func (p *Phone) wait(expression, what string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	for {
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("Promise.resolve("+expression+").then(Boolean)", chromedp.EvalAwaitPromise))
		if err == nil && ok {
			return
		}
		select {
		case <-ctx.Done():
			p.t.Fatalf("waited in vain for %s\non the page: %s\nconsole: %s", what, p.words(), p.errs)
		case <-time.After(40 * time.Millisecond):
		}
	}
}

// words is what can be read on the page.
func (p *Phone) words() string {
	ctx, cancel := context.WithTimeout(p.ctx, 5*time.Second)
	defer cancel()
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.body?.innerText ?? ""`))
	if err != nil {
		return "unreadable: " + err.Error()
	}
	return strings.Join(strings.Fields(text), " ")
}

// reads is script that finds text as a reader would: without regard to case
// (styles may change it) and to white space.
const reads = `((el, text) => (el?.innerText ?? "").replace(/\s+/g, " ").toLowerCase().includes(text.toLowerCase()))`

func quoted(s string) string {
	raw, _ := json.Marshal(s) // strings always marshal
	return string(raw)
}

// See waits until a text can be read on the page.
func (p *Phone) See(text string) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`%s(document.body, %s)`, reads, quoted(text)), quoted(text))
}

// SeeNot waits until a text can no longer be read on the page.
func (p *Phone) SeeNot(text string) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`!%s(document.body, %s)`, reads, quoted(text)), "the end of "+quoted(text))
}

// SeeElement waits until an element is there.
func (p *Phone) SeeElement(selector string) {
	p.t.Helper()
	p.wait(`document.querySelector(`+quoted(selector)+`)`, selector)
}

// tappable finds the innermost thing to tap that is called so, an exact name
// before a part of one.
const tappable = `((name) => {
  const norm = (s) => (s ?? "").replace(/\s+/g, " ").replace(/^✓ /, "").trim().toLowerCase();
  const open = [...document.querySelectorAll("dialog[open]")].pop() ?? document;
  const all = [...open.querySelectorAll("button, a[href], label, summary, [role=button], [role=tab]")];
  const called = (el) => [norm(el.getAttribute("aria-label")), norm(el.innerText)].filter(Boolean);
  const fits = all.filter((el) => !el.disabled && el.getClientRects().length && called(el).some((n) => n.includes(norm(name))));
  return fits.find((el) => called(el).includes(norm(name))) ?? fits[0];
})`

// reachable brings an element into view and says where its middle is, once it
// lies still there and nothing else lies over it; null until then.
const reachable = `(async (el) => {
  if (!el?.getClientRects().length) return null;
  el.scrollIntoView({ block: "center", behavior: "instant" });
  const frame = () => new Promise(requestAnimationFrame);
  const middle = () => { const r = el.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; };
  await frame();
  const before = middle();
  await new Promise((r) => setTimeout(r, 80)); // nobody taps faster than a page is drawn anew
  await frame();
  const at = middle();
  if (String(before) !== String(at)) return null;
  const owner = (x) => x?.closest("a, button, label, summary, [role], g[class], g[data-phase]") ?? x;
  const hit = document.elementFromPoint(...at);
  return hit && (el.contains(hit) || hit.contains(el) || owner(hit) === owner(el)) ? at : null;
})`

// Tap touches the button, link or chip that is called so.
func (p *Phone) Tap(name string) {
	p.t.Helper()
	p.touch(tappable+"("+quoted(name)+")", "something to tap called "+quoted(name))
}

// TapElement touches the middle of the first element that a selector finds;
// for pictures, whose parts have no text.
func (p *Phone) TapElement(selector string) {
	p.t.Helper()
	p.touch(`[...document.querySelectorAll(`+quoted(selector)+`)].find((el) => el.getClientRects().length)`, selector)
}

func (p *Phone) touch(find, what string) {
	p.t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(40 * time.Millisecond) {
		if at := p.middleOf(find); len(at) == 2 {
			p.do(chromedp.TapXY(at[0], at[1]))
			return
		}
	}
	p.t.Fatalf("waited in vain for %s, in reach of a thumb\non the page: %s\nconsole: %s", what, p.words(), p.errs)
}

// middleOf is where an element lies still and free, nil when it does not. A
// page that is just replaced may never answer, so this does not wait long.
func (p *Phone) middleOf(find string) []float64 {
	ctx, cancel := context.WithTimeout(p.ctx, 5*time.Second)
	defer cancel()
	at, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](reachable+"("+find+")", chromedp.EvalAwaitPromise))
	if err != nil {
		return nil
	}
	return at
}

// Type puts text into the field with a name, in the place of what was there.
func (p *Phone) Type(field, text string) {
	p.t.Helper()
	selector := fmt.Sprintf(`[name=%q]`, field)
	p.SeeElement(selector)
	p.Run(`(() => { const el = document.querySelector(` + quoted(selector) + `); el.scrollIntoView({ block: "center", behavior: "instant" }); el.focus(); el.select(); })()`)
	p.do(chromedp.SendKeys(chromedp.CSS(selector), text))
}

// Theme sets light, dark or sun.
func (p *Phone) Theme(name string) {
	p.t.Helper()
	p.Run(`localStorage.setItem("theme", ` + quoted(name) + `); document.documentElement.dataset.theme = ` + quoted(name))
}

// OpenExample opens the example season from the first page, and waits for Today.
func (p *Phone) OpenExample() {
	p.t.Helper()
	p.Ready()
	p.Tap("See an example")
	p.See("Example book")
	p.See("Came in")
}

// Ready waits until the core on the phone can be asked.
func (p *Phone) Ready() {
	p.t.Helper()
	p.wait(`document.documentElement.dataset.core === "ready"`, "the core")
}

// OfflineReady waits until everything the app needs is on the phone.
func (p *Phone) OfflineReady() {
	p.t.Helper()
	p.wait(`document.documentElement.dataset.offline === "ready"`, "the app's files on the phone")
}

// RadioOff takes the server away, once everything the app needs is on the
// phone: before that a page could not be loaded, and no rider expects it to.
func (p *Phone) RadioOff() {
	p.t.Helper()
	p.OfflineReady()
	p.Server.Stop()
}

// Picture takes a picture of the whole page in every theme, for people to look
// at: $PICTURES/<name>-<theme>.png, or a folder that goes with the test.
func (p *Phone) Picture(name string) {
	p.t.Helper()
	dir := os.Getenv("PICTURES")
	if dir == "" {
		dir = p.t.TempDir()
	}
	was := Ask[string](p, `document.documentElement.dataset.theme ?? ""`)
	p.Run(layFlat)
	defer p.Run(`document.adoptedStyleSheets = []`)
	for _, theme := range Themes {
		p.Theme(theme)
		png, err := chromedp.Run(p.ctx, chromedp.FullScreenshot(100))
		if err != nil {
			p.t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name+"-"+theme+".png"), png, 0o644); err != nil {
			p.t.Fatal(err)
		}
	}
	p.Theme(was)
}

// Glance takes a picture of what fits on the screen, as the rider sees it first.
func (p *Phone) Glance(name string) {
	p.t.Helper()
	dir := os.Getenv("PICTURES")
	if dir == "" {
		dir = p.t.TempDir()
	}
	png, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+"-glance.png"), png, 0o644); err != nil {
		p.t.Fatal(err)
	}
}

// layFlat puts what sticks to the edge of the screen into its place in the
// page, so that a picture of the whole page shows everything once.
const layFlat = `{ const flat = new CSSStyleSheet();
  flat.replaceSync(".places, .flow-end { position: static !important } .places { width: 100% }");
  document.adoptedStyleSheets = [flat]; }`

// Narrow makes the page 320 px wide with text of twice the size, and fails
// when anything then reaches past the edge. Wide puts it back.
func (p *Phone) Narrow() {
	p.t.Helper()
	p.do(chromedp.EmulateViewport(320, Height, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait))
	p.Run(`document.documentElement.style.fontSize = "200%"`)
	if over := Ask[[]string](p, overflowing); len(over) > 0 {
		p.t.Errorf("at 320 px and text at 200 %%, these reach past the edge: %s", strings.Join(over, "; "))
	}
}

// Wide undoes Narrow.
func (p *Phone) Wide() {
	p.t.Helper()
	p.Run(`document.documentElement.style.fontSize = ""`)
	p.do(chromedp.EmulateViewport(Width, Height, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait))
}

// overflowing lists what reaches past the right edge and cannot be scrolled to
// within a box of its own.
const overflowing = `[...document.querySelectorAll("body *")].filter((el) => {
  if (el.closest("svg") && el.tagName !== "svg") return false;
  if (el.classList.contains("away") || !el.getClientRects().length) return false;
  for (let up = el.parentElement; up && up !== document.body; up = up.parentElement)
    if (["auto", "scroll", "hidden", "clip"].includes(getComputedStyle(up).overflowX)) return false;
  return el.getBoundingClientRect().right > document.documentElement.clientWidth + 1;
}).map((el) => el.tagName.toLowerCase() + "." + el.getAttribute("class") + ": " + (el.innerText ?? "").slice(0, 40))`
