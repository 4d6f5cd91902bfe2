package screen

import (
	"cmp"
	"slices"

	"plumbline/internal/book"
	"plumbline/internal/entry"
)

// Dispute is a setting of which the book tells two stories: two phones changed
// it without knowing of each other, or a line that later ones stood on was
// struck out. The last one stands until somebody counts.
type Dispute struct {
	Adjuster book.AdjusterID `json:"adjuster"`
	Name     string          `json:"name"`
	Says     string          `json:"says"`
	Claims   []Claim         `json:"claims"` // oldest first
}

// Claim is where one change says the adjuster stands.
type Claim struct {
	Entry entry.ID `json:"entry"`
	At    string   `json:"at"`  // "8 clicks out"
	Who   string   `json:"who"` // "Nell's phone, today 10:12, turned by Ivo"
}

// disputes are a bike's settings in dispute, in its order.
func disputes(a Ask, k *book.Bike) []Dispute {
	out := []Dispute{}
	for _, set := range k.Active() {
		if d := dispute(a, set); d != nil {
			out = append(out, *d)
		}
	}
	return out
}

// dispute tells the stories of a setting; nil when there is but one.
func dispute(a Ask, set *book.Setting) *Dispute {
	if len(set.Disputed) == 0 {
		return nil
	}
	d := &Dispute{Adjuster: set.ID, Name: set.Name, Claims: []Claim{}}
	devices := map[entry.DeviceID]bool{}
	for _, m := range contradicting(set) {
		t := toldOf(a.Book, m.Entry)
		devices[t.Device] = true
		d.Claims = append(d.Claims, claim(a, set, m, t))
	}
	if len(devices) > 1 {
		d.Says = "Two phones changed this without knowing of each other. Count it: what you count is what the book goes by."
	} else {
		d.Says = "A line that later ones stood on was struck out or corrected. Count it: what you count is what the book goes by."
	}
	return d
}

// contradicting are the marks that do not fit together: the disputed ones, and
// the one before the first of them.
func contradicting(set *book.Setting) []book.Mark {
	first := slices.IndexFunc(set.Line, func(m book.Mark) bool { return m.Entry == set.Disputed[0] })
	out := []book.Mark{}
	for i, m := range set.Line {
		if i == first-1 || slices.Contains(set.Disputed, m.Entry) {
			out = append(out, m)
		}
	}
	return out
}

func claim(a Ask, set *book.Setting, m book.Mark, t book.Told) Claim {
	s := shower{a.Book}
	at := "not known"
	if m.To != nil {
		at = s.position(set, *m.To)
	}
	turned := ""
	if m.Turned != "" {
		turned = "turned by " + nameOf(a.Book, m.Turned)
	}
	return Claim{m.Entry, at, join(deviceName(a.Book, t.Device), s.moment(m.Wall, a.Now), turned)}
}

// deviceName is what a phone is called.
func deviceName(b *book.Book, id entry.DeviceID) string { return cmp.Or(b.Devices[id], "a phone") }

// toldOf is an entry as history has it.
func toldOf(b *book.Book, id entry.ID) book.Told {
	i := slices.IndexFunc(b.Told, func(t book.Told) bool { return t.Entry == id })
	if i < 0 {
		return book.Told{}
	}
	return b.Told[i]
}
