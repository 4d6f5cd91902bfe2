package screen

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// PhotosArgs asks for a bike's photos; all of them where What is empty.
type PhotosArgs struct {
	Bike book.BikeID `json:"bike"`
	What string      `json:"what"`
}

// PhotosPage is a bike's photos, newest first. The pictures themselves are on
// the phone, by name; the core never sees them.
type PhotosPage struct {
	Bike   book.BikeID `json:"bike"`
	Whats  []Choice    `json:"whats"`
	Photos []PhotoLine `json:"photos"`
}

// PhotoLine is one photo. Alt says in words what it shows.
type PhotoLine struct {
	Entry entry.ID `json:"entry"`
	Photo string   `json:"photo"`
	What  string   `json:"what"`
	Says  string   `json:"says"` // what, when
	Note  string   `json:"note,omitempty"`
	Alt   string   `json:"alt"`
}

// PhotoForm attaches a photo that is on the phone by its name.
type PhotoForm struct {
	Bike  book.BikeID `json:"bike"`
	Photo string      `json:"photo"`
	What  string      `json:"what"`
	About entry.ID    `json:"about"`
	Note  string      `json:"note"`
}

// PhotoBytes are a photo to be named.
type PhotoBytes struct {
	Bytes []byte `json:"bytes"` // base64 in JSON
}

var (
	_ = view("photos", photosPage)
	_ = view("photonames", photoNames)
	_ = view("photoname", photoName)
	_ = action("photo", attach)
)

// photoWords are what a photo can show, in a rider's words.
var photoWords = []Choice{{"tyre-rear", "Rear tyre"}, {"tyre-front", "Front tyre"}, {"part", "A part"}, {"bike", "The bike"}}

func photoWord(what string) string {
	for _, w := range photoWords {
		if w.ID == what {
			return w.Name
		}
	}
	return "A photo"
}

func photosPage(a Ask, args PhotosArgs) (any, []book.Refusal) {
	k, refused := bikeOf(a.Book, args.Bike)
	if refused != nil {
		return nil, refused
	}
	out := PhotosPage{Bike: k.ID, Whats: photoWords, Photos: []PhotoLine{}}
	s := shower{a.Book}
	for _, p := range slices.Backward(k.Photos) {
		if args.What != "" && args.What != p.Body.What {
			continue
		}
		says := join(photoWord(p.Body.What), s.moment(p.Wall, a.Now))
		alt := "Photo: " + join(says, p.Body.Note)
		out.Photos = append(out.Photos, PhotoLine{p.Entry, p.Body.Photo, p.Body.What, says, p.Body.Note, alt})
	}
	return out, nil
}

// photoNames are all photos that the book tells of, for the phone to send and
// fetch.
func photoNames(a Ask, _ struct{}) (any, []book.Refusal) { return a.Book.PhotoNames(), nil }

// photoName names a photo on pages where the browser itself does not hash.
func photoName(_ Ask, p PhotoBytes) (any, []book.Refusal) {
	sum := sha256.Sum256(p.Bytes)
	return hex.EncodeToString(sum[:]), nil
}

func attach(a Ask, f PhotoForm) ([]book.Draft, []book.Refusal) {
	k, refused := bikeOf(a.Book, f.Bike)
	if refused != nil {
		return nil, refused
	}
	body := book.PhotoBody{Bike: k.ID, Photo: f.Photo, What: f.What, About: f.About, Note: strings.TrimSpace(f.Note)}
	if refused := a.Book.Check(body); len(refused) > 0 {
		return nil, refused
	}
	return []book.Draft{{Kind: book.KindPhoto, Body: body}}, nil
}

// photo tells of a photo, and of the line that it belongs to.
func (w teller) photo(_ book.Told, l *HistoryLine, n book.PhotoBody) {
	l.Title, l.Detail = "Photo: "+photoWord(n.What), n.Note
	about := toldOf(w.b, n.About)
	if about.Kind == book.KindPhoto {
		return // two photos could be about each other
	}
	if about, ok := w.says(about); ok {
		l.Detail = join(n.Note, "with '"+about.Title+"'")
	}
}
