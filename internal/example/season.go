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

	spring = book.TyreSetID("set-1")
	summer = book.TyreSetID("set-2")
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
	tracks(t)
	t.tell(book.KindTyres, book.TyresBody{Bike: Heron, Set: spring, Name: "Set 1", Front: "120/70 track-day tyre, medium", Rear: "180/55 track-day tyre, medium", Fitted: "2025-08", Cycles: 6})
	t.tell(book.KindInterval, book.IntervalBody{Bike: Heron, What: "fork-oil", Days: 12, Months: 24, Source: "manual"})
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
	t.measure("sag-front", readings("extended", 480, "free_pushed", 455, "free_lifted", 461, "rider_pushed", 438, "rider_lifted", 446, "travel", 120), map[string]string{"use": "race"})
	t.measure("sag-rear", readings("extended", 560, "free_pushed", 549, "free_lifted", 553, "rider_pushed", 524, "rider_lifted", 530, "travel", 130), map[string]string{"use": "race"})
	t.measure("geometry", readings("wheelbase", 1400, "rake", 24, "offset", 30, "swingarm", 580, "pivot_height", 426, "motion_ratio", unit.Fixed(500)), map[string]string{"front_tyre": "120/70R17", "rear_tyre": "180/55R17"})
	t.measure("gearing", readings("teeth_front", 16, "teeth_rear", 44, "links", 114, "primary", unit.Fixed(1950), "rpm", 13000), map[string]string{"chain": "525", "tyre": "180/55R17", "gears": "2.69, 2.06, 1.72, 1.48, 1.32, 1.20"})
	t.measure("weights", readings("front", 98, "rear", 97, "front_with", 132, "rear_with", 145, "wheelbase", 1400), nil)
	t.measure("spring-rear", readings("free", 9, "rider", 33, "rider_load", 471, "load", 640, "motion_ratio", unit.Fixed(500)), nil)
	t.measure("slack", readings("teeth_front", 16, "teeth_rear", 44, "slack", 35, "swingarm", 580, "sprocket_ahead", 75, "sprocket_above", 6, "at", 11, "topped", 14, "bottomed", -4), map[string]string{"chain": "525"})
	t.measure("tyre-age", nil, map[string]string{"front": "1125", "rear": "0925"})
	t.measure("chain-wear", readings("pitches", 20, "length", unit.Fixed(318_500), "limit", 323), map[string]string{"chain": "525"})
	t.line("found-it", "As found, made straight", "")
}

// psi are the pressures of the season's gauges, in tenths of a psi, in kPa: 1 psi is 6.894757 kPa (NIST SP 811,
// appendix B.8).
func psi(front, rear int) [2]unit.Fixed {
	return [2]unit.Fixed{unit.Fixed((front*6894757 + 5000) / 10_000), unit.Fixed((rear*6894757 + 5000) / 10_000)}
}

func april(t *teller) {
	t.at("2026-04-18T08:30")
	t.day("apr", moor, "2026-04-18", "cold morning, dry all day")
	first := ride{track: moor, day: "apr", tyres: spring, wind: "light", cold: psi(300, 290), spread: 420, laps: 7}
	r := first
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.traffic, r.chance = "apr-1", "2026-04-18T09:40", 11, 14, 12, psi(331, 322), "same", 112_800, []int{4}, 11
	t.rode(r)
	wallow := t.symptom(moor, "apr-1", "Long right", "every", "wallows on the drive out of the long right", "rear-wallow")
	t.advice(bram, "rear.compression", -4, "crank it right up", "mine is like that")
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.base, r.traffic, r.chance = "apr-1b", "2026-04-18T10:40", 12, 17, 10, psi(334, 326), 112_550, []int{3, 6}, 12
	t.rode(r)
	t.at("2026-04-18T11:05")
	try := t.try(book.ChangeBody{Adjuster: "rear.rebound", Idea: ivo, By: nell, Why: "wallows on the drive out", Expect: "less pumping on the drive out of the long right", Symptom: wallow, Track: moor}, 9, 7)
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.laps, r.traffic, r.chance = "apr-2", "2026-04-18T12:10", 13, 21, 13, psi(336, 329), "better", 112_000, 8, []int{5}, 13
	t.rode(r)
	t.felt(try, "better")
	t.verdict(try, "keep", "calmer, and quicker by the clock")
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.traffic, r.chance = "apr-3", "2026-04-18T14:30", 14, 24, 11, psi(338, 331), "same", 111_900, []int{4}, 14
	t.rode(r)
	r.id, r.at, r.ground, r.fuel, r.hot, r.base, r.traffic, r.chance = "apr-4", "2026-04-18T15:40", 23, 9, psi(337, 330), 111_950, nil, 15
	t.rode(r)
	t.at("2026-04-18T16:00")
	t.line("dry-moor", "Good in the dry", moor)
}

func may(t *teller) {
	t.at("2026-05-16T08:40")
	t.day("may", hollow, "2026-05-16", "")
	t.at("2026-05-16T09:10")
	t.found("front.compression", 5, "was 9 at Fenwick Moor")
	r := ride{id: "may-1", at: "2026-05-16T09:40", track: hollow, day: "may", tyres: spring, air: 16, ground: 20, wind: "none", fuel: 12, cold: psi(300, 290), hot: psi(335, 327), felt: "worse", base: 98_100, spread: 380, laps: 8, traffic: []int{5}, chance: 21}
	t.rode(r)
	t.symptom(hollow, "may-1", "Steps", "every", "front skips over the bumps on the brakes", "front-skips-brakes")
	t.at("2026-05-16T10:45")
	t.change(book.ChangeBody{Adjuster: "front.compression", Idea: nell, By: nell, Why: "back to the line", Back: "dry-moor", Track: hollow}, 5, 9)
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.traffic, r.chance = "may-2", "2026-05-16T11:50", 18, 26, 10, psi(338, 330), "better", 97_200, []int{3}, 22
	t.rode(r)
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.traffic, r.chance = "may-3", "2026-05-16T14:10", 19, 29, 12, psi(340, 332), "same", 97_000, []int{6, 7}, 23
	t.rode(r)
	r.id, r.at, r.ground, r.fuel, r.hot, r.base, r.traffic, r.chance = "may-4", "2026-05-16T15:30", 28, 10, psi(340, 331), 97_050, nil, 24
	t.rode(r)
}

func june(t *teller) {
	t.at("2026-06-06T08:50")
	t.day("jun", marsh, "2026-06-06", "shared with a crowded group")
	t.at("2026-06-06T15:20")
	t.tell(book.KindFall, book.FallBody{Bike: Heron, When: "2026-06-06", Side: "left", Speed: "standing", Track: marsh, Note: "off the paddock stand, in slow motion"})
	t.check("straight", "fault", "left bar 8 mm back, heavier to the right")
	t.at("2026-06-06T16:30")
	t.check("straight", "good", "loosened and centred; equal effort both ways")
	t.measure("bars", readings("left", 1009, "right", 1008, "half", 360, "away", 950), nil)
	t.check("leaks", "good", "")
	t.rode(ride{id: "jun-1", at: "2026-06-06T17:10", track: marsh, day: "jun", tyres: spring, air: 24, ground: 38, wind: "head wind on the straight", fuel: 11, cold: psi(300, 290), hot: psi(343, 336), felt: "same", base: 120_700, spread: 450, laps: 7, traffic: []int{3, 5}, chance: 31})
}

func july(t *teller) {
	t.at("2026-07-01T19:00")
	t.tell(book.KindService, book.ServiceBody{Bike: Heron, What: "fork-oil", When: "2026-06-29", By: tess, Note: "oil, bushes and seals"})
	t.tell(book.KindService, book.ServiceBody{Bike: Heron, What: "shock-oil", When: "2026-06-29", By: tess, Note: "rebuilt and filled"})
	t.tell(book.KindTyres, book.TyresBody{Bike: Heron, Set: summer, Name: "Set 2", Front: "120/70 track-day tyre, medium", Rear: "180/55 track-day tyre, medium", Fitted: "2026-07-10"})
	t.tell(book.KindTyres, book.TyresBody{Bike: Heron, Set: spring, Name: "Set 1", Gone: true})
	t.at("2026-07-11T08:40")
	t.day("jul", moor, "2026-07-11", "fresh oil, new tyres")
	t.at("2026-07-11T09:10")
	t.count("front.rebound", 8)
	r := ride{id: "jul-1", at: "2026-07-11T09:50", track: moor, day: "jul", tyres: summer, air: 22, ground: 30, wind: "light", fuel: 12, cold: psi(300, 290), hot: psi(339, 331), felt: "worse", base: 112_400, spread: 380, laps: 8, traffic: []int{6}, sectors: true, chance: 41}
	t.rode(r)
	slow := t.symptom(moor, "jul-1", "The crest", "some", "front returns slowly over the crest", "front-packs")
	t.at("2026-07-11T11:00")
	try := t.try(book.ChangeBody{Adjuster: "front.rebound", Idea: tess, By: nell, Why: "fresh oil damps more than the old", Expect: "front follows the road over the crest", Symptom: slow, Track: moor}, 8, 10)
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.traffic, r.chance = "jul-2", "2026-07-11T12:20", 25, 37, 13, psi(342, 334), "better", 111_300, []int{4}, 42
	t.rode(r)
	t.felt(try, "better")
	t.verdict(try, "keep", "")
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.traffic, r.chance = "jul-3", "2026-07-11T14:20", 26, 41, 11, psi(344, 336), "same", 111_150, []int{5, 6}, 43
	t.rode(r)
	r.id, r.at, r.ground, r.fuel, r.hot, r.base, r.laps, r.traffic, r.chance = "jul-4", "2026-07-11T15:40", 40, 13, psi(344, 336), 111_200, 10, []int{3}, 44
	t.rode(r)
	t.at("2026-07-11T16:40")
	t.measure("sag-front", readings("extended", 480, "free_pushed", 458, "free_lifted", 462, "rider_pushed", 441, "rider_lifted", 447, "travel", 120), map[string]string{"use": "race"})
	t.measure("fork-air", readings("oil_level", 110, "bore", 38, "diameter", 41, "travel", 120, "rate", 9, "preload", 12), nil)
	t.measure("travel-front", readings("used", 104, "travel", 120), nil)
	t.line("fresh-oil", "Fresh oil, dry", moor)
}

func august(t *teller) {
	t.at("2026-08-08T09:00")
	t.day("aug", marsh, "2026-08-08", "hot")
	r := ride{id: "aug-1", at: "2026-08-08T10:00", track: marsh, day: "aug", tyres: summer, air: 27, ground: 41, wind: "none", fuel: 12, cold: psi(295, 285), hot: psi(341, 333), felt: "same", base: 119_500, spread: 400, laps: 8, traffic: []int{4}, chance: 51}
	t.rode(r)
	heavy := t.symptom(marsh, "aug-1", "Chicane in", "every", "slow to turn into the chicane", "turn-heavy", "flick-slow")
	t.advice(ivo, "front.height", 3, "drop the front", "turns in slowly")
	t.at("2026-08-08T11:15")
	try := t.try(book.ChangeBody{Adjuster: "front.height", Idea: ivo, By: ivo, Why: "turns in slowly", Expect: "quicker into the chicane", Symptom: heavy, Track: marsh}, 4, 7)
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.traffic, r.chance = "aug-2", "2026-08-08T12:30", 28, 45, 13, psi(343, 335), "worse", 120_050, []int{5}, 52
	t.rode(r)
	t.felt(try, "worse")
	t.verdict(try, "back", "nervous on the brakes")
	t.change(book.ChangeBody{Adjuster: "front.height", Idea: nell, By: nell, Why: "put back", Undoes: try, Track: marsh}, 7, 4)
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.traffic, r.chance = "aug-3", "2026-08-08T14:40", 29, 48, 11, psi(345, 337), "better", 119_450, []int{3, 6}, 53
	t.rode(r)
	t.at("2026-08-08T15:10")
	blind := t.tell(book.KindTrial, book.TrialBody{Bike: Heron, Adjuster: "front.rebound", Plan: book.PlanBlind, A: whole(10), B: whole(8), Idea: nell, Why: "is it worth a click at all?", Track: marsh})
	r.felt, r.laps, r.fuel, r.traffic = "", 7, 8, nil
	r.id, r.at, r.base, r.hot, r.chance = "aug-4", "2026-08-08T15:25", 119_800, psi(345, 337), 54
	t.blindly(blind, ivo, book.SideB, book.SideB, r)
	r.id, r.at, r.base, r.fuel, r.chance = "aug-5", "2026-08-08T15:50", 119_550, 7, 55
	t.blindly(blind, ivo, book.SideA, book.SideB, r)
	r.id, r.at, r.base, r.fuel, r.chance = "aug-6", "2026-08-08T16:20", 119_600, 6, 56
	t.blindly(blind, ivo, book.SideA, book.SideA, r)
	t.verdict(blind, "back", "2 of 3; not worth arguing about")
}

func september(t *teller) {
	t.at("2026-09-12T08:40")
	t.day("sep", hollow, "2026-09-12", "")
	t.at("2026-09-12T09:15")
	t.found("rear.rebound", 10, "counted twice")
	t.change(book.ChangeBody{Adjuster: "rear.preload", Idea: bram, By: bram, Why: "rear sits low", Track: hollow}, 9, 10)
	r := ride{id: "sep-1", at: "2026-09-12T10:20", track: hollow, day: "sep", tyres: summer, air: 15, ground: 19, wind: "light", fuel: 12, cold: psi(300, 290), hot: psi(334, 326), felt: "worse", base: 97_900, spread: 380, laps: 8, traffic: []int{5}, chance: 61}
	t.rode(r)
	pumps := t.symptom(hollow, "sep-1", "Hairpin", "every", "rear pumps out of the hairpin", "rear-wallow")
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.traffic, r.chance = "sep-2", "2026-09-12T11:05", 16, 21, 10, psi(335, 327), "same", 97_850, []int{4}, 62
	t.rode(r)
	t.at("2026-09-12T11:30")
	t.try(book.ChangeBody{Adjuster: "rear.compression", Idea: tess, By: nell, Why: "pumps out of the hairpin", Expect: "rear settles once and stays", Symptom: pumps, Track: hollow}, 12, 10)
	r.id, r.at, r.air, r.ground, r.fuel, r.hot, r.felt, r.base, r.traffic, r.chance = "sep-3", "2026-09-12T12:20", 18, 25, 13, psi(338, 330), "better", 97_350, []int{6}, 63
	t.rode(r)
}
