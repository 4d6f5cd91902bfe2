package browsertest

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/jpeg"
	"testing"

	"plumbline/internal/archive"
	"plumbline/internal/book"
	"plumbline/internal/entry"
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

// TestAPhotoOfALine: with its line on both phones; in the saved copy, which
// brings it to a phone of another server byte for byte; and gone from phones
// and server when it is struck out, also where nobody had signal.
func TestAPhotoOfALine(t *testing.T) {
	a := Open(t)
	a.start("Jo", "Heron")
	a.count("rear.rebound", "10")
	a.Load("/book")
	a.Tap("Rear rebound: counted at 10 clicks out")
	a.Tap("Add a photo to this line")
	a.giveFile("#photo-file", base64.StdEncoding.EncodeToString(cameraPhoto(t)))
	a.SeeElement(".photo-taken")
	a.Tap("A part")
	a.Type("photo-note", "the clicker's scratch")
	a.TapElement("#photo-save")
	a.wait(shown, "the photo with its line")
	fit(t, a, "line-photo")
	a.Load("/book")
	a.See("1 photo")
	a.Glance("history-photo")
	a.lookUp()
	a.synced()
	photo := a.keptPhotos()[0]

	b := a.join()
	b.synced()
	b.Load("/book")
	b.See("1 photo")
	b.Tap("Rear rebound: counted at 10 clicks out")
	b.wait(shown, "the photo on the other phone")
	b.See("the clicker's scratch")

	file := b.savedCopy()
	read, err := archive.Read(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	log, findings := archive.Verify(read)
	if findings = append(findings, archive.VerifyPhotos(read, book.Fold(log.Entries()).PhotoNames())...); len(findings) > 0 || len(read.Photos) != 1 {
		t.Fatalf("%d photos in the copy; %v", len(read.Photos), findings)
	}
	c := NewPhone(t, NewServer(t))
	c.Load("/keep")
	c.Ready()
	c.giveFile("#read-copy", base64.StdEncoding.EncodeToString(file))
	c.See("Heron")
	if got := c.keptPhotos(); len(got) != 1 || !bytes.Equal(got[0], photo) {
		t.Errorf("the copy brought %d photos, or another one", len(got))
	}
	if again := c.savedCopy(); !bytes.Equal(again, file) {
		t.Errorf("a copy of the copy has %d bytes, the copy %d, or others", len(again), len(file))
	}
	c.See("The server had everything")
	if n := c.Server.photos(log.Entries()[0].Book); n != 1 {
		t.Errorf("the other server has %d photos", n)
	}

	altered := bytes.Clone(file)
	altered[read.Photos[0].From+9] ^= 1
	d := NewPhone(t, c.Server)
	d.Load("/keep")
	d.Ready()
	d.giveFile("#read-copy", base64.StdEncoding.EncodeToString(altered))
	d.See("1 photo is missing in the file, or altered")
	if got := d.keptPhotos(); len(got) != 0 {
		t.Errorf("an altered photo was kept")
	}

	a.Load("/book")
	a.RadioOff()
	a.Tap("Photo: A part")
	a.SeeElement("#strike")
	a.TapElement("#strike")
	a.See("The picture is deleted for good")
	a.Picture("strike-photo")
	a.Tap("Not meant for the book")
	a.touch(`document.querySelector("dialog[open] .button-main")`, "strike it out")
	a.See("Struck out later: Not meant for the book")
	a.wait(noPhotos, "the photo to be gone from the phone that struck it out")
	if got := b.keptPhotos(); len(got) != 1 {
		t.Errorf("the other phone has %d photos before it could hear of it", len(got))
	}
	a.Server.Start()
	a.lookUp()
	a.synced()
	b.lookUp()
	b.wait(noPhotos, "the photo to be gone from the other phone")
	a.Load("/keep")
	a.lookUp()
	a.See("The server had everything")
	if n := a.Server.photos(log.Entries()[0].Book); n != 0 {
		t.Errorf("the server has %d photos still", n)
	}
	b.Load("/book")
	b.Tap("Photo: A part")
	b.See("Its picture is deleted.")
	a.NoComplaints("Failed to load resource", "ERR_")
	b.NoComplaints("Failed to load resource", "ERR_")
	c.NoComplaints()
}

// photos is how many photos the server has of a book.
func (s *Server) photos(of entry.BookID) int {
	s.t.Helper()
	all, err := s.db.Photos(s.t.Context(), of)
	if err != nil {
		s.t.Fatal(err)
	}
	return len(all)
}

const noPhotos = shelfScript + `(async (store, done) => (await done(store("photos", "readonly").getAllKeys())).length === 0)`
