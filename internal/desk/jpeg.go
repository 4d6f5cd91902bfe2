package desk

import (
	"bytes"
	"image/jpeg"

	"plumbline/internal/archive"
)

// What a photo is limited to. The app makes them smaller: 1600 pixels, about
// 400 KB, and a few scans.
const (
	// LargestPhoto is the most bytes of a photo.
	LargestPhoto = archive.MaxPhoto
	// WidestPhoto is the most pixels of a photo's side. A picture that says it
	// is larger is not decoded: it could take all memory.
	WidestPhoto = 2048
	// MostScans is the most scans of a photo: each goes over the whole picture,
	// and a megabyte has room for thousands.
	MostScans = 64
)

// isPhoto says whether bytes are a JPEG within the limits that decodes to its
// end and holds nothing beside its picture. What is cheap to see is looked at
// first.
func (d *Desk) isPhoto(photo []byte) bool {
	if len(photo) > LargestPhoto || !bare(photo) {
		return false
	}
	size, err := jpeg.DecodeConfig(bytes.NewReader(photo))
	if err != nil || size.Width > WidestPhoto || size.Height > WidestPhoto {
		return false
	}
	d.decoding.Lock()
	defer d.decoding.Unlock()
	_, err = jpeg.Decode(bytes.NewReader(photo))
	return err == nil
}

// Markers of a JPEG: ITU-T T.81 (1992), table B.1.
const (
	startOfImage = 0xD8
	endOfImage   = 0xD9
	startOfScan  = 0xDA
	fill         = 0xFF
)

// bare walks over the segments of a JPEG (ITU-T T.81, B.1.1) and says whether
// all of them are of its picture and its colours, and the file ends with the
// picture. Exif, XMP and IPTC, which tell where a photo was taken, live in
// other APPn segments (Exif 2.3, 4.5.4: APP1); comments, and files hung onto
// the end, could tell anything.
func bare(photo []byte) bool {
	if len(photo) < 4 || photo[0] != 0xFF || photo[1] != startOfImage {
		return false
	}
	scans := 0
	for at := 2; at+4 <= len(photo) && photo[at] == 0xFF; {
		marker := photo[at+1]
		if marker == fill {
			at++
			continue
		}
		if !ofPicture(marker) {
			return false
		}
		at += 2 + int(photo[at+2])<<8 + int(photo[at+3])
		if marker != startOfScan {
			continue
		}
		if scans++; scans > MostScans {
			return false
		}
		at = behindScan(photo, at)
		if at == len(photo)-2 && photo[at+1] == endOfImage {
			return true
		}
	}
	return false
}

// ofPicture says whether a segment belongs to the picture: frames, tables,
// scans, restart intervals, and the APPn that say how colours are meant: JFIF
// (0), ICC profiles (2), Adobe's transform (14).
func ofPicture(marker byte) bool {
	switch marker {
	case 0xC0, 0xC1, 0xC2, 0xC4, 0xDB, 0xDD, startOfScan, 0xE0, 0xE2, 0xEE:
		return true
	}
	return false
}

// behindScan returns where the marker behind a scan's data stands: an 0xFF that
// no zero stuffs and that begins no restart.
func behindScan(photo []byte, at int) int {
	for ; at+1 < len(photo); at++ {
		if next := photo[at+1]; photo[at] == 0xFF && next != 0 && next != fill && (next < 0xD0 || next > 0xD7) {
			return at
		}
	}
	return len(photo)
}
