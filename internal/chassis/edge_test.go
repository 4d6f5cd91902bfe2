package chassis

import (
	"math"
	"strconv"
	"testing"
)

// TestSagRangesAreThePublished holds every number that a rider is told to aim
// for. Source: a suspension maker's technical page 'Sag', start ranges, read.
func TestSagRangesAreThePublished(t *testing.T) {
	for _, r := range []struct {
		use Use
		end End
		// rider sag in mm and in % of travel, free sag in mm
		riderLo, riderHi, shareLo, shareHi, freeLo, freeHi float64
	}{
		{Road, Front, 30, 35, 28, 33, 0, 0}, {Road, Rear, 30, 40, 28, 35, 2, 17},
		{Race, Front, 25, 35, 23, 27, 0, 0}, {Race, Rear, 25, 35, 23, 30, 2, 17},
		{OffRoad, Front, 65, 75, 22, 25, 0, 0}, {OffRoad, Rear, 95, 110, 30, 35, 25, 50},
	} {
		want := Range{r.riderLo, r.riderHi, r.shareLo, r.shareHi, r.freeLo, r.freeHi, ""}
		got, err := SagRange(r.end, r.use)
		if got.Source == "" {
			t.Errorf("%s %s has no source", r.use, r.end)
		}
		if got.Source = ""; err != nil || got != want {
			t.Errorf("%s %s is %+v, %v; want %+v", r.use, r.end, got, err, want)
		}
	}
}

// TestPitchesFollowTheirNumbers: a chain's number tells its pitch. In makers'
// sizes the first digit is eighths of an inch, in ANSI B29.1 all but the last,
// in ISO 606 the number is sixteenths. Size 219, a kart chain, is the one that
// goes by its own 7.774 mm (ISO 606 has none; from memory).
func TestPitchesFollowTheirNumbers(t *testing.T) {
	const inch = 25.4
	for size, got := range pitches {
		want := 7.774
		n, err := strconv.Atoi(size[:2])
		switch {
		case err != nil:
			t.Fatalf("size %q begins with no number", size)
		case size == "219":
		case len(size) == 3 && size[2] >= '0' && size[2] <= '9':
			want = float64(n/10) / 8 * inch
		case len(size) == 2:
			want = float64(n/10) / 8 * inch
		default:
			want = float64(n) / 16 * inch
		}
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("size %s has a pitch of %v mm, want %v", size, got, want)
		}
	}
}

// TestSlackTranslatesToItself: at the angle where it was measured slack is
// what it was, and there and back it is so again.
func TestSlackTranslatesToItself(t *testing.T) {
	d, arm := Drive{16, 43, 15.875}, Arm{580, 75, 10}
	same, err := arm.SlackAt(d, 30, 11, 11)
	if err != nil || math.Abs(same-30) > 1e-9 {
		t.Errorf("30 mm at 11° is %v, %v at 11°", same, err)
	}
	there, err := arm.SlackAt(d, 35, 11, 15)
	back, err2 := arm.SlackAt(d, there, 15, 11)
	if err != nil || err2 != nil || there <= 0 || math.Abs(back-35) > 1e-6 {
		t.Errorf("35 mm at 11° is %v at 15° and %v back at 11°; %v, %v", there, back, err, err2)
	}
	tight, err := arm.SlackAtTightest(d, 35, 11, 18, -5)
	at, err2 := arm.SlackAt(d, 35, 11, tight.Tightest)
	if err != nil || err2 != nil || math.Abs(at-tight.AtTight) > 1e-9 {
		t.Errorf("at the tightest place %v by one way and %v by the other; %v, %v", tight.AtTight, at, err, err2)
	}
}

// TestMotionTablesEnd: how long a table may be, and how steep.
func TestMotionTablesEnd(t *testing.T) {
	rising := func(n int, step float64) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = step * float64(i)
		}
		return out
	}
	for _, r := range []struct {
		rows  int
		ratio float64
		fine  bool
	}{{2, 0.5, true}, {500, 0.5, true}, {501, 0.5, false}, {1, 0.5, false}, {5, 2, true}, {5, 2.01, false}, {5, 0.0501, true}, {5, 0.0499, false}, {5, 0, false}, {5, -0.5, false}} {
		m, err := MotionTableOf(rising(r.rows, 0.5), rising(r.rows, 0.5*r.ratio))
		if (err == nil) != r.fine {
			t.Errorf("%d rows at %v: %v; want it taken %v", r.rows, r.ratio, err, r.fine)
		}
		if got := m.Ratio(0.7); r.fine && math.Abs(got-r.ratio) > 1e-9 {
			t.Errorf("%d rows at %v have the ratio %v", r.rows, r.ratio, got)
		}
	}
}

// TestLimitsIncludeTheirEnds: within refuses what lies past an end, and what
// is no number at all.
func TestLimitsIncludeTheirEnds(t *testing.T) {
	for v, fine := range map[float64]bool{1: true, 3: true, 0.999: false, 3.001: false, math.Inf(1): false, math.Inf(-1): false} {
		if err := within(limit{"thing", v, 1, 3, "mm"}); (err == nil) != fine {
			t.Errorf("%v in [1, 3]: %v", v, err)
		}
	}
	if within(limit{"thing", math.NaN(), 1, 3, "mm"}) == nil {
		t.Error("NaN lies in [1, 3]")
	}
}
