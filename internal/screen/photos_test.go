package screen

import (
	"fmt"
	"strings"
	"testing"
)

func TestPhotosAreToldInWords(t *testing.T) {
	d := openDesk(t)
	name := see[string](d, "photoname", `{"bytes":"YWJj"}`)
	// SHA-256 of "abc": FIPS 180-4's example (NIST, SHA256.pdf, one block).
	if name != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Fatalf("the name of abc is %s", name)
	}
	fall := d.do("fell", `{"side":"left","speed":"slow"}`)[0]
	d.do("photo", fmt.Sprintf(`{"photo":%q,"what":"tyre-rear","note":" torn on the left "}`, name))
	d.do("photo", fmt.Sprintf(`{"photo":%q,"what":"bike","about":%q}`, name, fall))
	if r := d.refused("photo", `{"photo":"","what":"bike"}`); r.Field != "photo" {
		t.Errorf("no photo: %+v", r)
	}
	if r := d.refused("photo", fmt.Sprintf(`{"photo":%q,"what":""}`, strings.Repeat("0", 64))); r.Field != "what" {
		t.Errorf("of nothing: %+v", r)
	}
	all := see[PhotosPage](d, "photos", `{}`)
	if len(all.Photos) != 2 || all.Photos[0].What != "bike" || len(all.Whats) != 4 {
		t.Fatalf("%+v", all)
	}
	rear := see[PhotosPage](d, "photos", `{"what":"tyre-rear"}`).Photos
	if len(rear) != 1 || rear[0].Note != "torn on the left" || !strings.HasPrefix(rear[0].Alt, "Photo: Rear tyre, ") || !strings.HasSuffix(rear[0].Alt, ", torn on the left") {
		t.Errorf("%+v", rear)
	}
	if names := see[[]string](d, "photonames", `{}`); len(names) != 1 || names[0] != name {
		t.Errorf("%q", names)
	}
	h := allLines(see[History](d, "history", `{"kind":"photo"}`))
	if len(h) != 2 || h[0].Title != "Photo: The bike" || !strings.Contains(h[0].Detail, "with 'Fall") || h[1].Detail != "torn on the left" {
		t.Errorf("history %+v", h)
	}
}
