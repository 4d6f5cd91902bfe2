package laps

import (
	"math"
	"slices"
	"testing"
)

func TestMedianOfWhatever(t *testing.T) {
	for _, k := range []struct {
		x    []float64
		want float64
	}{{[]float64{3, 1, 2}, 2}, {[]float64{4, 1, 3, 2}, 2.5}, {[]float64{7}, 7}, {[]float64{math.MaxFloat64, math.MaxFloat64}, math.MaxFloat64}} {
		was := slices.Clone(k.x)
		if got := Median(k.x); got != k.want || !slices.Equal(k.x, was) {
			t.Errorf("the median of %v is %v and left %v; want %v", was, got, k.x, k.want)
		}
	}
	if !math.IsNaN(Median(nil)) || !math.IsNaN(Mean(nil)) || !math.IsNaN(SD([]float64{1})) {
		t.Errorf("of nothing: median %v, mean %v, deviation of one %v; want NaN", Median(nil), Mean(nil), SD([]float64{1}))
	}
	if a, b := Lag1([]float64{5}), Lag1([]float64{5, 5, 5}); a != 0 || b != 0 {
		t.Errorf("where nothing varies the laps go together by %v and %v; want 0", a, b)
	}
}
