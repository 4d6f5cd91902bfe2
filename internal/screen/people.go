package screen

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// People is who is in the book, and which phones write in it.
type People struct {
	Book    string       `json:"book"` // its name
	People  []PersonLine `json:"people"`
	Roles   []Choice     `json:"roles"`
	Devices []DeviceLine `json:"devices"`
	Here    DeviceForm   `json:"here"` // this phone
	Holders []Choice     `json:"holders"`
}

// PersonLine is one person, and what they have done so far in words.
type PersonLine struct {
	ID    entry.PersonID `json:"id"`
	Name  string         `json:"name"`
	Role  string         `json:"role"`
	Says  string         `json:"says"` // "Friend; turned 3, had 2 ideas"
	Rider bool           `json:"rider,omitempty"`
	Names []MergedName   `json:"names"` // the others that turned out to be this one
}

// MergedName is somebody who turned out to be another.
type MergedName struct {
	ID   entry.PersonID `json:"id"`
	Name string         `json:"name"`
}

// DeviceLine is a phone that writes in the book.
type DeviceLine struct {
	ID   entry.DeviceID `json:"id"`
	Name string         `json:"name"`
	Says string         `json:"says"` // "held by Mika, 12 entries"
	Here bool           `json:"here,omitempty"`
}

// DeviceForm says what this phone is called and who holds it.
type DeviceForm struct {
	Name   string `json:"name"`
	Holder Who    `json:"holder"`
}

// PersonForm puts somebody into the book, or renames them. Role is "rider",
// "tuner", "friend" or "other". Same says who else this is.
type PersonForm struct {
	ID   entry.PersonID `json:"id"`
	Name string         `json:"name"`
	Role string         `json:"role"`
	Same entry.PersonID `json:"same"`
}

// roles are what somebody can be to the rider.
var roles = []Choice{{"rider", "Rider"}, {"tuner", "Tuner"}, {"friend", "Friend"}, {"other", "Somebody else"}}

var (
	_ = view("people", people)
	_ = action("person", putPerson)
	_ = action("device", nameDevice)
)

func people(a Ask, _ struct{}) (any, []book.Refusal) {
	b := a.Book
	out := People{Book: b.Name, People: []PersonLine{}, Roles: roles, Devices: []DeviceLine{}, Holders: namedPeople(b)}
	done := deeds(b)
	for _, id := range inOrder(a) {
		if b.People[id].Same != "" {
			continue
		}
		p := b.People[id]
		role := strings.ToLower(cmp.Or(nameIn(roles, p.Role), "somebody else"))
		out.People = append(out.People, PersonLine{
			ID: id, Name: nameOf(b, id), Role: cmp.Or(p.Role, "other"), Rider: id == b.Who(b.Rider),
			Says: capital(join(role, done[id].says())), Names: mergedInto(b, id),
		})
	}
	written := map[entry.DeviceID]int{}
	for _, t := range b.Told {
		written[t.Device]++
	}
	for _, id := range slices.Sorted(maps.Keys(written)) {
		line := DeviceLine{ID: id, Name: capital(deviceName(b, id)), Says: entries(written[id]), Here: id == a.Device}
		if who := b.Holders[id]; who != "" {
			line.Says = "held by " + nameOf(b, who) + ", " + line.Says
		}
		out.Devices = append(out.Devices, line)
	}
	out.Here = DeviceForm{Name: b.Devices[a.Device], Holder: Who{ID: b.Who(b.Holders[a.Device])}}
	return out, nil
}

func entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return unitless(n) + " entries"
}

// mergedInto are the people who turned out to be one.
func mergedInto(b *book.Book, id entry.PersonID) []MergedName {
	out := []MergedName{}
	for _, other := range slices.Sorted(maps.Keys(b.People)) {
		if other != id && b.Who(other) == id {
			out = append(out, MergedName{other, cmp.Or(b.People[other].Name, "somebody")})
		}
	}
	return out
}

// deed counts what somebody did.
type deed struct{ turned, ideas, said int }

func (d deed) says() string {
	var out string
	if d.turned > 0 {
		out = join(out, "turned "+unitless(d.turned))
	}
	if d.ideas > 0 {
		out = join(out, "had "+many(d.ideas, "idea"))
	}
	if d.said > 0 {
		out = join(out, "said "+unitless(d.said))
	}
	return cmp.Or(out, "nothing in the book yet")
}

// deeds counts over all bikes what everybody did.
func deeds(b *book.Book) map[entry.PersonID]deed {
	out := map[entry.PersonID]deed{}
	add := func(id entry.PersonID, f func(*deed)) {
		d := out[b.Who(id)]
		f(&d)
		out[b.Who(id)] = d
	}
	for _, k := range b.Bikes {
		for _, set := range k.Settings {
			for _, m := range set.Line {
				add(m.Turned, func(d *deed) { d.turned++ })
				add(m.Idea, func(d *deed) { d.ideas++ })
			}
		}
		for _, ad := range k.Advice {
			add(ad.Body.From, func(d *deed) { d.said++ })
		}
	}
	return out
}

func putPerson(a Ask, f PersonForm) ([]book.Draft, []book.Refusal) {
	id := f.ID
	if id == "" {
		id = entry.PersonID(a.Mint())
	}
	n := book.PersonBody{Person: id, Name: strings.TrimSpace(f.Name), Role: f.Role, Same: f.Same}
	if f.ID == "" {
		n.Role = cmp.Or(f.Role, "other")
	}
	drafts := []book.Draft{{Kind: book.KindPerson, Body: n}}
	if f.Role == "rider" && a.Book.Rider == "" {
		drafts = append(drafts, book.Draft{Kind: book.KindBook, Body: book.BookBody{Rider: id}})
	}
	return drafts, nil
}

func nameDevice(a Ask, f DeviceForm) ([]book.Draft, []book.Refusal) {
	name := strings.TrimSpace(f.Name)
	holder, drafts := person(a, f.Holder)
	if name == "" && holder == "" {
		return nil, []book.Refusal{{Field: "device-name", Says: "This phone has no name yet.", Mend: "Type what you call it, or say who holds it."}}
	}
	return append(drafts, book.Draft{Kind: book.KindDevice, Body: book.DeviceBody{Name: name, Holder: holder}}), nil
}

// inOrder are the ids of a book's people: who holds the phone first, then the
// rider, then by name.
func inOrder(a Ask) []entry.PersonID {
	return slices.SortedFunc(maps.Keys(a.Book.People), func(x, y entry.PersonID) int {
		return cmp.Or(a.nearness(x)-a.nearness(y), strings.Compare(nameOf(a.Book, x), nameOf(a.Book, y)), cmp.Compare(x, y))
	})
}

// nearness sorts people: who holds the phone, the rider, the others.
func (a Ask) nearness(id entry.PersonID) int {
	switch id {
	case a.holder():
		return 0
	case a.Book.Who(a.Book.Rider):
		return 1
	}
	return 2
}

// peopleFor are the people of a book to pick from: who holds the phone first,
// as "Me", and nobody-knows last.
func peopleFor(a Ask) []Choice {
	out := []Choice{}
	for _, id := range inOrder(a) {
		switch {
		case a.Book.People[id].Same != "":
		case id == a.holder():
			out = append(out, Choice{string(id), "Me"})
		default:
			out = append(out, Choice{string(id), nameOf(a.Book, id)})
		}
	}
	return append(out, Choice{string(book.PersonUnknown), "Nobody knows"})
}

// namedPeople are all people of a book under their own names.
func namedPeople(b *book.Book) []Choice {
	out := []Choice{}
	for _, id := range inOrder(Ask{Book: b}) {
		if b.People[id].Same == "" {
			out = append(out, Choice{string(id), nameOf(b, id)})
		}
	}
	return out
}

// nameIn is how a choice is called, "" when it is none of them.
func nameIn(list []Choice, id string) string {
	for _, c := range list {
		if c.ID == id {
			return c.Name
		}
	}
	return ""
}
