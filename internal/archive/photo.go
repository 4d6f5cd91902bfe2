package archive

import (
	"archive/zip"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"slices"
	"strings"
)

// MaxPhoto is the greatest size of a photo in bytes; the server's too.
const MaxPhoto = 1 << 20

// Photo is a photo to be written. A zip wants its size and CRC-32 (IEEE)
// before its bytes, which Copy writes.
type Photo struct {
	Name  string // SHA-256 of the bytes, in hex
	Size  int64
	CRC32 uint32
	Copy  func(io.Writer) error
}

// Kept is a photo that lies in a file: From is where its bytes begin, Size how
// many there are, Packed says that they are deflated, as when somebody has
// packed the archive anew.
type Kept struct {
	Name   string `json:"name"`
	From   int64  `json:"from"`
	Size   int64  `json:"size"`
	Packed bool   `json:"packed,omitempty"`
	open   func() (io.ReadCloser, error)
}

// fileOf is the place of a photo in an archive.
func fileOf(name string) string { return "photos/" + name + ".jpg" }

// addPhoto stores a photo. All that comes before its bytes has left z when
// Copy is called, so a writer beneath can tell the photo from the rest.
func addPhoto(z *zip.Writer, p Photo) error {
	h := &zip.FileHeader{
		Name: fileOf(p.Name), Method: zip.Store, CreatorVersion: 20, ReaderVersion: 20,
		CRC32: p.CRC32, CompressedSize64: uint64(p.Size), UncompressedSize64: uint64(p.Size),
	}
	//lint:ignore SA1019 CreateRaw writes these fields and takes no notice of Modified
	h.ModifiedDate = 1<<5 | 1 // 1 January 1980
	w, err := z.CreateRaw(h)
	if err != nil {
		return err
	}
	if err := z.Flush(); err != nil {
		return err
	}
	return p.Copy(w)
}

// photosIn lists the photos of an archive, as they stand in it. What cannot be
// a photo of ours by its size is none.
func photosIn(z *zip.Reader) []Kept {
	var out []Kept
	for _, f := range z.File {
		name, ours := strings.CutPrefix(strings.TrimSuffix(f.Name, ".jpg"), "photos/")
		if !ours || fileOf(name) != f.Name || f.UncompressedSize64 > MaxPhoto || f.CompressedSize64 > MaxPhoto {
			continue
		}
		from, err := f.DataOffset()
		if err != nil {
			continue // its place is broken: it is missing
		}
		out = append(out, Kept{Name: name, From: from, Size: int64(f.CompressedSize64), Packed: f.Method == zip.Deflate, open: f.Open})
	}
	return out
}

// VerifyPhotos checks the photos of a file against the names that its book
// tells of: it finds those that are missing, and those that are not what they
// are called.
func VerifyPhotos(c Contents, named []string) []Finding {
	var findings []Finding
	for _, name := range named {
		i := slices.IndexFunc(c.Photos, func(k Kept) bool { return k.Name == name })
		switch {
		case i < 0:
			findings = append(findings, Finding{File: fileOf(name), Says: "an entry names this photo, and it is not in the file"})
		case !c.Photos[i].whole():
			findings = append(findings, Finding{File: fileOf(name), Says: "this photo was altered: its SHA-256 is not its name"})
		}
	}
	return findings
}

// whole says whether a photo is what it is called.
func (k Kept) whole() bool {
	r, err := k.open()
	if err != nil {
		return false
	}
	defer r.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, io.LimitReader(r, MaxPhoto+1)); err != nil {
		return false
	}
	return hex.EncodeToString(sum.Sum(nil)) == k.Name
}
