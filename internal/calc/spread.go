package calc

import "math"

// mostSpread bounds the list whose readings are followed into the result.
const mostSpread = 60

// spread follows the readings' half-widths into the result, to first order:
// each reading is moved by its half-width both ways, half the difference is
// what it does to a value, and independent readings add as squares.
//
//	u(y)² = Σ ((y(x+u) − y(x−u))/2)²
//
// Source: JCGM 100:2008 (GUM), 5.1.2 and 5.1.3 note 2. Where one way leads
// out of the range, the other way alone is taken.
func (t Topic) spread(in given, out *Result) {
	sum := make([]float64, len(out.Values))
	for symbol, readings := range in.readings {
		if len(readings) > mostSpread {
			continue
		}
		for i, u := range readings {
			if u > 0 {
				t.addSpread(in, symbol, i, u, out.Values, sum)
			}
		}
	}
	for i := range out.Values {
		if v := &out.Values[i]; !v.bounds {
			v.PlusMinus = math.Sqrt(sum[i])
		}
	}
}

func (t Topic) addSpread(in given, symbol string, i int, u float64, at []Value, sum []float64) {
	up, upOK := t.moved(in, symbol, i, u, at)
	down, downOK := t.moved(in, symbol, i, -u, at)
	for j := range at {
		half := 0.0
		switch {
		case upOK && downOK:
			half = (up[j].Value - down[j].Value) / 2
		case upOK:
			half = up[j].Value - at[j].Value
		case downOK:
			half = at[j].Value - down[j].Value
		}
		sum[j] += half * half
	}
}

// moved works the topic out with one reading moved. It is false when there is
// no such answer, or one of another shape.
func (t Topic) moved(in given, symbol string, i int, by float64, at []Value) ([]Value, bool) {
	was := in.numbers[symbol]
	list := append([]float64(nil), was...)
	list[i] += by
	in.numbers[symbol] = list
	out, err := t.once(in)
	in.numbers[symbol] = was
	if err != nil || len(out.Values) != len(at) {
		return nil, false
	}
	for j := range at {
		if out.Values[j].Symbol != at[j].Symbol {
			return nil, false
		}
	}
	return out.Values, true
}
