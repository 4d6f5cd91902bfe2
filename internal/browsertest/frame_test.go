package browsertest

import (
	"strings"
	"testing"
)

func TestAppLoads(t *testing.T) {
	p := Open(t)
	p.See("The book of your bike")
	p.Ready()
	p.Picture("welcome")
	p.Audit()
	p.Narrow()
	p.Wide()
	p.Run(`document.querySelector(".skip").click()`)
	p.wait(`document.activeElement?.id === "main" && location.pathname === "/"`, "the focus past the header")
	p.OpenExample()
	for _, place := range []string{"Today", "Bike", "Why", "Measure", "Book"} {
		p.See(place)
	}
	p.NoComplaints()
}

func TestAppWorksWithoutServer(t *testing.T) {
	p := Open(t)
	p.RadioOff()
	p.Load("/phone")
	p.See("This phone")
	p.See("everything is on this phone")
	p.Load("/")
	p.Ready() // the core came from the phone, too
	p.OpenExample()
}

func TestDeepLinkReload(t *testing.T) {
	p := Open(t)
	p.Load("/phone")
	p.See("How it looks")
	p.Load("/")
	p.OpenExample()
	p.Load("/no/such/place")
	p.See("There is nothing at this address")
}

func TestThisPhone(t *testing.T) {
	p := Open(t)
	p.Load("/phone")
	p.Tap("Bright sun")
	p.wait(`document.documentElement.dataset.theme === "sun"`, "the sun theme")
	p.Load("/phone")
	if got := Ask[string](p, `document.documentElement.dataset.theme`); got != "sun" {
		t.Errorf("after a reload the theme is %s", got)
	}
	p.OfflineReady()
	p.Picture("phone")
	p.Audit()
	if small := p.SmallTargets(); len(small) > 0 {
		t.Errorf("too small for gloves: %s", strings.Join(small, "; "))
	}
	p.Narrow()
	p.NoComplaints()
}

func TestNewBookIsBackedUp(t *testing.T) {
	p := Open(t)
	p.Ready()
	p.Tap("Start your book")
	p.See("Backed up")
	p.RadioOff()
	p.Load("/phone")
	p.See("Backed up") // still true: everything is there
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}
