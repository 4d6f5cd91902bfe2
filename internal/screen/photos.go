package screen

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// PhotosArgs asks for a bike's photos: all of them, those of what What says,
// or those that belong to the line About. A photo's own line has itself.
type PhotosArgs struct {
	Bike  book.BikeID `json:"bike"`
	What  string      `json:"what"`
	About entry.ID    `json:"about"`
}

// PhotosPage is a bike's photos, newest first. The pictures themselves are on
// the phone, by name; the core never sees them. What is what the next one will
// show as far as one can tell; More that one can be added here.
type PhotosPage struct {
	Bike   book.BikeID `json:"bike"`
	Whats  []Choice    `json:"whats"`
	What   string      `json:"what,omitempty"`
	Photos []PhotoLine `json:"photos"`
	More   bool        `json:"more"`
}

// PhotoNames are the photos that the phone is to have, and those that it is to
// delete.
type PhotoNames struct {
	Named  []string `json:"named"`
	Struck []string `json:"struck"`
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

// photoOf is what a photo about a line most likely shows, by the line's kind.
var photoOf = map[string]string{book.KindFall: "bike", book.KindService: "part", book.KindPart: "part", book.KindCheck: "part", book.KindChange: "part"}

func photoWord(what string) string {
	for _, w := range photoWords {
		if w.ID == what {
			return w.Name
		}
	}
	return "A photo"
}

func photosPage(a Ask, args PhotosArgs) (any, []book.Refusal) {
	about := toldOf(a.Book, args.About)
	k, refused := bikeOf(a.Book, cmp.Or(args.Bike, about.Bike))
	if refused != nil {
		return nil, refused
	}
	out := PhotosPage{
		Bike: k.ID, Whats: photoWords, What: cmp.Or(args.What, photoOf[about.Kind]), Photos: []PhotoLine{},
		More: about.Kind != book.KindPhoto && about.Struck == "",
	}
	for _, p := range slices.Backward(k.Photos) {
		if args.What != "" && args.What != p.Body.What || args.About != "" && args.About != p.Body.About && args.About != p.Entry {
			continue
		}
		out.Photos = append(out.Photos, photoLine(a, p))
	}
	return out, nil
}

// PhotosOf are a bike's photos, newest first, for a page that shows the bike.
func PhotosOf(a Ask, bike book.BikeID) []PhotoLine {
	page, refused := photosPage(a, PhotosArgs{Bike: bike})
	if refused != nil {
		return nil
	}
	return page.(PhotosPage).Photos
}

func photoLine(a Ask, p book.Dated[book.PhotoBody]) PhotoLine {
	says := join(photoWord(p.Body.What), shower{a.Book}.moment(p.Wall, a.Now))
	return PhotoLine{p.Entry, p.Body.Photo, p.Body.What, says, p.Body.Note, "Photo: " + join(says, p.Body.Note)}
}

// photoNames are for the phone, to send, fetch and delete.
func photoNames(a Ask, _ struct{}) (any, []book.Refusal) {
	return PhotoNames{a.Book.PhotoNames(), a.Book.StruckPhotos()}, nil
}

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
	same := func(p book.Dated[book.PhotoBody]) bool {
		return p.Body.Photo == body.Photo && p.Body.What == body.What && p.Body.About == body.About
	}
	if slices.ContainsFunc(k.Photos, same) {
		return nil, []book.Refusal{{Field: "photo", Says: "This photo is in the book already.", Mend: "Take another one."}}
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

// photosAbout counts the photos that belong to each line.
func photosAbout(b *book.Book) map[entry.ID]int {
	out := map[entry.ID]int{}
	for _, k := range b.Bikes {
		for _, p := range k.Photos {
			if p.Body.About != "" {
				out[p.Body.About]++
			}
		}
	}
	return out
}
