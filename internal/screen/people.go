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

// peopleFor are the people of a book to pick from: who holds the phone first,
// as "Me", then the rider, then by name, and nobody-knows last.
func peopleFor(a Ask) []Choice {
	ids := slices.SortedFunc(maps.Keys(a.Book.People), func(x, y entry.PersonID) int {
		return cmp.Or(a.nearness(x)-a.nearness(y), strings.Compare(nameOf(a.Book, x), nameOf(a.Book, y)), cmp.Compare(x, y))
	})
	out := []Choice{}
	for _, id := range ids {
		name := nameOf(a.Book, id)
		if id == a.holder() {
			name = "Me"
		}
		out = append(out, Choice{string(id), name})
	}
	return append(out, Choice{string(book.PersonUnknown), "Nobody knows"})
}

// nearness sorts people: who holds the phone, the rider, the others.
func (a Ask) nearness(id entry.PersonID) int {
	switch id {
	case a.holder():
		return 0
	case a.Book.Rider:
		return 1
	}
	return 2
}
