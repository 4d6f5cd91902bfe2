package web_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"

	"plumbline/internal/book"
	"plumbline/internal/example"
)

// photo is the bytes of a picture.
type photo []byte

func (p photo) name() string {
	sum := sha256.Sum256(p)
	return hex.EncodeToString(sum[:])
}

// drawn is a grey wedge.
func drawn(w, h int) image.Image {
	img := image.NewGray(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			img.SetGray(x, y, color.Gray{uint8(x * 255 / w)})
		}
	}
	return img
}

func picture(t *testing.T, w, h int) photo {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, drawn(w, h), nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// with puts a segment behind the start of a JPEG, as cameras do.
func (p photo) with(segment string) photo { return photo(string(p[:2]) + segment + string(p[2:])) }

// scanned is a photo with its one scan repeated.
func (p photo) scanned(times int) photo {
	from, end := bytes.Index(p, []byte("\xff\xda")), len(p)-2
	return photo(string(p[:from]) + strings.Repeat(string(p[from:end]), times) + string(p[end:]))
}

func (s *station) putPhoto(key, path string, p photo) int {
	s.t.Helper()
	req, err := http.NewRequest("PUT", s.url+path, bytes.NewReader(p))
	if err != nil {
		s.t.Fatal(err)
	}
	req.Header.Set("Content-Type", "image/jpeg")
	req.Header.Set("Authorization", "Bearer "+key)
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		s.t.Fatal(err)
	}
	defer res.Body.Close()
	return res.StatusCode
}

func TestOnlyAWholePhotoUnderItsOwnNameIsKept(t *testing.T) {
	s := open(t)
	key := s.create(example.BookID, string(example.DeviceID))
	at := "/api/books/" + string(example.BookID) + "/photos/"
	good, wide := picture(t, 64, 48), picture(t, 2049, 8)
	var drawnPNG bytes.Buffer
	if err := png.Encode(&drawnPNG, drawn(64, 48)); err != nil {
		t.Fatal(err)
	}
	// The frame header says 65500 rows: a decoder that believed it would take
	// gigabytes.
	bomb := bytes.Replace(good, []byte("\xff\xc0\x00\x0b\x08\x00\x30"), []byte("\xff\xc0\x00\x0b\x08\xff\xdc"), 1)
	if bytes.Equal(bomb, good) {
		t.Fatal("the frame header is not where it was")
	}
	page := photo(string(good[:2]) + "<script>alert(1)</script>")
	for name, r := range map[string]struct {
		path   string
		bytes  photo
		status int
	}{
		"whole":             {good.name(), good, 204},
		"once more":         {good.name(), good, 204},
		"wrong name":        {wide.name(), good, 422},
		"name in capitals":  {strings.ToUpper(good.name()), good, 422},
		"a path for a name": {"..%2f..%2fetc", good, 422},
		"PNG":               {photo(drawnPNG.Bytes()).name(), drawnPNG.Bytes(), 422},
		"broken off":        {good[:len(good)/2].name(), good[:len(good)/2], 422},
		"only a header":     {good[:2].name(), good[:2], 422},
		"a page inside":     {page.name(), page, 422},
		"too wide":          {wide.name(), wide, 422},
		"said to be huge":   {photo(bomb).name(), bomb, 422},
		"two scans":         {good.scanned(2).name(), good.scanned(2), 204},
		"too many scans":    {good.scanned(65).name(), good.scanned(65), 422},
		"too many bytes":    {"x", make(photo, 1<<20+1), 413},
		"nothing":           {photo(nil).name(), nil, 422},
	} {
		if got := s.putPhoto(key, at+r.path, r.bytes); got != r.status {
			t.Errorf("%s: answered %d, want %d", name, got, r.status)
		}
	}
	twice := good.scanned(2)
	second := bytes.LastIndex(twice, []byte("\xff\xda"))
	for name, p := range map[string]photo{
		"Exif":                  good.with("\xff\xe1\x00\x0cExif\x00\x00GPS!"),
		"XMP behind fill bytes": good.with("\xff\xff\xff\xe1\x00\x0chttp://ns"),
		"IPTC":                  good.with("\xff\xed\x00\x0bPhotoshop"),
		"a comment":             good.with("\xff\xfe\x00\x06home"),
		"a segment of no kind":  good.with("\xff\x02\x00\x06home"),
		"Exif between scans":    photo(string(twice[:second]) + "\xff\xe1\x00\x06home" + string(twice[second:])),
		"a picture behind it":   append(bytes.Clone(good), good.with("\xff\xe1\x00\x06home")...),
		"a page behind it":      append(bytes.Clone(good), "<script>alert(1)</script>"...),
	} {
		if got := s.putPhoto(key, at+p.name(), p); got != 422 {
			t.Errorf("with %s beside the picture: answered %d", name, got)
		}
	}
	var have struct{ Photos []string }
	s.call("GET", strings.TrimSuffix(at, "/"), key, "", 200, &have)
	if len(have.Photos) != 2 || !slices.Contains(have.Photos, good.name()) {
		t.Errorf("the server has %q", have.Photos)
	}
	var got []byte
	res := s.call("GET", at+good.name(), key, "", 200, &got)
	h := res.Header
	if !bytes.Equal(got, good) || h.Get("Content-Type") != "image/jpeg" || h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Cache-Control") != "no-store" {
		t.Errorf("%d bytes of %d with %v", len(got), len(good), h)
	}
}

func TestPhotosAreForTheBooksOwnPhones(t *testing.T) {
	s := open(t)
	key := s.create(example.BookID, string(example.DeviceID))
	other := s.create(otherBook, string(example.DeviceID))
	at, p := "/api/books/"+string(example.BookID)+"/photos", picture(t, 30, 20)
	if got := s.putPhoto(other, at+"/"+p.name(), p); got != 403 {
		t.Errorf("another book's key puts a photo: %d", got)
	}
	if got := s.putPhoto(key, at+"/"+p.name(), p); got != 204 {
		t.Fatalf("answered %d", got)
	}
	for _, stranger := range []string{other, keyFor("guess"), ""} {
		s.call("DELETE", at+"/"+p.name(), stranger, "", 403, nil)
		s.call("GET", at+"/"+p.name(), stranger, "", 403, nil)
		s.call("GET", at, stranger, "", 403, nil)
	}
	s.call("GET", "/api/books/"+otherBook+"/photos/"+p.name(), other, "", 404, nil)
	s.call("DELETE", "/api/books/"+otherBook+"/photos/"+p.name(), other, "", 204, nil)
	s.call("GET", at+"/"+p.name(), key, "", 200, nil)
	s.call("GET", at+"/nothing", key, "", 404, nil)
	s.call("DELETE", "/api/books/"+string(example.BookID), key, "", 200, nil)
	s.call("GET", at+"/"+p.name(), key, "", 403, nil)
}

// TestManyPhonesSendPhotosAtOnce: each keeps its own, fetches another's, and
// has one deleted, while the others do the same.
func TestManyPhonesSendPhotosAtOnce(t *testing.T) {
	s := open(t)
	key := s.create(example.BookID, string(example.DeviceID))
	at, shared := "/api/books/"+string(example.BookID)+"/photos", picture(t, 33, 44)
	const phones = 8
	var own [phones]photo
	for n := range own {
		own[n] = picture(t, 16+n, 9)
	}
	var all sync.WaitGroup
	for _, p := range own {
		all.Go(func() {
			for _, one := range []photo{shared, p} {
				if got := s.putPhoto(key, at+"/"+one.name(), one); got != 204 {
					t.Errorf("answered %d", got)
				}
			}
			for _, path := range []string{at, at + "/" + p.name()} {
				if res, _ := s.raw("GET", path, key, ""); res.StatusCode != 200 {
					t.Errorf("%s answered %d", path, res.StatusCode)
				}
			}
			if res, _ := s.raw("DELETE", at+"/"+shared.name(), key, ""); res.StatusCode != 204 {
				t.Errorf("deleting answered %d", res.StatusCode)
			}
		})
	}
	all.Wait()
	s.call("DELETE", at+"/"+shared.name(), key, "", 204, nil)
	var have struct{ Photos []string }
	s.call("GET", at, key, "", 200, &have)
	if len(have.Photos) != phones || slices.Contains(have.Photos, shared.name()) {
		t.Errorf("the server has %d photos", len(have.Photos))
	}
}

// lineWithPhoto is an entry of another phone in the example's book that tells of
// a photo.
func (s *station) lineWithPhoto(p photo) string {
	s.t.Helper()
	r := book.Open(example.BookID, "01890000-0000-7000-8000-0000000000d7")
	r.Take(example.Lines())
	body := book.PhotoBody{Bike: example.Heron, Photo: p.name(), What: "part", Note: "<b>my own words</b>"}
	lines, err := r.Stamp([]book.Draft{{Kind: book.KindPhoto, Body: body}}, "", s.now, make([]byte, 16))
	if err != nil {
		s.t.Fatal(err)
	}
	return lines[0]
}

// TestALinkShowsPhotosOnlyWhereTicked: neither page nor photo without the tick,
// no note without its own, no other book's or bike's photo, none by a link that
// was taken back.
func TestALinkShowsPhotosOnlyWhereTicked(t *testing.T) {
	s := open(t)
	key := s.season()
	p, unnamed := picture(t, 30, 20), picture(t, 20, 30)
	s.call("POST", entriesOf(example.BookID), key, s.lineWithPhoto(p), 200, nil)
	for _, one := range []photo{p, unnamed} {
		if got := s.putPhoto(key, "/api/books/"+string(example.BookID)+"/photos/"+one.name(), one); got != 204 {
			t.Fatalf("answered %d", got)
		}
	}
	ticked := func(id, secret, ticks string) {
		s.call("POST", linksOf(example.BookID), key, strings.Replace(s.link(id, secret, "look", 7), "{", "{"+ticks, 1), 201, nil)
	}
	const withPhotos, withNotes = "01890000-0000-7000-8000-00000000002c", "01890000-0000-7000-8000-00000000002d"
	ticked(linkID, "plain", "")
	ticked(withPhotos, "photos", `"photos":true,`)
	ticked(withNotes, "notes", `"notes":true,"photos":true,`)
	page := func(secret string) string {
		var raw []byte
		s.call("GET", "/s/"+keyFor(secret), "", "", 200, &raw)
		return string(raw)
	}
	at := func(secret string, p photo) string { return "/s/" + keyFor(secret) + "/photos/" + p.name() }
	if got := page("plain"); strings.Contains(got, "Photo") || strings.Contains(got, p.name()) || strings.Contains(got, "my own words") {
		t.Error("a link without the tick shows photos")
	}
	if got := page("photos"); !strings.Contains(got, `src="`+at("photos", p)+`"`) || strings.Contains(got, "my own words") || strings.Contains(got, unnamed.name()) {
		t.Errorf("a link with photos shows %s", got)
	}
	if got := page("notes"); !strings.Contains(got, "&lt;b&gt;my own words") || strings.Contains(got, "<b>my") {
		t.Errorf("a link with photos and notes shows %s", got)
	}
	var got []byte
	s.call("GET", at("photos", p), "", "", 200, &got)
	if !bytes.Equal(got, p) {
		t.Errorf("got %d bytes of %d", len(got), len(p))
	}
	for _, path := range []string{at("plain", p), at("guess", p), at("photos", unnamed), "/s/" + keyFor("photos") + "/photos/x"} {
		s.call("GET", path, "", "", 404, nil)
	}
	s.call("DELETE", linksOf(example.BookID)+"/"+withPhotos, key, "", 204, nil)
	s.call("GET", at("photos", p), "", "", 404, nil)
	var links struct{ Links []struct{ Photos bool } }
	s.call("GET", linksOf(example.BookID), key, "", 200, &links)
	if len(links.Links) != 2 || links.Links[0].Photos == links.Links[1].Photos {
		t.Errorf("%+v", links)
	}
}
