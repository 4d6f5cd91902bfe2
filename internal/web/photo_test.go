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
	"strings"
	"testing"

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

// withExif puts an APP1 segment behind the start of a JPEG, as cameras do.
func withExif(p photo) photo {
	const exif = "\xff\xe1\x00\x0cExif\x00\x00GPS!"
	return photo(string(p[:2]) + exif + string(p[2:]))
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
		"with Exif":         {withExif(good).name(), withExif(good), 422},
		"too many bytes":    {"x", make(photo, 1<<20+1), 413},
		"nothing":           {photo(nil).name(), nil, 422},
	} {
		if got := s.putPhoto(key, at+r.path, r.bytes); got != r.status {
			t.Errorf("%s: answered %d, want %d", name, got, r.status)
		}
	}
	var have struct{ Photos []string }
	s.call("GET", strings.TrimSuffix(at, "/"), key, "", 200, &have)
	if len(have.Photos) != 1 || have.Photos[0] != good.name() {
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
		s.call("GET", at+"/"+p.name(), stranger, "", 403, nil)
		s.call("GET", at, stranger, "", 403, nil)
	}
	s.call("GET", "/api/books/"+otherBook+"/photos/"+p.name(), other, "", 404, nil)
	s.call("GET", at+"/nothing", key, "", 404, nil)
	s.call("DELETE", "/api/books/"+string(example.BookID), key, "", 200, nil)
	s.call("GET", at+"/"+p.name(), key, "", 403, nil)
}
