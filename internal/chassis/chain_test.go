package chassis

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestChainReference(t *testing.T) {
	const example = "published machine-design example, N 20/63, C 36 pitches (excerpt of a paper on exact chain length)"
	const sport = "a sport 600's service manual (525, 114 links, 43/16); centre derived"
	unit := Drive{20, 63, 15.875}
	pitchesOf := func(v float64, err error) func() (float64, error) { return plain(v/15.875, err) }
	base, err := Drive{16, 43, 15.875}.Centre(114)
	if err != nil {
		t.Fatal(err)
	}
	moved := func(v float64, err error) func() (float64, error) { return plain(v-base, err) }
	check(t, []row{
		{"C5.1", plain(unit.Links(36 * 15.875)), 114.801, 0.0005, example},
		{"C5.1 as printed", plain(unit.Links(36 * 15.875)), 114.8, 0.05, example},
		{"C5.1 link count", plain(unit.ExactLinks(36 * 15.875)), 114.805, 0.0005, "tangents to the pitch circles, derived"},
		{"C5.2", pitchesOf(unit.Centre(114)), 35.59205, 0.0005, example + ", prints 35.6"},
		{"C5.3", plain(base, nil), 667.2315, 0.01, sport},
		{"C5.4", plain(Drive{16, 44, 15.875}.Centre(114)), 662.9755, 0.01, sport},
		{"C5.4 move", moved(Drive{16, 44, 15.875}.Centre(114)), -4.255927, 0.01, sport},
		{"C5.5", plain(Drive{15, 43, 15.875}.Centre(114)), 670.9579, 0.01, sport},
		{"C5.5 move", moved(Drive{15, 43, 15.875}.Centre(114)), 3.726478, 0.01, sport},
		{"C5.6", plain(Drive{16, 43, 15.875}.Centre(116)), 683.1879, 0.01, sport},
		{"C5.6 move", moved(Drive{16, 43, 15.875}.Centre(116)), 15.95645, 0.01, sport},
		{"C5.7", plain(Drive{16, 43, 15.875}.Links(667.2315)), 114, 1e-5, "inverse, derived"},
		{"C5.8 16", plain(PitchDiameter(15.875, 16)), 81.37257, 0.001, "ANSI B29.1 unit-pitch table 5.1258 (from memory)"},
		{"C5.8 17", plain(PitchDiameter(15.875, 17)), 86.39478, 0.001, "ANSI B29.1 unit-pitch table 5.4422 (from memory)"},
		{"C5.8 45", plain(PitchDiameter(15.875, 45)), 227.5774, 0.001, "ANSI B29.1 unit-pitch table 14.3356 (from memory)"},
		{"C5.9 43/16", plain(FinalRatio(16, 43)), 2.6875, 0.0005, "a sport 600's service manual prints 2.687"},
		{"C5.9 43/15", plain(FinalRatio(15, 43)), 2.866667, 0.0005, "elementary"},
		{"C5.9 change", plain(RatioChange(16, 43, 15, 43)), 6.666667, 0.0005, "elementary"},
		{"C5.10", plain(RoadSpeed(10000, 1.974, 1.208, 43.0/16, math.Pi*629.8)), 185.2428, 0.01, "ratios of a sport 600 (from memory); no published speed"},
		{"C5.11 new", plain(Elongation(317.5, 15.875, 20)), 0, 0.001, "a sport machine's service manual, nominal 317.5"},
		{"C5.11 limit", plain(Elongation(319.4, 15.875, 20)), 0.5984252, 0.001, "a sport 600's service manual, limit 319.4"},
		{"C5.11 wide limit", plain(Elongation(323, 15.875, 20)), 1.732283, 0.001, "a sport machine's service manual, limit 323"},
		{"C5.12 spare 45", plain(Spare(45, 600)), 1.6875, 0.001, "small-angle V, derived, no published source"},
		{"C5.12 spare 30", plain(Spare(30, 600)), 0.75, 0.001, "small-angle V, derived, no published source"},
		{"C5.12 axle", plain(AxleForSlack(45, 30, 600)), 0.46875, 0.001, "small-angle V, derived, no published source"},
		{"C5.8 a big one", plain(PitchDiameter(15.875, 63)), 15.875 / math.Sin(math.Pi/63), 1e-9, "p/sin(π/N)"},
		{"C5.13 428", value(func(p float64) float64 { return 20 * p })(PitchOf("428")), 254, 1e-9, "a chain seller's guide"},
		{"C5.13 525", value(func(p float64) float64 { return 20 * p })(PitchOf("525")), 317.5, 1e-9, "a sport machine's service manual"},
		{"C12.5 limit", plain(Elongation(320.5, 15.875, 20)), 0.9448819, 0.001, "a 250's owner's manual, limit 320.5"},
		{"C12.5 least", plain(Elongation(319.4, 15.875, 20)), 0.5984252, 0.001, "a sport 600's service manual"},
		{"C12.5 most", plain(Elongation(323, 15.875, 20)), 1.732283, 0.001, "a sport machine's service manual 2-32"},
		{"alignment", value(func(a Alignment) float64 { return a.Angle })(AlignmentFrom(552, 550, 250)), 0.458356, 1e-5, "atan(2/250), by hand"},
	})
}

func TestChainRefuses(t *testing.T) {
	d := Drive{16, 43, 15.875}
	_, err := d.Centre(30)
	refused(t, "short chain", err)
	_, err = d.ExactCentre(40)
	refused(t, "short chain, exact", err)
	_, err = d.Links(100)
	refused(t, "sprockets that touch", err)
	_, err = Drive{}.Links(600)
	refused(t, "no sprockets", err)
	_, err = Elongation(500, 15.875, 20)
	refused(t, "miscounted pins", err)
	_, err = PitchOf("999")
	refused(t, "unknown chain", err)
	_, err = AlignmentFrom(600, 500, 250)
	refused(t, "sides far apart", err)
	_, err = RoadSpeed(math.NaN(), 1, 1, 1, 2000)
	refused(t, "NaN", err)
	_, err = Arm{580, 75, 10}.SlackAtTightest(d, 30, 40, 20, -5)
	refused(t, "angle outside the travel", err)
}

// Both pairs of length and centre invert; more links give more centre.
func TestChainInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Drive{float64(rapid.IntRange(11, 18).Draw(t, "front")), float64(rapid.IntRange(30, 60).Draw(t, "rear")), 15.875}
		links := float64(rapid.IntRange(90, 140).Draw(t, "links"))
		c, err := d.Centre(links)
		back, err2 := d.Links(c)
		if err != nil || err2 != nil || math.Abs(back-links) > 1e-9 {
			t.Fatalf("%v links came back as %v, %v, %v", links, back, err, err2)
		}
		e, err := d.ExactCentre(links)
		back, err2 = d.ExactLinks(e)
		if err != nil || err2 != nil || math.Abs(back-links) > 1e-8 {
			t.Fatalf("exact: %v links came back as %v, %v, %v", links, back, err, err2)
		}
		if math.Abs(c-e) > 1 {
			t.Fatalf("handbook %v and exact %v are more than 1 mm apart", c, e)
		}
		if more, err := d.Centre(links + 1); err != nil || more <= c {
			t.Fatalf("a longer chain spans %v, before %v, %v", more, c, err)
		}
	})
}

// The centre distance is nowhere larger than in line, and slack set for the
// tightest point is there when it is translated back.
func TestSlackTranslatesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Drive{16, 43, 15.875}
		a := Arm{rapid.Float64Range(500, 650).Draw(t, "arm"), rapid.Float64Range(50, 100).Draw(t, "x"), rapid.Float64Range(-10, 15).Draw(t, "z")}
		at := rapid.Float64Range(-5, 18).Draw(t, "at")
		if a.Centre(at) > a.Centre(a.InLine())+1e-9 {
			t.Fatalf("centre at %v is more than in line", at)
		}
		want := rapid.Float64Range(1, 40).Draw(t, "want")
		set, err := a.SlackToSet(d, want, at, 18, -5)
		if err != nil || set < want*0.99 {
			t.Fatalf("set %v to have %v, %v", set, want, err)
		}
		got, err := a.SlackAtTightest(d, set, at, 18, -5)
		if err != nil || math.Abs(got.AtTight-want) > 1e-4 {
			t.Fatalf("set %v, at the tightest %+v, %v; want %v", set, got, err, want)
		}
	})
}

func TestAlternatives(t *testing.T) {
	got, err := Alternatives(45.0/15, 0.5)
	if err != nil || len(got) == 0 {
		t.Fatal(got, err)
	}
	for i, p := range got {
		if math.Abs(p.Off) > 0.5 || i > 0 && math.Abs(p.Off) < math.Abs(got[i-1].Off)-1e-12 {
			t.Errorf("pair %d is %+v", i, p)
		}
	}
	if got[0].Ratio != 3 {
		t.Errorf("nearest to 3 is %+v", got[0])
	}
}

var sideView = Side{1400, 600, 314.9, 570, 420, 645, 430, Drive{16, 43, 15.875}}

func TestSquatReference(t *testing.T) {
	lower, big, small, high := sideView, sideView, sideView, sideView
	lower.PivotZ, big.Drive.Rear, small.Drive.Front, high.CentreHeight = 415, 45, 15, 650
	const source = "Cossalter / Foale definitions, derived"
	for _, r := range []struct {
		id                                                        string
		side                                                      Side
		arm, chain, ax, az, squat, transfer, ratio, anti, tension float64
	}{
		{"C6.1", sideView, 10.4472, 4.155924, 975.8566, 494.8343, 26.88851, 23.19859, 0.8451805, 118.3179, 2.895902},
		{"C6.2", lower, 9.960378, 4.155924, 1059.004, 500.8759, 25.3127, 23.19859, 0.90613, 110.3594, 2.895902},
		{"C6.3", big, 10.4472, 3.711819, 954.115, 490.8254, 27.22265, 23.19859, 0.8330995, 120.0337, 2.76741},
		{"C6.4", small, 10.4472, 3.935274, 942.9261, 488.7623, 27.3998, 23.19859, 0.8268051, 120.9475, 2.895902},
		{"C6.5", high, 10.4472, 4.155924, 975.8566, 494.8343, 26.88851, 24.90477, 0.9156122, 109.2165, 2.895902},
	} {
		s, err := r.side.Squat()
		check(t, []row{
			{r.id + " swingarm", plain(s.Swingarm, err), r.arm, 0.001, source},
			{r.id + " chain", plain(s.Chain, err), r.chain, 0.001, source},
			{r.id + " A x", plain(s.AX, err), r.ax, 0.05, source},
			{r.id + " A z", plain(s.AZ, err), r.az, 0.05, source},
			{r.id + " squat angle", plain(s.SquatAngle, err), r.squat, 0.001, source},
			{r.id + " transfer angle", plain(s.TransferAngle, err), r.transfer, 0.001, source},
			{r.id + " ratio", plain(s.Ratio, err), r.ratio, 1e-5, source},
			{r.id + " anti-squat", plain(s.AntiSquat, err), r.anti, 0.001, source},
			{r.id + " tension", plain(s.ChainOverDrive, err), r.tension, 1e-5, source},
		})
		check(t, []row{{r.id + " by moments", plain(byMoments(r.side), err), s.AntiSquat, 1e-6, "moments about the pivot, an independent form"}})
	}
}

// byMoments is the extending moment of drive force and chain tension about
// the pivot over the moment of the load transfer, in %.
func byMoments(s Side) float64 {
	_, rear := s.Drive.radii()
	chain := s.chainAngle()
	// Unit drive force at the ground, forward, and what the chain pulls at its
	// point on the rear sprocket, along the upper run.
	tension := s.RearRadius / rear
	atX, atZ := -rear*math.Sin(chain), s.RearRadius+rear*math.Cos(chain)
	fx, fz := tension*math.Cos(chain), tension*math.Sin(chain)
	drive := s.PivotZ * 1
	pull := (atX-s.PivotX)*fz - (atZ-s.PivotZ)*fx
	return 100 * (drive + pull) / (s.CentreHeight / s.Wheelbase * s.PivotX)
}

func TestSquatLimitAndTravel(t *testing.T) {
	level := sideView
	front, rear := level.Drive.radii()
	// A pivot line as steep as the chain: they never meet.
	level.PivotZ = level.RearRadius + level.PivotX*math.Tan(level.chainAngle())
	s, err := level.Squat()
	if err != nil || !s.Parallel || math.Abs(s.SquatAngle-s.Swingarm) > 1e-6 {
		t.Errorf("parallel: %+v, %v (radii %v, %v)", s, err, front, rear)
	}
	last := math.Inf(1)
	for up := -40.0; up <= 60; up += 20 {
		side, err := sideView.Compressed(up)
		if err != nil {
			t.Fatal(err)
		}
		s, err := side.Squat()
		if err != nil || s.Swingarm >= last {
			t.Errorf("up %v: %+v, %v", up, s, err)
		}
		last = s.Swingarm
	}
	_, err = Side{}.Squat()
	refused(t, "empty side", err)
	_, err = sideView.Compressed(math.NaN())
	refused(t, "NaN travel", err)
	low := sideView
	low.PivotZ = 100
	_, err = low.Squat()
	refused(t, "pivot under the axle", err)
}

// The two forms of anti-squat agree wherever there is an answer, and a higher
// centre of gravity always means less of it.
func TestSquatFormsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Side{
			rapid.Float64Range(1250, 1550).Draw(t, "wheelbase"), rapid.Float64Range(450, 750).Draw(t, "height"), rapid.Float64Range(290, 330).Draw(t, "radius"),
			rapid.Float64Range(480, 640).Draw(t, "pivot"), rapid.Float64Range(360, 480).Draw(t, "pivot height"), 0, rapid.Float64Range(360, 480).Draw(t, "sprocket height"),
			Drive{float64(rapid.IntRange(12, 18).Draw(t, "front")), float64(rapid.IntRange(34, 55).Draw(t, "rear")), 15.875},
		}
		s.SprocketX = s.PivotX + rapid.Float64Range(50, 110).Draw(t, "ahead")
		got, err := s.Squat()
		if err != nil {
			refusedQuietly(t, err)
			return
		}
		if by := byMoments(s); math.Abs(by-got.AntiSquat) > 1e-6*math.Abs(by) {
			t.Fatalf("%+v: %v by lines, %v by moments", s, got.AntiSquat, by)
		}
		s.CentreHeight += 10
		if higher, err := s.Squat(); err != nil || higher.AntiSquat >= got.AntiSquat {
			t.Fatalf("higher: %v, before %v, %v", higher.AntiSquat, got.AntiSquat, err)
		}
	})
}

func refusedQuietly(t *rapid.T, err error) {
	if _, ok := err.(Refusal); !ok {
		t.Fatalf("no refusal: %v", err)
	}
}

// Speed goes with engine speed and against every ratio.
func TestRoadSpeedScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Float64Range(1000, 14000).Draw(t, "rpm")
		final := rapid.Float64Range(2, 4).Draw(t, "final")
		v, err := RoadSpeed(n, 1.9, 1.2, final, 1979)
		twice, err2 := RoadSpeed(2*n, 1.9, 1.2, final, 1979)
		shorter, err3 := RoadSpeed(n, 1.9, 1.2, 2*final, 1979)
		if firstOf(err, err2, err3) != nil || math.Abs(twice-2*v) > 1e-9*v || math.Abs(shorter-v/2) > 1e-9*v {
			t.Fatalf("%v, at twice the engine speed %v, at twice the ratio %v", v, twice, shorter)
		}
	})
}
