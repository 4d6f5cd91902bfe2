package screen

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// PersonForm puts somebody into the book, or renames them. Role is "rider",
// "tuner", "friend" or "other".
type PersonForm struct {
	ID   entry.PersonID `json:"id"`
	Name string         `json:"name"`
	Role string         `json:"role"`
}

var _ = action("person", func(a Ask, f PersonForm) ([]book.Draft, []book.Refusal) {
	id := f.ID
	if id == "" {
		id = entry.PersonID(a.Mint())
	}
	drafts := []book.Draft{{Kind: book.KindPerson, Body: book.PersonBody{Person: id, Name: strings.TrimSpace(f.Name), Role: cmp.Or(f.Role, "other")}}}
	if f.Role == "rider" && a.Book.Rider == "" {
		drafts = append(drafts, book.Draft{Kind: book.KindBook, Body: book.BookBody{Rider: id}})
	}
	return drafts, nil
})

// peopleRiderFirst are the people of a book to pick from: the rider first,
// then by name, and nobody-knows last.
func peopleRiderFirst(b *book.Book) []Choice {
	ids := slices.SortedFunc(maps.Keys(b.People), func(x, y entry.PersonID) int {
		return cmp.Or(riderFirst(b, x)-riderFirst(b, y), strings.Compare(nameOf(b, x), nameOf(b, y)), cmp.Compare(x, y))
	})
	out := []Choice{}
	for _, id := range ids {
		name := nameOf(b, id)
		if id == b.Rider {
			name = "Me"
		}
		out = append(out, Choice{string(id), name})
	}
	return append(out, Choice{string(book.PersonUnknown), "Nobody knows"})
}

func riderFirst(b *book.Book, id entry.PersonID) int {
	if id == b.Rider {
		return 0
	}
	return 1
}
