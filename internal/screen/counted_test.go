package screen

import (
	"encoding/json"
	"testing"
)

// TestTyresAreCountedInOneGo: behind the front tyre the form goes on to the
// rear one, until that was looked at today.
func TestTyresAreCountedInOneGo(t *testing.T) {
	d := openDesk(t)
	next := func() string {
		got, refused := View("counted", d.ask(), json.RawMessage(`{"adjuster":"front.pressure"}`))
		if refused != nil {
			t.Fatal(refused)
		}
		return string(got.(Counted).Picked.Next)
	}
	if next() != "rear.pressure" {
		t.Errorf("after the front tyre comes %q", next())
	}
	d.do("counted", `{"adjuster":"rear.pressure","at":29}`)
	if next() != "" {
		t.Errorf("the rear tyre was set today, and comes again as %q", next())
	}
}
