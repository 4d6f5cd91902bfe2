package browsertest

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/serviceworker"
	"github.com/chromedp/chromedp"
)

// wake has the browser wake the service worker, as it does when there is a
// network again after a page asked for it.
func (p *Phone) wake() {
	p.t.Helper()
	ours := func(r *serviceworker.Registration) bool { return strings.HasPrefix(r.ScopeURL, p.Server.URL) }
	enable := func(ctx context.Context, t *chromedp.Target) (cdp.Empty, error) {
		return cdp.Call(ctx, t, serviceworker.Enable, cdp.Empty{})
	}
	known := chromedp.WaitEvent(serviceworker.WorkerRegistrationUpdated, func(e serviceworker.EventWorkerRegistrationUpdated) bool {
		return len(e.Registrations) > 0 && ours(e.Registrations[0])
	}, enable)
	e, err := chromedp.Run(p.ctx, known)
	if err != nil {
		p.t.Fatal(err)
	}
	params := serviceworker.DispatchSyncEventParams{Origin: p.Server.URL, RegistrationID: e.Registrations[0].RegistrationID, Tag: "send"}
	if _, err := chromedp.Call(p.ctx, serviceworker.DispatchSyncEvent, params); err != nil {
		p.t.Fatal(err)
	}
}

// TestWhatWaitsIsSentWithThePageClosed: written without a network, the page
// closed before there is one; the woken service worker sends it.
func TestWhatWaitsIsSentWithThePageClosed(t *testing.T) {
	p := Open(t)
	p.start("Jo", "Heron")
	p.synced()
	other := p.join()
	p.synced()
	p.RadioOff()
	p.count("rear.rebound", "9")
	p.do(chromedp.Navigate("about:blank"))
	p.Server.Start()
	p.raw()
	p.wake()
	p.synced()

	other.lookUp()
	other.Load("/bike/setting/rear.rebound")
	other.See("9 clicks out")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch", "404") // the page of text has no icon
}
