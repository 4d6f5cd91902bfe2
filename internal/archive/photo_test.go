package archive

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"hash/crc32"
	"io"
	"slices"
	"strings"
	"testing"
)

// shot is a photo of so many bytes, for the archive's purposes.
func shot(size int, fill byte) (Photo, []byte) {
	raw := bytes.Repeat([]byte{fill}, size)
	sum := sha256.Sum256(raw)
	return Photo{hex.EncodeToString(sum[:]), int64(size), crc32.ChecksumIEEE(raw), func(w io.Writer) error {
		_, err := w.Write(raw)
		return err
	}}, raw
}

// album is the season with two photos, one of them large, and their names.
func album(t testing.TB) (file []byte, names []string) {
	t.Helper()
	a, _ := shot(300<<10, 'a')
	b, _ := shot(7, 'b')
	photos := []Photo{a, b}
	slices.SortFunc(photos, func(a, b Photo) int { return strings.Compare(a.Name, b.Name) })
	var out bytes.Buffer
	if err := Write(&out, season(t), photos, Table{"laps.csv", "Every lap.", "c\r\n"}); err != nil {
		t.Fatal(err)
	}
	return out.Bytes(), []string{photos[0].Name, photos[1].Name}
}

func opened(t testing.TB, file []byte) Contents {
	t.Helper()
	c, err := Read(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestPhotosComeBackByteForByte: what Kept says of a photo cuts it out of the
// file, and another archive of the same is the same file.
func TestPhotosComeBackByteForByte(t *testing.T) {
	file, names := album(t)
	c := opened(t, file)
	if len(c.Photos) != 2 || len(VerifyPhotos(c, names)) > 0 {
		t.Fatalf("%+v: %v", c.Photos, VerifyPhotos(c, names))
	}
	var again []Photo
	for _, k := range c.Photos {
		raw := file[k.From : k.From+k.Size]
		if sum := sha256.Sum256(raw); hex.EncodeToString(sum[:]) != k.Name || k.Packed {
			t.Errorf("cut out, %+v is another photo", k)
		}
		again = append(again, Photo{k.Name, k.Size, crc32.ChecksumIEEE(raw), func(w io.Writer) error {
			_, err := w.Write(raw)
			return err
		}})
	}
	log, _ := Verify(c)
	var out bytes.Buffer
	if err := Write(&out, log.Lacking(nil), again, Table{"laps.csv", "Every lap.", "c\r\n"}); err != nil || !bytes.Equal(out.Bytes(), file) {
		t.Errorf("the second archive differs from the first, %v", err)
	}
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File {
		if r, err := f.Open(); err != nil || f.Modified.Year() != 1980 || f.Modified.Month() != 1 {
			t.Errorf("%s of %v: %v", f.Name, f.Modified, err)
		} else if _, err := io.Copy(io.Discard, r); err != nil {
			t.Errorf("%s: %v", f.Name, err)
		}
	}
	readme, err := z.Open(nameReadme)
	if err != nil {
		t.Fatal(err)
	}
	if text, _ := io.ReadAll(readme); !strings.Contains(string(text), "photos/ holds the photos") {
		t.Errorf("the readme does not tell of photos: %s", text)
	}
}

// packedAnew is an archive as somebody makes it who has unpacked one.
func packedAnew(t *testing.T, file []byte, change func(name string, raw []byte) []byte) []byte {
	t.Helper()
	from, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	to := zip.NewWriter(&out)
	for _, f := range from.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		raw, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if raw = change(f.Name, raw); raw == nil {
			continue
		}
		w, err := to.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(raw); err != nil {
			t.Fatal(err)
		}
	}
	if err := to.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestPhotosThatAreMissingOrAlteredAreNamed(t *testing.T) {
	file, names := album(t)
	one := fileOf(names[0])
	rows := map[string]struct {
		file []byte
		says string // of the first photo; nothing when all is well
	}{
		"packed anew": {packedAnew(t, file, func(_ string, raw []byte) []byte { return raw }), ""},
		"left out": {packedAnew(t, file, func(name string, raw []byte) []byte {
			if name == one {
				return nil
			}
			return raw
		}), "it is not in the file"},
		"altered": {packedAnew(t, file, func(name string, raw []byte) []byte {
			if name == one {
				raw[0]++
			}
			return raw
		}), "altered"},
		"swollen": {packedAnew(t, file, func(name string, raw []byte) []byte {
			if name == one {
				return make([]byte, MaxPhoto+1)
			}
			return raw
		}), "it is not in the file"},
		"scratched on the disk": {scratched(t, file, names[0]), "altered"},
	}
	for name, r := range rows {
		found := VerifyPhotos(opened(t, r.file), names)
		if r.says == "" && len(found) > 0 || r.says != "" && (len(found) != 1 || found[0].File != one || !strings.Contains(found[0].Says, r.says)) {
			t.Errorf("%s: %v; want %q of %s", name, found, r.says, one)
		}
	}
	if c := opened(t, packedAnew(t, file, func(_ string, raw []byte) []byte { return raw })); !c.Photos[0].Packed {
		t.Error("a photo that was packed is not said to be")
	}
}

// scratched turns one bit of a photo over and leaves the zip as it is.
func scratched(t *testing.T, file []byte, name string) []byte {
	t.Helper()
	c := opened(t, file)
	i := slices.IndexFunc(c.Photos, func(k Kept) bool { return k.Name == name })
	out := bytes.Clone(file)
	out[c.Photos[i].From] ^= 1
	return out
}
