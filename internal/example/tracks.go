package example

import (
	"plumbline/internal/book"
	"plumbline/internal/unit"
)

// The circuits are invented, shape and all. Fenwick Moor has a map with a
// place on the earth, in the middle of an ocean where nobody rides; the others
// are sketches.
func tracks(t *teller) {
	t.tell(book.KindTrack, book.TrackBody{
		Track: moor, Name: "Fenwick Moor", Bumpy: "some", Way: "clockwise", Length: whole(3120),
		Map: &book.Map{
			Origin: &book.Origin{Lat: 450000000, Lon: -300000000},
			Points: spots(1, moorLine),
			Start:  &[2]book.Spot{spot(0, 12), spot(0, -12)},
			Splits: [][2]book.Spot{{spot(659, -338), spot(645, -312)}, {spot(81, -635), spot(101, -613)}},
		},
		Corners: corners(1, corner{"Long right", 753, -179}, corner{"Kink", 466, -349}, corner{"Sheepfold", 384, -442}, corner{"", 442, -559},
			corner{"The crest", 269, -703}, corner{"", -7, -509}, corner{"Last right", -384, -210}),
	})
	t.tell(book.KindTrack, book.TrackBody{
		Track: marsh, Name: "Saltmarsh Ring", Bumpy: "smooth", Way: "clockwise", Length: whole(3680),
		Map: &book.Map{Points: spots(2, marshLine), Start: &[2]book.Spot{sketched(0, 20), sketched(0, -20)}},
		Corners: corners(2, corner{"Sluice", 888, -103}, corner{"Chicane in", 373, -384}, corner{"Chicane out", 385, -509},
			corner{"Far bend", -536, -374}, corner{"Hook", -486, -68}),
	})
	t.tell(book.KindTrack, book.TrackBody{
		Track: hollow, Name: "Tarn Hollow", Bumpy: "bumpy", Way: "clockwise", Length: whole(2540),
		Map: &book.Map{Points: spots(2, hollowLine), Start: &[2]book.Spot{sketched(0, 20), sketched(0, -20)}},
		Corners: corners(2, corner{"", 364, 66}, corner{"Ledge", 463, 0}, corner{"", 331, -176}, corner{"Steps", 320, -276},
			corner{"Bowl", 397, -474}, corner{"", 66, -364}, corner{"Hairpin", -198, -463}, corner{"Gate", -309, -121}),
	})
}

type corner struct {
	name string
	x, y int
}

// corners and spots place what was drawn in metres: per 1 as it is, per 2 on a
// sketch, whose longer side is 1000 with no scale.
func corners(per int, all ...corner) []book.Corner {
	out := make([]book.Corner, len(all))
	for i, c := range all {
		at := spots(per, [][2]int{{c.x, c.y}})[0]
		out[i] = book.Corner{Name: c.name, At: &at}
	}
	return out
}

func spots(per int, line [][2]int) []book.Spot {
	out := make([]book.Spot, len(line))
	for i, p := range line {
		out[i] = spot(p[0], p[1])
		if per == 2 {
			out[i] = sketched(p[0], p[1])
		}
	}
	return out
}

func spot(x, y int) book.Spot { return book.Spot{unit.Whole(x), unit.Whole(y)} }

// sketched puts a place onto the sketch's square.
func sketched(x, y int) book.Spot { return spot((x+600)*2/3, (y+700)*2/3) }

// The circuits' lines in metres, clockwise from the start line.
var (
	moorLine = [][2]int{
		{0, 0}, {89, 4}, {191, 9}, {291, 12}, {386, 12}, {478, 9}, {559, 0}, {626, -16}, {682, -38}, {722, -70}, {745, -119}, {753, -179},
		{745, -233}, {718, -275}, {676, -312}, {629, -338}, {575, -345}, {516, -343}, {466, -349}, {427, -373}, {398, -407}, {384, -442},
		{397, -479}, {426, -519}, {442, -559}, {436, -601}, {416, -643}, {384, -675}, {333, -694}, {269, -703}, {210, -698}, {160, -678},
		{113, -644}, {70, -605}, {30, -560}, {-7, -509}, {-47, -466}, {-91, -436}, {-139, -415}, {-186, -396}, {-236, -382}, {-285, -371},
		{-326, -349}, {-356, -310}, {-376, -260}, {-384, -210}, {-377, -160}, {-357, -111}, {-326, -70}, {-283, -41}, {-230, -20},
		{-175, -6}, {-122, 0}, {-68, 0},
	}
	marshLine = [][2]int{
		{0, 0}, {100, 2}, {218, 4}, {339, 6}, {466, 6}, {594, 6}, {701, 0}, {773, -11}, {822, -28}, {859, -57}, {888, -103}, {903, -161},
		{904, -215}, {888, -262}, {856, -306}, {814, -339}, {759, -360}, {694, -370}, {633, -373}, {580, -364}, {531, -347}, {486, -339},
		{441, -345}, {400, -360}, {373, -384}, {372, -422}, {385, -468}, {384, -509}, {358, -543}, {318, -572}, {271, -588}, {219, -582},
		{160, -563}, {102, -543}, {47, -522}, {-7, -499}, {-68, -486}, {-141, -490}, {-220, -502}, {-294, -509}, {-362, -506}, {-425, -497},
		{-475, -475}, {-512, -431}, {-536, -374}, {-543, -316}, {-520, -261}, {-479, -206}, {-452, -158}, {-460, -122}, {-481, -94},
		{-486, -68}, {-463, -39}, {-423, -12}, {-373, 6}, {-311, 9}, {-238, 4}, {-170, 0}, {-117, -1}, {-68, -1},
	}
	hollowLine = [][2]int{
		{0, 0}, {60, 6}, {131, 13}, {198, 22}, {258, 39}, {315, 59}, {364, 66}, {406, 54}, {441, 30}, {463, 0}, {468, -39}, {459, -84},
		{441, -121}, {407, -143}, {363, -157}, {331, -176}, {316, -207}, {311, -242}, {320, -276}, {349, -301}, {391, -325}, {419, -353},
		{425, -393}, {417, -438}, {397, -474}, {360, -496}, {310, -508}, {264, -507}, {229, -485}, {197, -450}, {165, -419}, {133, -394},
		{102, -373}, {66, -364}, {24, -374}, {-21, -397}, {-66, -419}, {-112, -439}, {-158, -458}, {-198, -463}, {-236, -445}, {-268, -412},
		{-287, -375}, {-281, -333}, {-262, -287}, {-253, -242}, {-271, -200}, {-298, -159}, {-309, -121}, {-291, -87}, {-258, -56},
		{-220, -33}, {-182, -20}, {-139, -15}, {-99, -11}, {-68, -7}, {-40, -4},
	}
)
