package example

import (
	"plumbline/internal/book"
	"plumbline/internal/entry"
	"plumbline/internal/unit"
)

// The people, the bike and the circuits of the season.
const (
	nell = entry.PersonID("nell") // the rider
	ivo  = entry.PersonID("ivo")  // a friend with a spanner
	tess = entry.PersonID("tess") // a trackside technician
	bram = entry.PersonID("bram") // the neighbour in the paddock

	Heron = book.BikeID("heron")

	moor   = book.TrackID("fenwick-moor")
	marsh  = book.TrackID("saltmarsh-ring")
	hollow = book.TrackID("tarn-hollow")
)

// season tells the year in the order it happened.
func season(t *teller) {
	start(t)
	firstLook(t)
	april(t)
	may(t)
	june(t)
	july(t)
	august(t)
	september(t)
}

func start(t *teller) {
	t.at("2026-04-11T10:00")
	t.tell(book.KindBook, book.BookBody{Name: "Nell's example season", Rider: nell, Example: true, Units: map[string]string{"pressure": "psi", "temperature": "C", "mass": "kg", "rate": "N/mm"}})
	t.tell(book.KindDevice, book.DeviceBody{Name: "Nell's phone"})
	t.tell(book.KindPerson, book.PersonBody{Person: nell, Name: "Nell Harrow", Role: "rider"})
	t.tell(book.KindPerson, book.PersonBody{Person: ivo, Name: "Ivo", Role: "friend"})
	t.tell(book.KindPerson, book.PersonBody{Person: tess, Name: "Tess Okoro", Role: "tuner"})
	t.tell(book.KindPerson, book.PersonBody{Person: bram, Name: "Bram", Role: "other"})
	t.tell(book.KindBike, book.BikeBody{Bike: Heron, Name: "Calder Heron 600", Year: 2009, Class: "600 sport bike, standard suspension", Tyres: "120/70-17 and 180/55-17", Rider: whole(82)})
	for _, a := range book.Standard(Heron) {
		t.tell(book.KindAdjuster, a)
	}
	t.tell(book.KindTrack, book.TrackBody{Track: moor, Name: "Fenwick Moor", Bumpy: "some"})
	t.tell(book.KindTrack, book.TrackBody{Track: marsh, Name: "Saltmarsh Ring", Bumpy: "smooth"})
	t.tell(book.KindTrack, book.TrackBody{Track: hollow, Name: "Tarn Hollow", Bumpy: "bumpy"})
}

func firstLook(t *teller) {
	t.fact("fell", "yes", "2024", "rolled off the side stand in the garage")
	t.fact("realigned-after-fall", "no", "", "")
	t.fact("fork-oil", "never", "", "not since I have had it")
	t.fact("shock-oil", "never", "", "")
	t.fact("gearing-changed", "yes", "2025-03", "one tooth more at the rear")
	t.fact("forks-moved", "unknown", "", "")
	t.fact("who-adjusted", "many", "", "whoever walked past")
	t.check("straight", "fault", "bars uneven, steers more easily to the left")
	t.check("chain", "fault", "far too tight at the tight spot")
	t.check("head-bearings", "good", "")
	t.check("leaks", "good", "")
	t.check("tyres", "good", "")
	t.check("alignment", "unsure", "marks on the swingarm only")
	t.at("2026-04-11T13:30")
	t.check("straight", "good", "loosened, bounced, tightened to the manual with Tess")
	t.check("chain", "good", "set at the tight spot")
	t.count("front.preload", 6)
	t.count("front.rebound", 8)
	t.count("front.compression", 9)
	t.count("front.height", 4)
	t.count("rear.preload", 9)
	t.count("rear.rebound", 9)
	t.count("rear.compression", 12)
	t.unknown("rear.height")
	t.pressure("front.pressure", 206_843)
	t.pressure("rear.pressure", 199_948)
	t.count("sprocket.front", 16)
	t.count("sprocket.rear", 44)
	t.count("chain.slack", 35)
	t.assumed("bar.position", 0)
	t.measure("sag", map[string]unit.Fixed{"front_free": unit.Whole(24), "front_rider": unit.Whole(38), "rear_free": unit.Whole(9), "rear_rider": unit.Whole(33)})
	t.measureWords("geometry", map[string]unit.Fixed{
		"wheelbase": unit.Whole(1400), "rake": unit.Whole(24), "offset": unit.Whole(30), "swingarm": unit.Whole(580), "pivot_height": unit.Whole(426), "lift": unit.Whole(2),
	}, map[string]string{"front_tyre": "120/70R17", "rear_tyre": "180/55R17"})
	t.measureWords("gearing", map[string]unit.Fixed{"links": unit.Whole(114)}, map[string]string{"chain": "525"})
	t.line("found-it", "As found, made straight", "")
}

func april(t *teller) {
	t.at("2026-04-18T09:40")
	t.session("apr-1", moor, 11, "same", 113_900, 113_200, 112_800, 113_400, 112_900)
	wallow := t.symptom(moor, "apr-1", "every", "wallows on the drive out of the long right")
	t.advice(bram, "rear.compression", -4, "crank it right up", "mine is like that")
	t.at("2026-04-18T11:05")
	try := t.try(book.ChangeBody{Adjuster: "rear.rebound", Idea: ivo, By: nell, Why: "wallows on the drive out", Expect: "less pumping on the drive out of the long right", Symptom: wallow, Track: moor}, 9, 7)
	t.at("2026-04-18T12:10")
	t.session("apr-2", moor, 13, "better", 112_700, 112_300, 112_100, 112_400, 112_000)
	t.verdict(try, "keep", "calmer, and quicker by the clock")
	t.at("2026-04-18T16:00")
	t.line("dry-moor", "Good in the dry", moor)
}

func may(t *teller) {
	t.at("2026-05-16T09:10")
	t.found("front.compression", 5, "was 9 at Fenwick Moor")
	t.session("may-1", hollow, 16, "worse", 98_900, 98_400, 98_700, 98_200)
	t.symptom(hollow, "may-1", "every", "front skips over the bumps on the brakes")
	t.at("2026-05-16T10:45")
	t.change(book.ChangeBody{Adjuster: "front.compression", Idea: nell, By: nell, Why: "back to the line", Back: "dry-moor", Track: hollow}, 5, 9)
	t.at("2026-05-16T11:50")
	t.session("may-2", hollow, 18, "better", 97_600, 97_300, 97_500, 97_100)
}

func june(t *teller) {
	t.at("2026-06-06T15:20")
	t.tell(book.KindFall, book.FallBody{Bike: Heron, When: "2026-06-06", Side: "left", Speed: "standing", Track: marsh, Note: "off the paddock stand, in slow motion"})
	t.check("straight", "fault", "left bar 8 mm back, heavier to the right")
	t.at("2026-06-06T16:30")
	t.check("straight", "good", "loosened and centred; equal effort both ways")
	t.check("leaks", "good", "")
	t.at("2026-06-06T17:10")
	t.session("jun-1", marsh, 24, "same", 121_300, 120_900, 120_800, 121_100)
}

func july(t *teller) {
	t.at("2026-07-01T19:00")
	t.tell(book.KindService, book.ServiceBody{Bike: Heron, What: "fork-oil", When: "2026-06-29", By: tess, Note: "oil, bushes and seals"})
	t.tell(book.KindService, book.ServiceBody{Bike: Heron, What: "shock-oil", When: "2026-06-29", By: tess, Note: "rebuilt and filled"})
	t.at("2026-07-11T09:30")
	t.count("front.rebound", 8)
	t.session("jul-1", moor, 22, "worse", 112_900, 112_600, 112_700)
	t.symptom(moor, "jul-1", "some", "front returns slowly over the crest")
	t.at("2026-07-11T11:00")
	try := t.try(book.ChangeBody{Adjuster: "front.rebound", Idea: tess, By: nell, Why: "fresh oil damps more than the old", Expect: "front follows the road over the crest", Track: moor}, 8, 10)
	t.at("2026-07-11T12:20")
	t.session("jul-2", moor, 25, "better", 111_800, 111_500, 111_400, 111_600)
	t.verdict(try, "keep", "")
	t.at("2026-07-11T16:40")
	t.line("fresh-oil", "Fresh oil, dry", moor)
}

func august(t *teller) {
	t.at("2026-08-08T10:00")
	t.session("aug-1", marsh, 27, "same", 119_900, 119_600, 119_700)
	t.advice(ivo, "front.height", 3, "drop the front", "turns in slowly")
	t.at("2026-08-08T11:15")
	try := t.try(book.ChangeBody{Adjuster: "front.height", Idea: ivo, By: ivo, Why: "turns in slowly", Expect: "quicker into the chicane", Track: marsh}, 4, 7)
	t.at("2026-08-08T12:30")
	t.session("aug-2", marsh, 28, "worse", 120_400, 120_100, 120_600)
	t.verdict(try, "back", "nervous on the brakes")
	t.change(book.ChangeBody{Adjuster: "front.height", Idea: nell, By: nell, Why: "put back", Undoes: try, Track: marsh}, 7, 4)
}

func september(t *teller) {
	t.at("2026-09-12T09:15")
	t.found("rear.rebound", 10, "counted twice")
	t.change(book.ChangeBody{Adjuster: "rear.preload", Idea: bram, By: bram, Why: "rear sits low", Track: hollow}, 9, 10)
	t.at("2026-09-12T10:20")
	t.session("sep-1", hollow, 15, "worse", 98_300, 98_100, 98_500)
	t.symptom(hollow, "sep-1", "every", "rear pumps out of the hairpin")
	t.at("2026-09-12T11:30")
	t.try(book.ChangeBody{Adjuster: "rear.compression", Idea: tess, By: nell, Why: "pumps out of the hairpin", Expect: "rear settles once and stays", Track: hollow}, 12, 10)
}
