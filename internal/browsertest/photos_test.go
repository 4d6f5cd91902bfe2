package browsertest

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/jpeg"
	"testing"
)

// cameraPhoto is a JPEG as a camera's: large, with Exif that says where it was
// taken.
func cameraPhoto(t *testing.T) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 2400, 1800))
	noise := uint32(1)
	for x := range 2400 {
		for y := range 1800 {
			noise = noise*1664525 + 1013904223 // grain, as in poor light
			c := uint8(noise>>24) / 4
			img.SetRGBA(x, y, color.RGBA{uint8(x/16) + c, 40 + c, uint8(y/16) + c, 255})
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 85}); err != nil {
		t.Fatal(err)
	}
	const exif = "\xff\xe1\x00\x1cExif\x00\x00GPS 54.3N 2.8W secret"
	return []byte(string(out.Bytes()[:2]) + exif + "\xff\xfe\x00\x0bsecretive" + string(out.Bytes()[2:]))
}

// keptPhotos are the photos' bytes on the phone.
func (p *Phone) keptPhotos() [][]byte {
	p.t.Helper()
	raw := Ask[[]string](p, shelfScript+`(async (store, done) => (await done(store("photos", "readonly").getAll())).map((b) => {
  let s = ""; for (const c of new Uint8Array(b)) s += String.fromCharCode(c); return btoa(s); }))`)
	var out [][]byte
	for _, r := range raw {
		b, err := base64.StdEncoding.DecodeString(r)
		if err != nil {
			p.t.Fatal(err)
		}
		out = append(out, b)
	}
	return out
}

const shown = `Array.from(document.querySelectorAll(".photo img")).some((i) => i.complete && i.naturalWidth > 0)`

// TestAPhotoFromTyreToTheOtherPhone: taken offline in the tyre reading, small
// and without its place, shown after a reload without a network, and on the
// other phone after both have synced.
func TestAPhotoFromTyreToTheOtherPhone(t *testing.T) {
	a := Open(t)
	a.start("Jo", "Heron")
	a.synced()
	a.RadioOff()
	a.Load("/why/tyre")
	a.See("Photos of this tyre")
	from := cameraPhoto(t)
	a.giveFile("#photo-file", base64.StdEncoding.EncodeToString(from))
	a.SeeElement(".photo-taken")
	a.Type("photo-note", "torn on the left")
	a.TapElement("#photo-save")
	a.wait(shown, "the photo")
	a.See("Rear tyre")

	kept := a.keptPhotos()
	if len(kept) != 1 {
		t.Fatalf("%d photos on the phone", len(kept))
	}
	small, err := jpeg.DecodeConfig(bytes.NewReader(kept[0]))
	if err != nil || small.Width > 1600 || small.Width < 400 || small.Width*3-small.Height*4 > 4 || small.Height*4-small.Width*3 > 4 {
		t.Errorf("kept %d × %d in %d bytes, %v", small.Width, small.Height, len(kept[0]), err)
	}
	if len(kept[0]) > 400<<10 {
		t.Errorf("kept %d bytes of %d", len(kept[0]), len(from))
	}
	for _, told := range []string{"Exif", "GPS", "secret", "\xff\xe1"} {
		if head := kept[0][:min(600, len(kept[0]))]; bytes.Contains(head, []byte(told)) {
			t.Errorf("the kept photo still says %q", told)
		}
	}
	a.Load("/bike")
	a.wait(shown, "the photo after a reload without a network")
	a.See("torn on the left")
	fit(t, a, "photos")

	a.Server.Start()
	a.lookUp()
	a.synced()
	b := a.join()
	b.Load("/bike")
	b.wait(shown, "the photo on the other phone")
	b.See("torn on the left")
	if got := b.keptPhotos(); len(got) != 1 || !bytes.Equal(got[0], kept[0]) {
		t.Errorf("the other phone has %d photos, or another one", len(got))
	}
	b.Load("/book")
	b.See("Photo: Rear tyre")
	a.NoComplaints("Failed to load resource", "ERR_")
	b.NoComplaints()
}
