package book

import (
	"encoding"
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"plumbline/internal/unit"
)

// decode reads a body. A phone reads thousands when it opens a book, and
// encoding/json was most of that time; so a body as this program writes it is
// read the short way, and any other as encoding/json does.
func decode[B any](raw rawBody) (B, error) {
	var body B
	if readPlain(raw, &body) {
		return body, nil
	}
	body = *new(B)
	err := json.Unmarshal(raw, &body)
	return body, err
}

// readPlain reads compact JSON whose members are all known, come once and hold
// no escapes and no null. It reports false for anything else, good or bad, and
// may then have written some of it. What it takes encoding/json takes too, with
// the same result.
func readPlain(raw []byte, into any) bool {
	v := reflect.ValueOf(into).Elem()
	if v.Kind() != reflect.Struct || fieldsOf(v.Type()) == nil {
		return false
	}
	r := plainReader{string(raw)}
	return r.object(v) && r.rest == ""
}

// plainReader is the JSON that is still to be read.
type plainReader struct{ rest string }

func (r *plainReader) skip(s string) bool {
	rest, ok := strings.CutPrefix(r.rest, s)
	r.rest = rest
	return ok
}

var fixedType = reflect.TypeFor[unit.Fixed]()

func (r *plainReader) value(v reflect.Value) bool {
	if v.Type() == fixedType {
		n, err := unit.ParseFixed(r.number())
		v.SetInt(int64(n))
		return err == nil
	}
	switch v.Kind() {
	case reflect.String:
		s, ok := r.text()
		v.SetString(s)
		return ok
	case reflect.Bool:
		v.SetBool(strings.HasPrefix(r.rest, "t"))
		return r.skip("true") || r.skip("false")
	case reflect.Int, reflect.Int64:
		n, err := strconv.ParseInt(r.number(), 10, 64)
		v.SetInt(n)
		return err == nil
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		return r.value(v.Elem())
	case reflect.Struct:
		return r.object(v)
	case reflect.Map:
		return r.members(v)
	case reflect.Slice, reflect.Array:
		return r.list(v)
	}
	return false
}

// number cuts off a number that needs no exponent, "" when there is none.
func (r *plainReader) number() string {
	n := 0
	for n < len(r.rest) && (r.rest[n] >= '0' && r.rest[n] <= '9' || r.rest[n] == '.' || r.rest[n] == '-') {
		n++
	}
	s := r.rest[:n]
	r.rest = r.rest[n:]
	if digits := strings.TrimPrefix(s, "-"); len(digits) > 1 && digits[0] == '0' && digits[1] != '.' {
		return "" // JSON knows no leading zeros
	}
	return s
}

// text cuts off a string without escapes.
func (r *plainReader) text() (string, bool) {
	if !strings.HasPrefix(r.rest, `"`) {
		return "", false
	}
	ascii := true
	for i := 1; i < len(r.rest); i++ {
		switch c := r.rest[i]; {
		case c == '"':
			s := r.rest[1:i]
			r.rest = r.rest[i+1:]
			return s, ascii || utf8.ValidString(s)
		case c == '\\' || c < ' ':
			return "", false
		case c >= utf8.RuneSelf:
			ascii = false
		}
	}
	return "", false
}

func (r *plainReader) object(v reflect.Value) bool {
	fields := fieldsOf(v.Type())
	if !r.skip("{") {
		return false
	}
	var seen uint64
	for at := 0; !r.skip("}"); at++ {
		if seen != 0 && !r.skip(",") {
			return false
		}
		name, ok := r.text()
		if !ok || !r.skip(":") {
			return false
		}
		// Members come in the order of the fields, some left out.
		if at = fields.from(at, name); at < 0 || seen&(1<<at) != 0 {
			return false
		}
		seen |= 1 << at
		if !r.value(v.FieldByIndex(fields[at].index)) {
			return false
		}
	}
	return true
}

func (r *plainReader) members(v reflect.Value) bool {
	if !r.skip("{") {
		return false
	}
	t := v.Type()
	v.Set(reflect.MakeMap(t))
	for !r.skip("}") {
		if v.Len() > 0 && !r.skip(",") {
			return false
		}
		name, ok := r.text()
		if !ok || !r.skip(":") {
			return false
		}
		key := reflect.ValueOf(name).Convert(t.Key())
		elem := reflect.New(t.Elem()).Elem()
		if v.MapIndex(key).IsValid() || !r.value(elem) {
			return false
		}
		v.SetMapIndex(key, elem)
	}
	return true
}

func (r *plainReader) list(v reflect.Value) bool {
	if !r.skip("[") {
		return false
	}
	if v.Kind() == reflect.Slice {
		v.Set(reflect.MakeSlice(v.Type(), 0, 0))
	}
	n := 0
	for ; !r.skip("]"); n++ {
		if n > 0 && !r.skip(",") {
			return false
		}
		if v.Kind() == reflect.Slice {
			v.Set(reflect.Append(v, reflect.Zero(v.Type().Elem())))
		}
		if n >= v.Len() || !r.value(v.Index(n)) {
			return false
		}
	}
	return n == v.Len()
}

// field is a struct's member in JSON.
type field struct {
	name  string
	index []int
}

type fields []field

// from returns the place of a name, looking from a place on and round, or -1.
func (f fields) from(at int, name string) int {
	for i := range f {
		if j := (at + i) % len(f); f[j].name == name {
			return j
		}
	}
	return -1
}

var known sync.Map // reflect.Type → fields, nil for what is not plain

// fieldsOf returns a struct's members, nil when there is something in it that
// the short way does not read.
func fieldsOf(t reflect.Type) fields {
	if f, ok := known.Load(t); ok {
		return f.(fields)
	}
	f := lookAt(t)
	known.Store(t, f)
	return f
}

func lookAt(t reflect.Type) fields {
	if readsItself(t) {
		return nil
	}
	var out fields
	for _, f := range reflect.VisibleFields(t) {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && f.Type.Kind() == reflect.Struct && name == "":
			continue // its fields are listed themselves
		case name == "" || name == "-" || !f.IsExported() || f.Anonymous || !isPlain(f.Type):
			return nil
		case slices.ContainsFunc(out, func(o field) bool { return strings.EqualFold(o.name, name) }):
			return nil
		}
		out = append(out, field{name, f.Index})
	}
	if len(out) > 64 {
		return nil
	}
	return out
}

var own = []reflect.Type{reflect.TypeFor[json.Unmarshaler](), reflect.TypeFor[encoding.TextUnmarshaler]()}

// readsItself reports whether a type has a JSON form of its own.
func readsItself(t reflect.Type) bool {
	return slices.ContainsFunc(own, func(way reflect.Type) bool { return t.Implements(way) || reflect.PointerTo(t).Implements(way) })
}

// isPlain reports whether value reads a type as encoding/json does.
func isPlain(t reflect.Type) bool {
	switch {
	case t == fixedType:
		return true
	case t.Kind() == reflect.Pointer:
		return isPlain(t.Elem())
	case readsItself(t):
		return false
	}
	switch t.Kind() {
	case reflect.String, reflect.Bool, reflect.Int, reflect.Int64:
		return true
	case reflect.Slice, reflect.Array:
		return isPlain(t.Elem())
	case reflect.Map:
		return t.Key().Kind() == reflect.String && isPlain(t.Elem())
	case reflect.Struct:
		return fieldsOf(t) != nil
	}
	return false
}
