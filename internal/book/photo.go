package book

import (
	"encoding/json"
	"slices"
	"strings"

	"plumbline/internal/entry"
)

// PhotoBody attaches a photo to a bike, and where About is given to an entry.
// The entry holds the photo's name only, the SHA-256 of its bytes in hex; the
// bytes lie beside the log and travel after it.
type PhotoBody struct {
	Bike  BikeID   `json:"bike"`
	Photo string   `json:"photo"`
	What  string   `json:"what"` // one of PhotoSubjects
	About entry.ID `json:"about,omitempty"`
	Note  string   `json:"note,omitempty"`
}

// PhotoSubjects are what a photo can show.
var PhotoSubjects = []string{"tyre-rear", "tyre-front", "part", "bike"}

// MostPhotos is how many photos a book can have; the server keeps no more.
const MostPhotos = 500

// PhotoNames returns the names of all photos that the book tells of, each
// once, sorted.
func (b *Book) PhotoNames() []string {
	names := []string{}
	for _, k := range b.Bikes {
		for _, p := range k.Photos {
			names = append(names, p.Body.Photo)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// StruckPhotos returns the names of the photos that the book told of once and
// tells of no more, each once, sorted: their lines were struck out, or
// corrected to another photo. A rider who strikes a photo out wants it gone, so
// whoever keeps their bytes is to delete them; the lines stay in the history.
func (b *Book) StruckPhotos() []string {
	named, struck := b.PhotoNames(), []string{}
	for _, t := range b.Told {
		if t.Kind != KindPhoto || t.Struck == "" && t.Corrected == "" {
			continue
		}
		for _, raw := range []rawBody{t.Body, t.Was} {
			var n PhotoBody
			_ = json.Unmarshal(raw, &n) // one that cannot be read names no photo
			if _, kept := slices.BinarySearch(named, n.Photo); !kept && isPhotoName(n.Photo) {
				struck = append(struck, n.Photo)
			}
		}
	}
	slices.Sort(struck)
	return slices.Compact(struck)
}

func (b *Book) checkPhoto(n PhotoBody) []Refusal {
	switch _, ok := b.Bikes[n.Bike]; {
	case !ok:
		return []Refusal{{"bike", "This bike is not in the book.", "Put the bike in the book first."}}
	case !isPhotoName(n.Photo):
		return []Refusal{{"photo", "There is no photo yet.", "Take one, or pick one."}}
	case !slices.Contains(PhotoSubjects, n.What):
		return []Refusal{{"what", "What does it show?", "Pick a tyre, a part or the bike."}}
	case len(n.Note) > maxWords:
		return []Refusal{{"note", "That is too long.", "Say it in a few words."}}
	case n.About != "" && !slices.ContainsFunc(b.Told, func(t Told) bool { return t.Entry == n.About }):
		return []Refusal{{"about", "The line that it belongs to is not in the book.", "Open the line again, and add the photo there."}}
	}
	names := b.PhotoNames()
	if _, there := slices.BinarySearch(names, n.Photo); !there && len(names) >= MostPhotos {
		return []Refusal{{"photo", "This book has all the photos that it can hold.", "Strike out one that you no longer need."}}
	}
	return nil
}

// isPhotoName says whether a word is 64 small hex digits.
func isPhotoName(s string) bool {
	return len(s) == 64 && strings.Trim(s, "0123456789abcdef") == ""
}
