package screen

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"time"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// Ask is what a view or an action is computed from. Device is the phone
// that asks, empty when none does. Now carries the rider's offset from UTC. Mint returns a new name for a thing that the book does not
// have yet: a lower-case UUID; only actions may call it.
type Ask struct {
	Book   *book.Book
	Device entry.DeviceID
	Now    time.Time
	Mint   func() string
}

// viewer computes a view model from its arguments, a JSON object.
type viewer func(a Ask, args json.RawMessage) (any, []book.Refusal)

// actor turns a filled form, a JSON object, into the entries to write, or
// says what is wrong with it.
type actor func(a Ask, form json.RawMessage) ([]book.Draft, []book.Refusal)

// views and actions are filled by the screens' own files, see register.
var (
	views   = map[string]viewer{}
	actions = map[string]actor{}
)

// view registers a view model under a name; args decode into A.
func view[A any](name string, build func(Ask, A) (any, []book.Refusal)) bool {
	views[name] = func(a Ask, raw json.RawMessage) (any, []book.Refusal) {
		var args A
		if refused := decode(raw, &args); refused != nil {
			return nil, refused
		}
		return build(a, args)
	}
	return true
}

// action registers an action under a name; its form decodes into F.
func action[F any](name string, do func(Ask, F) ([]book.Draft, []book.Refusal)) bool {
	actions[name] = func(a Ask, raw json.RawMessage) ([]book.Draft, []book.Refusal) {
		var form F
		if refused := decode(raw, &form); refused != nil {
			return nil, refused
		}
		drafts, refused := do(a, form)
		if len(refused) > 0 {
			return nil, refused
		}
		if refused := tooLong(drafts); refused != nil {
			return nil, refused
		}
		return drafts, check(a.Book, drafts)
	}
	return true
}

// envelopeRoom is what a line needs beside its body, generously.
const envelopeRoom = 2 << 10

// tooLong refuses what would not fit into a line of the log.
func tooLong(drafts []book.Draft) []book.Refusal {
	for _, d := range drafts {
		if body, err := json.Marshal(d.Body); err == nil && len(body) > entry.MaxLine-envelopeRoom {
			return []book.Refusal{{Field: "", Says: "This is more than one line of the book takes.", Mend: "Shorten it, or write it in two goes."}}
		}
	}
	return nil
}

// check asks the book about every draft whose bike it already has. Drafts
// that come with a new bike are checked by their own action.
func check(b *book.Book, drafts []book.Draft) []book.Refusal {
	for _, d := range drafts {
		if d.Kind == book.KindBike {
			return nil
		}
	}
	var out []book.Refusal
	for _, d := range drafts {
		out = append(out, b.Check(d.Body)...)
	}
	return out
}

func decode(raw json.RawMessage, into any) []book.Refusal {
	if len(bytes.TrimSpace(raw)) == 0 {
		return nil
	}
	if err := json.Unmarshal(raw, into); err != nil {
		return []book.Refusal{{Field: "", Says: "This form cannot be read: " + err.Error() + ".", Mend: "Check the numbers: at most three digits after the point."}}
	}
	return nil
}

// View returns the view model with a name.
func View(name string, a Ask, args json.RawMessage) (any, []book.Refusal) {
	v, ok := views[name]
	if !ok {
		return nil, []book.Refusal{{Field: "view", Says: fmt.Sprintf("There is no view %q.", name)}}
	}
	return v(a, args)
}

// Act returns the entries that an action with a filled form leads to.
func Act(name string, a Ask, form json.RawMessage) ([]book.Draft, []book.Refusal) {
	do, ok := actions[name]
	if !ok {
		return nil, []book.Refusal{{Field: "action", Says: fmt.Sprintf("There is no action %q.", name)}}
	}
	return do(a, form)
}

// Names returns the names of all views and actions, sorted.
func Names() (viewNames, actionNames []string) {
	return slices.Sorted(maps.Keys(views)), slices.Sorted(maps.Keys(actions))
}

// bikeOf returns the bike with an id, or the book's first when id is empty.
func bikeOf(b *book.Book, id book.BikeID) (*book.Bike, []book.Refusal) {
	if id == "" && len(b.BikeOrder) > 0 {
		id = b.BikeOrder[0]
	}
	k, ok := b.Bikes[id]
	if !ok {
		return nil, []book.Refusal{{Field: "bike", Says: "There is no bike in this book yet.", Mend: "Start with the first look."}}
	}
	return k, nil
}

// holder is who holds the phone: who was named as such, or else the rider.
func (a Ask) holder() entry.PersonID {
	return a.Book.Who(cmp.Or(a.Book.Holders[a.Device], a.Book.Rider))
}

// Who is a person as a form names them: one of the book's, or a new one by
// name. Both empty means not said.
type Who struct {
	ID   entry.PersonID `json:"id,omitempty"`
	Name string         `json:"name,omitempty"`
	Role string         `json:"role,omitempty"`
}

// person returns the id for a form's person, and the draft that puts a new
// one into the book.
func person(a Ask, w Who) (entry.PersonID, []book.Draft) {
	if w.ID != "" || w.Name == "" {
		return w.ID, nil
	}
	for _, id := range slices.Sorted(maps.Keys(a.Book.People)) {
		if a.Book.People[id].Name == w.Name {
			return id, nil
		}
	}
	id := entry.PersonID(a.Mint())
	role := w.Role
	if role == "" {
		role = "other"
	}
	return id, []book.Draft{{Kind: book.KindPerson, Body: book.PersonBody{Person: id, Name: w.Name, Role: role}}}
}

// nameOf is how a person is called on screens.
func nameOf(b *book.Book, id entry.PersonID) string {
	switch {
	case id == "":
		return ""
	case id == book.PersonUnknown:
		return "nobody knows who"
	case b.People[b.Who(id)].Name != "":
		return b.People[b.Who(id)].Name
	}
	return "somebody"
}
