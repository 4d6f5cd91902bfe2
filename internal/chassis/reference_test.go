package chassis

import (
	"errors"
	"math"
	"testing"
)

// row is one value to be met, and where it comes from.
type row struct {
	id     string
	got    func() (float64, error)
	want   float64
	within float64
	source string
}

// value lets a row say what it needs of a function with a wider result.
func value[T any](pick func(T) float64) func(T, error) func() (float64, error) {
	return func(v T, err error) func() (float64, error) {
		return func() (float64, error) {
			if err != nil {
				return 0, err
			}
			return pick(v), nil
		}
	}
}

func plain(v float64, err error) func() (float64, error) {
	return func() (float64, error) { return v, err }
}

func check(t *testing.T, rows []row) {
	t.Helper()
	for _, r := range rows {
		if r.source == "" {
			t.Errorf("%s has no source", r.id)
		}
		if r.within <= 0 {
			t.Errorf("%s has no tolerance", r.id)
		}
		got, err := r.got()
		if err != nil || !(math.Abs(got-r.want) <= r.within) {
			t.Errorf("%s: got %.9g, %v; want %.9g within %g (%s)", r.id, got, err, r.want, r.within, r.source)
		}
	}
}

// refused fails unless err is a Refusal with both sentences.
func refused(t *testing.T, what string, err error) {
	t.Helper()
	var r Refusal
	if !errors.As(err, &r) || r.Field == "" || r.Says == "" || r.Mend == "" {
		t.Errorf("%s: got %v; want a refusal with field, what is wrong and how to mend it", what, err)
	}
}

func rel(want, share float64) float64 { return math.Abs(want) * share }
