package chassis

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

const sagMethod = "method: a suspension maker's technical page 'Sag'; numbers derived"
const linear = "linear spring and preload, derived; motion ratio squared: Foale 2002, from memory"

func TestSagReference(t *testing.T) {
	sag := value(func(s Sag) float64 { return s.Sag })
	stiction := value(func(s Sag) float64 { return s.Stiction })
	wheel := value(func(s Settled) float64 { return s.WheelRate })
	free := value(func(s Settled) float64 { return s.Free })
	raw := value(func(s Settled) float64 { return s.RawFree })
	rider := value(func(s Settled) float64 { return s.Rider })
	diff := value(func(s Settled) float64 { return s.Rider - s.Free })
	fork, mixed := Spring{19, 12, 1}, Spring{18.5, 12, 1}
	rear, topped, stiffer := Spring{95, 10, 0.5}, Spring{95, 14, 0.5}, Spring{100, 10, 0.5}
	k37, s37, err37 := RateFromSags(8, 32, 560, 0.5)
	check(t, []row{
		{"C3.1 sag", sag(SagFrom(500, 466, 472)), 31, 1e-9, sagMethod},
		{"C3.1 stiction", stiction(SagFrom(500, 466, 472)), 6, 1e-9, sagMethod},
		{"C3.2 sag", sag(SagFrom(22.5*25.4, 21.125*25.4, 21.375*25.4)), 31.75, 1e-6, sagMethod},
		{"C3.2 stiction", stiction(SagFrom(22.5*25.4, 21.125*25.4, 21.375*25.4)), 6.35, 1e-6, sagMethod},
		{"C3.3 free", free(Settle(fork, 650, 280)), 22.21053, 0.001, linear},
		{"C3.3 rider", rider(Settle(fork, 650, 280)), 36.94737, 0.001, linear},
		{"C3.3 diff", diff(Settle(fork, 650, 280)), 14.73684, 0.001, linear},
		{"C3.4 K", wheel(Settle(mixed, 650, 280)), 18.5, 0.001, linear},
		{"C3.4 free", free(Settle(mixed, 650, 280)), 23.13514, 0.001, linear},
		{"C3.4 rider", rider(Settle(mixed, 650, 280)), 38.27027, 0.001, linear},
		{"C3.5 K", wheel(Settle(rear, 600, 560)), 23.75, 0.001, linear},
		{"C3.5 free", free(Settle(rear, 600, 560)), 5.263158, 0.001, linear},
		{"C3.5 rider", rider(Settle(rear, 600, 560)), 28.84211, 0.001, linear},
		{"C3.6 free", free(Settle(topped, 600, 560)), 0, 0.001, linear},
		{"C3.6 raw free", raw(Settle(topped, 600, 560)), -2.736842, 0.001, linear},
		{"C3.6 rider", rider(Settle(topped, 600, 560)), 20.84211, 0.001, linear},
		{"C3.6 diff", diff(Settle(topped, 600, 560)), 20.84211, 0.001, linear},
		{"C3.7 K", plain(k37, err37), 23.33333, 0.001, linear},
		{"C3.7 k", plain(s37, err37), 93.33333, 0.001, linear},
		{"C3.8 low", value(func(r Range) float64 { return 120 * r.ShareLo / 100 })(SagRange(Front, Race)), 27.6, 1e-9, "a suspension maker's technical page 'Sag', road race front, 23 %"},
		{"C3.8 high", value(func(r Range) float64 { return 120 * r.ShareHi / 100 })(SagRange(Front, Race)), 32.4, 1e-9, "a suspension maker's technical page 'Sag', road race front, 27 %"},
		{"C3.9 rider old", rider(Settle(rear, 600, 560)), 28.84211, 0.001, linear},
		{"C3.9 rider new", rider(Settle(stiffer, 600, 560)), 26.4, 0.001, linear},
		{"C3.9 free new", free(Settle(stiffer, 600, 560)), 4, 0.001, linear},
		{"cable tie share", value(func(v Travel) float64 { return v.Share })(TravelUsed(96, 120)), 80, 1e-9, "elementary, derived"},
	})
}

const lostBrackets = 500 - 466 + 472/2

func TestSagBracketsAreNotLost(t *testing.T) {
	s, err := SagFrom(500, 466, 472)
	if err != nil || s.Sag == lostBrackets {
		t.Errorf("sag = %v, %v; the formula without its brackets gives %d", s.Sag, err, lostBrackets)
	}
}

const shigley = "R. G. Budynas, J. K. Nisbett, Shigley's Mechanical Engineering Design, ex. 10-1, from memory"

func TestSpringReference(t *testing.T) {
	const psi, in, lbfIn = 0.006894757293168, 25.4, 0.175126835246
	na, errNa := ActiveCoils(12.5, SquaredEnds)
	text, err1 := CoilRate(11.85e6*psi, 0.037*in, 0.4*in, 10.5)
	exact, err2 := CoilRate(11.85e6*psi, 0.037*in, (0.4375-0.037)*in, na)
	check(t, []row{
		{"C4.1", plain(text/lbfIn, err1), 4.131103, 0.005, shigley + ", prints 4.13"},
		{"C4.2 Na", plain(na, errNa), 10.5, 1e-9, shigley},
		{"C4.2", plain(exact/lbfIn, err2), 4.11565, 0.0005, shigley + ", D not rounded, derived"},
		{"C4.3", plain(CoilRate(79300, 11.5, 61.5, 6)), 124.2218, rel(124.2218, 1e-6), "formula, derived"},
		{"C4.4", plain(CoilRate(77200, 5, 31, 30)), 6.748403, rel(6.748403, 1e-6), "formula, derived"},
		{"C4.5", plain(Recoiled(6.748403, 30, 29)), 6.981106, rel(6.981106, 1e-6), "formula, derived"},
		{"C4.6", plain(Series(80, 120)), 48, 1e-9, "elementary"},
		{"C4.7", plain(Parallel(9, 9.5)), 18.5, 1e-9, "elementary"},
	})
}

// The unit conversions of rows C4.3 and C4.8 to C4.10 are not checked here: this
// room has no units to convert.

func TestSagRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, bad := range [][3]float64{{0, 0, 0}, {500, 480, 470}, {500, 490, 510}, {nan, 1, 1}, {inf, 1, 1}, {-500, -510, -505}} {
		_, err := SagFrom(bad[0], bad[1], bad[2])
		refused(t, "sag", err)
	}
	want, _ := SagRange(Rear, Road)
	_, err := ReadPair(40, 30, want)
	refused(t, "free above rider", err)
	_, _, err = RateFromSags(0, 30, 560, 0.5)
	refused(t, "topped out", err)
	_, err = SpringFor(60, 61, 100, 560, 0.5)
	refused(t, "negative preload", err)
	_, err = PreloadFor(95, 0.5, 600, 100)
	refused(t, "more sag than the spring has", err)
	_, err = SagRange("middle", Road)
	refused(t, "no such end", err)
	_, err = TravelUsed(130, 120)
	refused(t, "more than the travel", err)
	_, err = Series()
	refused(t, "no springs", err)
	_, err = CoilRate(79300, 12, 20, 6)
	refused(t, "narrow coil", err)
	_, err = ActiveCoils(12, "welded")
	refused(t, "no such ends", err)
	_, err = MotionTableOf([]float64{0, 20, 10}, []float64{0, 10, 20})
	refused(t, "table that goes back", err)
}

func TestReadPair(t *testing.T) {
	want, _ := SagRange(Rear, Road)
	for _, r := range []struct {
		free, rider float64
		want        Reading
	}{
		{8, 35, RateSuits}, {1, 35, TooSoft}, {0, 35, TooSoft}, {20, 35, TooStiff},
		{20, 45, MorePreload}, {1, 25, LessPreload}, {1, 45, TooSoft}, {20, 25, TooStiff},
		{10, 45, MorePreload}, {10, 25, LessPreload},
	} {
		if got, err := ReadPair(r.free, r.rider, want); err != nil || got != r.want {
			t.Errorf("free %v, rider %v reads %q, %v; want %q", r.free, r.rider, got, err, r.want)
		}
	}
}

// What SpringFor finds settles at the sags it was asked for, and a stiffer
// spring or more preload never sags more.
func TestSpringForInvertsSettle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		free := rapid.Float64Range(1, 20).Draw(t, "free")
		rider := free + rapid.Float64Range(10, 30).Draw(t, "more")
		wheel := rapid.Float64Range(10, 40).Draw(t, "wheel rate")
		mr := rapid.Float64Range(0.3, 1).Draw(t, "ratio")
		preload := rapid.Float64Range(0.01, 20).Draw(t, "preload")
		load, riderLoad := wheel*(free+preload/mr), wheel*(rider-free)
		s, err := SpringFor(free, rider, load, riderLoad, mr)
		if err != nil || math.Abs(s.Preload-preload) > 1e-6 {
			t.Fatalf("made with preload %v, found %+v, %v", preload, s, err)
		}
		got, err := Settle(s, load, riderLoad)
		if err != nil || math.Abs(got.Free-free) > 1e-6 || math.Abs(got.Rider-rider) > 1e-6 {
			t.Fatalf("wanted %v and %v, settles at %+v, %v", free, rider, got, err)
		}
		p, err := PreloadFor(s.Rate, mr, load+riderLoad, rider)
		if err != nil || math.Abs(p-s.Preload) > 1e-6 {
			t.Fatalf("preload %v, %v; want %v", p, err, s.Preload)
		}
		s.Rate *= 1.1
		stiff, err := Settle(s, load, riderLoad)
		if err != nil || stiff.Rider >= got.Rider {
			t.Fatalf("a stiffer spring sags %v, before %v, %v", stiff.Rider, got.Rider, err)
		}
	})
}

func TestMotionTable(t *testing.T) {
	table, err := MotionTableOf([]float64{0, 40, 80, 120}, []float64{0, 18, 38, 60})
	if err != nil {
		t.Fatal(err)
	}
	check(t, []row{
		{"ratio at the start", plain(table.Ratio(0), nil), 0.45, 1e-12, "18/40, by hand"},
		{"ratio between steps", plain(table.Ratio(40), nil), 0.475, 1e-12, "mean of 18/40 and 20/40, by hand"},
		{"ratio at the end", plain(table.Ratio(200), nil), 0.55, 1e-12, "22/40, by hand"},
		{"mean ratio", plain(table.Mean(), nil), 0.5, 1e-12, "60/120, by hand"},
		{"stroke", plain(table.Shock(60), nil), 28, 1e-12, "half way from 18 to 38, by hand"},
	})
}
