package browsertest

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// whenUsable notes, in ms since the navigation, when Today is drawn as it was
// last, and when the core has the book open.
const whenUsable = `new MutationObserver((_, o) => {
  if (!document.body?.textContent.includes("Calder Heron 600")) return;
  window.seenAfter ??= performance.now();
  if (document.documentElement.dataset.book !== "open") return;
  window.usableAfter = performance.now();
  o.disconnect();
}).observe(document, { subtree: true, childList: true, attributes: true });`

// BenchmarkColdStart opens the installed app with the server gone, in a page
// and workers that are new, while the whole browser has a quarter of one core.
// It reports how long it takes until Today can be read and a tap is taken, and
// until the core answers. Needs Linux and root,
// because only a control group holds all of a browser's processes.
func BenchmarkColdStart(b *testing.B) {
	slow := newCage(b)
	b.Setenv("CHROMIUM", slow.program(b))
	p := NewPhone(b, NewServer(b))
	if _, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: whenUsable}); err != nil {
		b.Fatal(err)
	}
	p.Load("/")
	p.OpenExample()
	p.Load("/") // once more, so that the browser may keep compiled code
	p.See("Calder Heron 600")
	p.RadioOff()
	var seen, open float64
	for b.Loop() {
		slow.limit(b, 100)
		p.do(chromedp.Navigate("about:blank"))
		time.Sleep(2 * time.Second) // the page's processes end
		slow.limit(b, 25)
		p.do(chromedp.Navigate(p.Server.URL + "/"))
		p.wait("window.usableAfter", "Today")
		seen += Ask[float64](p, "window.seenAfter")
		open += Ask[float64](p, "window.usableAfter")
	}
	slow.limit(b, 100)
	b.ReportMetric(seen/float64(b.N), "ms/seen")
	b.ReportMetric(open/float64(b.N), "ms/open")
	b.ReportMetric(0, "ns/op") // includes the pauses
}

// cage is a Linux control group that a browser runs in.
type cage struct{ dir, quota, format string }

// newCage makes a control group, by the second version of their interface or
// the first, whichever the machine has.
func newCage(b *testing.B) cage {
	b.Helper()
	for _, c := range []cage{{"/sys/fs/cgroup/plumbline-bench", "cpu.max", "%d 100000"}, {"/sys/fs/cgroup/cpu/plumbline-bench", "cpu.cfs_quota_us", "%d"}} {
		if err := os.Mkdir(c.dir, 0o755); err != nil && !errors.Is(err, os.ErrExist) {
			continue
		}
		b.Cleanup(func() { _ = os.Remove(c.dir) })
		if _, err := os.Stat(filepath.Join(c.dir, c.quota)); err == nil {
			return c
		}
	}
	b.Fatal("no control group for processor time can be made: run as root on Linux, for example in a container with --privileged")
	return cage{}
}

// program writes a script that starts the browser within the cage.
func (c cage) program(b *testing.B) string {
	b.Helper()
	name := filepath.Join(b.TempDir(), "chromium-in-a-cage")
	script := "#!/bin/sh\necho $$ > " + c.dir + "/cgroup.procs && exec " + program(b) + " \"$@\"\n"
	if err := os.WriteFile(name, []byte(script), 0o755); err != nil {
		b.Fatal(err)
	}
	return name
}

// limit gives the cage so many percent of one core.
func (c cage) limit(b *testing.B, percent int) {
	b.Helper()
	if err := os.WriteFile(filepath.Join(c.dir, c.quota), fmt.Appendf(nil, c.format, percent*1000), 0o644); err != nil {
		b.Fatal(err)
	}
}
