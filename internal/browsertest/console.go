package browsertest

import (
	"context"
	"strings"
	"sync"

	"github.com/chromedp/chromedp"
)

// console collects what the page complained of.
type console struct {
	mu    sync.Mutex
	lines []string
}

func listen(ctx context.Context) *console {
	c := &console{}
	messages := chromedp.Console(ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			if m.IsException() || m.Type == "error" || m.Type == "warning" {
				c.add(m.String())
			}
		}
	}()
	return c
}

func (c *console) add(line string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.lines = append(c.lines, line)
}

func (c *console) String() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return strings.Join(c.lines, "\n")
}

// NoComplaints fails the test when the page threw, or wrote an error that
// contains none of the words that were expected.
func (p *Phone) NoComplaints(expected ...string) {
	p.t.Helper()
	for _, line := range strings.Split(p.errs.String(), "\n") {
		if line != "" && !containsAny(line, expected) {
			p.t.Errorf("the page complained: %s", line)
		}
	}
}

func containsAny(s string, words []string) bool {
	for _, w := range words {
		if strings.Contains(s, w) {
			return true
		}
	}
	return false
}
