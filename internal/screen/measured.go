package screen

import (
	"math"

	"plumbline/internal/book"
	"plumbline/internal/chassis"
	"plumbline/internal/diagnosis"
)

// measuredFacts is what a bike's measurements tell the diagnosis: the numbers
// of the latest round of each topic, and the findings of checks that were in
// truth measured. What was measured before a setting that it stands on was
// moved holds no longer and is left out, and so is what was never measured.
func measuredFacts(a Ask, k *book.Bike) (f diagnosis.Facts, found []diagnosis.Observed) {
	if holds(k, "sag-front", "front.preload") {
		_, f.RiderSagFront, f.SagSpreadFront = sagNumbers(k, "front")
	}
	if holds(k, "sag-rear", "rear.preload") {
		f.FreeSagRear, f.RiderSagRear, f.SagSpreadRear = sagNumbers(k, "rear")
	}
	if holds(k, "travel-front", "front.preload") {
		f.ForkTravelUsed, f.ForkTravel = travelNumbers(k)
	}
	for _, m := range []struct {
		topic, finding string
		shows          func(round) (present, told bool)
	}{
		{"bars", "found-bars-or-controls-bent", barsShow},
		{"alignment", "found-wheel-misaligned", alignmentShows},
		{"slack", "found-chain-tight", slackShows},
		{"chain-wear", "found-chain-worn", wearShows},
	} {
		r, ok := lastRound(a, k, m.topic)
		if !ok || r.topic.stale(a, k, r.at) != "" {
			continue
		}
		if present, told := m.shows(r); told {
			found = append(found, diagnosis.Observed{Finding: m.finding, Absent: !present})
		}
	}
	return f, found
}

// holds is whether a setting stands where it stood when a topic was measured.
// A book of an older app keeps both ends' sag under one name.
func holds(k *book.Bike, topic string, id book.AdjusterID) bool {
	m, ok := k.Measures[topic]
	if !ok {
		m, ok = k.Measures["sag"]
	}
	return ok && !movedSince(k.Settings[id], m.Wall)
}

// lastRound is a topic as it was last measured.
func lastRound(a Ask, k *book.Bike, id string) (round, bool) {
	t, known := topicOf(id)
	m, ok := k.Measures[id]
	if !known || !ok {
		return round{}, false
	}
	return round{ask: a, k: k, topic: t, at: m.Wall, known: knownFrom(a.Book, t, m.Body)}, true
}

// barsShow: out of square beyond what a tape can tell.
func barsShow(r round) (present, told bool) {
	res, refused := r.calc("bars", "left", "left", "right", "right", "half", "half", "away", "away")
	for _, v := range res.Values {
		if v.Symbol == "turned" {
			return v.Text != "neutral", refused == nil
		}
	}
	return false, false
}

// alignmentShows: the marks' own millimetre is no fault; three are (common
// practice, no source).
func alignmentShows(r round) (present, told bool) {
	a, err := chassis.AlignmentFrom(r.n("left"), r.n("right"), r.n("apart"))
	off := math.Abs(a.Toe)
	return off > 3, err == nil && (off > 3 || off <= 1)
}

// slackShows: under 5 mm left in line is too tight, 10 mm is free (common
// practice, no source).
func slackShows(r round) (present, told bool) {
	res, refused := r.calc("chain-tightest", "front", "teeth_front", "rear", "teeth_rear", "chain", "chain", "slack", "slack", "swingarm", "swingarm",
		"sprocket-ahead", "sprocket_ahead", "sprocket-above", "sprocket_above", "at", "at", "topped", "topped", "bottomed", "bottomed")
	left := numberOf(res, "at-tightest")
	return left < 5, refused == nil && (left < 5 || left >= 10)
}

// wearShows: at or over the limit of the rider's own manual, and nothing
// without one.
func wearShows(r round) (present, told bool) {
	res, refused := r.calc("chain-wear", "measured", "length", "pitches", "pitches", "limit", "limit", "chain", "chain")
	limit := numberOf(res, "limit")
	return numberOf(res, "elongation") >= limit, refused == nil && limit > 0
}

// travelNumbers are how much of the fork's travel was used, from full
// extension, and how much there is, in mm.
func travelNumbers(k *book.Bike) (used, whole *float64) {
	used, whole = measuredValue(k, "travel-front", "used"), measuredValue(k, "travel-front", "travel")
	if stand := measuredValue(k, "travel-front", "stand"); used != nil && stand != nil {
		sum := *used + *stand
		used = &sum
	}
	return used, whole
}

func measuredValue(k *book.Bike, topic, symbol string) *float64 {
	f, ok := k.Measures[topic].Body.Values[symbol]
	if !ok {
		return nil
	}
	v := f.Float()
	return &v
}
