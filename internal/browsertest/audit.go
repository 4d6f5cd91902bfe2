package browsertest

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// Audit fails the test for every violation that axe-core finds on the page, in
// every theme: WCAG 2.2 A and AA, and axe's own good practice.
func (p *Phone) Audit() {
	p.t.Helper()
	p.load(axe(p))
	was := Ask[string](p, `document.documentElement.dataset.theme`)
	for _, theme := range Themes {
		p.Theme(theme)
		for _, v := range Ask[[]string](p, violations) {
			p.t.Errorf("%s, %s: %s", Ask[string](p, "location.pathname"), theme, v)
		}
	}
	p.Theme(was)
}

// fit holds a screen to the house's measures: no axe violation in any theme,
// targets for gloves, nothing past the edge at 320 px with large text.
func fit(t *testing.T, p *Phone, name string) {
	t.Helper()
	p.Picture(name)
	p.Audit()
	if small := p.SmallTargets(); len(small) > 0 {
		t.Errorf("%s: too small for gloves: %s", name, strings.Join(small, "; "))
	}
	p.Narrow()
	p.Wide()
}

const violations = `axe.run(document, { resultTypes: ["violations"] }).then((r) =>
  r.violations.flatMap((v) => v.nodes.map((n) => v.id + ": " + v.help + ": " + n.html.slice(0, 200) + " " + (n.any[0]?.message ?? ""))))`

// load runs a library in the page once.
func (p *Phone) load(script string) {
	p.t.Helper()
	if !Ask[bool](p, `"axe" in window`) {
		p.Run(script + ";undefined")
	}
}

func axe(p *Phone) string {
	p.t.Helper()
	_, here, _, _ := runtime.Caller(0)
	root := filepath.Join(filepath.Dir(here), "..", "..")
	if strings.HasPrefix(here, "plumbline/") { // -trimpath: the test runs in its folder
		root = filepath.Join("..", "..")
	}
	raw, err := os.ReadFile(filepath.Join(root, "static", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		p.t.Fatalf("axe-core is not installed; run: make build (%v)", err)
	}
	return string(raw)
}

// SmallTargets lists everything to tap that is smaller than 48 px and not a
// link within a sentence.
func (p *Phone) SmallTargets() []string {
	p.t.Helper()
	return Ask[[]string](p, `[...document.querySelectorAll("button, a[href], label.chip, summary, select, input:not([type=radio]):not([type=checkbox])")]
  .filter((el) => el.getClientRects().length && !el.closest("p, li, .skip") && !el.classList.contains("skip"))
  .filter((el) => { const r = el.getBoundingClientRect(); return r.height < 47.5 || r.width < 47.5; })
  .map((el) => (el.innerText || el.getAttribute("aria-label") || el.name || el.outerHTML).slice(0, 60) + " " + JSON.stringify(el.getBoundingClientRect()))`)
}
