package screen

import (
	"encoding/json"
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
	if names := see[PhotoNames](d, "photonames", `{}`); len(names.Named) != 1 || names.Named[0] != name || len(names.Struck) != 0 {
		t.Errorf("%+v", names)
	}
	if r := d.refused("photo", fmt.Sprintf(`{"photo":%q,"what":"tyre-rear"}`, name)); r.Field != "photo" {
		t.Errorf("the same again: %+v", r)
	}
	h := allLines(see[History](d, "history", `{"kind":"photo"}`))
	if len(h) != 2 || h[0].Title != "Photo: The bike" || !strings.Contains(h[0].Detail, "with 'Fall") || h[1].Detail != "torn on the left" {
		t.Errorf("history %+v", h)
	}
}

// TestAPhotoAboutALine: it stands with its line and on its own page, the
// history counts it, and its words can be corrected. Struck out, it is to be
// deleted; its line is told still.
func TestAPhotoAboutALine(t *testing.T) {
	d := openDesk(t)
	name := strings.Repeat("0a", 32)
	fall := d.do("fell", `{"side":"left","speed":"slow"}`)[0]
	page := see[PhotosPage](d, "photos", fmt.Sprintf(`{"about":%q}`, fall))
	if len(page.Photos) != 0 || !page.More || page.What != "bike" {
		t.Errorf("before the first: %+v", page)
	}
	id := d.do("photo", fmt.Sprintf(`{"photo":%q,"what":"bike","about":%q,"note":"scrached"}`, name, fall))[0]
	d.do("photo", fmt.Sprintf(`{"photo":%q,"what":"part"}`, strings.Repeat("1b", 32)))
	d.do("amend", fmt.Sprintf(`{"entry":%q,"texts":{"note":"scratched"}}`, id))
	for of, more := range map[string]bool{string(fall): true, string(id): false} {
		page := see[PhotosPage](d, "photos", fmt.Sprintf(`{"about":%q}`, of))
		if len(page.Photos) != 1 || page.Photos[0].Photo != name || page.Photos[0].Note != "scratched" || page.More != more {
			t.Errorf("the photos of %s: %+v", of, page)
		}
	}
	for _, l := range allLines(see[History](d, "history", `{}`))[:4] {
		if want := map[bool]string{true: "1 photo"}[l.Entry == fall]; l.Photos != want {
			t.Errorf("history has %q with '%s'; want %q", l.Photos, l.Title, want)
		}
	}
	sheet, refused := SheetOf(d.ask(), SheetArgs{Names: true, Notes: true})
	if raw, err := json.Marshal(sheet); err != nil || refused != nil || strings.Contains(string(raw), name) || strings.Contains(string(raw), "scratched") {
		t.Errorf("the sheet tells of photos: %s, %v, %v", raw, refused, err)
	}
	d.do("strike", fmt.Sprintf(`{"entry":%q,"why":"private"}`, id))
	if names := see[PhotoNames](d, "photonames", `{}`); len(names.Named) != 1 || len(names.Struck) != 1 || names.Struck[0] != name {
		t.Errorf("%+v", names)
	}
	if page := see[PhotosPage](d, "photos", fmt.Sprintf(`{"about":%q}`, id)); len(page.Photos) != 0 || page.More {
		t.Errorf("a struck photo is shown: %+v", page)
	}
	if l := d.lineOf(id); !l.Struck || l.Title != "Photo: The bike" {
		t.Errorf("history tells %+v", l)
	}
}
